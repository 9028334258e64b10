import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

// How long each of three people takes with README and docs/start-here.md, from a clone that is built: the words up to the list
// of readers in README, those of their section and of what each command prints are counted, the characters they type, and the
// time that the program runs. --screens shows each screen.

/** Words read in a minute; characters typed in a minute, at 30 words of five; seconds for a cell found in an editor and changed. */
const [WORDS_PER_MINUTE, CHARACTERS_PER_MINUTE, SECONDS_PER_EDIT] = [240, 150, 20];

interface Step {
  readonly name: string;
  readonly types: string;
  /** Characters that a person types where most of the line is the one before. */
  readonly characters?: number;
  /** A file that the person changes first. */
  readonly edits?: {
    readonly path: string;
    readonly to?: string;
    readonly from: string;
    readonly by: string;
  };
}

const FLEET = "--carts datasets/demo/carts.json --requirement datasets/demo/requirement.json";
const QUARANTINE = "out/quarantine/lab-semicolon.csv.quarantine";
const CIRCULATE = `npx siltbook circulate ${FLEET} --on 2026-11-20 --cart QB-02 --circuit fore datasets/demo/lab-long.csv`;
const BOOK_OF_FLEET = `npx siltbook import --book base.siltbook ${FLEET} datasets/demo/lab-tidy.csv datasets/demo/lab-semicolon.csv datasets/demo/lab-long.csv`;

const WALKS: readonly { readonly who: string; readonly section: string; readonly steps: readonly Step[] }[] =
  [
    {
      who: "laboratory technician",
      section: "The laboratory technician",
      steps: [
        { name: "what is understood", types: "npx siltbook columns datasets/demo/lab-semicolon.csv" },
        {
          name: "import",
          types:
            "npx siltbook import --book lab.siltbook --quarantine out/quarantine datasets/demo/lab-semicolon.csv",
        },
        {
          name: "quarantine: correct the row and feed it back",
          types: `npx siltbook import --book lab.siltbook --map ${QUARANTINE}.map.json ${QUARANTINE}.csv`,
          edits: { path: `${QUARANTINE}.csv`, from: ",n.a.,", by: ",132," },
        },
        {
          name: "a messy file: its columns, and a map with the questions",
          types: "npx siltbook columns out/messy.csv --write out/messy.map.json",
        },
        {
          name: "a messy file: one answer, then import",
          types:
            "npx siltbook import --book lab.siltbook --map out/messy.map.json --quarantine out/quarantine out/messy.csv",
          edits: {
            path: "out/messy.map.json",
            from: '"holds": "?"',
            by: '"holds": "acid", "unit": "mg KOH/g"',
          },
        },
        {
          name: "a second messy file: refused, with what to do",
          types: "npx siltbook import --book lab.siltbook out/undated.csv",
        },
        {
          name: "export",
          types: "npx siltbook export --book lab.siltbook --to out/lab.xlsx --table samples",
        },
      ],
    },
    {
      who: "reliability engineer",
      section: "The reliability engineer",
      steps: [
        { name: "import with carts and limits", types: BOOK_OF_FLEET },
        { name: "the fleet", types: "npx siltbook fleet --book base.siltbook --on 2026-11-20" },
        {
          name: "a trend",
          types:
            "npx siltbook trend --book base.siltbook --cart QB-03 --circuit fore --measure water --on 2026-11-20",
        },
        {
          name: "the report",
          types: "npx siltbook report --book base.siltbook --on 2026-11-20 --out report.html",
        },
      ],
    },
    {
      who: "technician at the cart",
      section: "The technician at the cart",
      steps: [
        { name: "the minutes, and the sheet to print", types: `${CIRCULATE} --sheet sheet.html` },
        {
          name: "an interim sample: go on or not",
          types: `${CIRCULATE} --interim "8 min: 6=300 14=12 21=2 38=0 70=0"`,
          characters: ' --interim "8 min: 6=300 14=12 21=2 38=0 70=0"'.length,
        },
        {
          name: "a circuit that no file knows, in US units",
          types:
            'npx siltbook circulate --volume "16 US gal" --flow "12 US gpm" --beta "4=20 6=100 14=1000" --start "21/19/16" --target "17/15/12"',
        },
      ],
    },
  ];

