import { MAX_COUNTED } from "../../counts/index.js";
import { checkNumbers } from "../../numeric/index.js";
import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import type { Measured } from "../../samples/index.js";
import { formatShare } from "../../units/index.js";
import type { CirculationPlan, PlannedChannel } from "../plan/plan.js";
import type { CountObservation } from "./count-likelihood.js";
import type { DecayFit, DecayPoint } from "./decay-fit.js";
import { DIAGNOSES, type Diagnosis, fallsTooSlowly, readFall, settledIn } from "./fall.js";
import { isLonger, type RemainingTime, remainingTime } from "./remaining.js";

/** A sample drawn while circulating. */
export interface InterimSample {
  /** Minutes of circulation at which it was drawn; 0 is the sample that the circulation started from. */
  readonly minutes: number;
  /** Particles per mL larger than each size; a limit value is kept as it was reported. */
  readonly counts: readonly {
    readonly sizeUmC: number;
    readonly perMl: Measured;
    /** Of a class: the particles per mL that it is above; `perMl` is then its upper edge. */
    readonly moreThanPerMl?: number;
    /** Volume in mL that this count comes from, where it is not that of the sample, such as of a converted count. */
    readonly countedMl?: number;
  }[];
  /** Volume in mL that was really counted. */
  readonly countedMl: number;
}

/** One channel of an interim assessment. */
export interface InterimChannel {
  readonly fit: DecayFit;
  /** Rate per minute that the elements are rated for, over the same moments and as the port sees it. */
  readonly ratedRate: number;
  readonly diagnosis: Diagnosis;
  readonly channel: string;
  readonly sizeUmC: number;
  readonly limit: number;
  /** From the last sample on. */
  readonly remaining: RemainingTime;
}

/** What interim samples say about a circulation. */
export interface InterimAssessment {
  readonly diagnosis: Diagnosis;
  /** The diagnosis in words, with what to do. */
  readonly meaning: string;
  /** Some channel's net fall is surely slower than rated, whether a slow removal or a floor is the reason. */
  readonly slowerSoFar: boolean;
  readonly channels: readonly InterimChannel[];
  /** The channel whose remaining time is the longest; of those out of reach the first. */
  readonly governing: string;
  readonly remaining: RemainingTime;
  /** Whether the last sample shows every channel where it is to come down to. */
  readonly lastIsInside: boolean;
  readonly assumptions: readonly Assumption[];
}

/** What an assessment is made from. */
export interface InterimInput {
  readonly plan: CirculationPlan;
  /**
   * The starting sample and one or more interim samples, in any order, one for each moment. With one, little is told for
   * sure.
   */
  readonly samples: readonly InterimSample[];
  /** Relative reproducibility of the laboratory from sample to sample; 0 takes the counts as exact but for chance. */
  readonly laboratory: number;
  /** Level per mL that each channel of the plan is to come down to; its limit when absent. */
  readonly aims?: readonly number[];
  /**
   * The most that may lie settled at the start, as a multiple of the highest count of each channel: that of the plan when
   * absent, or as much again where it states none. 0 reads every count as it is.
   */
  readonly settled?: number;
}

/**
 * Reads what samples drawn while circulating say: working as rated, slower, levelling off, not falling, or nothing yet.
 *
 * For each channel a start, a rate and a floor are fitted with 90 % intervals, on counting statistics and the given
 * reproducibility. A fall that is too slow is read once more with settled dirt that the first pass stirs up
 * (see {@link readFall}), and only what that does not explain is called too slow. A diagnosis is made only where an interval as a
 * whole supports it:
 * not falling: the net rate is surely below a fifth of the rated one; levelling off: it falls, and the floor is surely
 * above the target; slower: the rate is surely below four fifths of the rated one; as rated: it is surely above that.
 *
 * @param input - see {@link InterimInput}
 * @returns the diagnosis with its channels and the remaining time
 * @throws RangeError without an interim sample after the start, for two samples at one moment, a sample that lacks a size,
 *   or a count of more than 1e9 particles
 * @source MASS-BALANCE
 * @source ISO-TS-19036
 * @example
 * const start = cumulativeCounts([{ sizeUm: 4, count: 20000 }], 1);
 * const limits = limitsOfTarget(parseTarget("17/-/-"));
 * const plan = planCirculation({ volumeL: 60, flowLpm: 45, betas: [{ sizeUmC: 4, beta: 10 }], start, limits });
 * const at = (minutes, value) => ({ minutes, countedMl: 10, counts: [{ sizeUmC: 4, perMl: { value } }] });
 * assessInterim({ plan, samples: [at(0, 20000), at(2, 5200)], laboratory: 0.1 }).diagnosis; // => "as-rated"
 */
