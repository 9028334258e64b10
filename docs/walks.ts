import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

// How long each of three people takes with the guide docs/start-here.md, from a clone that is built: the words of their section
// and of what each command prints are counted, the letters they type, and the time that the program runs.

/** Words read in a minute, letters typed in a second, and seconds for finding a cell in an editor and changing it. */
const [WORDS_PER_MINUTE, LETTERS_PER_SECOND, SECONDS_PER_EDIT] = [200, 3, 20];

interface Step {
  readonly name: string;
  readonly types: string;
  /** Letters that a person types where most of the line is the one before. */
  readonly letters?: number;
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
const CORRECTED = "out/quarantine/corrected.csv.quarantine";
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
          name: "amend: a corrected report",
          types: "npx siltbook import --book lab.siltbook --quarantine out/quarantine out/corrected.csv",
          edits: {
            path: "datasets/demo/lab-semicolon.csv",
            to: "out/corrected.csv",
            from: ";133;",
            by: ";138;",
          },
        },
        {
          name: "amend: accept its value and feed it back",
          types: `npx siltbook import --book lab.siltbook --map ${CORRECTED}.map.json ${CORRECTED}.csv`,
          letters: "npx siltbook import".length,
          edits: { path: `${CORRECTED}.csv`, from: ",,R260233,", by: ",differs-from-book,R260233," },
        },
        {
          name: "what was amended",
          types: "npx siltbook history --book lab.siltbook --cart QB-07 --circuit main",
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
          letters: ' --interim "8 min: 6=300 14=12 21=2 38=0 70=0"'.length,
        },
      ],
    },
  ];

const root = join(import.meta.dirname, "..");
const guide = readFileSync(join(root, "docs", "start-here.md"), "utf8");
const folder = mkdtempSync(join(tmpdir(), "siltbook-walk-"));
for (const name of ["datasets", "node_modules", "package.json", "dist"])
  symlinkSync(join(root, name), join(folder, name));
mkdirSync(join(folder, "out"));

const wordsIn = (text: string) => text.match(/[\p{L}\p{N}]+/gu)?.length ?? 0;
const seconds = (many: number) => String(Math.round(many));

for (const { who, section, steps } of WALKS) {
  const prose = (guide.split("\n## ").find((part) => part.startsWith(section)) ?? "").replace(
    /```[\s\S]*?```/g,
    "",
  );
  const sums = { read: (60 * wordsIn(prose)) / WORDS_PER_MINUTE, type: 0, run: 0 };
  console.log(
    `\n### ${who}\n\n| step | lines | read, s | type, s | runs, s | exit |\n|---|---|---|---|---|---|`,
  );
  console.log(
    `| the section of the guide | ${prose.split("\n").filter(Boolean).length} | ${seconds(sums.read)} | – | – | – |`,
  );
  for (const { name, types, letters = types.length, edits } of steps) {
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
    const type = letters / LETTERS_PER_SECOND + (edits === undefined ? 0 : SECONDS_PER_EDIT);
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
