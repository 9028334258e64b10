import fc from "fast-check";
import { editedText, ODD_TEXTS } from "./edits.js";

/** JSON as it is written where JSON.stringify would not write it so: "1e999", "-0". */
class Written {
  constructor(readonly token: string) {}
}

const oddValue: fc.Arbitrary<unknown> = fc.oneof(
  fc.constantFrom<unknown>(null, true, false, 0, -1, 1.5, 1e300, 1e-300, 2 ** 53, "", [], {}, [[]], [null]),
  fc
    .constantFrom("1e999", "-1e999", "-0", "1e-999", "1E400", "123456789012345678901234567890")
    .map((token) => new Written(token)),
  fc.constantFrom<string>(...ODD_TEXTS),
  fc.constantFrom("60 L", "45 L/min", "17/15/12", "2026-03-04", "0 L", "-5 L/min", "1e308 gal", "1e-320 L"),
  fc.double(),
  fc.constant(0).map(() => deep(150)),
  fc.constant(0).map(() => Array.from({ length: 300 }, () => "x")),
);

function deep(levels: number): unknown {
  let value: unknown = 1;
  for (let level = 0; level < levels; level += 1) value = [value];
  return value;
}

/** Numbers and words that many a field can hold: what is in their place is read more often than refused. */
const EDGES = [
  0,
  1,
  0.5,
  1e-300,
  1e-9,
  1e-3,
  3,
  20,
  1e3,
  1e6,
  1e9,
  1e12,
  1e300,
  Number.MAX_VALUE,
  2 ** 53,
  -1,
];
const WORDS = [
  ...["60 L", "1e-300 L", "1e300 L", "0.001 L", "45 L/min", "1e-9 L/min", "1e12 L/min", "9 US gpm"],
  ...["17/15/12", "0/0/0", "28/28/28", "NAS 1638 00", "AS4059 cumulative 000A-F", "AS4059 differential 12"],
  ...["MIL-PRF-83282", "AS1241 Type V", "main system", "second system", "fore", "aft", "C-1", "PRACTICE"],
  ...[
    "2026-03-04",
    "2026-03-14",
    "0001-01-01",
    "9999-12-31",
    "2024-02-29",
    "top-up",
    "fluid-change",
    "hookup",
  ],
  ...["below", "above", "persistent", "damaged", "tripped", "alarm", "drain", "cloudy", "relative", "codes"],
];

const oddKey = fc.constantFrom(
  "__proto__",
  "constructor",
  "toString",
  "",
  "0",
  "length",
  "note",
  "cart",
  "\0",
  "x",
);

interface JsonEdit {
  readonly kind: "like" | "put" | "remove" | "repeat" | "add" | "rename" | "text";
  readonly at: number;
  readonly value: unknown;
  readonly key: string;
  readonly text: number;
  readonly number: number;
  readonly word: string;
}

const jsonEditOf = (...kinds: JsonEdit["kind"][]): fc.Arbitrary<JsonEdit> =>
  fc.record({
    kind: fc.constantFrom(...kinds),
    at: fc.noBias(fc.nat(999_999)),
    value: oddValue,
    key: oddKey,
    text: fc.nat(ODD_TEXTS.length - 1),
    number: fc.oneof(fc.constantFrom(...EDGES), fc.nat(100), fc.double({ min: 0, max: 1e4, noNaN: true })),
    word: fc.constantFrom(...WORDS),
  });

type Holder = unknown[] | Map<string, unknown>;

/** Objects as lists of pairs, so that "__proto__" and a name given twice can be written. */
function opened(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(opened);
  if (typeof value !== "object" || value === null || value instanceof Written) return value;
  return new Map(Object.entries(value).map(([key, inside]) => [key, opened(inside)]));
}

function* places(value: unknown): Generator<{ holder: Holder; key: string | number }> {
  if (!Array.isArray(value) && !(value instanceof Map)) return;
  for (const [key, inside] of value.entries()) {
    yield { holder: value, key };
    yield* places(inside);
  }
}

function editJson(root: unknown, { kind, at, value, key: newKey, text, number, word }: JsonEdit): void {
  const all = [...places(root)];
  const found = all[at % Math.max(1, all.length)];
  if (found === undefined) return;
  const { holder, key } = found;
  const before = Array.isArray(holder) ? holder[key as number] : holder.get(key as string);
  const put = (changed: unknown) => {
    if (Array.isArray(holder)) holder[key as number] = changed;
    else holder.set(key as string, changed);
  };
  if (kind === "like" && typeof before === "number") put(number);
  else if (kind === "like" && typeof before === "string") put(word);
  else if (kind === "put") put(opened(value));
  else if (kind === "text") put(typeof before === "string" ? before + ODD_TEXTS[text] : ODD_TEXTS[text]);
  else if (kind === "remove" || kind === "rename") {
    if (Array.isArray(holder)) holder.splice(key as number, 1);
    else holder.delete(key as string);
    if (kind === "rename" && holder instanceof Map) holder.set(newKey, before);
  } else if (kind === "repeat" && Array.isArray(holder)) holder.push(before);
  else if (holder instanceof Map) holder.set(newKey, opened(value));
}

function written(value: unknown): string {
  if (value instanceof Written) return value.token;
  if (Array.isArray(value)) return `[${value.map(written).join(",")}]`;
  if (value instanceof Map)
    return `{${[...value].map(([key, inside]) => `${JSON.stringify(key)}:${written(inside)}`).join(",")}}`;
  return JSON.stringify(value) ?? "null";
}

const anyEdit = jsonEditOf("like", "like", "like", "put", "remove", "repeat", "add", "rename", "text");
const mildEdit = jsonEditOf("like", "like", "like", "remove", "repeat");

/** JSON that was right before edits at random places of the document, or before edits of its text. */
export function editedJson(right: readonly unknown[]): fc.Arbitrary<string> {
  return fc.oneof(
    { weight: 1, arbitrary: editedText(right.map((value) => JSON.stringify(value))) },
    { weight: 4, arbitrary: withEdits(right, anyEdit) },
  );
}

/** JSON that was right and is often right still: other numbers and words are in it. */
export function mildlyEditedJson(right: readonly unknown[]): fc.Arbitrary<string> {
  return fc.oneof(
    { weight: 3, arbitrary: fc.constantFrom(...right.map((value) => JSON.stringify(value))) },
    { weight: 4, arbitrary: withEdits(right, mildEdit) },
    { weight: 1, arbitrary: withEdits(right, anyEdit) },
  );
}

function withEdits(right: readonly unknown[], edit: fc.Arbitrary<JsonEdit>): fc.Arbitrary<string> {
  return fc
    .tuple(fc.constantFrom(...right), fc.array(edit, { minLength: 1, maxLength: 4 }))
    .map(([document, edits]) => {
      const root = opened(document);
      for (const change of edits) editJson(root, change);
      return written(root);
    });
}
