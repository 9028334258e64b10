import { crossingWindow, levelLine, type Observation, theilSen, trendTest } from "../trend/index.js";

/**
 * Powers of the dirt held that the rise of a drop grows with: the least and the most of what was measured, and the middle, which
 * gives the estimate.
 */
const POWERS = { least: 3, middle: 5, most: 8 } as const;
/** Parts from this share of the present rise on make the line; smaller rises are mostly scatter, and their roots large. */
const FROM_SHARE = 0.3;
const MIN_PARTS = 6;
const ALPHA = 0.05;

/**
 * Hours until a rise in clean elements reaches its end, with a band.
 *
 * @param parts - x in running hours, y the drop as a multiple of the clean one
 * @param now - running hours at the end of the log
 * @param end - the multiple at which the indicator trips
 * @param cleanTimes - factor that the clean drop may be wrong by, either way
 * @returns undefined where some line does not surely rise
 */
export function lifeLeft(
  parts: readonly Observation[],
  {
    now,
    end,
    cleanTimes,
    level,
  }: { readonly now: number; readonly end: number; readonly cleanTimes: number; readonly level: number },
): { readonly hours: number; readonly low: number; readonly high?: number } | undefined {
  // No element drops less than when it is clean: what was seen bounds the clean drop from above.
  const least = Math.min(...parts.map(({ y }) => y));
  const clean = [1 / cleanTimes, Math.min(1, least), Math.min(cleanTimes, least)] as const;
  const windowOf = (cleanAt: number, power: number) => crossing(parts, cleanAt, power, end, level);
  const middle = windowOf(clean[1], POWERS.middle);
  const all = clean.flatMap((cleanAt) =>
    [POWERS.least, POWERS.most].map((power) => windowOf(cleanAt, power)),
  );
  const windows = all.filter((window) => window !== undefined);
  if (middle === undefined || windows.length < all.length) return undefined;
  const left = (x: number) => Math.max(0, x - now);
  const ends = windows.map(({ latest }) => latest);
  return {
    hours: left(middle.x),
    low: left(Math.min(middle.earliest, ...windows.map(({ earliest }) => earliest))),
    ...(ends.every((latest) => latest !== undefined) && { high: left(Math.max(...ends)) }),
  };
}

function crossing(parts: readonly Observation[], cleanAt: number, power: number, end: number, level: number) {
  const rise = (y: number) => y / cleanAt - 1;
  const last = rise(parts.at(-1)?.y ?? 0);
  const start = parts.findLastIndex(({ y }) => !(rise(y) > FROM_SHARE * last)) + 1;
  const roots = parts.slice(start).map(({ x, y }) => ({ x, y: rise(y) ** (1 / power) }));
  if (!(last > 0) || roots.length < MIN_PARTS) return undefined;
  const slope = theilSen(roots, level);
  const line = slope.kind === "slope" ? levelLine(roots, slope) : undefined;
  if (line === undefined || !(line.slope > 0) || !(trendTest(roots).pValue <= ALPHA)) return undefined;
  return crossingWindow(line, rise(end) ** (1 / power), level);
}
