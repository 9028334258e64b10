import {
  type DecayPoint,
  fitDecay,
  isLonger,
  type RemainingTime,
  remainingTime,
} from "../circulation/index.js";
import { relativeVarianceOf } from "./conduct.js";

/** Where the counts of the present stretch are heading. */
export interface OnlineOutlook {
  /** Falling, as far as can be seen; at the others: stop and look. */
  readonly course: "falling" | "not-falling" | "levelling-off";
  /** The slowest channel, and the minutes until it is as far below its limit as the counter's bias asks for. */
  readonly remaining: RemainingTime & { readonly channel: string };
}

/** The minutes of one channel since the circulation began or was disturbed, in their order. */
export interface Stretch {
  readonly channel: string;
  readonly limitPerMl: number;
  readonly aimPerMl: number;
  readonly stretch: readonly { readonly minute: number; readonly perMl: number; readonly counted: number }[];
}

/** What is known of the counter. */
interface Counter {
  readonly countedMlPerMin: number;
  readonly repeatability: number;
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
 * @returns undefined while no channel has minutes enough
 */
export function outlookOf(channels: readonly Stretch[], counter: Counter): OnlineOutlook | undefined {
  const fits = channels.flatMap((channel) => fitOf(channel, counter) ?? []);
  const [first, ...others] = fits;
  if (first === undefined) return undefined;
  const slowest = others.reduce((a, b) => (isLonger(b.remaining, a.remaining) ? b : a), first);
  const course = fits.some(({ notFalling }) => notFalling)
    ? "not-falling"
    : fits.some(({ levelsOff }) => levelsOff)
      ? "levelling-off"
      : "falling";
  return { course, remaining: { ...slowest.remaining, channel: slowest.channel } };
}

/** The minutes of a channel joined to a dozen points, from the end, so that the last point is of the last minutes. */
function pointsOf({ stretch }: Stretch, size: number, countedMlPerMin: number): DecayPoint[] {
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

function fitOf(channel: Stretch, { countedMlPerMin, repeatability }: Counter) {
  const { stretch, limitPerMl, aimPerMl } = channel;
  const size = Math.max(1, Math.ceil(stretch.length / FIT_POINTS));
  const points = pointsOf(channel, size, countedMlPerMin);
  if (points.length < 4) return undefined;
  const variance = relativeVarianceOf(stretch, repeatability) / size;
  const fit = fitDecay(points, variance);
  const isAbove = (stretch.at(-1)?.perMl ?? 0) > aimPerMl;
  const mayStop = stretch.length >= FIT_FROM && isAbove;
  return {
    channel: channel.channel,
    remaining: remainingTime(points, variance, fit, aimPerMl, points.at(-1)?.minutes ?? 0),
    notFalling: mayStop && fit.netRate.high !== undefined && fit.netRate.high < SLOWEST_PER_MIN,
    levelsOff: mayStop && fit.floor.low > limitPerMl,
  };
}
