import { grouped } from "../../numeric/index.js";
import type { ByteSource } from "../bytes/bytes.js";
import { decoded, encodingOf } from "../bytes/encoding.js";
import { wholeText } from "../bytes/whole-text.js";
import { IntakeError, shown } from "../checks/issue.js";
import { describeNameTwice, parseAsWritten } from "../documents/json-file.js";
import { type JsonPath, type JsonText, MAX_NESTING, type NameTwice } from "./json-text.js";
import { linesOf, MAX_LINE_LENGTH } from "./lines.js";
import { isNearlyEmpty } from "./nearly-empty.js";
import { type RawCell, type RawRow, type RowSource, type TitleTwice, withoutTextMark } from "./row.js";

/** A JSON document must fit into memory; JSON Lines need not. */
const MAX_DOCUMENT_BYTES = 100_000_000;

/** No laboratory reports more; a file with a new name in every row would fill the memory with names. */
const MAX_TITLES = 2000;

const ONE_OBJECT = `one JSON object, with at most ${MAX_NESTING} lists and objects inside each other`;

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
    return first !== undefined && isObject(parseAsWritten(source.file, first).data) && !lines.next().done;
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
    for (const line of parsedLines(source.file, entries())) {
      const { row, text } = line;
      yield text === "" ? { row, cells: [""], text } : rowOf(line, titles);
    }
  }
  return {
    file: source.file,
    format: "JSON Lines",
    titles: [...titles.keys()],
    ...(encoding.assumption && { assumptions: [encoding.assumption] }),
    readAs: `JSON Lines, ${encoding.says}`,
    rows,
  };
}

/** What is in one place of a file where a row is expected. */
interface Item {
  readonly row: number;
  readonly text: string;
  /** Undefined when it is no object. */
  readonly entry: object | undefined;
  /** The names that it gives twice, each with its place in the object. */
  readonly twice: readonly NameTwice[];
}

function* parsedLines(file: string, lines: Iterable<{ row: number; text: string }>): Generator<Item> {
  for (const { row, text } of lines) {
    let parsed: Pick<JsonText, "data" | "namesTwice"> = { data: undefined, namesTwice: [] };
    try {
      parsed = parseAsWritten(file, text);
    } catch {
      // A line that is no JSON is no object either.
    }
    const { data, namesTwice } = parsed;
    const twice = namesTwice.map((one) => ({ ...one, line: row }));
    yield { row, text, entry: isObject(data) ? data : undefined, twice };
  }
}

function openDocument(source: ByteSource): RowSource {
  const { file } = source;
  if (source.size > MAX_DOCUMENT_BYTES) {
    throw new IntakeError(
      `${file}: expected a JSON document of at most ${MAX_DOCUMENT_BYTES} bytes, found ${source.size}; write it as JSON Lines`,
    );
  }
  const parsed = parseAsWritten(file, wholeText(source));
  const items = itemsIn(file, parsed);
  for (const { row, text } of items) {
    if (text.length > MAX_LINE_LENGTH) {
      throw new IntakeError(
        `${file} row ${row}: expected objects of at most ${MAX_LINE_LENGTH} characters, found one of ${text.length}`,
      );
    }
  }
  const titles = titlesOf(file, items);
  const rows = items.map((item) => rowOf(item, titles));
  const encoding = encodingOf(source);
  return {
    file,
    format: "JSON",
    titles: [...titles.keys()],
    around: aroundList(parsed.data),
    ...(encoding.assumption && { assumptions: [encoding.assumption] }),
    readAs: `a JSON document, ${encoding.says}`,
    rows: () => rows,
  };
}

/** The items of the one list that a document holds, or the document itself where it is one object without a list. */
function itemsIn(file: string, { data, namesTwice, objectsTwice }: JsonText): Item[] {
  const { items, pathOf } = listIn(file, data);
  const texts = new Map(objectsTwice.map(({ path, text }) => [JSON.stringify(path), text]));
  const length = pathOf(0).length;
  const twice = grouped(namesTwice, ({ path }) => JSON.stringify(path.slice(0, length)));
  const found = items.map((entry, index): Item => {
    const key = JSON.stringify(pathOf(index));
    const own = (twice.get(key) ?? []).map((one) => ({ ...one, path: one.path.slice(length) }));
    twice.delete(key);
    return {
      row: index + 1,
      text: texts.get(key) ?? JSON.stringify(entry),
      entry: isObject(entry) ? entry : undefined,
      twice: own,
    };
  });
  // A whole list may be given twice, and then it is not known which rows are meant.
  const outside = namesTwice.find(({ path }) => twice.has(JSON.stringify(path.slice(0, length))));
  if (outside !== undefined) throw new IntakeError(`${file}: ${describeNameTwice(outside)}`);
  return found;
}

