import { isDeepStrictEqual } from "node:util";
import type { WrittenFile, WrittenRow } from "../book/index.js";
import {
  bytesInMemory,
  collectSamples,
  openLabFile,
  parseColumnMap,
  type ReadOptions,
  statementsOf,
} from "../intake/index.js";
import { shown } from "../provenance/index.js";
import type { Sample } from "../samples/index.js";
import { sha256OfBytes } from "./pack-file.js";

/** A file of the laboratory as it is in a pack, with what the book kept of it. */
export interface FileAtHand {
  readonly kept: WrittenFile;
  readonly bytes: Uint8Array;
}

/** What a file says when it is read again. */
export interface ReadAgain {
  readonly kept: WrittenFile;
  readonly samples: readonly Sample[];
  /** Where the rows are not those that the book kept; absent where they are. */
  readonly differs?: string;
}

/** Whether the bytes are those that the laboratory delivered. */
export function isAsDelivered({ kept, bytes }: FileAtHand): boolean {
  return sha256OfBytes(bytes) === kept.sha256;
}

/**
 * The file of some kept rows: the file as it was delivered where its hash tells, and otherwise its lines in UTF-8.
 *
 * @returns undefined where the rows are not the lines of a text, as in a workbook
 */
export function fileOfRows(kept: WrittenFile): Uint8Array | undefined {
  const { rows, sha256 } = kept;
  if (rows.length === 0 || rows.some(({ sheet, row }, index) => sheet !== "" || row !== index + 1)) {
    return undefined;
  }
  const ways = ["\n", "\r\n"].flatMap((end) =>
    ["", end].flatMap((last) => ["", "\ufeff"].map((mark) => ({ end, last, mark }))),
  );
  const texts = ways.map(({ end, last, mark }) => mark + rows.map(({ text }) => text).join(end) + last);
  const made = texts.map((text) => new TextEncoder().encode(text));
  return made.find((bytes) => sha256OfBytes(bytes) === sha256) ?? made.at(IN_LINES);
}

/** Of the ways to put lines together: each ended by a line feed. */
const IN_LINES = 2;

/** How the book read a file. */
export function readingOf({ file, map }: WrittenFile): ReadOptions {
  return map === undefined ? {} : { map: parseColumnMap(`column map of ${file}`, map) };
}

/**
 * Reads a file again by the rules of the installed version, with the column map that it was read with.
 *
 * @throws IntakeError when it cannot be read
 */
export async function readAgain({ kept, bytes }: FileAtHand): Promise<ReadAgain> {
  const opened = await openLabFile(bytesInMemory(kept.file, bytes), readingOf(kept));
  const samples: Sample[] = [];
  const read = new Map<string, string>();
  const note = (sheet: string | undefined, row: number, text: string) =>
    read.set(`${sheet ?? ""}\n${row}`, text);
  for (const fate of opened.fates()) {
    if (fate.kind !== "sample") note(fate.row.sheet, fate.row.row, fate.row.text);
    else {
      const { sample, rows } = fate.fate;
      samples.push(sample);
      for (const { row, text } of rows) note(sample.origin[0]?.sheet, row, text);
    }
  }
  const other = kept.rows.find(({ sheet, row, text }) => read.get(`${sheet}\n${row}`) !== text);
  return { kept, samples, ...(other !== undefined && { differs: describeOther(other, read) }) };
}

function describeOther({ sheet, row, text }: WrittenRow, read: ReadonlyMap<string, string>): string {
  const now = read.get(`${sheet}\n${row}`);
  const found = now === undefined ? "is not in the file" : `is "${shown(now)}" in the file`;
  return `row ${row} ${found}, and the book kept "${shown(text)}"`;
}

/**
 * The report of a sample that the files give together, by the rules for several reports of one sample.
 *
 * @returns undefined when none of them has the sample, or they contradict each other
 */
export function sampleIn(files: readonly ReadAgain[], wanted: Sample): Sample | undefined {
  const isWanted = ({ cart, circuit, sample }: Sample) =>
    cart === wanted.cart && circuit === wanted.circuit && sample === wanted.sample;
  const reports = files.map(({ samples }) => ({ samples: samples.filter(isWanted), quarantine: [] }));
  const circuits = [{ circuit: wanted.circuit }] as Parameters<typeof collectSamples>[1][number]["circuits"];
  return collectSamples(reports, [{ cart: wanted.cart, circuits }]).samples[0];
}

/** Whether two reports say the same of everything. */
export function saySame(one: Sample, other: Sample): boolean {
  return isDeepStrictEqual(statementsOf(one), statementsOf(other));
}
