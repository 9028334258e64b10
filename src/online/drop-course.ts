import { median } from "../numeric/index.js";
import { type Observation, theilSen } from "../trend/index.js";
import type { ScaledDrop } from "./scaled-drop.js";

/** Parts that a log is cut into; each is the middle of its minutes, so that odd ones do not count. */
const MAX_PARTS = 40;
/** With fewer nothing is said of its course. */
export const MIN_PARTS = 8;
/** A part has at least as many minutes. */
export const MINUTES_IN_PART = 5;
/** Scatter of the drop between neighbouring minutes above which the flow cannot have been steady. Common practice, no source. */
const STEADY_RSD = 0.1;
/** A drop that falls by this factor and stays is of another element, or fluid goes around it. Common practice, no source. */
const FALL_TIMES = 1.25;

/** The log cut into parts of as many minutes each: x in running hours, y the middle of the drops in clean elements. */
export function partsOf(scaled: readonly ScaledDrop[]): readonly Observation[] {
  const count = Math.min(MAX_PARTS, Math.floor(scaled.length / MINUTES_IN_PART));
  return Array.from({ length: count }, (_, index) => {
    const from = Math.floor((index * scaled.length) / count);
    const part = scaled.slice(from, Math.floor(((index + 1) * scaled.length) / count));
    return {
      x: part.reduce((sum, { hours }) => sum + hours, 0) / part.length,
      y: median(part.map(({ times }) => times)),
    };
  });
}

/** Without a flow meter: whether neighbouring minutes scatter, or the drop jumps, as a flow that varies makes it. */
export function isUnsteady(scaled: readonly ScaledDrop[]): boolean {
  const times = scaled.map((one) => one.times);
  const changes = times.slice(1).map((next, index) => Math.abs(next - (times[index] as number)));
  // The middle of |difference of two| is 0.954 standard deviations of one.
  if (median(changes) / 0.954 > STEADY_RSD * median(times)) return true;
  const middles = Array.from({ length: Math.floor(times.length / MINUTES_IN_PART) }, (_, index) =>
    median(times.slice(index * MINUTES_IN_PART, (index + 1) * MINUTES_IN_PART)),
  );
  return middles.some((middle, index) => {
    const before = middles[index - 1] ?? middle;
    return Math.max(middle, before) > FALL_TIMES * Math.min(middle, before);
  });
}

/** The parts since the drop last fell for good. */
export function sinceLastFall(parts: readonly Observation[]): readonly Observation[] {
  const at = parts.findLastIndex(({ y }, index) => {
    const [before, next] = [parts[index - 1]?.y ?? 0, parts[index + 1]?.y ?? y];
    return before > FALL_TIMES * y && before > FALL_TIMES * next;
  });
  return at < 0 ? parts : parts.slice(at);
}

/** Whether the second half rises surely less than the first: a loading element does the opposite. */
export function levelsOff(parts: readonly Observation[], level: number): boolean {
  const half = Math.floor(parts.length / 2);
  const [first, second] = [theilSen(parts.slice(0, half), level), theilSen(parts.slice(half), level)];
  if (first.kind === "cannot-tell" || second.kind === "cannot-tell") return false;
  if (first.interval.kind !== "interval" || second.interval.kind !== "interval") return false;
  return second.interval.high < first.interval.low;
}
