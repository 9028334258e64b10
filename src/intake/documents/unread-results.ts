import type { UnreadResult } from "../../fitness/index.js";
import { describePlaces } from "../../provenance/index.js";
import type { Sample } from "../../samples/index.js";
import type { QuarantinedRow } from "../checks/issue.js";
import { NOT_SPLIT } from "../reports/replaces.js";

/**
 * Quarantined rows as far as it is known whose they are: each may hold a newer result.
 *
 * @param samples - samples whose numbers may be in a row that names no cart
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
  return quarantine.map((quarantined) => {
    const { file, row, cart, circuit, drawnOn, text, issues } = quarantined;
    // A drawing day that is in doubt does not make a row older than the sample that is judged.
    const isDoubtful = issues.some(({ code }) => code === "drawn-long-before-received");
    const ofSamples = samplesNamedIn(quarantined).flatMap((name) => [
      ...(circuitsOf.get(name)?.values() ?? []),
    ]);
    return {
      where: `${file} ${describePlaces([row])}`,
      ...(cart !== undefined && { cart }),
      ...(circuit !== undefined && { circuit }),
      text,
      ...(ofSamples.length > 0 && { ofSamples }),
      ...(issues.some(({ code }) => NOT_SPLIT.includes(code)) && { notSplit: true as const }),
      ...(drawnOn !== undefined && !isDoubtful && { drawnOn }),
    };
  });
}

/** A sample by its number, and whose it is. */
export type NamedSample = Pick<Sample, "sample" | "cart" | "circuit">;

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
