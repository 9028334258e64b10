// Row "trend": the robust slope with its interval, against scipy's theilslopes, which lists all slopes, and against an
// n log n reference.
import type * as Trend from "../../src/trend/index.js";
import { seeded } from "../support/counts-near-limits.js";
import { type Answered, type BenchRow, ratioLine, timed, timeLine } from "./row.js";

const { theilSen }: typeof Trend = await import(new URL("../../dist/trend/index.js", import.meta.url).href);

const LEVEL = 0.9;

interface Job {
  readonly level: number;
  readonly runs: number;
  readonly few: readonly Point[];
  readonly many: readonly Point[];
  readonly rounded: readonly Point[];
}

interface Point {
  readonly x: number;
  readonly y: number;
}

interface Answer {
  readonly slope: number;
  readonly low: number;
  readonly high: number;
}

/** Water over the days: a slow rise, scatter, now and then an odd result. */
function drawPoints(size: number, seed: number, places?: number): Point[] {
  const random = seeded(seed);
  let day = 0;
  return Array.from({ length: size }, () => {
    day += 0.5 + random();
    const scatter = random() + random() + random() - 1.5;
    const y = 80 + 0.004 * day + 12 * scatter + (random() < 0.02 ? 150 : 0);
    return places === undefined ? { x: day, y } : { x: Math.round(day), y: Number(y.toFixed(places)) };
  });
}

function prepare(_folder: string, quick: boolean): Job {
  const [few, many] = quick ? [3000, 10_000] : [3000, 100_000];
  return {
    level: LEVEL,
    runs: 3,
    few: drawPoints(few, 1),
    many: drawPoints(many, 2),
    rounded: drawPoints(many, 3, 0),
  };
}

async function slopeOf(points: readonly Point[], level: number, runs: number): Promise<Answered> {
  const { last, ...times } = await timed(runs, () => theilSen(points, level));
  if (last.kind !== "slope" || last.interval.kind !== "interval") throw new Error("there is no slope");
  return { ...times, answer: { slope: last.slope, low: last.interval.low, high: last.interval.high } };
}

/** How far the slope's rank among the slopes of all pairs is from the middle, by looking at every pair. */
function ranksFromMiddle(points: readonly Point[], slope: number): number {
  const x = Float64Array.from(points, (point) => point.x);
  const y = Float64Array.from(points, (point) => point.y);
  let [below, above] = [0, 0];
  for (let later = 1; later < x.length; later += 1) {
    const [laterX, laterY] = [x[later] as number, y[later] as number];
    for (let earlier = 0; earlier < later; earlier += 1) {
      const away = laterY - (y[earlier] as number) - slope * (laterX - (x[earlier] as number));
      // Rounding hides on which side the pairs of the slope itself are.
      if (away < -1e-9) below += 1;
      else if (away > 1e-9) above += 1;
    }
  }
  return Math.abs(below - above) / 2;
}

const SCIPY = "scipy theilslopes";
const ROOTS = "scipy kendalltau and brentq, n log n";
/** A root of a count lies anywhere between two slopes; of 5 billion, neighbours differ by less. */
const NEAR = 1e-6;
const MANY = "siltbook, many";
const ROUNDED = "siltbook, many, rounded";

export const trend: BenchRow<Job> = {
  name: "trend",
  rounds: 5,
  prepare,
  sides: [
    { name: "siltbook", run: ({ few, level, runs }) => slopeOf(few, level, runs) },
    { name: SCIPY, python: "trend.py" },
    { name: ROOTS, python: "trend_roots.py" },
    { name: MANY, run: ({ many, level, runs }) => slopeOf(many, level, runs) },
    { name: ROUNDED, run: ({ rounded, level, runs }) => slopeOf(rounded, level, runs) },
  ],
  disagreements(result, { many }) {
    const ours = result("siltbook").answer as Answer;
    const scipy = result(SCIPY).answer as {
      readonly slope: number;
      readonly low: readonly number[];
      readonly high: readonly number[];
    };
    const wrong: string[] = [];
    if (Math.abs(ours.slope - scipy.slope) > 1e-12 * Math.abs(scipy.slope)) {
      wrong.push(`slopes ${ours.slope} and ${scipy.slope}`);
    }
    // Where a continuity correction moves the end, it moves to the slope of the neighbouring pair.
    for (const end of ["low", "high"] as const) {
      const [least, most] = [Math.min(...scipy[end]), Math.max(...scipy[end])];
      if (!(ours[end] >= least && ours[end] <= most)) {
        wrong.push(`${end} end ${ours[end]}, not from ${least} to ${most}`);
      }
    }
    const [of, roots] = [result(MANY).answer as Answer, result(ROOTS).answer as Answer];
    for (const part of ["slope", "low", "high"] as const) {
      if (!(Math.abs(of[part] - roots[part]) <= NEAR * Math.abs(roots[part]))) {
        wrong.push(`${part} of ${many.length} results ${of[part]} and ${roots[part]}`);
      }
    }
    const off = ranksFromMiddle(many, (result(MANY).answer as Answer).slope);
    if (off > 1) wrong.push(`the slope of ${many.length} results is ${off} ranks from the middle`);
    return wrong;
  },
  lines: (result, { few, many }) => [
    ratioLine(`robust slope with interval, ${few.length} results`, result("siltbook"), result(SCIPY), 0.1),
    timeLine(`the same, ${many.length} results`, result(MANY), "s", 2),
    {
      what: `the same, ${many.length} results, against an n log n reference`,
      ours: result(MANY),
      other: result(ROOTS),
      value: result(MANY).median / result(ROOTS).median,
      unit: "×",
    },
    timeLine(`the same, ${many.length} results rounded to whole numbers`, result(ROUNDED), "s", 2),
  ],
};
