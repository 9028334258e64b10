import { upperMedian } from "../numeric/index.js";
import type { OnlineMinute } from "./minute.js";

/** Minutes in a row with the very same counts after which a counter is taken to stand still. Common practice, no source. */
const STUCK_AFTER = 5;
/** Fewer particles than this in a minute can be the same twice by chance. Common practice, no source. */
const STUCK_FROM_PARTICLES = 100;
/** Air is counted as large particles: their share of the small ones rises at least by this factor. Common practice, no source. */
const AIR_TIMES = 3;
const AIR_FROM_PARTICLES = 20;
/** A rise has to be this many standard deviations, because it is looked for every minute. */
const RISE_SIGMAS = 4;
/** And at least by this factor. Common practice, no source. */
const RISE_TIMES = 1.6;
/** Minutes whose mean is held against the mean of as many before. */
export const RISE_MINUTES = 3;

/** The count of one channel in the minutes of one stretch. */
export interface ChannelMinute {
  readonly perMl: number;
  readonly counted: number;
}

/** Whether a counter shows the same again and again although it counts enough for chance to show. */
export function isStuck(minutes: readonly OnlineMinute[], countedMl: number): boolean {
  return showsTheSame(minutes.slice(-STUCK_AFTER), STUCK_AFTER, countedMl);
}

/** Whether a counter shows what it showed in the minute before: that minute is no second one. */
export function repeatsItself(minutes: readonly OnlineMinute[], countedMl: number): boolean {
  return showsTheSame(minutes.slice(-2), 2, countedMl);
}

function showsTheSame(last: readonly OnlineMinute[], least: number, countedMl: number): boolean {
  // A class stays the same for as long as the fluid does.
  if (last.length < least || last.some(({ isClass }) => isClass)) return false;
  const shown = new Set(last.map(({ counts }) => JSON.stringify(counts)));
  const most = last[0]?.counts[0]?.perMl ?? 0;
  return shown.size === 1 && most * countedMl >= STUCK_FROM_PARTICLES;
}

/** Whether a counter counts nothing at all, which no fluid of a cart is clean enough for. */
export function countsNothing({ counts }: OnlineMinute): boolean {
  return counts.length > 0 && counts.every(({ perMl }) => perMl === 0);
}

/** Whether the large particles became far more frequent against the small ones: air is counted as large particles. */
export function looksLikeAir(minutes: readonly OnlineMinute[], countedMl: number): boolean {
  const now = minutes.at(-1);
  const large = now?.counts.find(({ sizeUmC }) => sizeUmC >= 14);
  const before = minutes.slice(0, -1).flatMap((minute) => shareOfLarge(minute, large?.sizeUmC) ?? []);
  const share = now === undefined ? undefined : shareOfLarge(now, large?.sizeUmC);
  if (large === undefined || share === undefined || before.length < 5) return false;
  return large.perMl * countedMl >= AIR_FROM_PARTICLES && share > AIR_TIMES * upperMedian(before);
}

function shareOfLarge({ counts }: OnlineMinute, sizeUmC: number | undefined): number | undefined {
  const [small] = counts;
  const large = counts.find((count) => count.sizeUmC === sizeUmC);
  if (small === undefined || large === undefined || small === large || small.perMl === 0) return undefined;
  return large.perMl / small.perMl;
}

/** How many were counted in the minutes before the last ones: what a rise rises from. Infinity while there are too few. */
export function countedBeforeLast(minutes: readonly ChannelMinute[]): number {
  const end = minutes.length - RISE_MINUTES;
  return end < RISE_MINUTES ? Number.POSITIVE_INFINITY : sumOf(minutes.slice(end - RISE_MINUTES, end));
}

const sumOf = (minutes: readonly ChannelMinute[]) => minutes.reduce((sum, { counted }) => sum + counted, 0);

/**
 * Whether the last minutes of a channel lie surely above the lowest that came before them.
 *
 * @param lowestBefore - the least {@link countedBeforeLast} since the stretch began
 */
export function hasRisen(
  minutes: readonly ChannelMinute[],
  lowestBefore: number,
  relativeVariance: number,
): boolean {
  if (lowestBefore === Number.POSITIVE_INFINITY) return false;
  const now = sumOf(minutes.slice(-RISE_MINUTES));
  const lowest = Math.max(1, lowestBefore);
  const sigma = Math.sqrt((2 * relativeVariance) / RISE_MINUTES + 1 / Math.max(1, now) + 1 / lowest);
  return Math.log(now / lowest) > Math.max(Math.log(RISE_TIMES), RISE_SIGMAS * sigma);
}

/**
 * Square of the relative scatter of a channel from minute to minute: the stated one, or what its last minutes show when
 * that is more. Only minutes before the one that is judged may be given.
 */
export function relativeVarianceOf(minutes: readonly ChannelMinute[], stated: number): number {
  const last = minutes.slice(-16).filter(({ counted }) => counted > 0);
  if (last.length < 6) return stated ** 2;
  const steps = last
    .slice(1)
    .map(({ counted }, index) => Math.log(counted / (last[index] as ChannelMinute).counted));
  const middle = steps.reduce((a, b) => a + b, 0) / steps.length;
  const variance = steps.reduce((sum, step) => sum + (step - middle) ** 2, 0) / (steps.length - 1) / 2;
  const byChance = last.reduce((sum, { counted }) => sum + 1 / counted, 0) / last.length;
  return Math.max(stated ** 2, variance - byChance);
}
