import { type AnyCountSet, type CountSet, highestWithin, isWithin, readBetween } from "../counts/index.js";
import { countsAtMost, type UmCCounts } from "./class-edges.js";
import { isDirtierThanTarget } from "./class-of-report.js";
import { compareWithLimits, type ParticleLimit, shareOfLimit } from "./particle-limit.js";
import { BEYOND, readStatedClass, type StatedClass } from "./stated-class.js";
import { type CleanlinessTarget, isOfStandard, limitsOfTarget } from "./target.js";

/** A count that a report gives only as a limit. */
export interface CountLimit {
  readonly sizeUm: number;
  readonly count: number;
  readonly volumeMl: number;
  readonly limit: "below" | "at-most" | "at-least" | "above";
}

/** What a report gives of the particles of one bottle. */
export interface ParticleReport {
  readonly counts?: CountSet | undefined;
  readonly limited?: readonly CountLimit[] | undefined;
  /** Counts of the ranges that the standard of the target is written in, such as those by microscope of NAS 1638. */
  readonly ownRanges?: UmCCounts | undefined;
  readonly classes?: readonly StatedClass[] | undefined;
}

/** What a limit was held against: counts of its channel, of a wider channel, a limit value, or the edge of a class. */
export type LimitBasis = "counted" | "own-ranges" | "wider-channel" | "limit-value" | "class";

/** What a limit was compared with: a channel of some counts. Where the basis is no count, the counts are the most there can be. */
export interface LimitReading {
  readonly counts: AnyCountSet<"um(c)">;
  readonly fromUm: number;
  readonly toUm?: number;
}

/** A limit of a target, decided by what a report gives. */
export type DecidedLimit =
  | { readonly limit: ParticleLimit; readonly outcome: "not-measured" }
  | {
      readonly limit: ParticleLimit;
      readonly outcome: "inside" | "outside";
      readonly basis: LimitBasis;
      /** Absent where the report gives no upper end: "> 100000", or a class beyond the table. */
      readonly found?: {
        readonly reading: LimitReading;
        readonly count: number;
        readonly volumeMl: number;
        /** Count divided by limit, both per mL; 1 is exactly at the limit. */
        readonly share: number;
      };
    };

/**
 * Holds what a report gives of particles against a target, without converting anything.
 *
 * Counts of a channel decide it. What was not counted is decided where it is sure all the same: no more particles are in a
 * channel than in a wider one, than a limit value such as "< 1" allows, or than a stated class of the target's own standard
 * allows. Of several bases a count goes first, and what surely shows a limit exceeded goes before what shows it kept.
 *
 * @returns one entry for each limit of the target, in its order
 */
export function decideLimits(report: ParticleReport, target: CleanlinessTarget): DecidedLimit[] {
  const limits = limitsOfTarget(target);
  const { counts, ownRanges, classes = [] } = report;
  const byCounts = counts === undefined ? [] : compareWithLimits(counts, limits);
  const byRanges = ownRanges === undefined ? [] : compareWithLimits(ownRanges, limits);
  const stated = classes.filter(({ standard }) => isOfStandard(standard, target.standard));
  const isDirtier = stated.some((one) => isDirtierThanTarget(one, target, counts));
  return limits.map((limit, index): DecidedLimit => {
    const exact = [
      [byCounts[index], "counted", counts],
      [byRanges[index], "own-ranges", ownRanges],
    ] as const;
    const counted = exact.flatMap(([held, basis, set]) =>
      held === undefined || held.outcome === "not-measured" || set === undefined
        ? []
        : [decided(limit, held.outcome, basis, { counts: set, ...channelOf(limit) }, held.count)],
    );
    return (
      counted.find(({ outcome }) => outcome === "outside") ??
      counted[0] ??
      beyondLimitValue(limit, report) ??
      byWiderChannel(limit, counts) ??
      byLimitValue(limit, report) ??
      byClass(limit, target, stated, isDirtier) ?? { limit, outcome: "not-measured" }
    );
  });
}

function channelOf({ fromUm, toUm }: ParticleLimit) {
  return { fromUm, ...(toUm !== undefined && { toUm }) };
}

function decided(
  limit: ParticleLimit,
  outcome: "inside" | "outside",
  basis: LimitBasis,
  reading: LimitReading,
  count: number,
): Extract<DecidedLimit, { basis: LimitBasis }> {
  const { volumeMl } = reading.counts;
  const share = shareOfLimit(count, volumeMl, limit.limit, limit.volumeMl);
  return { limit, outcome, basis, found: { reading, count, volumeMl, share } };
}

