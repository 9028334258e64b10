import { describe, expect, test } from "vitest";
import { limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { drawNormals, median, type RandomSource, seededRandom } from "../../src/numeric/index.js";
import { Following, type OnlineAnswer, type OnlineOutlook } from "../../src/online/index.js";
import { runs } from "../support/runs.js";

const LIMITS = limitsOfTarget(parseTarget("17/15/12"));
const SETTINGS = { limits: LIMITS, confidence: 0.95, countedMlPerMin: 10, repeatability: 0.1, bias: 0.2 };
/** Counts per mL at the limit of 17/15/12 in each channel. */
const AT_LIMIT = [1300, 320, 40] as const;

interface Stream {
  /** The level in the circuit, as a share of its limits, by minute. */
  readonly shareAt: (minute: number) => number;
  readonly minutes: number;
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

interface Followed {
  readonly answers: readonly OnlineAnswer[];
  /** The first minute in which it was called clean. */
  readonly stoppedAt: number | undefined;
  readonly outlook: () => OnlineOutlook | undefined;
}

/** Follows one simulated counter to its end. */
function follow(stream: Stream, random: RandomSource): Followed {
  const lasting = drawNormal(random);
  const bias = Math.exp(SETTINGS.bias * lasting);
  const following = new Following(SETTINGS);
  const answers: OnlineAnswer[] = [];
  let scatter = drawNormal(random);
  let before: readonly number[] = [0, 0, 0];
  for (let minute = 0; minute < stream.minutes; minute += 1) {
    const own = drawNormal(random);
    const kept = stream.correlation ?? 0;
    scatter = kept * scatter + Math.sqrt(1 - kept ** 2) * own;
    const factor = bias * Math.exp(SETTINGS.repeatability * scatter);
    const counted = AT_LIMIT.map(
      (limit) => countOf(random, limit * stream.shareAt(minute) * 10, factor) / 10,
    );
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
  }
  const stoppedAt = answers.find(({ state }) => state === "clean")?.minute.minute;
  return { answers, stoppedAt, outlook: () => following.outlook() };
}

function many(cases: number, stream: Stream): Followed[] {
  const random = seededRandom(cases);
  return Array.from({ length: cases }, () => follow(stream, random));
}

const falling =
  (from: number, perMin: number, floor = 0) =>
  (minute: number) =>
    floor + (from - floor) * Math.exp(-perMin * minute);

/** How often a circuit was called clean while it was outside, and after how many minutes it was called so in the middle. */
function stopsOf(cases: number, stream: Stream) {
  const all = many(cases, stream);
  const stopped = all.flatMap(({ stoppedAt }) => stoppedAt ?? []);
  const wrong = stopped.filter((minute) => stream.shareAt(minute) > 1).length / cases;
  return { wrong, stopped: stopped.length / cases, median: median(stopped), all };
}

describe("a circuit that is outside is called clean in at most one of twenty cases, however often one looks", () => {
  test.each<[string, Stream]>([
    ["it stays 2 % above its limits for two hours", { shareAt: () => 1.02, minutes: 120 }],
    ["it levels off 2 % above them", { shareAt: falling(15, 0.15, 1.02), minutes: 120 }],
    [
      "the same, and the scatter of a minute lasts",
      { shareAt: falling(15, 0.15, 1.02), minutes: 120, correlation: 0.7 },
    ],
    [
      "it falls slowly, and the scatter of a minute lasts",
      { shareAt: falling(15, 0.04), minutes: 120, correlation: 0.7 },
    ],
    ["it was clean, and a bypass opened", { shareAt: (minute) => (minute < 12 ? 1.2 : 6), minutes: 60 }],
  ])("%s", (_, stream) => {
    expect(stopsOf(runs(300), stream).wrong).toBeLessThanOrEqual(0.05);
  });
});

describe("a circuit that gets clean is called so soon after", () => {
  // 15 · e^(−0.15·t) is 1 after 18.1 minutes, and 0.676, what a bias of 20 % asks for, after 20.7.
  test.each<[string, number, number]>([
    ["falling fast", 0.15, 30],
    ["falling slowly", 0.04, 95],
  ])("%s (rate %s): in every case, in the middle before minute %s", (_, perMin, latest) => {
    const { stopped, median: middle } = stopsOf(runs(100), { shareAt: falling(15, perMin), minutes: 150 });
    expect(stopped).toBe(1);
    expect(middle).toBeLessThan(latest);
  });
});

describe("what happens to a counter is recognised", () => {
  const seen = (cases: number, stream: Stream, code: string) =>
    many(cases, stream).filter(({ answers }) =>
      answers.some(({ remarks }) => remarks.some((one) => one.code === code)),
    ).length / cases;

  test("a bypass that opens midway is a rise, in every case", () => {
    const opens = { shareAt: (minute: number) => (minute < 20 ? falling(15, 0.1)(minute) : 6), minutes: 40 };
    expect(seen(runs(50), opens, "risen")).toBe(1);
  });

  test("a sound circulation shows no rise in 98 of 100 cases", () => {
    expect(seen(runs(200), { shareAt: falling(15, 0.08), minutes: 60 }, "risen")).toBeLessThanOrEqual(0.02);
  });

  test("a counter that stands still is never a clean circuit", () => {
    const stuck: Stream = {
      shareAt: () => 0.5,
      minutes: 60,
      shows: (minute, perMl, before) => (minute > 1 ? before : perMl),
    };
    expect(seen(runs(50), stuck, "stuck")).toBe(1);
    const late = many(runs(50), stuck).filter(({ answers }) => answers.at(-1)?.state === "clean");
    expect(late.length).toBe(0);
  });

  test("a counter that counts nothing is never a clean circuit", () => {
    const dead: Stream = { shareAt: () => 5, minutes: 40, shows: () => [0, 0, 0] };
    expect(many(5, dead).every(({ stoppedAt }) => stoppedAt === undefined)).toBe(true);
    expect(seen(5, dead, "counts-nothing")).toBe(1);
  });

  test("minutes below 29 °C never make it clean", () => {
    const cold: Stream = { shareAt: () => 0.2, minutes: 60, temperatureAt: () => 20 };
    expect(many(5, cold).every(({ stoppedAt }) => stoppedAt === undefined)).toBe(true);
  });

  test("air is large particles without small ones", () => {
    const air: Stream = {
      shareAt: falling(5, 0.05),
      minutes: 30,
      shows: (minute, [four = 0, six = 0, large = 0]) =>
        minute === 20 ? [four, six, Math.min(six, 6 * large)] : [four, six, large],
    };
    expect(seen(runs(50), air, "air")).toBeGreaterThan(0.9);
  });
});

describe("counts that do not come down", () => {
  test.each([
    ["they stay", () => 5, "not-falling"],
    ["they level off at twice the limits", falling(15, 0.3, 2), "levelling-off"],
    ["they fall", falling(15, 0.1), "falling"],
  ] as const)("%s: %#", (_, shareAt, course) => {
    const random = seededRandom(7);
    const outlooks = Array.from(
      { length: 10 },
      () => follow({ shareAt, minutes: 24 }, random).outlook()?.course,
    );
    expect(outlooks.filter((one) => one === course).length).toBeGreaterThanOrEqual(4);
  });
});
