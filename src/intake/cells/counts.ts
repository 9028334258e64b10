import { CountError, type CountSet, cumulativeCounts } from "../../counts/index.js";
import { grouped } from "../../numeric/index.js";
import { type Assumption, frozen } from "../../provenance/index.js";
import type { Limit, LimitedCount, OtherScaleCount, Sample } from "../../samples/index.js";
import type { CountMeaning } from "../layout/meaning.js";
import type { RefusedResult, ReportedResult } from "../samples/entry.js";

/** A count as it was read, with the column it is in. */
export interface ReportedCount {
  readonly result: ReportedResult;
  readonly measurand: CountMeaning;
  readonly volumeMl: number;
  readonly count: number;
  readonly limit?: Limit;
}

/** The volume that went through the counter, and what it was diluted to. */
type Counting = CountSet["counting"];

interface GatheredCounts {
  readonly results: Pick<
    Sample,
    "countedVolumeMl" | "counts" | "limitedCounts" | "otherScaleCounts" | "blank" | "replicates"
  >;
  readonly refused: readonly RefusedResult[];
  readonly assumptions: readonly Assumption[];
}

/** Counts that cannot be true together; the reason, and the one that shows it. */
class CountsRefused extends Error {
  constructor(
    readonly offending: ReportedCount,
    readonly expected: string,
  ) {
    super(expected);
  }
}

/**
 * Puts the counts of one sample together: those in µm(c) as one cumulative set, limit values and other scales apart.
 *
 * Counts by range are added up from the largest size, which is exact, when the ranges join and the last is open.
 *
 * @param reported - counts of one sample in any order
 * @param countedMl - the volume in mL that went through the counter, where it is reported
 */
export function gatherCounts(
  reported: readonly ReportedCount[],
  countedMl: number | undefined,
  dilution?: number,
): GatheredCounts {
  const parts: Record<Part, ReportedCount[]> = {
    plain: [],
    limited: [],
    ranges: [],
    others: [],
    runs: [],
    blank: [],
  };
  for (const entry of reported) parts[partOf(entry)].push(entry);
  const { plain, limited, ranges, others, runs, blank } = parts;
  try {
    const counting =
      countedMl === undefined ? undefined : { countedMl, ...(dilution !== undefined && { dilution }) };
    const alone = cumulative(plain, ranges, counting);
    checkLimited(limited, plain);
    const replicates = replicatesOf(runs, alone.counts, counting);
    const counts = alone.counts ?? meanOf(replicates);
    const clean = blankOf(blank);
    const results: { -readonly [K in keyof GatheredCounts["results"]]: GatheredCounts["results"][K] } = {};
    if (counts !== undefined) results.counts = counts;
    if (replicates.length > 1) results.replicates = replicates;
    if (clean !== undefined) results.blank = clean;
    if (limited.length > 0) results.limitedCounts = limited.map(limitedCount);
    if (others.length > 0) results.otherScaleCounts = others.map(otherScaleCount);
    if (counts === undefined && countedMl !== undefined) results.countedVolumeMl = countedMl;
    const assumptions =
      alone.counts === undefined && replicates.length > 0
        ? [...alone.assumptions, MEAN_OF_RUNS]
        : alone.assumptions;
    return { results, refused: [], assumptions };
  } catch (error) {
    if (!(error instanceof CountsRefused)) throw error;
    // Which of the counts is wrong is not known, so none is taken. The offending cell carries the issue; counts that
    // are in rows of their own are set aside with it.
    const { offending, expected } = error;
    const involved = reported.filter(
      ({ result }) => result === offending.result || result.row !== offending.result.row,
    );
    return {
      results: {},
      refused: involved.map(({ result }) => ({ result, code: "counts-break-a-rule", expected })),
      assumptions: [],
    };
  }
}

/** What a count goes into. */
type Part = "plain" | "limited" | "ranges" | "others" | "runs" | "blank";

