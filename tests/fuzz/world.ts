import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { Book } from "../../src/book/index.js";
import { runCli } from "../../src/cli/index.js";
import { attempt } from "./claims.js";
import { CARTS, COLUMN_MAP, LAB_TEXT, REQUIREMENTS, SAMPLES } from "./documents.js";
import { scratchFolder } from "./scratch.js";

/** The folder that commands are run in: so deep that a path that climbs stays inside the scratch folder. */
const FOLDER = join(scratchFolder(), "a", "b", "c", "d");
const BOOK = "b.siltbook";
const PACK = "pack.zip";
const KEY = "base.pem";
const SIGNED = "head.json";
const SHARD = "whole.jsonl";

const LONG = [
  "sample,cart,circuit,drawn on,measurand,value,unit",
  ...SAMPLES.flatMap(({ drawnOn, waterPpm }, index) => [
    `L-${index},C-1,fore,${drawnOn},water,${waterPpm.value},mg/kg`,
    `L-${index},C-1,fore,${drawnOn},acid number,0.1${index},mg KOH/g`,
    `L-${index},C-1,fore,${drawnOn},> 4 µm(c),${9000 + index},1/mL`,
  ]),
  "",
].join("\n");

const LOG = [4, 6, 14].flatMap((size) =>
  [0, 1, 2, 3, 4, 5].map((minute) =>
    JSON.stringify({
      n: `particles > ${size} µm(c)`,
      u: "1/mL",
      v: 20_000 / size ** 2 - minute,
      t: 1_773_500_000 + 60 * minute,
    }),
  ),
);

const COUNTER = [
  "time stamp;> 4 µm(c) per mL;> 6 µm(c) per mL;> 14 µm(c) per mL;ISO 4406;temperature (°C);saturation (%)",
  ...[0, 1, 2, 3].map((minute) => `2026-03-14 09:3${minute}:00;${900 - minute};200;20,5;17/15/12;41,5;40`),
].join("\n");

const TEXTS: Record<string, string> = {
  "log.jsonl": `${LOG.join("\n")}\n`,
  "counter.csv": COUNTER,
  "carts.json": JSON.stringify(CARTS),
  "requirement.json": JSON.stringify(REQUIREMENTS),
  "map.json": JSON.stringify(COLUMN_MAP),
  "lab.csv": LAB_TEXT,
  "long.csv": LONG,
  "bad.csv": LAB_TEXT.replace("1300", "N/A?").replace("0.12", "damp").replace("C-1,aft", "C-9,aft"),
  "cut.json": JSON.stringify(CARTS).slice(0, 200),
  "noise.bin": "\u0000\u0001PK\u0003\u0004\ud800",
  "empty.csv": "",
  "text.siltbook": "no book",
};

let original: Map<string, Buffer> | undefined;

/** Makes the folder with its files. */
async function make(): Promise<Map<string, Buffer>> {
  mkdirSync(join(FOLDER, "folder"), { recursive: true });
  process.chdir(FOLDER);
  for (const [name, text] of Object.entries(TEXTS)) writeFileSync(name, text);
  const quiet = { out: () => {}, err: () => {} };
  const fleet = ["--carts", "carts.json", "--requirement", "requirement.json"];
  await runCli(["import", "--book", BOOK, ...fleet, "lab.csv", "long.csv", "bad.csv"], quiet);
  await runCli(["judge", "--book", BOOK, "--on", "2026-03-14"], quiet);
  await runCli(["evidence", "--book", BOOK, "--record", "1", "--out", PACK], quiet);
  await runCli(["sign", "--new-key", KEY], quiet);
  await runCli(["sign", "--book", BOOK, "--key", KEY, "--out", SIGNED], quiet);
  await runCli(["fleet", "--book", BOOK, "--on", "2026-03-14", "--shard", "1/1", "--out", SHARD], quiet);
  return new Map(
    [...Object.keys(TEXTS), BOOK, PACK, KEY, `${KEY}.pub`, SIGNED, SHARD].map((name) => [
      name,
      readFileSync(name),
    ]),
  );
}

/** What the book says of itself, however its bytes lie. */
function contentOf(path: string): string {
  const book = Book.open(path, { waitMs: 0 });
  try {
    const broken = book.check();
    if (broken.length > 0) throw new Error(`the book is damaged: ${broken.join("; ")}`);
    return JSON.stringify([
      [...book.jsonLines()],
      book.files(),
      book.quarantine(),
      book.carts(),
      book.requirements(),
    ]);
  } finally {
    book.close();
  }
}

/** How a command ended, and what it left. */
export interface Ended {
  readonly code: number;
  readonly out: string;
  readonly err: string;
  /** Files that were there before and are another now. */
  readonly changed: readonly string[];
  /** Files that are new. */
  readonly made: readonly string[];
}

/** Runs a command in the folder, looks at what it left, and puts everything back as it was. */
export async function runInWorld(words: readonly string[]): Promise<Ended> {
  const home = process.cwd();
  original ??= await make();
  process.chdir(FOLDER);
  try {
    return await runHere(words, original);
  } finally {
    process.chdir(home);
  }
}

async function runHere(words: readonly string[], original: ReadonlyMap<string, Buffer>): Promise<Ended> {
  let out = "";
  let err = "";
  const code = await runCli(words, {
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
  });
  const changed: string[] = [];
  for (const [name, bytes] of original) {
    const now = existsSync(name) && statSync(name).isFile() ? readFileSync(name) : undefined;
    if (now?.equals(bytes)) continue;
    // A book that was only opened may lie otherwise on the disk, and says the same.
    const said = name === BOOK && now !== undefined ? attempt(() => contentOf(BOOK)) : undefined;
    rmSync(name, { recursive: true, force: true });
    writeFileSync(name, bytes);
    if (said !== undefined && "error" in said) throw said.error;
    if (said === undefined || said.value !== contentBefore()) changed.push(name);
  }
  const made: string[] = [];
  for (const name of readdirSync(".")) {
    if (original.has(name) || name === "folder") continue;
    made.push(name);
    rmSync(name, { recursive: true, force: true });
  }
  for (const name of readdirSync("folder")) {
    made.push(join("folder", name));
    rmSync(join("folder", name), { recursive: true, force: true });
  }
  return { code, out, err, changed, made };
}

let before: string | undefined;

/** What the book said before any command; asked while it lies there as it was. */
function contentBefore(): string {
  before ??= contentOf(BOOK);
  return before;
}
