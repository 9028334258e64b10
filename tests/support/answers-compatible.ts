import { join } from "node:path";

/** What the newest release promised of its answers; `npm run schemas -- --release VERSION` writes it. */
export const RELEASED = join(import.meta.dirname, "..", "cli", "released-answers.json");

/** A part of a JSON Schema, in the few words that the descriptions of answers use. */
export interface Schema {
  readonly [keyword: string]: unknown;
}

type Named = Readonly<Record<string, Schema>>;

/** Words that say something to people and nothing about what may be in an answer. */
const FOR_PEOPLE = ["description", "title", "$schema"];

/** A schema without what it says to people. */
export function bare(schema: Schema): Schema {
  const inner = (value: unknown): unknown =>
    Array.isArray(value)
      ? value.map(inner)
      : typeof value === "object" && value !== null
        ? bare(value as Schema)
        : value;
  const names = ([word, value]: [string, unknown]) => [
    word,
    NAMED.includes(word)
      ? Object.fromEntries(Object.entries(value as Named).map(([name, part]) => [name, bare(part)]))
      : inner(value),
  ];
  return Object.fromEntries(
    Object.entries(schema)
      .filter(([word]) => !FOR_PEOPLE.includes(word))
      .map(names),
  );
}

/** Words whose value is parts by name. */
const NAMED = ["properties", "$defs"];

/**
 * What a program written for an older description can no longer rely upon, a line for each place; empty when every answer
 * by the newer description is one by the older, and no field, and no code of a list, is gone.
 */
export function brokenPromises(older: Schema, newer: Schema): string[] {
  return compared(older, newer, "", { older, newer, open: new Set() });
}

interface Whole {
  readonly older: Schema;
  readonly newer: Schema;
  /** Pairs of named parts that are being compared: a part may hold itself. */
  readonly open: ReadonlySet<string>;
}

function compared(older: Schema, newer: Schema, path: string, whole: Whole): string[] {
  if (older.$ref !== undefined || newer.$ref !== undefined) {
    const pair = `${older.$ref ?? path} ${newer.$ref ?? path}`;
    if (whole.open.has(pair)) return [];
    const inside = { ...whole, open: new Set([...whole.open, pair]) };
    return compared(resolved(older, whole.older), resolved(newer, whole.newer), path, inside);
  }
  const [before, now] = [branchesOf(older), branchesOf(newer)];
  if (before.length > 1 || now.length > 1) {
    const missing = before.filter((old) => now.every((form) => compared(old, form, path, whole).length > 0));
    // A form that is gone takes fields or codes with it, and one that came is one that nobody expects.
    return [
      ...now.flatMap((form) => nearest(before.map((old) => compared(old, form, path, whole)))),
      ...missing.flatMap((old) => nearest(now.map((form) => compared(old, form, path, whole)))),
    ].filter((line, place, lines) => lines.indexOf(line) === place);
  }
  return [...wordsCompared(older, newer, path), ...partsCompared(older, newer, path, whole)];
}

function resolved(part: Schema, whole: Schema): Schema {
  return typeof part.$ref === "string"
    ? ((whole.$defs as Named)[part.$ref.slice("#/$defs/".length)] as Schema)
    : part;
}

/** The forms that a part may have; one of several kinds has a form for each. */
function branchesOf(part: Schema): readonly Schema[] {
  const forms = (part.anyOf ?? part.oneOf) as readonly Schema[] | undefined;
  if (forms !== undefined) return forms;
  return Array.isArray(part.type) ? part.type.map((type) => ({ ...part, type })) : [part];
}

function nearest(all: readonly string[][]): string[] {
  return [...all].sort((one, other) => one.length - other.length)[0] ?? [];
}

/** Words that bind a value; each must bind as it did. */
const BINDING = ["type", "const", "format", "pattern", "minimum", "maximum", "exclusiveMinimum", "minLength"];
const BINDING_LISTS = ["minItems", "maxItems", "not", "propertyNames"];

function wordsCompared(older: Schema, newer: Schema, path: string): string[] {
  const changed = [...BINDING, ...BINDING_LISTS].filter(
    (word) => older[word] !== undefined && JSON.stringify(older[word]) !== JSON.stringify(newer[word]),
  );
  const codes = (part: Schema, word: string) => (part[word] ?? []) as readonly unknown[];
  const gone = ["enum", "examples"].flatMap((word) =>
    codes(older, word).filter(
      (code) => ![...codes(newer, "enum"), ...codes(newer, "examples")].includes(code),
    ),
  );
  const isOpened = older.enum !== undefined && newer.enum === undefined;
  const came = isOpened
    ? ["any text"]
    : older.enum === undefined
      ? []
      : codes(newer, "enum").filter((code) => !codes(older, "enum").includes(code));
  return [
    ...changed.map(
      (word) => `${path}: ${word} was ${JSON.stringify(older[word])}, is ${JSON.stringify(newer[word])}`,
    ),
    ...gone.map((code) => `${path}: the code ${JSON.stringify(code)} is gone`),
    ...came.map((code) => `${path}: the code ${JSON.stringify(code)} is new in a closed list`),
  ];
}

function partsCompared(older: Schema, newer: Schema, path: string, whole: Whole): string[] {
  const then = (older.properties ?? {}) as Named;
  const today = (newer.properties ?? {}) as Named;
  const required = (newer.required ?? []) as readonly string[];
  const fields = Object.entries(then).flatMap(([name, part]) => {
    const field = today[name];
    return field === undefined
      ? [`${path}/${name}: is gone`]
      : compared(part, field, `${path}/${name}`, whole);
  });
  const optional = ((older.required ?? []) as readonly string[])
    .filter((name) => name in today && !required.includes(name))
    .map((name) => `${path}/${name}: may be absent now`);
  const lists = ["items", "additionalProperties"].flatMap((word) => {
    const [old, now] = [older[word] as Schema | undefined, newer[word] as Schema | undefined];
    if (typeof old !== "object") return [];
    return typeof now === "object"
      ? compared(old, now, `${path}/*`, whole)
      : [`${path}/*: is no longer described`];
  });
  const places = ((older.prefixItems ?? []) as readonly Schema[]).flatMap((part, place) => {
    const now = ((newer.prefixItems ?? []) as readonly Schema[])[place];
    return now === undefined ? [`${path}/${place}: is gone`] : compared(part, now, `${path}/${place}`, whole);
  });
  return [...fields, ...optional, ...lists, ...places];
}
