/**
 * Writes data as JSON with the names in order and without spaces, so that the same data are the same bytes.
 *
 * Names that are whole numbers stand first, by size, as every JavaScript object lists them; the others by code unit. It is
 * written out here because every sample of a verdict goes through it; how long it takes is in docs/performance.md.
 *
 * @throws RangeError for what JSON has no form for, such as a number that is not finite
 * @example
 * canonicalJson({ b: 1, a: [true, "x"] }); // => '{"a":[true,"x"],"b":1}'
 */
export function canonicalJson(value: unknown): string {
  return textOf(value, { longer: new Map() });
}

/**
 * The names of objects that begin with the same names, in the order they were found in. Samples of one history have the same
 * few, so they are put in order once.
 */
interface Names {
  readonly longer: Map<string, Names>;
  /** In canonical order, each with the text in front of its value. */
  inOrder?: readonly { readonly name: string; readonly text: string }[];
}

function textOf(value: unknown, known: Names): string {
  switch (typeof value) {
    case "string":
      return JSON.stringify(value);
    case "number":
      if (!Number.isFinite(value)) throw new RangeError(`${value} cannot be recorded`);
      return String(value);
    case "boolean":
      return String(value);
    case "object":
      if (value === null) return "null";
      return Array.isArray(value)
        ? arrayText(value, known)
        : objectText(value as Record<string, unknown>, known);
    default:
      throw new RangeError(`${typeof value} cannot be recorded`);
  }
}

function arrayText(entries: readonly unknown[], known: Names): string {
  let text = "";
  for (const entry of entries) {
    text += `${text === "" ? "" : ","}${entry === undefined ? "null" : textOf(entry, known)}`;
  }
  return `[${text}]`;
}

function objectText(object: Record<string, unknown>, known: Names): string {
  let names = known;
  for (const name of Object.keys(object)) {
    let longer = names.longer.get(name);
    if (longer === undefined) {
      longer = { longer: new Map() };
      names.longer.set(name, longer);
    }
    names = longer;
  }
  names.inOrder ??= namesInOrder(object).map((name) => ({ name, text: `${JSON.stringify(name)}:` }));
  let text = "";
  for (const { name, text: before } of names.inOrder) {
    const value = object[name];
    if (value !== undefined) text += `${text === "" ? "" : ","}${before}${textOf(value, known)}`;
  }
  return `{${text}}`;
}

function namesInOrder(object: object): string[] {
  const names = Object.keys(object);
  // An object lists whole numbers first.
  const firstOther = names.findIndex((name) => !WHOLE.test(name) || Number(name) > MAX_INDEX);
  if (firstOther <= 0) return firstOther === 0 ? names.sort() : names;
  return [...names.slice(0, firstOther), ...names.slice(firstOther).sort()];
}

const WHOLE = /^(?:0|[1-9]\d{0,9})$/;
const MAX_INDEX = 2 ** 32 - 2;
