import * as z from "zod";
import type { ChainPart, EvidenceOfVerdict } from "../book/index.js";
import { INPUT_ROLES, type RecordedInput, type UnreadResult } from "../fitness/index.js";
import { jsonLinesFile, orderedJsonFile, type PackFile, textFile, textOf } from "./pack-file.js";

/** What a pack holds; all its other files are made from this. */
export interface PackContent extends EvidenceOfVerdict {
  /** The version of siltbook that made the pack. */
  readonly siltbook: string;
  /** The laboratory's files that are in the pack. */
  readonly laboratory: readonly LaboratoryFile[];
  /** Rows that could be given to no cart when the pack was made; a "fit" has to be read with them. */
  readonly rowsOfNoCart: readonly UnreadResult[];
  /** Whether the pack is described by RO-Crate metadata too. */
  readonly roCrate: boolean;
  /** A signed statement of a head of the book, as text. */
  readonly signedHead?: string;
}

/** A file of the laboratory in a pack. */
export interface LaboratoryFile {
  /** Its number in the book. */
  readonly number: number;
  readonly path: string;
  readonly bytes: Uint8Array;
}

const FORM = 1;

const RECORD = "record.json";
const ENTRIES = "chain/entries.jsonl";
const BODIES = "chain/bodies.jsonl";
const LINES = "chain/rows.jsonl";
export const SIGNED_HEAD = "signed-head.json";

/** Names of the files that other modules name. */
export const CHAIN_FILES = { entries: ENTRIES, lines: LINES } as const;

/** The files that a pack is made from. */
export function contentFiles(content: PackContent): PackFile[] {
  const { siltbook, number, files, laboratory, rowsOfNoCart, roCrate, chain, signedHead } = content;
  return [
    orderedJsonFile(RECORD, {
      form: FORM,
      siltbook,
      verdict: number,
      files: files.map((file) => ({
        number: file,
        path: laboratory.find((one) => one.number === file)?.path ?? null,
      })),
      rowsOfNoCart,
      roCrate,
    }),
    ...content.inputs.map(({ text }, index) => textFile(pathOfInput(content.inputs, index), text)),
    ...laboratory.map(({ path, bytes }) => ({ path, bytes })),
    jsonLinesFile(ENTRIES, chain.entries),
    jsonLinesFile(BODIES, chain.bodies),
    jsonLinesFile(LINES, chain.lines),
    ...(signedHead === undefined ? [] : [textFile(SIGNED_HEAD, signedHead)]),
  ];
}

/** Where an input of the verdict is: its place in the order, and its role. */
export function pathOfInput(inputs: readonly Pick<RecordedInput, "role">[], index: number): string {
  return `inputs/${String(index + 1).padStart(3, "0")}-${inputs[index]?.role}.json`;
}

const recordSchema = z.object({
  form: z.literal(FORM),
  siltbook: z.string(),
  verdict: z.int(),
  files: z.array(z.object({ number: z.int(), path: z.string().nullable() })),
  rowsOfNoCart: z.array(z.looseObject({ where: z.string() })),
  roCrate: z.boolean(),
});
const entrySchema = z.object({
  number: z.int(),
  at: z.string(),
  kind: z.string(),
  by: z.string().nullable(),
  subject: z.string(),
  bodySha256: z.string(),
  previous: z.string(),
  hash: z.string(),
});
const pieceSchema = z.object({
  table: z.string(),
  first: z.int(),
  last: z.int(),
  others: z.array(z.union([z.string(), z.number()])),
  rows: z.int(),
  sha256: z.string(),
  each: z.string(),
});
const bodySchema = z.object({ entry: z.int(), pieces: z.array(pieceSchema) });
const linesSchema = z.object({
  entry: z.int(),
  table: z.string(),
  isWhole: z.boolean(),
  lines: z.array(z.string().nullable()),
});

/**
 * Reads what {@link contentFiles} wrote.
 *
 * @throws RangeError naming the file that cannot be read
 */
export function readContent(files: readonly PackFile[]): PackContent {
  const byPath = new Map(files.map((file) => [file.path, file]));
  const fileNamed = (path: string): PackFile => {
    const file = byPath.get(path);
    if (file === undefined) throw new PackError(path, "it is missing");
    return file;
  };
  const json = <T>(path: string, schema: z.ZodType<T>) =>
    parsed(path, schema, () => JSON.parse(textOf(fileNamed(path))));
  const lines = <T>(path: string, schema: z.ZodType<T>) =>
    parsed(path, z.array(schema), () =>
      textOf(fileNamed(path))
        .split("\n")
        .filter((line) => line !== "")
        .map((line) => JSON.parse(line)),
    );
  const record = json(RECORD, recordSchema);
  const signedHead = byPath.get(SIGNED_HEAD);
  return {
    siltbook: record.siltbook,
    number: record.verdict,
    inputs: readInputs(files),
    files: record.files.map(({ number }) => number),
    laboratory: record.files.flatMap(({ number, path }) =>
      path === null ? [] : [{ number, path, bytes: fileNamed(path).bytes }],
    ),
    rowsOfNoCart: record.rowsOfNoCart as UnreadResult[],
    roCrate: record.roCrate,
    chain: {
      entries: lines(ENTRIES, entrySchema),
      bodies: lines(BODIES, bodySchema),
      lines: lines(LINES, linesSchema),
    } as ChainPart,
    ...(signedHead !== undefined && { signedHead: textOf(signedHead) }),
  };
}

/** A file of a pack is not what siltbook writes. */
export class PackError extends RangeError {
  override readonly name = "PackError";
  constructor(
    readonly file: string,
    readonly why: string,
    options?: ErrorOptions,
  ) {
    super(`${file}: ${why}`, options);
  }
}

function parsed<T>(path: string, schema: z.ZodType<T>, read: () => unknown): T {
  try {
    return schema.parse(read());
  } catch (error) {
    if (error instanceof PackError) throw error;
    throw new PackError(path, "it is not what siltbook writes, or what a newer siltbook wrote", {
      cause: error,
    });
  }
}

function readInputs(files: readonly PackFile[]): RecordedInput[] {
  return files
    .filter(({ path }) => path.startsWith("inputs/"))
    .map((file) => {
      const [, place, name] = /^inputs\/(\d{3,6})-([a-z-]+)\.json$/.exec(file.path) ?? [];
      const role = INPUT_ROLES.find((one) => one === name);
      if (role === undefined)
        throw new PackError(
          file.path,
          `expected the name of an input of a verdict, such as "inputs/001-case.json"`,
        );
      return { place: Number(place), role, text: textOf(file) };
    })
    .sort((a, b) => a.place - b.place)
    .map(({ role, text }) => ({ role, text }));
}
