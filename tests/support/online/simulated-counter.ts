import { channelLevel, planCirculation, portLevel } from "../../../src/circulation/index.js";
import { limitsOfTarget, parseTarget } from "../../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../../src/counts/index.js";
import { drawNormals, median, type RandomSource, seededRandom } from "../../../src/numeric/index.js";
import {
  type CounterCircuit,
  Following,
  type OnlineAnswer,
  type OnlineOutlook,
} from "../../../src/online/index.js";

const LIMITS = limitsOfTarget(parseTarget("17/15/12"));
const SETTINGS = { limits: LIMITS, confidence: 0.95, countedMlPerMin: 10, repeatability: 0.1, bias: 0.2 };
/** Before this minute every course is a fall: nothing else could be sure. */
const COURSE_FROM = 9;
/** Counts per mL at the limit of 17/15/12 in each channel. */
const AT_LIMIT = [1300, 320, 40] as const;

/** What a counter in the line is simulated with. */
export interface Stream {
  /** The level in the circuit, as a share of its limits, by minute. */
  readonly shareAt: (minute: number) => number;
  readonly minutes: number;
  /** What a port in the flow holds of each channel, per mL; the share of each limit when absent. */
  readonly levelsAt?: (minute: number) => readonly number[];
  /** The circuit as its carts file states it. */
  readonly circuit?: CounterCircuit;
  /** Relative scatter from minute to minute; that of the settings when absent. */
  readonly scatter?: number;
  /** Serial correlation of the scatter of one minute with the next. */
  readonly correlation?: number;
  readonly temperatureAt?: (minute: number) => number;
  /** What the counter shows instead, by minute. */
  readonly shows?: (
    minute: number,
    perMl: readonly number[],
    before: readonly number[],
  ) => readonly number[] | undefined;
}

function drawNormal(random: RandomSource): number {
  const drawn = new Float64Array(1);
  drawNormals(random, drawn);
  return drawn[0] as number;
}

/** A Poisson count about a scattered mean, by the normal distribution. */
function countOf(random: RandomSource, mean: number, factor: number): number {
  const normal = drawNormal(random);
  const expected = mean * factor;
  return Math.max(0, Math.round(expected + Math.sqrt(expected) * normal));
}

/** What following one simulated counter gave. */
export interface Followed {
  readonly answers: readonly OnlineAnswer[];
  /** The first minute in which it was called clean. */
  readonly stoppedAt: number | undefined;
  readonly outlook: () => OnlineOutlook | undefined;
  /** In which minute each course was first said; filled where the circuit is known. */
  readonly courses: ReadonlyMap<OnlineOutlook["course"], number>;
}

/** Follows one simulated counter to its end. */
export function follow(stream: Stream, random: RandomSource): Followed {
  const lasting = drawNormal(random);
  const bias = Math.exp(SETTINGS.bias * lasting);
  const following = new Following({ ...SETTINGS, ...(stream.circuit && { circuit: stream.circuit }) });
  const levelsAt =
    stream.levelsAt ?? ((minute: number) => AT_LIMIT.map((limit) => limit * stream.shareAt(minute)));
  const answers: OnlineAnswer[] = [];
  const courses = new Map<OnlineOutlook["course"], number>();
  let scatter = drawNormal(random);
  let before: readonly number[] = [0, 0, 0];
  for (let minute = 0; minute < stream.minutes; minute += 1) {
    const own = drawNormal(random);
    const kept = stream.correlation ?? 0;
    scatter = kept * scatter + Math.sqrt(1 - kept ** 2) * own;
    const factor = bias * Math.exp((stream.scatter ?? SETTINGS.repeatability) * scatter);
    const counted = levelsAt(minute).map((perMl) => countOf(random, perMl * 10, factor) / 10);
    const falling = counted.map((perMl, index) => Math.max(perMl, ...counted.slice(index)));
    const shown = stream.shows === undefined ? falling : stream.shows(minute, falling, before);
    if (shown === undefined) continue;
    before = shown;
    answers.push(
      following.take({
        minute,
        counts: [4, 6, 14].map((sizeUmC, index) => ({ sizeUmC, perMl: shown[index] as number })),
        temperatureC: stream.temperatureAt?.(minute) ?? 45,
        readings: 1,
      }),
    );
    const course =
      stream.circuit &&
      minute >= COURSE_FROM &&
      !courses.has("slower-than-rated") &&
      answers.at(-1)?.state === "not-yet"
        ? following.outlook()?.course
        : undefined;
    if (course !== undefined && !courses.has(course)) courses.set(course, minute);
  }
  const stoppedAt = answers.find(({ state }) => state === "clean")?.minute.minute;
  return { answers, stoppedAt, outlook: () => following.outlook(), courses };
}

