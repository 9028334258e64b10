import type { Assumption } from "../provenance/index.js";
import type { MeasuredBy } from "../samples/index.js";
import { sortByMaterial } from "./materials.js";
import { type ComparedQuantity, compareIn, isReference } from "./quantity.js";
import { type LaboratorySample, MIN_PARTICLES, resultsOf, whoMeasured } from "./results.js";

/** How samples are compared. */
export interface CompareOptions {
  /** A laboratory that the others are compared with. */
  readonly reference?: string | undefined;
  /** Bottles of one circuit and day without a time were filled together. */
  readonly sameDay?: boolean | undefined;
  /** With which the intervals of all laboratories of one quantity hold together; 0.95 when absent. */
  readonly confidence?: number | undefined;
}

/** Whether laboratories agree. */
export interface LaboratoryComparison {
  readonly confidence: number;
  readonly quantities: readonly ComparedQuantity[];
  readonly assumptions: readonly Assumption[];
}

/**
 * Compares laboratories and counters by the fluids that they both measured.
 *
 * Two bottles are of the same fluid when they were drawn from one place of one circuit at one time. Bias is least squares of
 * fluid and laboratory ({@link twoWayLayout}), spread is that of bottles, and of counts, of one fluid
 * ({@link pooledSpread}). Counts are compared on the logarithm.
 *
 * @throws RangeError when no sample is of the laboratory that is to be the reference
 * @source ISO-5725-2
 * @source TWO-WAY-LAYOUT
 */
export function compareLaboratories(
  samples: readonly LaboratorySample[],
  { reference, sameDay = false, confidence = 0.95 }: CompareOptions = {},
): LaboratoryComparison {
  const attributed = inOneSpelling(
    samples.map((entry) => ({ sample: entry.sample, by: whoMeasured(entry) })),
  );
  const named = attributed.filter(({ by }) => by.laboratory !== undefined || by.counter !== undefined);
  const { placed, takenTogether, withoutTime, withoutPlace } = sortByMaterial(named, sameDay);
  const results = resultsOf(placed);
  const names = [
    ...new Set(results.flatMap(({ bottles }) => bottles.map(({ laboratory }) => laboratory))),
  ].sort();
  if (reference !== undefined && !names.some((name) => isReference(name, reference))) {
    throw new RangeError(
      `the reference must be one of ${names.join("; ") || "no laboratories"}, not ${reference}`,
    );
  }
  const quantities = results.flatMap((result) => compareIn(result, reference, confidence));
  const tooFewParticles = results.reduce((sum, result) => sum + result.tooFewParticles, 0);
  const taken = samples.filter(
    ({ sample, otherwise }) =>
      whoMeasured({ sample }).laboratory === undefined && otherwise?.laboratory !== undefined,
  );
  const assumptions = [
    note(
      attributed.length - named.length,
      "laboratory-not-named",
      (n) => `${n} left out: neither a laboratory nor a counter is named`,
    ),
    note(
      taken.length,
      "laboratory-not-in-report",
      (n) => `the laboratory of ${n} is not in the report; the name of the column map was taken`,
    ),
    note(
      withoutTime,
      "time-not-stated",
      (n) =>
        `${n} of a circuit and day that has others have no time of drawing, so they were not taken for the same fluid`,
    ),
    note(
      takenTogether,
      "same-day",
      (n) =>
        `${n} without a time of drawing were taken as filled together with the others of their circuit and day`,
    ),
    note(
      withoutPlace,
      "place-not-stated",
      (n) =>
        `${n} do not state their place, where others of the same moment state different ones; they were left out`,
    ),
    note(
      tooFewParticles,
      "few-particles",
      (n) => `${n} were left out: fewer than ${MIN_PARTICLES} particles were counted`,
      "count",
    ),
  ].flat();
  return { confidence, quantities, assumptions };
}

function note(
  count: number,
  code: string,
  message: (howMany: string) => string,
  noun = "bottle",
): Assumption[] {
  return count === 0 ? [] : [{ code, message: message(`${count} ${noun}${count === 1 ? "" : "s"}`) }];
}

/** Names that differ in case or blanks are one; each is written as it is first. */
function inOneSpelling<T extends { readonly by: MeasuredBy }>(entries: readonly T[]): T[] {
  const first = new Map<string, string>();
  const spelled = (name: string | undefined) => {
    if (name === undefined) return undefined;
    const plain = name.trim().toLowerCase().replace(/\s+/g, " ");
    if (!first.has(plain)) first.set(plain, name.trim());
    return first.get(plain);
  };
  return entries.map((entry) => {
    const [laboratory, counter] = [spelled(entry.by.laboratory), spelled(entry.by.counter)];
    return {
      ...entry,
      by: { ...(laboratory !== undefined && { laboratory }), ...(counter !== undefined && { counter }) },
    };
  });
}