function partOf({ measurand, limit }: ReportedCount): Part {
  if (measurand.blank) return "blank";
  if (measurand.run !== undefined) return "runs";
  if (measurand.scale !== "um(c)") return "others";
  if (measurand.toUm !== undefined) return "ranges";
  return limit === undefined ? "plain" : "limited";
}

/** One set of each run; counts without a run are the first where no column is of it. */
function replicatesOf(
  runs: readonly ReportedCount[],
  counts: CountSet | undefined,
  counting: Counting,
): CountSet[] {
  if (runs.length === 0) return [];
  const byNumber = grouped(runs, ({ measurand }) => measurand.run as number);
  const inOrder = [...byNumber].sort(([a], [b]) => a - b);
  const sets = inOrder.flatMap(([, ofRun]) => bottleCounts(ofRun, counting) ?? []);
  return !byNumber.has(1) && counts !== undefined ? [counts, ...sets] : sets;
}

/** A limit of a blank is taken as what it may be at most; it is only looked at, never subtracted. */
function blankOf(blank: readonly ReportedCount[]): CountSet | undefined {
  if (blank.length === 0) return undefined;
  const atMost = blank.map(({ limit, ...entry }): ReportedCount => {
    return limit === undefined || limit === "below" || limit === "at-most" ? entry : { ...entry, limit };
  });
  return bottleCounts(atMost, undefined);
}

/** What is expected of a blank or of a run. */
export const NUMBERS_OF_A_RUN = "a number in µm(c) for each size of a blank or of a run";

/** Counts of a blank or of one run. */
function bottleCounts(reported: readonly ReportedCount[], counting: Counting): CountSet | undefined {
  const unusable = reported.find(
    ({ limit, measurand }) => limit !== undefined || measurand.scale !== "um(c)",
  );
  if (unusable !== undefined) throw new CountsRefused(unusable, NUMBERS_OF_A_RUN);
  const isRange = ({ measurand }: ReportedCount) => measurand.toUm !== undefined;
  return cumulative(
    reported.filter((entry) => !isRange(entry)),
    reported.filter(isRange),
    counting,
  ).counts;
}

/** The mean of runs that a report gives without it, for as many sizes as all of them have. */
function meanOf(runs: readonly CountSet[]): CountSet | undefined {
  const [first] = runs;
  if (first === undefined || runs.some(({ volumeMl }) => volumeMl !== first.volumeMl)) return undefined;
  const counts = first.counts.flatMap(({ sizeUm }) => {
    const found = runs.flatMap((run) => run.counts.filter((entry) => entry.sizeUm === sizeUm));
    if (found.length < runs.length) return [];
    const sum = found.reduce((total, { count }) => total + count, 0);
    return [{ sizeUm, count: Number((sum / runs.length).toPrecision(15)) }];
  });
  return counts.length === 0 ? undefined : cumulativeCounts(counts, first.volumeMl, "um(c)", first.counting);
}

const MEAN_OF_RUNS: Assumption = frozen({
  code: "mean-of-runs",
  message: "where a report gives the counts of runs and no result of them, their mean was taken",
});

function cumulative(
  plain: readonly ReportedCount[],
  ranges: readonly ReportedCount[],
  counting: Counting,
): { counts: Sample["counts"]; assumptions: Assumption[] } {
  const all = ranges.length === 0 ? plain : [...plain, ...ranges];
  const [first] = all;
  if (first === undefined) return { counts: undefined, assumptions: [] };
  const otherVolume = all.find((entry) => entry.volumeMl !== first.volumeMl);
  if (otherVolume !== undefined) {
    throw new CountsRefused(otherVolume, "all counts of a sample in one volume");
  }
  const open = ranges.length === 0 ? plain : addUp(plain, ranges);
  const counts = open.map(({ measurand, count }) => ({ sizeUm: measurand.fromUm, count }));
  try {
    return {
      counts: cumulativeCounts(counts, first.volumeMl, "um(c)", counting),
      assumptions: [
        ...(ranges.length === 0 ? [] : [ADDED_UP]),
        ...(counting && counting.dilution === undefined ? [UNDILUTED] : []),
      ],
    };
  } catch (error) {
    if (!(error instanceof CountError)) throw error;
    const offending = open.findLast((entry) => entry.measurand.fromUm === error.sizeUm) ?? first;
    throw new CountsRefused(offending, `counts that can be true (${error.message})`);
  }
}

