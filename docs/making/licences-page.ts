import { type LockedPackage, lockedPackages } from "./dependency-tree.js";

/** Licences of packages that siltbook brings along: they ask for no more than that their text is kept. */
const TO_SHIP = [
  "0BSD",
  "Apache-2.0",
  "BSD-2-Clause",
  "BSD-3-Clause",
  "BlueOak-1.0.0",
  "ISC",
  "MIT",
  "Unlicense",
];

/** Licences that are right as well for what is only used to work on siltbook, and never passed on. */
const TO_WORK_WITH = [
  ...TO_SHIP,
  "(MIT AND Zlib)",
  "(MIT OR Apache-2.0)",
  "(MIT OR GPL-3.0-or-later)",
  "Apache-2.0 AND MIT",
  "CC-BY-4.0",
  "MIT AND MPL-2.0",
  "MIT OR Apache-2.0",
  "MIT/X11",
  "MPL-2.0",
  "Python-2.0",
];

/** Packages that do not name a licence as the registry wants it, and what was read in them. */
const READ_BY_HAND: Readonly<Record<string, { readonly licence: string; readonly found: string }>> = {
  "buffers@0.1.1": {
    licence: "none named",
    found:
      "names none anywhere; comes with `exceljs`, which writes workbooks for tests, and is never passed on",
  },
  "dejavu-fonts-ttf@2.37.3": {
    licence: "Bitstream Vera",
    found: "its LICENSE is the permissive one of the Bitstream Vera and Arev fonts",
  },
  "typed-function@2.1.0": { licence: "MIT", found: "its LICENSE is the MIT licence" },
};

const keyOf = ({ name, version }: LockedPackage) => `${name}@${version}`;

function licenceOf(locked: LockedPackage): string {
  return READ_BY_HAND[keyOf(locked)]?.licence ?? locked.licence ?? "none named";
}

/** Says what is wrong with the licences of a tree: one line for each package whose licence nobody has permitted. */
export function licenceProblems(packages: readonly LockedPackage[]): string[] {
  const unknown = packages
    .filter((locked) => locked.shipped || READ_BY_HAND[keyOf(locked)] === undefined)
    .filter((locked) => !(locked.shipped ? TO_SHIP : TO_WORK_WITH).includes(licenceOf(locked)))
    .map((locked) => `${keyOf(locked)}: licence ${licenceOf(locked)} is not permitted`);
  const gone = Object.keys(READ_BY_HAND)
    .filter((key) => !packages.some((locked) => keyOf(locked) === key))
    .map((key) => `${key}: was read by hand and is not in the tree any more`);
  return [...unknown, ...gone];
}

/** Writes the page of licences: every package of the lock file, those that are brought along by name and version. */
export function licencesPage(): string {
  const packages = lockedPackages();
  const shipped = packages.filter((locked) => locked.shipped);
  const workedWith = packages.filter((locked) => !locked.shipped);
  return `# Licences

Written by \`npm run licences\` from the lock file. A test fails when a package arrives whose licence is not permitted in
\`docs/making/licences-page.ts\`, and when this page is out of date. Siltbook itself is under the MIT licence.

## What siltbook brings along

${countOf(shipped)}, those for other systems than this one among them.

| licence | packages |
|---|---|
${byLicence(shipped, keyOf)}

## What is only used to work on it

${countOf(workedWith)}. Nothing of them is in the published package.

| licence | packages |
|---|---|
${byLicence(workedWith, ({ name }) => name)}

## Read by hand

${Object.entries(READ_BY_HAND)
  .map(([key, { found }]) => `- \`${key}\`: ${found}`)
  .join("\n")}
`;
}

function countOf(packages: readonly LockedPackage[]): string {
  return `${new Set(packages.map(keyOf)).size} packages`;
}

function byLicence(packages: readonly LockedPackage[], say: (locked: LockedPackage) => string): string {
  const licences = [...new Set(packages.map(licenceOf))].sort();
  return licences
    .map((licence) => {
      const names = packages.filter((locked) => licenceOf(locked) === licence).map(say);
      return `| ${licence} | ${[...new Set(names)].sort().join(", ")} |`;
    })
    .join("\n");
}
