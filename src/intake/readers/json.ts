import { IntakeError } from "../issue.js";
import { DEEPEST_NESTING } from "../json-depth.js";
import { parseAsWritten } from "../json-file.js";
import type { ByteSource } from "./bytes.js";
import { decoded, ENCODING_NAMES, encodingOf } from "./encoding.js";
import { LONGEST_LINE, linesOf } from "./lines.js";
import type { RawCell, RawRow, RowSource } from "./row.js";
import { wholeText } from "./whole-text.js";

/** A JSON document must fit into memory; JSON Lines need not. */
const LARGEST_DOCUMENT_BYTES = 100_000_000;

/** No laboratory reports more; a file with a new name in every row would fill the memory with names. */
const MOST_TITLES = 2000;

const ONE_OBJECT = `one JSON object, with at most ${DEEPEST_NESTING} lists and objects inside each other`;

/**
 * Opens a JSON document or JSON Lines. Every object is a row, and the names inside it are the titles of the columns;
 * objects within objects are named by both names.
 *
 * @param source - a document is an array of objects, or an object with one array of them
 * @throws IntakeError when it is neither, is too large, or has more than 2,000 names
 */
export function openJson(source: ByteSource): RowSource {
  return isJsonLines(source) ? openJsonLines(source) : openDocument(source);
}

/** Whether the first line is an object by itself and more lines follow, or the name says so. */
function isJsonLines(source: ByteSource): boolean {
  if (/\.(jsonl|ndjson)$/i.test(source.file)) return true;
  const lines = linesOf(source.file, decoded(source, encodingOf(source)));
  try {
    const first = lines.next().value as string | undefined;
    return first !== undefined && isObject(parseAsWritten(source.file, first)) && !lines.next().done;
  } catch {
    return false;
  }
}

function openJsonLines(source: ByteSource): RowSource {
  const encoding = encodingOf(source);
  function* entries() {
    let row = 0;
    for (const line of linesOf(source.file, decoded(source, encoding))) {
      row += 1;
      yield { row, text: line.trim() };
    }
  }
  const titles = titlesOf(source.file, parsedLines(source.file, entries()));
  function* rows(): Generator<RawRow> {
    for (const { row, text, entry } of parsedLines(source.file, entries())) {
      if (text === "") yield { row, cells: [""], text };
      else if (entry === undefined) yield { row, cells: [text], text, broken: ONE_OBJECT };
      else yield { row, cells: cellsOf(entry, titles), text };
    }
  }
  return {
    file: source.file,
    format: "JSON Lines",
    titles: [...titles.keys()],
    readAs: `JSON Lines, ${ENCODING_NAMES[encoding]}`,
    rows,
  };
}

function* parsedLines(file: string, lines: Iterable<{ row: number; text: string }>) {
  for (const { row, text } of lines) {
    let entry: unknown;
    try {
      entry = parseAsWritten(file, text);
    } catch {
      entry = undefined;
    }
    yield { row, text, entry: isObject(entry) ? entry : undefined };
  }
}

function openDocument(source: ByteSource): RowSource {
  const { file } = source;
  if (source.size > LARGEST_DOCUMENT_BYTES) {
    throw new IntakeError(
      `${file}: expected a JSON document of at most ${LARGEST_DOCUMENT_BYTES} bytes, found ${source.size}; write it as JSON Lines`,
    );
  }
  const list = listIn(file, wholeText(source));
  const entries = list.map((entry, index) => {
    const [row, text] = [index + 1, JSON.stringify(entry)];
    if (text.length > LONGEST_LINE) {
      throw new IntakeError(
        `${file} row ${row}: expected objects of at most ${LONGEST_LINE} characters, found one of ${text.length}`,
      );
    }
    return { row, text, entry: isObject(entry) ? entry : undefined };
  });
  const titles = titlesOf(file, entries);
  const rows = entries.map(
    ({ row, text, entry }): RawRow =>
      entry === undefined
        ? { row, cells: [text], text, broken: ONE_OBJECT }
        : { row, cells: cellsOf(entry, titles), text },
  );
  const readAs = `a JSON document, ${ENCODING_NAMES[encodingOf(source)]}`;
  return { file, format: "JSON", titles: [...titles.keys()], readAs, rows: () => rows };
}

function listIn(file: string, text: string): unknown[] {
  const document = parseAsWritten(file, text);
  if (Array.isArray(document)) return document;
  const lists: unknown[][] = isObject(document) ? Object.values(document).filter(Array.isArray) : [];
  const [only, ...more] = lists;
  if (only !== undefined && more.length === 0) return only;
  if (isObject(document) && only === undefined) return [document];
  throw new IntakeError(`${file}: expected an array of samples, or an object that holds one such array`);
}

function isObject(value: unknown): value is object {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** All names in order of first appearance, with the place of their cell. */
function titlesOf(file: string, entries: Iterable<{ entry: object | undefined }>): Map<string, number> {
  const titles = new Map<string, number>();
  for (const { entry } of entries) {
    if (entry === undefined) continue;
    for (const [title] of flatten(entry)) if (!titles.has(title)) titles.set(title, titles.size);
    if (titles.size > MOST_TITLES) {
      throw new IntakeError(`${file}: expected at most ${MOST_TITLES} different names, found more`);
    }
  }
  return titles;
}

function cellsOf(entry: object, titles: ReadonlyMap<string, number>): RawCell[] {
  const cells: RawCell[] = Array.from({ length: titles.size }, () => "");
  for (const [title, cell] of flatten(entry)) cells[titles.get(title) as number] = cell;
  return cells;
}

const DEEPEST = 4;

function* flatten(entry: object, path = "", depth = 0): Generator<[string, RawCell]> {
  for (const [name, value] of Object.entries(entry)) {
    const title = path === "" ? name : `${path} ${name}`;
    if (isObject(value) && depth < DEEPEST) yield* flatten(value, title, depth + 1);
    else if (typeof value === "number" || typeof value === "string") yield [title, value];
    else yield [title, value === null ? "" : JSON.stringify(value)];
  }
}
