// Where an interim sample tells most, by the balance of a start, a rate k and a floor, solved by hand.
import { expect, test } from "vitest";
import {
  type CirculationInput,
  type InterimTimeInput,
  mostInformativeMinutes,
  planCirculation,
} from "../../src/circulation/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";

// A pass takes 4 min and β is 10: k = 0.9/4 per minute.
const CIRCUIT: CirculationInput = {
  volumeL: 60,
  flowLpm: 15,
  betas: [{ sizeUmC: 4, beta: 10 }],
  start: cumulativeCounts([{ sizeUm: 4, count: 20_000 }], 1),
  limits: [{ channel: "4", fromUm: 4, limit: 1300, volumeMl: 1 }],
};
const K = 0.9 / 4;
const RELATIVE = { countedMl: 1e12, laboratory: 0.2 };
const COUNTING = { countedMl: 20, laboratory: 0 };
const timeOf = (more: Partial<InterimTimeInput> = {}, circuit: Partial<CirculationInput> = {}) =>
  mostInformativeMinutes({
    ...{ plan: planCirculation({ ...CIRCUIT, ...circuit }), untilMinutes: 16, ...RELATIVE },
    ...more,
  });

test("without a floor and with a scatter in proportion: where e^(k·t) = (e^(k·T) − 1)/(k·T)", () => {
  for (const untilMinutes of [8, 16, 40]) {
    const byHand = Math.log(Math.expm1(K * untilMinutes) / (K * untilMinutes)) / K;
    // Nobody draws to the hundredth part of the time.
    expect(Math.abs(timeOf({ untilMinutes }) - byHand)).toBeLessThanOrEqual(untilMinutes / 100);
  }
});

/**
 * What three moments fix of level = floor + a·e^(−k·t): the determinant of the slopes (1, −a·t·e^(−k·t), 1 − e^(−k·t)) by start,
 * rate and floor, over the scatter of each.
 */
function fixedBy(
  moments: readonly [number, number, number],
  floor: number,
  { countedMl, laboratory }: typeof RELATIVE,
) {
  const a = 20_000 - floor;
  const fallen = moments.map((t) => Math.exp(-K * t)) as [number, number, number];
  const rows = moments.map((t, index) => [fallen[index], -a * t * (fallen[index] as number), 1]) as [
    number[],
    number[],
    number[],
  ];
  // A column may be added to another: (1 − e) + e = 1.
  const [[a1, b1], [a2, b2], [a3, b3]] = rows as unknown as [
    [number, number],
    [number, number],
    [number, number],
  ];
  const determinant = (a2 - a1) * (b3 - b1) - (a3 - a1) * (b2 - b1);
  const scatter = fallen.map((e) => {
    const level = floor + a * e;
    return Math.sqrt(level / countedMl + (laboratory * level) ** 2);
  });
  return Math.abs(determinant) / scatter.reduce((product, one) => product * one);
}

// 4·10^6 particles a minute into 15 L/min, of which 0.9 are held back, hold the level at 296 per mL.
const INGRESS = {
  ingress: [{ sizeUmC: 4, particlesPerMin: 4e6 }],
  limits: [{ channel: "4", fromUm: 4, limit: 3000, volumeMl: 1 }],
};

test.each([
  ["a scatter in proportion", RELATIVE, 0, {}, []],
  ["the scatter of counting", COUNTING, 0, {}, []],
  ["both", { countedMl: 0.01, laboratory: 0.1 }, 0, {}, []],
  ["a floor and a scatter in proportion", RELATIVE, 4e6 / 13_500, INGRESS, []],
  ["a floor and the scatter of counting", COUNTING, 4e6 / 13_500, INGRESS, []],
  ["a sample drawn already", RELATIVE, 0, {}, [4]],
  ["a sample drawn already, and a floor", COUNTING, 4e6 / 13_500, INGRESS, [3]],
] as const)(
  "with %s no other moment fixes start, rate and floor better",
  (_, lab, floor, circuit, drawnMinutes) => {
    const found = timeOf({ ...lab, drawnMinutes }, circuit);
    // Of several samples, each three of them fix something.
    const score = (t: number) => {
      const all = [0, ...drawnMinutes, t, 16];
      const triples = all.flatMap((one, i) =>
        all.slice(i + 1).flatMap((two, j) => all.slice(i + j + 2).map((three) => [one, two, three] as const)),
      );
      return triples.reduce((sum, moments) => sum + fixedBy(moments, floor, lab) ** 2, 0);
    };
    const earliest = Math.max(0, ...drawnMinutes);
    const step = (16 - earliest) / 100;
    for (let index = 1; index < 100; index += 1)
      expect(score(found)).toBeGreaterThanOrEqual(score(earliest + index * step) * (1 - 1e-9));
  },
);

test("lies between the last sample, or the earliest moment, and the verifying sample", () => {
  expect(timeOf({ notBeforeMinutes: 14 })).toBeGreaterThan(14);
  expect(timeOf({ drawnMinutes: [15] })).toBeGreaterThan(15);
  expect(timeOf({ drawnMinutes: [15], notBeforeMinutes: 5 })).toBeLessThan(16);
  for (const more of [{ drawnMinutes: [3, 16] }, { notBeforeMinutes: 16 }])
    expect(() => timeOf(more)).toThrow("untilMinutes must be later than the 16 minutes before it, not 16");
});

test("ingress that lifts the governing channel leaves no moment without a number", () => {
  // 100 per mL rise to 296.
  const rising = { ...INGRESS, start: cumulativeCounts([{ sizeUm: 4, count: 100 }], 1) };
  const found = timeOf({}, rising);
  expect(found).toBeGreaterThan(4);
  expect(found).toBeLessThan(14);
});
