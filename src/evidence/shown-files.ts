import {
  type WrittenDecision,
  type WrittenFile,
  type WrittenVerdict,
  writtenDecisions,
  writtenFile,
  writtenVerdict,
} from "../book/index.js";
import {
  caseOf,
  type JudgedCircuit,
  standingAdder,
  VERDICT_WORDS,
  type Verdict,
  withHistory,
} from "../fitness/index.js";
import { bytesInMemory, GUARD_TITLE, understand } from "../intake/index.js";
import { describeOrigin } from "../provenance/index.js";
import { renderSheet } from "../report/index.js";
import type { Sample } from "../samples/index.js";
import { type Table, tableAsCsv, tableOfQuantities, tableOfSamples } from "../tables/index.js";
import { type PackContent, pathOfInput } from "./content.js";
import { type Described, dataPackageOf } from "./data-package.js";
import { type FileAtHand, isAsDelivered, readingOf } from "./laboratory.js";
import { MANIFEST, manifestOf } from "./manifest.js";
import { inOrder, jsonFile, orderedJsonFile, type PackFile, textFile } from "./pack-file.js";
import { type Provenance, roCrateOf } from "./ro-crate.js";

/** The verdict as its entry wrote it. */
export const VERDICT_FILE = "verdict.json";

/** What a pack holds, read from the rows of the chain. */
export interface ReadContent {
  readonly content: PackContent;
  readonly written: WrittenVerdict;
  readonly verdict: Verdict;
  readonly files: readonly WrittenFile[];
  /** What people had decided about the circuit when the pack was made. */
  readonly decisions: readonly WrittenDecision[];
}

/**
 * Reads the rows of the chain.
 *
 * @throws RangeError or SyntaxError when they are not what siltbook writes
 */
export function readRows(content: PackContent): ReadContent {
  const written = writtenVerdict(content.chain, content.number);
  return {
    content,
    written,
    verdict: JSON.parse(written.result) as Verdict,
    files: content.files.map((number) => writtenFile(content.chain, number)),
    decisions: writtenDecisions(content.chain, written),
  };
}

/** The files of a pack that were made from its content, for a person and for other programs. */
export async function shownFiles(read: ReadContent, contents: readonly PackFile[]): Promise<PackFile[]> {
  const { content, written } = read;
  const judged = judgedIn(read);
  const tables = tablesOf(read, judged);
  const head = content.chain.entries.at(-1);
  const sheet = renderSheet({
    judged,
    on: written.on,
    rowsOfNoCart: content.rowsOfNoCart,
    ...(head !== undefined && { kept: { number: written.number, head: head.hash } }),
  });
  const shown = [
    textFile("README.txt", readmeOf(read)),
    textFile("sheet.html", sheet),
    textFile(VERDICT_FILE, written.result),
    orderedJsonFile(
      "decisions.json",
      read.decisions.map(({ decision }) => decision),
    ),
    jsonFile("reading.json", await readingsOf(read)),
    ...tables.map(({ path, csv }) => textFile(path, csv)),
  ];
  const described = describe(read);
  const all = inOrder([...contents, ...shown]);
  const crate = content.roCrate ? [roCrateOf(described, all, provenanceOf(read))] : [];
  const asTables = new Map(tables.map(({ path, table }) => [path, table]));
  const description = dataPackageOf(described, inOrder([...all, ...crate]), asTables);
  const made = [...shown, ...crate, description];
  return [...made, manifestOf([...contents, ...made])];
}

function judgedIn({ content, verdict, decisions }: ReadContent): JudgedCircuit {
  const input = caseOf(content.inputs);
  const { circuit, requirement } = input;
  const judged = { circuit, verdict, ...(requirement && { requirement }) };
  return withHistory(standingAdder(decisions.map(({ decision }) => decision))(judged), input);
}

/** The samples that a verdict rests on, the newest first. */
export function samplesOf({ sample, otherSamples = [] }: Verdict): readonly Sample[] {
  return [...(sample === undefined ? [] : [sample]), ...otherSamples];
}

function tablesOf(read: ReadContent, judged: JudgedCircuit) {
  const kept = samplesOf(read.verdict).map((sample) => ({ sample, amendments: sample.origin.length - 1 }));
  return [
    asCsv("rows.csv", rowsTable(read)),
    asCsv("samples.csv", tableOfSamples(kept)),
    asCsv("quantities.csv", tableOfQuantities([judged])),
  ];
}

function asCsv(path: string, table: Table) {
  const csv = tableAsCsv(table);
  const isGuarded = csv.slice(0, csv.indexOf("\n")).includes(GUARD_TITLE);
  const guard = { name: GUARD_TITLE, type: "string" } as const;
  return { path, csv, table: isGuarded ? { ...table, columns: [...table.columns, guard] } : table };
}

