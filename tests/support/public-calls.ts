import { readdir, readFile } from "node:fs/promises";

/** A call of a public function as text; what it sees is what a user can import. */
export interface Call {
  readonly name: string;
  readonly code: string;
}

const paths = (await readdir("src", { recursive: true })).filter((name) => /\.tsx?$/.test(name));
const entryPoints = paths.filter((path) => path.startsWith("public/"));

/** Everything that a user can import, by name. */
export const PUBLIC: Readonly<Record<string, unknown>> = Object.assign(
  {},
  ...(await Promise.all(entryPoints.map((path) => import(/* @vite-ignore */ `../../src/${path}`)))),
);

async function callsOf(path: string): Promise<Call[]> {
  const text = await readFile(`src/${path}`, "utf8");
  const blocks = text.matchAll(
    /@example\n((?: *\* ?(?!@|\/).*\n)+)(?: *\* ?@.*\n)* *\*\/\n(?:.*?\b(?:function|const|class) (\w+))?/g,
  );
  return [...blocks].flatMap(([, lines = "", name = ""]) => {
    const code = lines.replace(/^ *\* ?/gm, "");
    let before = "";
    return [...code.matchAll(/([\s\S]*?);?[ ]*\/\/ => (.*)\n/g)].map(([, statements = ""]) => {
      const parts = statements.trim().split(/;\n(?=\S)/);
      const expression = (parts.pop() ?? "").replace(/;$/, "");
      before += parts.map((part) => `${part};\n`).join("");
      return { name, code: `${before}return (${expression});` };
    });
  });
}

/** Calls of functions that have numbers and no example. */
const MORE: readonly (readonly [string, string])[] = [
  ["viscosityAt", "viscosityAt({ a: 9, b: 3.7, fromC: 40, toC: 100 }, 60)"],
  ["temperatureAt", "temperatureAt({ a: 9.2, b: 3.7, fromC: 40, toC: 100 }, 9)"],
  ["shareOfSaturation", "shareOfSaturation({ a: 7, b: 1500 }, 50, 20)"],
  ["waterFromShare", "waterFromShare({ a: 7, b: 1500 }, 0.5, 20)"],
  ["compareResults", 'compareResults(1, 1.3, "ASTM D664 used", "different")'],
  ["formatPasses", "formatPasses(2.5)"],
  [
    "countBetween",
    "countBetween(cumulativeCounts([{ sizeUm: 4, count: 90 }, { sizeUm: 6, count: 9 }], 1), 4, 6)",
  ],
  [
    "withEstimates",
    "withEstimates(cumulativeCounts([{ sizeUm: 5, count: 900 }, { sizeUm: 25, count: 78 }], 1), [15])",
  ],
  ["alarmLevels", "alarmLevels([10, 12, 11, 13, 10, 12, 11, 14])"],
  ["findSteps", "findSteps([{ x: 1, y: 2 }, { x: 2, y: 3 }, { x: 3, y: 2.5 }])"],
  ["trendTest", "trendTest([{ x: 1, y: 2 }, { x: 2, y: 3 }, { x: 3, y: 2.5 }, { x: 4, y: 5 }])"],
];

/** The examples of the public functions, and some more. */
export const CALLS: readonly Call[] = [
  ...(await Promise.all(paths.map(callsOf))).flat().filter(({ name }) => Object.hasOwn(PUBLIC, name)),
  ...MORE.map(([name, expression]) => ({ name, code: `return (${expression});` })),
];

/** Runs a call. */
export function runCall(code: string, names: Readonly<Record<string, unknown>> = PUBLIC): unknown {
  return new Function(...Object.keys(names), code)(...Object.values(names));
}
