import { bisect } from "../../numeric/index.js";
import type { LimitRange, Measured } from "../../samples/index.js";
import { inFourDigits } from "../../units/index.js";
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
      /** Bottles that hold so much. */
      readonly bottles: number;
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
  /** Not even a result of 0 would be accepted: the method scatters too much for the limit. */
  | {
      readonly kind: "method-too-coarse";
      /** The largest standard uncertainty with which this result would be accepted. */
      readonly standardUncertainty: number;
      /** Results of different laboratories to average; absent where that is more than anybody has. */
      readonly results?: number;
    }
  | { readonly kind: "cannot-be-settled"; readonly why: string };

/** A bottle for particle counts holds no more, in mL. Common practice, no source. */
export const BOTTLE_ML = 200;

/** Nobody has more results of one fluid at one time. Common practice, no source. */
const MAX_RESULTS = 20;

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
  const reaches = (standardUncertainty: number, value = measured.value) =>
    conformanceProbability({ value, standardUncertainty, ...limits }) >= required;
  const ofLaboratories = fewest((n) => reaches(whole / Math.sqrt(n)), MAX_RESULTS);
  // An amount cannot be less than 0, so this is the best that a single result can be.
  if (limits.min === undefined && !reaches(whole, 0) && measured.value < (limits.max ?? 0)) {
    const { holds } = bisect(reaches, Number.MIN_VALUE, whole);
    return {
      kind: "method-too-coarse",
      standardUncertainty: holds,
      ...(ofLaboratories !== undefined && { results: ofLaboratories }),
    };
  }
  if (between !== undefined) {
    const own = whole ** 2 - between ** 2;
    const results = fewest((n) => reaches(Math.sqrt(between ** 2 + own / n)), MAX_RESULTS);
    if (results !== undefined) return { kind: "measure-again", results, where: "same-laboratory" };
  }
  if (ofLaboratories !== undefined) {
    return { kind: "measure-again", results: ofLaboratories, where: "different-laboratories" };
  }
  return {
    kind: "cannot-be-settled",
    why: `the result lies so close to its limit that not even ${MAX_RESULTS} results would settle it`,
  };
}

/**
 * How much would have to be counted for the probability of conforming to reach the confidence: no more than a bottle holds,
 * unless a limit is so low that not even a bottle without a particle would show it.
 *
 * @param countedMl - what was counted
 * @param probabilityFor - for counting that many times the volume with the same outcome; {@link Number.POSITIVE_INFINITY}
 *   leaves the spread of laboratories alone
 * @param ofCleanBottle - the probability that a whole bottle without a particle would show
 */
export function settleByCounting(
  countedMl: number,
  probabilityFor: (times: number) => number,
  required: number,
  ofCleanBottle: number,
): Settlement {
  const reachable = probabilityFor(Number.POSITIVE_INFINITY) >= required;
  const most = ofCleanBottle >= required ? BOTTLE_ML : MAX_RESULTS * BOTTLE_ML;
  const replicates = reachable
    ? fewest((times) => probabilityFor(times) >= required, Math.floor(most / countedMl))
    : undefined;
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
  const inAllMl = times * countedMl;
  return {
    kind: "count-more",
    countedMl: Number(inAllMl.toPrecision(3)),
    replicates,
    bottles: Math.ceil(inAllMl / BOTTLE_ML),
  };
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
  ofCleanBottle: number,
): Settlement {
  const settled = settleByCounting(leastMl, probabilityFor, required, ofCleanBottle);
  return settled.kind === "count-more" ? { kind: "state-volume", countedMl: settled.countedMl } : settled;
}

/** The smallest whole number from 2 to `most` that does, looked for by doubling and halving. */
function fewest(does: (n: number) => boolean, most: number): number | undefined {
  if (!(most >= 2)) return undefined;
  let high = 2;
  while (!does(high)) {
    if (high >= most) return undefined;
    high = Math.min(most, high * 2);
  }
  return bisect((n) => !does(n), Math.max(1, Math.floor(high / 2)), high, {
    between: (low, upper) => Math.floor((low + upper) / 2),
  }).fails;
}

/** Says what would settle a doubt. */
export function describeSettlement(settlement: Settlement): string {
  switch (settlement.kind) {
    case "count-more":
      return (
        `counting ${settlement.countedMl} mL in all${settlement.bottles > 1 ? ` of ${settlement.bottles} bottles` : ""}, ` +
        `or ${settlement.replicates} replicates like this one, would settle it`
      );
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
    case "method-too-coarse": {
      const mean =
        settlement.results === undefined
          ? ""
          : `, or the mean of ${settlement.results} results of different laboratories,`;
      return (
        "this method scatters too much to show it, for not even a result of 0 would be accepted; one with a standard deviation " +
        `of ${inFourDigits(settlement.standardUncertainty)} or less${mean} would settle it`
      );
    }
    case "circulate-on":
    case "cannot-be-settled":
      return settlement.why;
  }
}