/** The laboratory's rows that the samples were taken from. */
function rowsTable({ verdict, files }: ReadContent): Table {
  const rows = samplesOf(verdict).flatMap((sample) =>
    sample.origin.flatMap(({ file, sheet = "", rows: numbers }) =>
      files
        .filter((one) => one.file === file)
        .flatMap((one) =>
          one.rows
            .filter((row) => row.sheet === sheet && numbers.includes(row.row))
            .map(({ row, text }) => [sample.sample, file, one.sha256, sheet, row, text]),
        ),
    ),
  );
  const columns = ["sample", "file", "fileSha256", "sheet", "row", "text"].map((name) => ({
    name,
    type: name === "row" ? ("number" as const) : ("string" as const),
  }));
  return { name: "rows", columns, rows };
}

/** How each file was read: its column map, and what each of its columns was taken for. */
async function readingsOf({ content, files }: ReadContent) {
  const readings = files.map(async (kept) => {
    const { file, sha256, bytes, readAs, map } = kept;
    const atHand = content.laboratory.find(({ number }) => number === kept.number);
    const own = { file, sha256, bytes, readAs, columnMap: map === undefined ? null : JSON.parse(map) };
    if (atHand === undefined) return { ...own, path: null, isAsDelivered: false, tables: [] };
    const tables = await understand(bytesInMemory(file, atHand.bytes), readingOf(kept).map);
    return {
      ...own,
      path: atHand.path,
      isAsDelivered: isAsDelivered({ kept, bytes: atHand.bytes } satisfies FileAtHand),
      tables: tables.map(({ sheet, shape, headerRows, columns, conventions }) => ({
        sheet: sheet ?? null,
        shape,
        headerRows,
        columns: columns.map(({ title, recognition }) => ({ title, ...recognition })),
        conventions,
      })),
    };
  });
  return Promise.all(readings);
}

function provenanceOf({ content, written, files }: ReadContent): Provenance {
  return {
    verdict: written,
    inputs: content.inputs.map((_, index) => pathOfInput(content.inputs, index)),
    files: files.map((kept) => ({
      kept,
      path: content.laboratory.find(({ number }) => number === kept.number)?.path,
    })),
  };
}

function describe({ content, written }: ReadContent): Described {
  const { number, verdict, cart, circuit, on, document, revision } = written;
  return {
    title: `Evidence for verdict ${number}: ${VERDICT_WORDS[verdict]}, cart ${cart}, circuit ${circuit}, ${on}`,
    description:
      `What the verdict "${VERDICT_WORDS[verdict]}" on cart ${cart}, circuit ${circuit}, judged for ${on} by "${document}", ` +
      `revision ${revision}, rests on.`,
    created: content.chain.entries.at(-1)?.at ?? written.at,
    siltbook: content.siltbook,
  };
}

const WHAT_IS_WHAT = `sheet.html        the sheet, to be printed
verdict.json      the verdict with its reasons, as the book keeps it
rows.csv          the laboratory's rows, as they stood
samples.csv       the samples that were read from them
quantities.csv    each result with its limit
reading.json      how the files were read: column maps, and each column
inputs/           all that the verdict was computed from: circuit,
                  requirement, samples, what was not read
laboratory/       the laboratory's files, where they are at hand
decisions.json    what people had decided about the circuit
chain/            the entries of the book's chain, and the rows they wrote
record.json       which parts are where
datapackage.json  all files, as a Data Package
manifest-sha256.txt  all files with their hashes
`;

function readmeOf(read: ReadContent): string {
  const { content, written, verdict } = read;
  const head = content.chain.entries.at(-1);
  const reasons = verdict.reasons
    .map(({ callsFor, message }) => `- ${VERDICT_WORDS[callsFor]}: ${message}\n`)
    .join("");
  const from = samplesOf(verdict).map(
    ({ sample, drawnOn, origin }) =>
      `Sample ${sample}, drawn on ${drawnOn}, from ${origin.map(describeOrigin).join("; ")}.\n`,
  );
  return [
    `${describe(read).title}\n\n`,
    `Judged by "${written.document}", revision ${written.revision}, with siltbook ${written.version}.\n`,
    ...from,
    `\n${reasons}\n`,
    WHAT_IS_WHAT,
    "\nTo check this pack, without the book:\n",
    "  siltbook verify --evidence <this folder, or the .zip>\n",
    `  sha256sum --check ${MANIFEST}    (the files alone)\n\n`,
    head === undefined ? "" : `Head of the book: entry ${head.number} of ${head.at},\n${head.hash}\n`,
    "Compare it with a printed page or a signed statement: who owns a book can\nmake another book and another pack of it.\n",
  ].join("");
}
