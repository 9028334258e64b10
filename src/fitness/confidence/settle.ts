import { bisect } from "../../numeric/index.js";
import type { LimitRange, Measured } from "../../samples/index.js";
import { conformanceProbability } from "./conformity.js";
import type { LaboratoryScatter } from "./laboratory.js";

/** What would settle a result that is inside and not sure enough, if it were found again as it is. */
export type Settlement =
  | {
      readonly kind: "count-more";
      /** Volume of sample to count in all, in mL. */
      readonly countedMl: number;
      /** Counts of the volume counted so far, this one included. */
      readonly replicates: number;
    }
  | {
      readonly kind: "state-volume";
      /** Volume of sample that must have been counted, in mL, for the counts as they are to be enough. */
      readonly countedMl: number;
    }
  | {
      readonly kind: "measure-again";
      /** Results to average, this one included. */
      readonly results: number;
      readonly where: "same-laboratory" | "different-laboratories";
    }
  /** Only cleaner fluid would: no volume is large enough. */
  | { readonly kind: "circulate-on"; readonly why: string }
  | { readonly kind: "cannot-be-settled"; readonly why: string };

/** Nobody counts or measures more often than this for one bottle. */
const MOST = 1000;

/**
 * How many results would have to be averaged for the probability of conforming to reach the confidence.
 *
 * One laboratory that repeats takes off its own scatter only; results of different laboratories take off all of it.
 */
export function settleByMeasuring(
  measured: Measured,
  limits: LimitRange,
  scatter: LaboratoryScatter,
  required: number,
): Settlement {
  const { standardUncertainty: whole, betweenLaboratories: between } = scatter;
  const reaches = (standardUncertainty: number) =>
    conformanceProbability({ value: measured.value, standardUncertainty, ...limits }) >= required;
  if (between !== undefined) {
    const own = whole ** 2 - between ** 2;
    const results = fewest((n) => reaches(Math.sqrt(between ** 2 + own / n)));
    if (results !== undefined) return { kind: "measure-again", results, where: "same-laboratory" };
  }
  const results = fewest((n) => reaches(whole / Math.sqrt(n)));
  if (results !== undefined) return { kind: "measure-again", results, where: "different-laboratories" };
  return {
    kind: "cannot-be-settled",
    why: "the result lies too close to its limit for any number of results",
  };
}

/**
 * How much would have to be counted for the probability of conforming to reach the confidence.
 *
 * @param countedMl - what was counted
 * @param probabilityFor - for counting that many times the volume with the same outcome; {@link Number.POSITIVE_INFINITY}
 *   leaves the spread of laboratories alone
 */
export function settleByCounting(
  countedMl: number,
  probabilityFor: (times: number) => number,
  required: number,
): Settlement {
  const reachable = probabilityFor(Number.POSITIVE_INFINITY) >= required;
  const replicates = reachable ? fewest((times) => probabilityFor(times) >= required) : undefined;
  if (replicates === undefined) {
    return {
      kind: "circulate-on",
      why: "a channel lies so close to its limit that counting more of the bottle cannot settle it",
    };
  }
  const { fails: times } = bisect(
    (tried) => !(probabilityFor(tried) >= required),
    replicates - 1,
    replicates,
    {
      isNear: (low, high) => high - low <= 1 / 32,
    },
  );
  return { kind: "count-more", countedMl: Number((times * countedMl).toPrecision(3)), replicates };
}

/**
 * How much must have been counted, and stated, for counts whose volume is not known to reach the confidence.
 *
 * @param leastMl - the least that can have been counted
 * @param probabilityFor - as in {@link settleByCounting}
 */
export function settleByStating(
  leastMl: number,
  probabilityFor: (times: number) => number,
  required: number,
): Settlement {
  const settled = settleByCounting(leastMl, probabilityFor, required);
  return settled.kind === "count-more" ? { kind: "state-volume", countedMl: settled.countedMl } : settled;
}

/** The smallest whole number from 2 on that does, looked for by doubling and halving; undefined beyond {@link MOST}. */
function fewest(does: (n: number) => boolean): number | undefined {
  let high = 2;
  while (!does(high)) {
    if (high >= MOST) return undefined;
    high = Math.min(MOST, high * 2);
  }
  return bisect((n) => !does(n), Math.max(1, Math.floor(high / 2)), high, {
    between: (low, upper) => Math.floor((low + upper) / 2),
  }).fails;
}

/** Says what would settle a doubt. */
export function describeSettlement(settlement: Settlement): string {
  switch (settlement.kind) {
    case "count-more":
      return `counting ${settlement.countedMl} mL in all, or ${settlement.replicates} replicates like this one, would settle it`;
    case "state-volume":
      return (
        `the report does not state the counted volume: if ${settlement.countedMl} mL or more were counted and it says so, ` +
        "that settles it"
      );
    case "measure-again": {
      const where =
        settlement.where === "same-laboratory" ? "of this laboratory" : "of different laboratories";
      return `the mean of ${settlement.results} results ${where} would settle it`;
    }
    case "circulate-on":
    case "cannot-be-settled":
      return settlement.why;
  }
}