/** Files as laboratories write them: a head above the titles, a mean below, letters for figures, a bottle twice, open titles. */
const MESSY: Readonly<Record<string, readonly string[]>> = {
  "messy.csv": [
    "Fluid laboratory;;;;;;;;;",
    "Report of 12.11.2026;;;;;;;;;",
    "Bottle;Cart;Circuit;Sampled;Fluid;>4 um(c)/ml;>6 um(c)/ml;>14 um(c)/ml;Water [ppm];TAN",
    "A-1;QB-01;fore;02.10.2026;MIL-PRF-5606;5200;1400;130;130;0,08",
    "A-2;QB-01;aft;24.10.2026;MIL-PRF-5606;14.8OO;3900;410;141;0,09",
    "A-3;QB-08;main;24.10.2026;MIL-PRF-5606;1200;300;25;< 50;0,09",
    "A-4;QB-8;main;25.10.2026;MIL-PRF-5606;900;1300;25;110;0,1",
    "Mean;;;;;5525;;;;",
  ],
  "undated.csv": [
    "sample no,cart,circuit,date,ISO code,water (ppm)",
    "B-1,QB-01,fore,2026-10-26,18/16/13,120",
    "B-1,QB-01,fore,2026-10-26,17/15/12,n/d",
  ],
};

const root = join(import.meta.dirname, "..");
const guide = readFileSync(join(root, "docs", "start-here.md"), "utf8");
const folder = mkdtempSync(join(tmpdir(), "siltbook-walk-"));
for (const name of ["datasets", "node_modules", "package.json", "dist"])
  symlinkSync(join(root, name), join(folder, name));
mkdirSync(join(folder, "out"));
for (const [name, lines] of Object.entries(MESSY)) writeFileSync(join(folder, "out", name), lines.join("\n"));
const readme = readFileSync(join(root, "README.md"), "utf8").split("\n## ")[0] ?? "";

const wordsIn = (text: string) => text.match(/[\p{L}\p{N}]+/gu)?.length ?? 0;
const seconds = (many: number) => String(Math.round(many));

for (const { who, section, steps } of WALKS) {
  const prose = (guide.split("\n## ").find((part) => part.startsWith(section)) ?? "").replace(
    /```[\s\S]*?```/g,
    "",
  );
  const sums = { read: (60 * (wordsIn(readme) + wordsIn(prose))) / WORDS_PER_MINUTE, type: 0, run: 0 };
  console.log(
    `\n### ${who}\n\n| step | lines | read, s | type, s | runs, s | exit |\n|---|---|---|---|---|---|`,
  );
  console.log(
    `| the head of README, the section of the guide | ${`${readme}\n${prose}`.split("\n").filter(Boolean).length} | ${seconds(sums.read)} | – | – | – |`,
  );
  for (const { name, types, characters = types.length, edits } of steps) {
    if (edits !== undefined) {
      const { path, to = path, from, by } = edits;
      const text = readFileSync(join(folder, path), "utf8");
      if (!text.includes(from)) throw new Error(`${path} has no ${from}`);
      writeFileSync(join(folder, to), text.replace(from, by));
    }
    const began = performance.now();
    const { stdout, stderr, status } = spawnSync(types, { shell: true, cwd: folder, encoding: "utf8" });
    const run = (performance.now() - began) / 1000;
    const read = (60 * wordsIn(stdout + stderr)) / WORDS_PER_MINUTE;
    const type = (60 * characters) / CHARACTERS_PER_MINUTE + (edits === undefined ? 0 : SECONDS_PER_EDIT);
    if (process.argv.includes("--screens")) console.error(`$ ${types}\n${stdout}${stderr}`);
    console.log(
      `| ${name} | ${stdout.trimEnd().split("\n").length} | ${seconds(read)} | ${seconds(type)} | ${run.toFixed(1)} | ${status} |`,
    );
    sums.read += read;
    sums.type += type;
    sums.run += run;
  }
  const both = sums.read + sums.type;
  console.log(`| together | | ${seconds(sums.read)} | ${seconds(sums.type)} | ${seconds(sums.run)} | |`);
  console.log(`\nReading and typing: ${Math.floor(both / 60)} min ${seconds(both % 60)} s.`);
}
