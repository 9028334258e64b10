import { countsAtMost, isOfStandard, TARGET_STANDARDS } from "../../cleanliness/index.js";
import type { CountSet } from "../../counts/index.js";
import { upperMedian } from "../../numeric/index.js";
import {
  type Circuit,
  type CircuitEvent,
  type ReportedClass,
  type Sample,
  sideOfElement,
} from "../../samples/index.js";
import { inFourDigits } from "../../units/index.js";
import { compareDays } from "../days.js";

/** As many earlier samples of a circuit say what is usual. Common practice, no source, as are the bounds below. */
export const LOOK_BACK = 12;
/** With fewer there is nothing that is usual yet. */
const MIN_EARLIER = 3;
/** A change by this factor in all channels is what per mL taken for per 100 mL looks like; a factor of ten may be real. */
const MIN_TIMES = 30;
/** Every size by itself differs by so much: what happens to one size alone happened to the fluid and not to the report. */
const MIN_TIMES_EACH = 10;
/** Below this many particles per mL a ratio is chance. */
const MIN_PER_ML = 0.5;

/** Cumulative counts of one sample for each mL, and the day it was drawn. */
export interface DatedCounts {
  readonly drawnOn: string;
  readonly sizesUm: readonly number[];
  readonly perMl: ArrayLike<number>;
  /** The side of the element on which the bottle was filled, where that is stated. */
  readonly port?: "upstream" | "downstream";
}

/**
 * The counts of a sample, or where it was not counted the most that its class allows; undefined when it gives neither.
 *
 * A class is within a factor of two of its counts, far less than what is looked for here.
 */
function levelOf(sample: Sample): DatedCounts | undefined {
  const { counts: counted, reportedClasses = [] } = sample;
  const counts = counted ?? reportedClasses.flatMap((stated) => edgeOf(stated) ?? [])[0];
  return counts && datedCounts({ ...sample, counts });
}

/** The upper edge of a class that gives sizes, as counts. */
function edgeOf(stated: ReportedClass): CountSet | undefined {
  const target = TARGET_STANDARDS.find((standard) => isOfStandard(stated.standard, standard));
  const most = target && countsAtMost(stated, { standard: target });
  return most?.form === "cumulative" ? most : undefined;
}

/** How the counts of a sample differ from all that its circuit has shown. */
export interface UnusualCounts {
  readonly side: "more" | "fewer";
  /** By what factor, in the mean of the sizes. */
  readonly times: number;
  /** The smallest size that was compared. */
  readonly sizeUm: number;
  readonly perMl: number;
  /** The median of the earlier samples. */
  readonly usualPerMl: number;
}

/** The counts of a sample; undefined when it was not counted. */
export function datedCounts({
  counts,
  drawnOn,
  samplePoint,
}: Pick<Sample, "counts" | "drawnOn" | "samplePoint">): DatedCounts | undefined {
  if (counts === undefined) return undefined;
  const port = sideOfElement(samplePoint);
  return {
    drawnOn,
    ...(port && { port }),
    sizesUm: counts.counts.map(({ sizeUm }) => sizeUm),
    perMl: counts.counts.map(({ count }) => count / counts.volumeMl),
  };
}

/**
 * Whether counts are a thirtieth, or thirty times, of what their circuit has shown, or further off, and nothing that
 * happened to the circuit explains it.
 *
 * They are compared with the median of the last twelve earlier samples and against the last one, and they differ only
 * when they differ from both, at all sizes in the same direction: after a change that was accepted or explained, the next
 * sample is like the last. New fluid and a new element explain any level; an opened line explains more, drying and
 * circulating that was entered fewer particles, circulating as far as well-mixed fluid can get: e times for each pass.
 *
 * @param counted - the counts in question
 * @param before - those of earlier samples of the circuit that are not in question themselves, oldest first; of them none is
 *   compared that was drawn on the other side of the element, which lets only a part of the particles through
 * @param circuitOf - the circuit, where it is known; called only when counts differ
 */
export function unusualCounts(
  counted: DatedCounts,
  before: readonly DatedCounts[],
  circuitOf: () => Pick<Circuit, "events" | "volumeL" | "flowLpm"> | undefined,
): UnusualCounts | undefined {
  const earlier = alikeIn(counted, before);
  // Most samples are like the one before, and then the median need not be known.
  const fromLast = differenceFromLast(counted, earlier);
  if (typeof fromLast !== "object") return undefined;
  const found = differenceOf(counted, medianLevel(earlier.slice(-LOOK_BACK)));
  if (typeof found !== "object" || found.side !== fromLast.side) return undefined;
  const circuit = circuitOf();
  const since = earlier.at(-1)?.drawnOn ?? "";
  const between = circuit?.events.filter(({ on }) => on >= since && on <= counted.drawnOn) ?? [];
  if (between.some(({ kind }) => EXPLAINS[found.side].includes(kind))) return undefined;
  if (circuit === undefined || found.side === "more") return found;
  const minutes = circulatedIn(between);
  const passes = (minutes * (circuit.flowLpm ?? 0)) / circuit.volumeL;
  return found.times > MIN_TIMES * Math.exp(passes) ? found : undefined;
}

function alikeIn({ port }: DatedCounts, before: readonly DatedCounts[]): readonly DatedCounts[] {
  return port === undefined ? before : before.filter((one) => one.port === undefined || one.port === port);
}