/** Follows as many simulated counters, with the same random numbers for the same number of them. */
export function many(cases: number, stream: Stream): Followed[] {
  const random = seededRandom(cases);
  return Array.from({ length: cases }, () => follow(stream, random));
}

/** A level that falls from one share of the limits at a rate towards a floor. */
export const falling =
  (from: number, perMin: number, floor = 0) =>
  (minute: number) =>
    floor + (from - floor) * Math.exp(-perMin * minute);

/**
 * In what share of the cases a circuit was called clean in any minute in which it was outside; in what share it was called
 * clean at all, and in the middle after how many minutes.
 */
export function stopsOf(cases: number, stream: Stream) {
  const all = many(cases, stream);
  const stopped = all.flatMap(({ stoppedAt }) => stoppedAt ?? []);
  const isWrong = ({ answers }: Followed) =>
    answers.some(({ state, minute }) => state === "clean" && stream.shareAt(minute.minute) > 1);
  const wrong = all.filter(isWrong).length / cases;
  return {
    wrong,
    stopped: stopped.length / cases,
    median: stopped.length === 0 ? undefined : median(stopped),
  };
}

/** Circuits that are outside, at the least for most of the time. */
export const OUTSIDE: readonly (readonly [string, Stream])[] = [
  ["stays 2 % above its limits for two hours", { shareAt: () => 1.02, minutes: 120 }],
  ["levels off 2 % above them", { shareAt: falling(15, 0.15, 1.02), minutes: 120 }],
  [
    "the same, and what disturbs a minute lasts",
    { shareAt: falling(15, 0.15, 1.02), minutes: 120, correlation: 0.7 },
  ],
  [
    "falls slowly, and what disturbs a minute lasts",
    { shareAt: falling(15, 0.04), minutes: 120, correlation: 0.7 },
  ],
  ["is 20 % above them, and a bypass opens", { shareAt: (minute) => (minute < 12 ? 1.2 : 6), minutes: 60 }],
];

/** Circuits that get clean. */
export const CLEANING: readonly (readonly [string, Stream])[] = [
  ["falls by 14 % a minute", { shareAt: falling(15, 0.15), minutes: 150 }],
  ["falls by 4 % a minute", { shareAt: falling(15, 0.04), minutes: 150 }],
];

const from =
  (minute: number, before: (minute: number) => number, after: (minute: number) => number) => (at: number) =>
    at < minute ? before(at) : after(at);