/** A limit that is kept by the most there can be; what is not known to keep it is left open. */
function insideBy(limit: ParticleLimit, basis: LimitBasis, reading: LimitReading): DecidedLimit | undefined {
  const count = readBetween(reading.counts, reading.fromUm, reading.toUm)?.count;
  if (count === undefined || !isWithin(count, reading.counts.volumeMl, limit.limit, limit.volumeMl))
    return undefined;
  return decided(limit, "inside", basis, reading, count);
}

/** "> 100000" of all particles above a size, held against the limit of that size. */
function beyondLimitValue(limit: ParticleLimit, { limited = [] }: ParticleReport): DecidedLimit | undefined {
  if (limit.toUm !== undefined) return undefined;
  const isBeyond = limited.some(({ sizeUm, count, volumeMl, limit: sign }) => {
    if (sizeUm !== limit.fromUm || (sign !== "above" && sign !== "at-least")) return false;
    const isAtLimit = !(count / volumeMl <= highestWithin(limit.limit, limit.volumeMl));
    return isAtLimit || (sign === "above" && count / volumeMl >= limit.limit / limit.volumeMl);
  });
  return isBeyond ? { limit, outcome: "outside", basis: "limit-value" } : undefined;
}

/** The narrowest counted channel that holds all particles of the limit's. */
function byWiderChannel(limit: ParticleLimit, counts: CountSet | undefined): DecidedLimit | undefined {
  const measured = counts?.counts.filter(({ basis = "measured" }) => basis === "measured") ?? [];
  const from = measured.findLast(({ sizeUm }) => sizeUm <= limit.fromUm)?.sizeUm;
  if (counts === undefined || from === undefined) return undefined;
  const { toUm } = limit;
  const to = toUm === undefined ? undefined : measured.find(({ sizeUm }) => sizeUm >= toUm)?.sizeUm;
  return insideBy(limit, "wider-channel", { counts, fromUm: from, ...(to !== undefined && { toUm: to }) });
}

function byLimitValue(limit: ParticleLimit, { limited = [] }: ParticleReport): DecidedLimit | undefined {
  const held = limited.flatMap(({ sizeUm, count, volumeMl, limit: sign }) => {
    if (sizeUm > limit.fromUm || (sign !== "below" && sign !== "at-most")) return [];
    const counts = { scale: "um(c)", form: "cumulative", volumeMl, counts: [{ sizeUm, count }] } as const;
    return insideBy(limit, "limit-value", { counts, fromUm: sizeUm }) ?? [];
  });
  return held[0];
}

function byClass(
  limit: ParticleLimit,
  target: CleanlinessTarget,
  stated: readonly StatedClass[],
  isDirtier: boolean,
): DecidedLimit | undefined {
  const edges = stated.flatMap((one) => countsAtMost(one, target) ?? []);
  const readings = edges.flatMap((counts) => readingAtMost(counts, limit) ?? []);
  if (!isDirtier) return readings.map((reading) => insideBy(limit, "class", reading)).find(Boolean);
  const kept = readings.map((reading) => insideBy(limit, "class", reading));
  if (kept.length > 0 && kept.every((one) => one !== undefined)) return kept[0];
  if (stated.some((one) => isBeyondTable(one, limit))) return { limit, outcome: "outside", basis: "class" };
  const [reading] = readings;
  const count = reading && readBetween(reading.counts, reading.fromUm, reading.toUm)?.count;
  return count === undefined ? undefined : decided(limit, "outside", "class", reading as LimitReading, count);
}

function isBeyondTable(one: StatedClass, { channel }: ParticleLimit): boolean {
  const stated = readStatedClass(one);
  if (stated === undefined) return false;
  return ("whole" in stated ? stated.whole : stated.bySize.get(channel)) === BEYOND;
}

/** The channel of a class that holds all particles of a limit's; from cumulative classes nothing is subtracted. */
function readingAtMost(counts: UmCCounts, limit: ParticleLimit): LimitReading | undefined {
  if (counts.form === "interval") return { counts, ...channelOf(limit) };
  const from = counts.counts.findLast(({ sizeUm }) => sizeUm <= limit.fromUm)?.sizeUm;
  return from === undefined ? undefined : { counts, fromUm: from };
}