const UNDILUTED: Assumption = frozen({
  code: "counted-undiluted",
  message: "counted volumes were taken as of the sample itself, not of a dilution",
});

const ADDED_UP: Assumption = frozen({
  code: "ranges-added-up",
  message: "counts reported by size range were added up from the largest size to cumulative counts",
});

/** Cumulative counts from ranges that join; the open end is the one plain count, at the largest size. */
function addUp(plain: readonly ReportedCount[], ranges: readonly ReportedCount[]): ReportedCount[] {
  const largestFirst = [...ranges].sort((a, b) => b.measurand.fromUm - a.measurand.fromUm);
  const [end, ...more] = plain;
  const [largest] = largestFirst as [ReportedCount, ...ReportedCount[]];
  if (end === undefined || more.length > 0 || end.measurand.fromUm !== largest.measurand.toUm) {
    throw new CountsRefused(
      largest,
      "ranges that join, closed by one open count at the largest size, such as 4-6, 6-14 and > 14 µm(c)",
    );
  }
  const limit = largestFirst.find((entry) => entry.limit !== undefined);
  if (limit !== undefined) throw new CountsRefused(limit, "a number, because ranges are added up");
  const added = [end];
  for (const range of largestFirst) {
    const above = added.at(-1) as ReportedCount;
    if (range.measurand.toUm !== above.measurand.fromUm) {
      throw new CountsRefused(
        range,
        `a range that ends at ${above.measurand.fromUm} µm, where the next begins`,
      );
    }
    // Fifteen digits, so that 0.1 + 0.2 is the 0.3 a person gets on paper.
    added.push({ ...range, count: Number((above.count + range.count).toPrecision(15)) });
  }
  return added;
}

/** A limit value must leave room for the other counts. */
function checkLimited(limited: readonly ReportedCount[], plain: readonly ReportedCount[]): void {
  for (const entry of limited) {
    const { fromUm } = entry.measurand;
    const twice = [...plain, ...limited].find(
      (other) => other !== entry && other.measurand.fromUm === fromUm,
    );
    if (twice !== undefined) throw new CountsRefused(entry, `the size ${fromUm} µm once in a sample`);
    const perMl = entry.count / entry.volumeMl;
    const upper = entry.limit === "below" || entry.limit === "at-most";
    const impossible = plain.find(({ measurand, count, volumeMl }) =>
      upper
        ? measurand.fromUm > fromUm && count / volumeMl > perMl
        : measurand.fromUm < fromUm && count / volumeMl < perMl,
    );
    if (impossible !== undefined) {
      throw new CountsRefused(
        entry,
        `counts that can be true (the limit at ${fromUm} µm contradicts ${impossible.count} at ${impossible.measurand.fromUm} µm)`,
      );
    }
  }
}

function limitedCount({ measurand, volumeMl, count, limit }: ReportedCount): LimitedCount {
  return { sizeUm: measurand.fromUm, volumeMl, count, limit: limit as Limit };
}

function otherScaleCount({ measurand, volumeMl, count, limit }: ReportedCount): OtherScaleCount {
  const { scale, fromUm, toUm } = measurand;
  return {
    scale: scale as OtherScaleCount["scale"],
    fromUm,
    ...(toUm !== undefined && { toUm }),
    volumeMl,
    count,
    ...(limit && { limit }),
  };
}