/** What can happen to a counter or its circuit, each with the remark or the state that says so. */
export const EVENTS: readonly (readonly [string, string, Stream])[] = [
  [
    "scatters by 30 % where 10 % is stated, and stays 2 % above its limits",
    "",
    { shareAt: () => 1.02, minutes: 120, scatter: 0.3 },
  ],
  [
    "falls by 5 % a minute, with air in minutes 20 to 22",
    "air",
    {
      shareAt: falling(5, 0.05),
      minutes: 80,
      shows: (minute, [four = 0, six = 0, large = 0]) =>
        minute >= 20 && minute < 23 ? [four, six, Math.min(six, 6 * large)] : [four, six, large],
    },
  ],
  [
    "starts at 10 °C with its dirt settled, and is warm after 20 minutes",
    "cold",
    {
      shareAt: from(
        20,
        () => 15,
        (minute) => falling(15, 0.1)(minute - 20),
      ),
      minutes: 90,
      temperatureAt: (minute) => Math.min(45, 10 + minute),
      shows: (minute, perMl) => (minute < 20 ? perMl.map((value) => value / 50) : perMl),
    },
  ],
  [
    "is clean, and dirty after ten minutes without a reading",
    "gap",
    {
      shareAt: from(40, falling(15, 0.15), () => 1.3),
      minutes: 80,
      shows: (minute, perMl) => (minute >= 35 && minute < 45 ? undefined : perMl),
    },
  ],
  [
    "is at five times its limits, and the counter stands still at 0.3 of them",
    "stuck",
    { shareAt: () => 5, minutes: 40, shows: () => [390, 96, 12] },
  ],
  [
    "falls by 10 % a minute, and a bypass opens in minute 25",
    "risen",
    { shareAt: from(25, falling(15, 0.1), () => 6), minutes: 60 },
  ],
];

/** In which minute something was first said of each of the cases that it was said of, the earliest first. */
export function firstSaid(cases: number, stream: Stream, code: string): number[] {
  return many(cases, stream)
    .flatMap(({ answers }) => {
      const said = answers.find(
        ({ state, remarks }) => state === code || remarks.some((remark) => remark.code === code),
      );
      return said === undefined ? [] : [said.minute.minute];
    })
    .sort((a, b) => a - b);
}

/** A circuit that its carts file states in full, of 100 L with a fine element. */
const STATED: CounterCircuit = {
  volumeL: 100,
  flowLpm: 20,
  betas: [
    { sizeUmC: 4, beta: 20 },
    { sizeUmC: 6, beta: 100 },
    { sizeUmC: 14, beta: 1000 },
  ],
  port: "upstream",
};

/** A counter in a circuit that starts at fifteen times its limits and is not what its carts file states. */
function inCircuit(truth: Partial<CounterCircuit>, minutes: number, correlation = 0): Stream {
  const start = cumulativeCounts(
    [4, 6, 14].map((sizeUm, index) => ({ sizeUm, count: 15 * (AT_LIMIT[index] as number) })),
    1,
  );
  const plan = planCirculation({ ...STATED, ...truth, start, limits: LIMITS });
  const passesAt = (minute: number) => (minute + 0.5) / plan.minutesPerPass;
  const levelsOf = (level: typeof portLevel, minute: number) =>
    plan.channels.map((channel) => level(plan, channel, passesAt(minute)));
  return {
    shareAt: (minute) =>
      Math.max(...levelsOf(channelLevel, minute).map((perMl, index) => perMl / (AT_LIMIT[index] as number))),
    levelsAt: (minute) => levelsOf(portLevel, minute),
    circuit: STATED,
    minutes,
    correlation,
  };
}

/** Circuits that work as they are stated, or nearly so. */
export const SOUND: readonly (readonly [string, Stream])[] = [
  ["works as stated", inCircuit({}, 40)],
  ["the same, and what disturbs a minute lasts", inCircuit({}, 40, 0.7)],
  ["has a tenth less flow", inCircuit({ flowLpm: 18 }, 40)],
  [
    "has a slow zone of a tenth that nobody stated",
    inCircuit({ mixing: { kind: "two-zone", slowFraction: 0.1, exchangePerPass: 0.08 } }, 40),
  ],
];

/** Circuits in which something is wrong. */
export const FAULTY: readonly (readonly [string, Stream])[] = [
  ["has 60 % of the stated flow", inCircuit({ flowLpm: 12 }, 40)],
  ["lets 40 % around its element", inCircuit({ bypass: 0.4 }, 40)],
  ["has an element of β4(c) = 1.5", inCircuit({ betas: [{ sizeUmC: 4, beta: 1.5 }] }, 40)],
];