export function assessInterim(input: InterimInput): InterimAssessment {
  const { plan, samples, laboratory } = input;
  checkNumbers("notNegative", { laboratory });
  for (const { minutes, countedMl, counts } of samples) {
    checkNumbers("finite", { minutes });
    checkNumbers("positive", { countedMl });
    for (const { sizeUmC, perMl } of counts) {
      checkNumbers("positive", { sizeUmC });
      checkNumbers("notNegative", { perMl: perMl.value });
    }
  }
  const moments = [...samples].sort((a, b) => a.minutes - b.minutes);
  const last = moments.at(-1)?.minutes ?? 0;
  const [first] = moments;
  if (first !== undefined && first.minutes < 0) {
    throw new RangeError(`no sample can be before 0 minutes, found one at ${first.minutes}`);
  }
  if (first?.minutes !== 0 || moments.length < 2) {
    throw new RangeError("the starting sample (at 0 minutes) and at least one interim sample are needed");
  }
  const twice = moments.find(({ minutes }, index) => minutes === moments[index - 1]?.minutes);
  if (twice !== undefined) {
    throw new RangeError(
      `expected one sample for each moment, the start being that of 0 min; found two at ${twice.minutes} min`,
    );
  }
  const rangesLeft: string[] = [];
  const lastInside: boolean[] = [];
  const bySettled: string[] = [];
  const settled = input.settled ?? settledIn(plan);
  const aims = input.aims ?? plan.channels.map(({ limit }) => limit);
  const channels = plan.channels.flatMap((channel, index): InterimChannel[] => {
    const points = moments.map((sample) => pointOf(channel, sample));
    if (points.some((point) => point === undefined)) {
      rangesLeft.push(channel.channel);
      return [];
    }
    const drawn = points as DecayPoint[];
    lastInside.push(isInside(drawn.at(-1) as DecayPoint, aims[index] as number));
    const { read, bySettledDirt, ...fall } = readFall(plan, channel, drawn, { laboratory, settled });
    if (bySettledDirt) bySettled.push(channel.channel);
    return [
      {
        channel: channel.channel,
        sizeUmC: channel.sizeUmC,
        limit: channel.limit,
        ...fall,
        remaining: remainingTime(read, laboratory ** 2, fall.fit, aims[index] as number, last),
      },
    ];
  });
  if (channels.length === 0) {
    throw new RangeError("no channel can be assessed: a range needs counts at both of its sizes");
  }
  const diagnosis = channels.reduce<Diagnosis>(
    (gravest, channel) =>
      DIAGNOSES.indexOf(channel.diagnosis) > DIAGNOSES.indexOf(gravest) ? channel.diagnosis : gravest,
    "cannot-tell-yet",
  );
  const lastIsInside = rangesLeft.length === 0 && lastInside.every((one) => one);
  const slowerSoFar = channels.some(fallsTooSlowly);
  const slowest = channels.reduce((a, b) => (isLonger(b.remaining, a.remaining) ? b : a));
  return {
    diagnosis,
    meaning: [
      (lastIsInside ? WHERE_INSIDE[diagnosis] : undefined) ?? MEANINGS[diagnosis],
      ...(diagnosis === "cannot-tell-yet" && slowerSoFar ? [SLOWER_SO_FAR] : []),
      ...(bySettled.length > 0 ? [SETTLED_MAY_EXPLAIN] : []),
    ].join(" "),
    slowerSoFar,
    channels,
    governing: slowest.channel,
    remaining: slowest.remaining,
    lastIsInside,
    assumptions: joinAssumptions([
      {
        code: "interim-single-exponential",
        message:
          "the samples were read as one fall towards one floor in each channel, as the port in the flow shows it, with 90 % intervals",
        source: "MASS-BALANCE",
      },
      ...(bySettled.length > 0 ? [settledAllowed(settled, bySettled)] : []),
      ...(rangesLeft.length === 0
        ? []
        : [
            {
              code: "range-not-assessed",
              message: `not assessed for want of counts at both sizes: ${rangesLeft.join(", ")}`,
            },
          ]),
    ]),
  };
}

function settledAllowed(settled: number, channels: readonly string[]): Assumption {
  return {
    code: "settled-dirt-allowed",
    message:
      `channel ${channels.join(", ")} was read with dirt that lay settled and is stirred up within about one pass, up to ` +
      `${formatShare(settled)} of the highest count (common practice, no source)`,
    source: "PRACTICE",
  };
}

const SLOWER_SO_FAR =
  "So far the counts fall more slowly than rated, and whether the elements or incoming dirt is the reason does not show yet.";