function listIn(file: string, data: unknown): { items: unknown[]; pathOf: (index: number) => JsonPath } {
  if (Array.isArray(data)) return { items: data, pathOf: (index) => [index] };
  const lists = isObject(data) ? Object.entries(data).filter(([, value]) => Array.isArray(value)) : [];
  const ofObjects = lists.filter(([, items]) => items.some(isObject));
  const [only, ...more] = ofObjects.length > 0 ? ofObjects : lists;
  if (only !== undefined && more.length === 0) {
    const [name, items] = only;
    return { items, pathOf: (index) => [name, index] };
  }
  if (isObject(data) && only === undefined) return { items: [data], pathOf: () => [] };
  const found =
    lists.length > 1 ? `, found lists ${lists.map(([name]) => `"${shown(name)}"`).join(", ")}` : "";
  throw new IntakeError(
    `${file}: expected an array of samples, or an object that holds one such array${found}`,
  );
}

/** What an object says of the list of samples that it holds, also in lists of texts such as "notes". */
function aroundList(data: unknown): RawRow[] {
  if (!isObject(data) || !Object.values(data).some(Array.isArray)) return [];
  const said = Object.entries(data).flatMap(([name, value]) =>
    !Array.isArray(value)
      ? [...flatten({ [name]: value })]
      : value.filter((item) => typeof item === "string").map((text): [string, RawCell] => [name, text]),
  );
  return said.map((cells) => ({ row: 0, cells, text: cells.join(": ") }));
}

function isObject(value: unknown): value is object {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** All names in order of first appearance, with the place of their cell. */
function titlesOf(file: string, entries: Iterable<{ entry: object | undefined }>): Map<string, number> {
  const titles = new Map<string, number>();
  let objects = 0;
  let cells = 0;
  for (const { entry } of entries) {
    if (entry === undefined) continue;
    objects += 1;
    for (const [title] of flatten(entry)) {
      cells += 1;
      if (!titles.has(title)) titles.set(title, titles.size);
    }
    if (titles.size > MAX_TITLES) {
      throw new IntakeError(`${file}: expected at most ${MAX_TITLES} different names, found more`);
    }
  }
  if (isNearlyEmpty(objects * titles.size, cells)) {
    throw new IntakeError(
      `${file}: expected objects with much the same names, found ${titles.size} names in ${objects} objects that have ${cells} values together`,
    );
  }
  return titles;
}

function rowOf({ row, text, entry, twice: names }: Item, titles: ReadonlyMap<string, number>): RawRow {
  if (entry === undefined) return { row, cells: [text], text, broken: ONE_OBJECT };
  const cells: RawCell[] = Array.from({ length: titles.size }, () => "");
  const twice = new Map<string, { readonly line?: number }>();
  for (const { path, name, line } of names) twice.set(titleAt([...path, name]), { line });
  for (const [title, cell] of flatten(entry)) {
    const place = titles.get(title) as number;
    // "ppm" within "water" and "water ppm" are one title.
    if (cells[place] !== "" && !twice.has(title)) twice.set(title, {});
    cells[place] = cell;
  }
  if (twice.size === 0) return { row, cells, text };
  const said = [...twice].map(([title, { line }]): TitleTwice => {
    const last = cells[titles.get(title) ?? -1] ?? "";
    return { title, last, ...(line !== undefined && { line }) };
  });
  for (const [title, place] of titles) if (isWithin(title, twice)) cells[place] = "";
  return { row, cells, text, twice: said };
}

/** The title under which {@link flatten} puts what stands at a place in a row: lists have one cell. */
function titleAt(path: JsonPath): string {
  const list = path.findIndex((step) => typeof step === "number");
  return path.slice(0, Math.min(list < 0 ? path.length : list, DEEPEST + 1)).join(" ");
}

/** Whether a title, or one that it begins with, is among those that are given twice. */
function isWithin(title: string, twice: ReadonlyMap<string, unknown>): boolean {
  for (let end = title.indexOf(" "); end !== -1; end = title.indexOf(" ", end + 1))
    if (twice.has(title.slice(0, end))) return true;
  return twice.has(title);
}

const DEEPEST = 4;

function* flatten(entry: object, path = "", depth = 0): Generator<[string, RawCell]> {
  for (const [name, value] of Object.entries(entry)) {
    const title = path === "" ? name : `${path} ${name}`;
    if (isObject(value) && depth < DEEPEST) yield* flatten(value, title, depth + 1);
    else if (typeof value === "number" || typeof value === "string") yield [title, withoutTextMark(value)];
    else yield [title, value === null ? "" : JSON.stringify(value)];
  }
}
