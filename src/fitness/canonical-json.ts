/**
 * Writes data as JSON with the names in order and without spaces, so that the same data are the same bytes.
 *
 * Names that are whole numbers stand first, by size, as every JavaScript object lists them; the others by code unit. It is
 * written out here because every sample of a verdict goes through it; how long it takes is in docs/making/performance.md.
 *
 * @throws RangeError for what JSON has no form for, such as a number that is not finite
 * @example
 * canonicalJson({ b: 1, a: [true, "x"] }); // => '{"a":[true,"x"],"b":1}'
 */
export function canonicalJson(value: unknown): string {
  // The engine writes a copy faster than a text can be put together here.
  return JSON.stringify(inOrder(value, { longer: new Map() }));
}

/**
 * The names of objects that begin with the same names, in the order they were found in. Samples of one history have the same
 * few, so they are put in order once.
 */
interface Names {
  readonly longer: Map<string, Names>;
  /** By code unit. */
  inOrder?: readonly string[];
}

/** A copy whose names are in order. */
function inOrder(value: unknown, known: Names): unknown {
  switch (typeof value) {
    case "string":
    case "boolean":
      return value;
    case "number":
      if (!Number.isFinite(value)) throw new RangeError(`${value} cannot be recorded`);
      return value;
    case "object":
      if (value === null) return null;
      return Array.isArray(value)
        ? value.map((entry) => (entry === undefined ? null : inOrder(entry, known)))
        : objectInOrder(value as Record<string, unknown>, known);
    default:
      throw new RangeError(`${typeof value} cannot be recorded`);
  }
}

function objectInOrder(object: Record<string, unknown>, known: Names): object {
  let names = known;
  for (const name of Object.keys(object)) {
    let longer = names.longer.get(name);
    if (longer === undefined) {
      longer = { longer: new Map() };
      names.longer.set(name, longer);
    }
    names = longer;
  }
  names.inOrder ??= Object.keys(object).sort();
  const copy: Record<string, unknown> = {};
  for (const name of names.inOrder) {
    const value = object[name];
    if (value === undefined) continue;
    const kept = inOrder(value, known);
    // Set like any other, this name would give the copy a prototype.
    if (name === "__proto__") Object.defineProperty(copy, name, { value: kept, enumerable: true });
    else copy[name] = kept;
  }
  return copy;
}
