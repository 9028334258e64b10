import type { UnreadResult } from "../../fitness/index.js";
import { describeOrigin } from "../../provenance/index.js";
import { meansAll, NameIndex, namesInLine, type Sample } from "../../samples/index.js";
import type { QuarantinedRow } from "../checks/issue.js";
import { NOT_SPLIT } from "../reports/replaces.js";
import { shapeOf } from "../samples/text-lines.js";

/**
 * Quarantined rows as far as it is known whose they are: each may hold a newer result. A line of text that puts its table in
 * doubt is one for each circuit that has a sample there.
 *
 * @param samples - samples whose numbers may be in a row that names no cart, and those of tables that are in doubt
 */
export function unreadResults(
  quarantine: readonly QuarantinedRow[],
  samples: readonly NamedSample[] = [],
): UnreadResult[] {
  const circuitsOf = new Map<string, Map<string, Pick<Sample, "cart" | "circuit">>>();
  for (const { sample, cart, circuit } of samples) {
    const circuits = circuitsOf.get(sample) ?? new Map();
    circuitsOf.set(sample, circuits.set(JSON.stringify([cart, circuit]), { cart, circuit }));
  }
  const tables = new Tables(samples);
  return quarantine.flatMap((quarantined): UnreadResult[] => {
    const { cart, circuit, drawnOn, text, issues } = quarantined;
    const where = describeOrigin({ ...quarantined, rows: [quarantined.row] });
    // A drawing day that is in doubt does not make a row older than the sample that is judged.
    const isDoubtful = issues.some(({ code }) => code === "drawn-long-before-received");
    const isInDoubt = isTableInDoubt(quarantined);
    const ofSamples =
      isInDoubt && meansAll(text)
        ? []
        : samplesNamedIn(quarantined).flatMap((name) => [...(circuitsOf.get(name)?.values() ?? [])]);
    const held = ofSamples.length === 0 && isInDoubt ? tables.heldBy(quarantined) : undefined;
    if (held !== undefined) return held.map((last) => ({ where, ...last, ofTable: true }));
    const result: { -readonly [K in keyof UnreadResult]: UnreadResult[K] } = { where, text };
    if (cart !== undefined) result.cart = cart;
    if (circuit !== undefined) result.circuit = circuit;
    if (ofSamples.length > 0) result.ofSamples = ofSamples;
    if (issues.some(({ code }) => NOT_SPLIT.includes(code))) result.notSplit = true;
    if (drawnOn !== undefined && !isDoubtful) result.drawnOn = drawnOn;
    return [result];
  });
}

/** A sample by its number, and whose it is. */
export type NamedSample = Pick<Sample, "sample" | "cart" | "circuit" | "drawnOn" | "origin">;

/** Whether a quarantined row is a line of text by which something is wrong with samples of its table, or with its titles. */
export function isTableInDoubt({ issues }: Pick<QuarantinedRow, "issues">): boolean {
  return issues.some(({ code }) => code === "table-in-doubt");
}

/** A circuit with the day of its last sample in a table. */
type LastInTable = Pick<NamedSample, "cart" | "circuit" | "drawnOn">;

/** The tables that samples are in, and which of them a line holds already. */
class Tables {
  readonly #tables = new Map<string, TableOfSamples>();
  readonly #held = new Set<string>();

  constructor(private readonly samples: readonly NamedSample[]) {}

  /**
   * The circuits that a line holds: those of the carts that it names, or all of its table; none where an earlier line holds
   * them, since the next one does when that is settled. A line of a sheet without samples is about all of its file.
   *
   * @returns undefined where no sample is in the table, or the line names another one
   */
  heldBy({ file, sheet, text }: QuarantinedRow): readonly LastInTable[] | undefined {
    const key = JSON.stringify([file, sheet]);
    if (this.#held.has(key)) return [];
    const table = this.#tables.get(key) ?? tableIn(file, sheet, this.samples);
    this.#tables.set(key, table);
    const { last, carts, forms } = table;
    if (last.length === 0) return undefined;
    const named = carts.standingIn(text).map(({ name }) => name);
    if (named.length > 0) return last.filter(({ cart }) => named.includes(cart));
    if (!meansAll(text) && namesInLine(text).some((name) => forms.has(shapeOf(name)))) return undefined;
    this.#held.add(key);
    return last;
  }
}

interface TableOfSamples {
  /** Its circuits, each on the day of its last sample there. */
  readonly last: readonly LastInTable[];
  /** A mere number is found in any line. */
  readonly carts: NameIndex;
  /** Of the names of its samples and carts: what looks like one of them is another one. */
  readonly forms: ReadonlySet<string>;
}

function tableIn(file: string, sheet: string | undefined, samples: readonly NamedSample[]): TableOfSamples {
  const ofFile = samples.filter(({ origin }) => origin.some((place) => place.file === file));
  const ofSheet = ofFile.filter(({ origin }) =>
    origin.some((place) => place.file === file && place.sheet === sheet),
  );
  const all = ofSheet.length > 0 ? ofSheet : ofFile;
  const lastOf = new Map<string, LastInTable>();
  for (const { cart, circuit, drawnOn } of all) {
    const key = JSON.stringify([cart, circuit]);
    if (!((lastOf.get(key)?.drawnOn ?? "") > drawnOn)) lastOf.set(key, { cart, circuit, drawnOn });
  }
  const names = all.flatMap(({ sample, cart }) => [sample, cart]).filter((name) => /\p{L}/u.test(name));
  return {
    last: [...lastOf.values()],
    carts: new NameIndex(new Set(all.map(({ cart }) => cart).filter((cart) => /\p{L}./u.test(cart)))),
    forms: new Set(names.filter((name) => /\d/.test(name)).map(shapeOf)),
  };
}

const WORD = /[\p{L}\p{N}][\p{L}\p{N}._/-]*/gu;
const MARKS = "._/-";
/** A short number alone is found in any row. */
const IS_SHORT_NUMBER = /^[\d.]{1,4}$/;

/** A full stop or dash at the end belongs to the sentence. */
function withoutLastMarks(word: string): string {
  let end = word.length;
  while (end > 0 && MARKS.includes(word.charAt(end - 1))) end -= 1;
  return word.slice(0, end);
}

/** What may be numbers of samples in a row that names no cart. */
export function samplesNamedIn({ cart, sample, text }: QuarantinedRow): string[] {
  if (cart !== undefined) return [];
  const words = (text.match(WORD) ?? [])
    .map(withoutLastMarks)
    .filter((word) => word.length > 1 && /\d/.test(word) && !IS_SHORT_NUMBER.test(word));
  return [...new Set([...(sample === undefined ? [] : [sample]), ...words])];
}
