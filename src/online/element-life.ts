import { median, normalQuantile } from "../numeric/index.js";
import { type Assumption, frozen, joinAssumptions } from "../provenance/index.js";
import { inFourDigits } from "../units/index.js";
import { isUnsteady, levelsOff, MIN_PARTS, MINUTES_IN_PART, partsOf, sinceLastFall } from "./drop-course.js";
import type { ElementInLine } from "./element-in-line.js";
import { lifeLeft } from "./life-left.js";
import type { OnlineMinute } from "./minute.js";
import { type DropLog, dropMinutes } from "./running-minutes.js";
import { scaleDrop, timesClean } from "./scaled-drop.js";

/** What a log shows of its element, where it shows a drop at all. */
export interface ElementState {
  /** The drop now, as a multiple of that of the clean element at the same flow and viscosity. */
  readonly timesClean: number;
  /** The same when the indicator trips, at the flow and viscosity of the middle of the log. */
  readonly timesCleanAtEnd: number;
  readonly flowLpm: number;
  readonly mm2PerS: number;
  /** Running hours of the log since the element was last seen to be changed. */
  readonly runningHours: number;
}

/** How long an element lasts, or why that is not known. */
export type ElementLife = (
  | {
      readonly kind: "hours";
      /** Running hours until the indicator trips, with the ends of a band of 90 % and more. */
      readonly hours: number;
      readonly low: number;
      /** Absent when the band has no end. */
      readonly high?: number;
    }
  | { readonly kind: "at-its-end" }
  | { readonly kind: "cannot-tell"; readonly code: CannotTell; readonly why: string }
) & { readonly state?: ElementState; readonly assumptions: readonly Assumption[] };

/** Why no life is given. */
export const CANNOT_TELL = frozen([
  "no-drop",
  "standing",
  "no-temperature",
  "cold",
  "no-flow",
  "flow-varies",
  "too-few-minutes",
  "no-room",
  "below-clean",
  "levels-off",
  "does-not-rise",
  "too-short-a-rise",
] as const);

/** See {@link CANNOT_TELL}. */
export type CannotTell = (typeof CANNOT_TELL)[number];

/** How well a stated clean drop is known, as a relative standard deviation. Common practice, no source. */
const CLEAN_RSD = 0.1;
const LEVEL = 0.9;
/** What the stated clean drop may be wrong by, either way: 1.18. */
const CLEAN_TIMES = Math.exp(normalQuantile((1 + LEVEL) / 2) * CLEAN_RSD);
/** Part of the permissible rise below which the curve does not yet show where it goes. Common practice, no source. */
const SHORT_RISE = 0.2;
/** A life longer than this many times the log does not follow from it. Common practice, no source. */
const MAX_TIMES_LOG = 10;

/**
 * How many running hours an element lasts until its indicator trips, from the drops in a log.
 *
 * Each drop is compared with that of the clean element at the same flow and viscosity; warm minutes with flow take part. The
 * rise over the clean element is taken to grow as a power of the dirt that it holds, from the third to the eighth, and the dirt
 * as coming in steadily with the running hours: so a root of the rise is a straight line, followed robustly. The band spans
 * those powers, the clean drop being wrong by a factor of 1.18 either way, and the 90 % window of each line.
 *
 * @param minutes - of one circuit, in the order of time
 * @returns hours with a band, or why nothing can be said: never a number without its band
 * @throws RangeError for a stated drop, flow, viscosity or setting that is not above 0
 * @source DROP-SCALING
 * @source ASTM-D341
 * @source LOADING-CURVE
 * @source LOADING-RUNS
 */
