import type { UnreadResult } from "../../fitness/index.js";
import { describePlaces } from "../../provenance/index.js";
import type { Sample } from "../../samples/index.js";
import type { QuarantinedRow } from "../checks/issue.js";
import { NOT_SPLIT } from "../reports/replaces.js";

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
  return quarantine.flatMap((quarantined): UnreadResult[] => {
    const { file, row, cart, circuit, drawnOn, text, issues } = quarantined;
    const where = `${file} ${describePlaces([row])}`;
    // A drawing day that is in doubt does not make a row older than the sample that is judged.
    const isDoubtful = issues.some(({ code }) => code === "drawn-long-before-received");
    const ofSamples = samplesNamedIn(quarantined).flatMap((name) => [
      ...(circuitsOf.get(name)?.values() ?? []),
    ]);
    const inDoubt =
      ofSamples.length === 0 && isTableInDoubt(quarantined) ? lastOfCircuits(quarantined, samples) : [];
    if (inDoubt.length > 0) return inDoubt.map((last) => ({ where, ...last, ofTable: true }));
    const result: UnreadResult = {
      where,
      ...(cart !== undefined && { cart }),
      ...(circuit !== undefined && { circuit }),
      text,
      ...(ofSamples.length > 0 && { ofSamples }),
      ...(issues.some(({ code }) => NOT_SPLIT.includes(code)) && { notSplit: true as const }),
      ...(drawnOn !== undefined && !isDoubtful && { drawnOn }),
    };
    return [result];
  });
}

/** A sample by its number, and whose it is. */
export type NamedSample = Pick<Sample, "sample" | "cart" | "circuit" | "drawnOn" | "origin">;

/** Whether a quarantined row is a line of text by which something is wrong with samples of its table, or with its titles. */
export function isTableInDoubt({ issues }: Pick<QuarantinedRow, "issues">): boolean {
  return issues.some(({ code }) => code === "table-in-doubt");
}

/** The circuits that a line around a table concerns, each with the day of its last sample there: those of the carts it names, or all. */
function lastOfCircuits(
  { file, sheet, text }: QuarantinedRow,
  samples: readonly NamedSample[],
): Pick<NamedSample, "cart" | "circuit" | "drawnOn">[] {
  const last = new Map<string, Pick<NamedSample, "cart" | "circuit" | "drawnOn">>();
  for (const { cart, circuit, drawnOn, origin } of samples) {
    if (!origin.some((place) => place.file === file && place.sheet === sheet)) continue;
    const key = JSON.stringify([cart, circuit]);
    if (!((last.get(key)?.drawnOn ?? "") > drawnOn)) last.set(key, { cart, circuit, drawnOn });
  }
  const all = [...last.values()];
  const named = all.filter(({ cart }) => text.includes(cart));
  return named.length > 0 ? named : all;
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