/** Minutes of the circulations in a log; those that stand with another event may be the same, so the more of the two counts. */
function circulatedIn(events: readonly CircuitEvent[]): number {
  const withOthers = events.map(({ circulatedMinutes = 0 }) => circulatedMinutes);
  const circulations = events.map(({ kind, minutes = 0 }) => (kind === "circulation" ? minutes : 0));
  return Math.max(
    ...withOthers,
    circulations.reduce((sum, minutes) => sum + minutes, 0),
  );
}

const EXPLAINS: Record<UnusualCounts["side"], readonly CircuitEvent["kind"][]> = {
  more: ["fluid-change", "element-change", "opening"],
  fewer: ["fluid-change", "element-change", "dehydration"],
};

/** The difference from the last sample that can be compared. */
function differenceFromLast(
  counted: DatedCounts,
  earlier: readonly DatedCounts[],
): UnusualCounts | "like" | undefined {
  for (let place = earlier.length - 1; place >= 0; place -= 1) {
    const { sizesUm, perMl } = earlier[place] as DatedCounts;
    const found = differenceOf(counted, (sizeUm) => perMl[sizesUm.indexOf(sizeUm)]);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** Counts per mL at a size; undefined where they are not known. */
type Level = (sizeUm: number) => number | undefined;

/** The median at each size that enough of some samples have counted. */
function medianLevel(samples: readonly DatedCounts[]): Level {
  const bySize = new Map<number, number[]>();
  for (const { sizesUm, perMl } of samples) {
    for (const [place, sizeUm] of sizesUm.entries()) {
      const values = bySize.get(sizeUm) ?? [];
      values.push(perMl[place] as number);
      bySize.set(sizeUm, values);
    }
  }
  return (sizeUm) => {
    const values = bySize.get(sizeUm) ?? [];
    return values.length < MIN_EARLIER ? undefined : upperMedian(values);
  };
}

/** How counts differ from a level; undefined when no size of the level was counted. */
function differenceOf({ sizesUm, perMl }: DatedCounts, level: Level): UnusualCounts | "like" | undefined {
  let sum = 0;
  let compared = 0;
  let smallest: Pick<UnusualCounts, "sizeUm" | "perMl" | "usualPerMl"> | undefined;
  let isUnlike = true;
  let isShared = false;
  for (const [place, sizeUm] of sizesUm.entries()) {
    const usual = level(sizeUm);
    const own = perMl[place] as number;
    if (usual === undefined) continue;
    isShared = true;
    if (Math.max(usual, own) < MIN_PER_ML * MIN_TIMES) continue;
    const ratio = Math.max(own, MIN_PER_ML) / Math.max(usual, MIN_PER_ML);
    smallest ??= { sizeUm, perMl: own, usualPerMl: usual };
    sum += Math.log(ratio);
    compared += 1;
    if (Math.sign(sum) !== Math.sign(Math.log(ratio)) || Math.abs(Math.log(ratio)) < Math.log(MIN_TIMES_EACH))
      isUnlike = false;
  }
  if (smallest === undefined) return isShared ? "like" : undefined;
  const times = Math.exp(Math.abs(sum) / compared);
  if (!isUnlike || !(times >= MIN_TIMES * (1 - ROUNDING))) return "like";
  return { side: sum > 0 ? "more" : "fewer", times, ...smallest };
}

/** What logarithms and their way back are rounded by. */
const ROUNDING = 1e-12;

/**
 * How the counts of samples, in any order, differ from what their circuit has shown before; those that do not are left out.
 *
 * Earlier samples whose counts were in question and that nobody accepted say nothing of what is usual.
 */
export function unusualAmong(
  samples: readonly Sample[],
  circuit: Circuit,
): ReadonlyMap<Sample, UnusualCounts> {
  const earlier: DatedCounts[] = [];
  const unusual = new Map<Sample, UnusualCounts>();
  for (const one of inOrder(samples)) {
    const counted = levelOf(one);
    if (counted === undefined) continue;
    const found = isAccepted(one) ? undefined : unusualCounts(counted, earlier, () => circuit);
    if (found === undefined) earlier.push(counted);
    else unusual.set(one, found);
  }
  return unusual;
}

function inOrder(samples: readonly Sample[]): Sample[] {
  return [...samples].sort(
    (a, b) =>
      compareDays(a.drawnOn, b.drawnOn) ||
      compareDays(a.drawnTime ?? "", b.drawnTime ?? "") ||
      compareDays(a.sample, b.sample),
  );
}

/** Whether a person has looked into the counts of a sample; the code is that of the check in the intake. */
function isAccepted({ acceptedChecks = [] }: Sample): boolean {
  return acceptedChecks.includes("factor-of-100");
}

/** The numbers of a difference. */
export function describeUnusual({ side, times, sizeUm, perMl, usualPerMl }: UnusualCounts): string {
  const share = side === "more" ? `about ${formatTimes(times)} times` : `about 1/${formatTimes(times)} of`;
  return `${share} what its circuit has shown: above ${sizeUm} µm(c) ${inFourDigits(perMl)} per mL, usually ${inFourDigits(usualPerMl)}`;
}

function formatTimes(times: number): string {
  return String(Number(times.toPrecision(times < 100 ? 2 : 1)));
}
