import {
  type CirculationPlan,
  type DecayFit,
  type DecayPoint,
  type Diagnosis,
  fitDecay,
  isLonger,
  type RemainingTime,
  readFall,
  remainingTime,
  timeAfter,
} from "../circulation/index.js";
import { relativeVarianceOf } from "./conduct.js";

/** Where the counts of the present stretch are heading. */
export interface OnlineOutlook {
  /**
   * Falling, as far as can be seen; too near: no channel is above its limit, and one stays too near to it for this counter to
   * show that; slower than the elements are rated for; at the others: stop and look.
   */
  readonly course: "falling" | "too-near" | "slower-than-rated" | "levelling-off" | "not-falling";
  /** The channel that shows it best, where the circuit is known: how fast it falls, and what the elements are rated for. */
  readonly rated?: { readonly channel: string; readonly ratePerMin: number; readonly ratedPerMin: number };
  /** The slowest channel, and the minutes until it is as far below its limit as the counter's bias asks for. */
  readonly remaining: RemainingTime & { readonly channel: string };
}

/** The minutes of one channel since the circulation began or was disturbed, in their order. */
export interface Stretch {
  readonly channel: string;
  readonly limitPerMl: number;
  readonly aimPerMl: number;
  /** mL that a minute stands for: particles counted for each one per mL. */
  readonly countedMlPerMin: number;
  readonly stretch: readonly { readonly minute: number; readonly perMl: number; readonly counted: number }[];
}

/** Minutes that a fit needs before it may call a circulation useless. Common practice, no source. */
const FIT_FROM = 10;
/** Points that a fit is made from; more only take longer. */
const FIT_POINTS = 12;
/** Counts that an hour does not halve, at the fastest they may be falling, do not fall. Common practice, no source. */
const SLOWEST_PER_MIN = Math.LN2 / 60;

/**
 * Where counts are heading: each channel is fitted by a fall towards a floor, and the slowest decides.
 *
 * @param repeatability - relative scatter of the counter from minute to minute
 * @param plan - the circuit from the first minute of the stretch on, where it is known: what its elements are rated for
 * @returns undefined while no channel has minutes enough
 */
export function outlookOf(
  channels: readonly Stretch[],
  repeatability: number,
  plan?: CirculationPlan,
): OnlineOutlook | undefined {
  const fits = channels.flatMap((channel) => fitOf(channel, repeatability, plan) ?? []);
  const [first, ...others] = fits;
  if (first === undefined) return undefined;
  const slowest = others.reduce((a, b) => (isLonger(b.remaining, a.remaining) ? b : a), first);
  const isOver = fits.some(({ isInside }) => !isInside);
  // As long as a channel is above its limit, one that is not can wait.
  const courses = COURSES.filter((course) => course !== "too-near" || !isOver);
  const gravest = courses.findLast((course) => fits.some((fit) => fit.course === course)) ?? "falling";
  const { rated } = fits.find((fit) => fit.course === gravest && fit.rated !== undefined) ?? slowest;
  return {
    course: gravest,
    ...(rated && { rated }),
    remaining: { ...slowest.remaining, channel: slowest.channel },
  };
}

/** An outlook after some minutes more, none of which was fitted. */
export function outlookAfter(outlook: OnlineOutlook, minutes: number): OnlineOutlook {
  return { ...outlook, remaining: { ...outlook.remaining, ...timeAfter(outlook.remaining, minutes) } };
}

/** From the mildest to the gravest. */
const COURSES = ["falling", "too-near", "slower-than-rated", "levelling-off", "not-falling"] as const;

/** The minutes of a channel joined to a dozen points, from the end, so that the last point is of the last minutes. */
function pointsOf({ stretch, countedMlPerMin }: Stretch, size: number): DecayPoint[] {
  const first = stretch[0]?.minute ?? 0;
  const points: DecayPoint[] = [];
  for (let end = stretch.length; end - size >= 0; end -= size) {
    const part = stretch.slice(end - size, end);
    points.unshift({
      minutes: part.reduce((sum, { minute }) => sum + minute - first + 0.5, 0) / size,
      countedMl: size * countedMlPerMin,
      observed: { kind: "exact", count: part.reduce((sum, { counted }) => sum + counted, 0) },
    });
  }
  return points;
}

function fitOf(channel: Stretch, repeatability: number, plan: CirculationPlan | undefined) {
  const { stretch, limitPerMl, aimPerMl } = channel;
  const size = Math.max(1, Math.ceil(stretch.length / FIT_POINTS));
  const points = pointsOf(channel, size);
  if (points.length < 4) return undefined;
  const variance = relativeVarianceOf(stretch, repeatability) / size;
  const planned = plan?.channels.find((one) => one.channel === channel.channel);
  const fall = plan && planned && readFall(plan, planned, points, { laboratory: Math.sqrt(variance) });
  const { fit, read } = fall ?? { fit: fitDecay(points, variance), read: points };
  const isAbove = (stretch.at(-1)?.perMl ?? 0) > aimPerMl;
  const { observed, countedMl } = points.at(-1) as DecayPoint;
  const isInside = observed.count / countedMl <= limitPerMl;
  return {
    channel: channel.channel,
    remaining: remainingTime(read, variance, fit, aimPerMl, points.at(-1)?.minutes ?? 0),
    isInside,
    course:
      isAbove && stretch.length >= FIT_FROM
        ? courseOf(fit, { ...channel, isInside }, fall?.diagnosis)
        : "falling",
    rated: fall && {
      channel: channel.channel,
      ratePerMin: fit.best.rate,
      ratedPerMin: fall.ratedRate,
    },
  } as const;
}

function courseOf(
  { netRate, floor }: DecayFit,
  {
    limitPerMl,
    aimPerMl,
    isInside,
  }: Pick<Stretch, "limitPerMl" | "aimPerMl"> & { readonly isInside: boolean },
  diagnosis: Diagnosis | undefined,
): OnlineOutlook["course"] {
  const stays = netRate.high !== undefined && netRate.high < SLOWEST_PER_MIN;
  if (isInside && (stays || floor.low > aimPerMl)) return "too-near";
  if (stays) return "not-falling";
  if (floor.low > limitPerMl) return "levelling-off";
  // Less than a fifth of a fast fall is slow, and still a fall.
  return diagnosis === "slower-than-rated" || diagnosis === "not-falling" ? "slower-than-rated" : "falling";
}