export function elementLife(minutes: readonly OnlineMinute[], element: ElementInLine): ElementLife {
  const log = dropMinutes(minutes, element);
  const nothing = whyNothing(log, element);
  if (nothing !== undefined) return nothing;
  const scaled = log.minutes.map((minute) => scaleDrop(minute, element));
  const assumptions = joinAssumptions(
    [SCALED, POWERS],
    scaled.some(({ isStated }) => isStated) ? [flowTaken(element)] : [],
    scaled.flatMap((one) => one.assumptions),
  );
  const parts = partsOf(scaled);
  const cannot = (code: CannotTell, why: string, state?: ElementState): ElementLife => ({
    ...{ kind: "cannot-tell", code, why },
    ...(state && { state }),
    assumptions,
  });
  if (log.minutes.some(({ flowLpm }) => flowLpm === undefined) && isUnsteady(scaled))
    return cannot(
      "flow-varies",
      "the drop jumps, and no flow is reported: the flow varies, or an element was changed",
    );
  const since = sinceLastFall(parts);
  const [flowLpm, mm2PerS] = [
    median(scaled.map((one) => one.flowLpm)),
    median(scaled.map((one) => one.mm2PerS)),
  ];
  const state: ElementState = {
    timesClean: median(since.slice(-3).map(({ y }) => y)),
    timesCleanAtEnd: timesClean(element.indicatorBar, flowLpm, mm2PerS, element.rated),
    flowLpm,
    mm2PerS,
    runningHours: log.hours - (since === parts ? 0 : (since[0]?.x ?? 0)),
  };
  const { timesClean: now, timesCleanAtEnd: end } = state;
  if (!(end > CLEAN_TIMES))
    return cannot("no-room", "at this flow and temperature a clean element alone trips the indicator", state);
  if (now >= end) return { kind: "at-its-end", state, assumptions };
  if (now < 1 / CLEAN_TIMES)
    return cannot(
      "below-clean",
      `the drop is ${inFourDigits(now)} times that of the clean element as stated: fluid goes around it, or the stated drop is not its own`,
      state,
    );
  if (since.length < MIN_PARTS)
    return cannot(
      "too-few-minutes",
      "the drop fell near the end of the log: an element was changed, or fluid goes around it",
      state,
    );
  if (levelsOff(since, LEVEL))
    return cannot(
      "levels-off",
      "the drop rises less than before: look for an open bypass; or less dirt comes in, and a steady rate is not to be had",
      state,
    );
  const rise = (now - 1) / (end - 1);
  if (rise < SHORT_RISE)
    return cannot(
      "too-short-a-rise",
      `${formatRise(rise)} of the rise that trips the indicator is used: too short a rise to say where it goes`,
      state,
    );
  const left = lifeLeft(since, { now: log.hours, end, cleanTimes: CLEAN_TIMES, level: LEVEL });
  if (left === undefined)
    return cannot("does-not-rise", "within its scatter the drop does not rise in this log", state);
  if (!(left.hours <= MAX_TIMES_LOG * state.runningHours))
    return cannot(
      "too-short-a-rise",
      `the log of ${inFourDigits(state.runningHours)} h is less than a tenth of the life that its rise would give`,
      state,
    );
  return { kind: "hours", ...left, state, assumptions };
}

function whyNothing(
  { minutes, drops, left }: DropLog,
  { statedLpm }: ElementInLine,
): ElementLife | undefined {
  const cannot = (code: CannotTell, why: string): ElementLife => ({
    ...{ kind: "cannot-tell", code, why },
    assumptions: [],
  });
  if (drops === 0) return cannot("no-drop", "no pressure drop came");
  if (minutes.length === 0) {
    if (left.cold > 0)
      return cannot("cold", "the fluid stayed below 29 °C (85 °F): cold fluid alone makes a drop");
    if (left.noTemperature > 0)
      return cannot("no-temperature", "no temperature came, so the viscosity is not known");
    return cannot("standing", "no drop came while fluid was flowing");
  }
  if (statedLpm === undefined && minutes.some(({ flowLpm }) => flowLpm === undefined))
    return cannot("no-flow", "no flow came, and none is stated");
  if (minutes.length < MIN_PARTS * MINUTES_IN_PART)
    return cannot(
      "too-few-minutes",
      `${minutes.length} warm minutes with flow; ${MIN_PARTS * MINUTES_IN_PART} are needed`,
    );
  return undefined;
}

function formatRise(rise: number): string {
  return rise <= 0 ? "nothing" : `${Math.round(100 * rise)} %`;
}

const SCALED: Assumption = frozen({
  code: "clean-drop-scaled",
  message:
    "the drop of a clean element was scaled with flow and viscosity, that of its housing with the square of the flow; how well the clean drop is stated was taken as 10 % (common practice, no source)",
  source: "DROP-SCALING",
});

const POWERS: Assumption = frozen({
  code: "loading-curve",
  message:
    "the rise of the drop was taken to grow as the third to eighth power of the dirt that the element holds, and the dirt to come in steadily with the running hours; the powers are those of a glossary and of a gas filter",
  source: "LOADING-CURVE",
});

function flowTaken({ statedLpm }: ElementInLine): Assumption {
  return {
    code: "flow-taken-as-stated",
    message: `no flow was reported: the stated ${inFourDigits(statedLpm ?? 0)} L/min was taken throughout; a pump that delivers less makes the element look cleaner than it is`,
  };
}