const SETTLED_MAY_EXPLAIN =
  "Settled dirt that the first pass stirs up could explain that they rise or fall slowly at first; what is drawn later shows whether it does.";

/** What to make of each diagnosis, and what to do. */
const MEANINGS: Record<Diagnosis, string> = {
  "as-rated":
    "The fluid is getting clean as the elements are rated for. Go on to the remaining time, then draw the verifying sample.",
  "slower-than-rated":
    "The fluid is getting clean, but more slowly than the elements are rated for: look for an open bypass, a damaged or wrong element, or less flow than the meter was read at.",
  "levelling-off-above-target":
    "The fluid is getting clean but levels off above the target: dirt is coming in, or a slow zone gives back what it holds. Look for the source; more of the same circulation will not reach the target.",
  "not-falling":
    "The counts are not falling. Stop and look: no flow through the element, no element, an open bypass, or a sample that is not from this fluid.",
  "cannot-tell-yet": "The samples do not yet tell. Go on circulating and draw another sample.",
};

/** Where the last sample is inside already there is nothing to go on for. */
const WHERE_INSIDE: Partial<Record<Diagnosis, string>> = {
  "as-rated": "The fluid is getting clean as the elements are rated for.",
  "cannot-tell-yet": "The samples do not tell whether the elements work as they are rated.",
};

function pointOf(channel: PlannedChannel, sample: InterimSample): DecayPoint | undefined {
  const at = (sizeUm: number): InterimSample["counts"][number] => {
    const found = sample.counts.find((entry) => entry.sizeUmC === sizeUm);
    if (found === undefined) {
      throw new RangeError(
        `the sample at ${sample.minutes} minutes has no count at ${sizeUm} µm(c), which channel ${channel.channel} of the target needs`,
      );
    }
    const counted = found.perMl.value * (found.countedMl ?? sample.countedMl);
    if (!(counted >= 0 && counted <= MAX_COUNTED)) {
      throw new RangeError(
        `the sample at ${sample.minutes} minutes must have 0 to ${MAX_COUNTED} counted particles at ${sizeUm} µm(c), ` +
          `not ${found.perMl.value} per mL in ${sample.countedMl} mL`,
      );
    }
    return found;
  };
  const lower = at(channel.sizeUmC);
  const { minutes } = sample;
  const upper = channel.toUmC === undefined ? undefined : at(channel.toUmC);
  // Of a difference no more is known than of the count that comes from less.
  const countedMl = Math.min(...[lower, upper].map((one) => one?.countedMl ?? sample.countedMl));
  const observed = upper === undefined ? observe(lower, countedMl) : observeRange(lower, upper, countedMl);
  return observed && { minutes, countedMl, observed };
}

/** Particles between two sizes: exact where both counts are, otherwise within what both allow; undefined for anything. */
function observeRange(
  lower: InterimSample["counts"][number],
  upper: InterimSample["counts"][number],
  countedMl: number,
): CountObservation | undefined {
  const [all, larger] = [edgesOf(lower), edgesOf(upper)];
  const fewest = Math.max(0, all.fewest - larger.most) * countedMl;
  const count = (all.most - larger.fewest) * countedMl;
  if (fewest === count) return { kind: "exact", count };
  if (count < Number.POSITIVE_INFINITY)
    return fewest > 0 ? { kind: "between", fewest, count } : { kind: "at-most", count };
  return fewest > 0 ? { kind: "at-least", count: fewest } : undefined;
}

/** The fewest and the most particles per mL that a count says. */
function edgesOf({ perMl: { value, limit }, moreThanPerMl }: InterimSample["counts"][number]) {
  if (limit === undefined) return { fewest: moreThanPerMl ?? value, most: value };
  return limit === "below" || limit === "at-most"
    ? { fewest: 0, most: value }
    : { fewest: value, most: Number.POSITIVE_INFINITY };
}

function observe(
  { perMl, moreThanPerMl }: InterimSample["counts"][number],
  countedMl: number,
): CountObservation {
  const count = perMl.value * countedMl;
  if (moreThanPerMl !== undefined) {
    return { kind: "between", fewest: Math.floor(moreThanPerMl * countedMl) + 1, count };
  }
  if (perMl.limit === undefined) return { kind: "exact", count };
  // "Below" excludes the limit itself.
  if (perMl.limit === "below") return { kind: "at-most", count: Math.ceil(count) - 1 };
  return { kind: perMl.limit === "at-most" ? "at-most" : "at-least", count };
}

/** By the most that the count can be; NaN is outside. */
function isInside({ observed, countedMl }: DecayPoint, limit: number): boolean {
  return observed.kind !== "at-least" && observed.count / countedMl <= limit;
}
