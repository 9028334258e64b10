import { expect, test } from "vitest";
import {
  assessIndicator,
  cleanDrop,
  dustMass,
  elementLoading,
  QUARTZ_SPHERES,
  type RatedDrop,
  removedBetween,
  sphereMassUg,
} from "../../src/circulation/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { viscosityLine } from "../../src/fluids/index.js";

const counts = cumulativeCounts(
  [
    { sizeUm: 4, count: 1000 },
    { sizeUm: 16, count: 100 },
  ],
  1,
);

test("mass by hand: 900 spheres of 8 µm and 100 of 32 µm in each mL", () => {
  const { mgPerL } = dustMass(counts, QUARTZ_SPHERES);
  expect(mgPerL).toBeCloseTo(900 * sphereMassUg(8, 2.65) + 100 * sphereMassUg(32, 2.65), 12);
  expect(dustMass(counts, { ...QUARTZ_SPHERES, shapeFactor: 0.5 }).mgPerL).toBeCloseTo(mgPerL / 2, 12);
});

test("the same counts per 100 mL weigh the same per litre", () => {
  const per100 = cumulativeCounts(
    counts.counts.map((entry) => ({ ...entry, count: entry.count * 100 })),
    100,
  );
  expect(dustMass(per100, QUARTZ_SPHERES).mgPerL).toBeCloseTo(dustMass(counts, QUARTZ_SPHERES).mgPerL, 12);
});

test("the test-dust relation takes 1400 particles above 10 µm(c) per mL as 10 mg/L", () => {
  const at10 = cumulativeCounts([{ sizeUm: 10, count: 1400 }], 1);
  expect(dustMass(at10, { kind: "test-dust", above10PerMlPerMgPerL: 140 }).mgPerL).toBeCloseTo(10, 12);
  const per100 = cumulativeCounts([{ sizeUm: 10, count: 140_000 }], 100);
  expect(dustMass(per100, { kind: "test-dust", above10PerMlPerMgPerL: 140 }).mgPerL).toBeCloseTo(10, 12);
  expect(() => dustMass(counts, { kind: "test-dust", above10PerMlPerMgPerL: 140 })).toThrow(
    "needs a count at 10 µm(c)",
  );
  expect(() => dustMass(at10, { kind: "test-dust", above10PerMlPerMgPerL: 0 })).toThrow(
    "above10PerMlPerMgPerL must be more than 0, not 0",
  );
});

test("an element's loading by hand: 6 g added to 50 of 80 g leave four circulations like it", () => {
  const oneMgPerL = dustMass(counts, QUARTZ_SPHERES).mgPerL;
  const scaled = (mgPerL: number) =>
    cumulativeCounts(
      counts.counts.map((entry) => ({ ...entry, count: (entry.count * mgPerL) / oneMgPerL })),
      1,
    );
  const loading = elementLoading({
    volumeL: 60,
    capacityG: 80,
    retainedBeforeG: 50,
    removed: scaled(100),
    removedPerPassAtEnd: scaled(1),
    dust: QUARTZ_SPHERES,
  });
  expect(loading.addedG).toBeCloseTo(6, 10);
  expect(loading.share).toBeCloseTo(0.7, 10);
  expect(loading.assumptions.map(({ code, source }) => [code, source])).toEqual([
    ["mass-of-counted-particles", "NIOSH-APPENDIX-A"],
    ["capacity-of-test-dust", "ISO-16889"],
  ]);
  expect(loading.circulationsLeft).toEqual({ kind: "times", value: 4 });
  expect(loading.passesLeft).toEqual({ kind: "times", value: expect.closeTo(400, 6) });
});

test("every mass says what it rests on", () => {
  expect(dustMass(counts, QUARTZ_SPHERES).assumptions).toEqual([
    {
      code: "mass-of-counted-particles",
      message:
        "the mass is that of the counted particles at a density of 2.65 g/cm³ and 1 of the volume of a sphere; particles below 4 µm(c) are not in it, and a few large ones weigh most of it",
      source: "NIOSH-APPENDIX-A",
    },
  ]);
  const at10 = cumulativeCounts([{ sizeUm: 10, count: 1400 }], 1);
  const [relation] = dustMass(at10, { kind: "test-dust", above10PerMlPerMgPerL: 140 }).assumptions;
  expect(relation).toMatchObject({ code: "mass-by-test-dust", source: "TEST-DUST-RELATION" });
  expect(relation?.message).toContain("140 particles above 10 µm per mL were taken as 1 mg/L");
});

test("an element that nothing comes to has no end in sight", () => {
  const nothing = cumulativeCounts([{ sizeUm: 4, count: 0 }], 1);
  const loading = elementLoading({
    volumeL: 60,
    capacityG: 80,
    retainedBeforeG: 0,
    removed: nothing,
    removedPerPassAtEnd: nothing,
    dust: QUARTZ_SPHERES,
  });
  expect(loading.circulationsLeft).toEqual({ kind: "adds-nothing" });
});

test("what the elements take out in ten passes is what is missing in the fluid", () => {
  const input = {
    volumeL: 60,
    flowLpm: 15,
    betas: [{ sizeUmC: 4, beta: 10 }],
    start: counts,
    limits: [{ channel: "4", fromUm: 4, limit: 1, volumeMl: 1 }],
  };
  expect(removedBetween(input, 0, 10).counts[0]?.count).toBeCloseTo(1000 * (1 - Math.exp(-9)), 9);
  expect(removedBetween(input, 2, 3).counts[1]?.count).toBeCloseTo(
    100 * (Math.exp(-1.8) - Math.exp(-2.7)),
    9,
  );
});

const rated: RatedDrop = { elementBar: 1, housingBar: 0.2, flowLpm: 50, mm2PerS: 14 };
const line = viscosityLine({ temperatureC: 40, mm2PerS: 14 }, { temperatureC: 100, mm2PerS: 3.45 });

test("the element's drop follows flow and viscosity, the housing's the square of the flow", () => {
  expect(cleanDrop(rated, 100, 28)).toBeCloseTo(1 * 2 * 2 + 0.2 * 4, 12);
  expect(cleanDrop(rated, 50, 14)).toBeCloseTo(1.2, 12);
});

test("an indicator that cold fluid alone trips is told from a loaded element, with the temperature to look again at", () => {
  const at = (temperatureC: number) =>
    assessIndicator({ rated, viscosity: line, flowLpm: 50, temperatureC, indicatorBar: 4 });
  expect(at(-10).meaning).toBe("cold-fluid-alone-explains-it");
  expect(at(15).meaning).toBe("cannot-tell");
  expect(at(45).meaning).toBe("element-is-loaded");
  const again = at(-10).lookAgainAt;
  if (again.kind !== "temperature") throw new Error("expected a temperature");
  expect(again.temperatureC).toBeGreaterThanOrEqual((85 - 32) / 1.8);
  expect(at(again.temperatureC).cleanDropBar).toBeLessThanOrEqual(2 + 1e-6);
  expect(at(-10).assumptions.map((entry) => entry.code)).toContain("viscosity-extrapolated");
});

test("where the clean drop allows it, the temperature to look again at is where half the setting is used", () => {
  const again = assessIndicator({
    rated,
    viscosity: line,
    flowLpm: 100,
    temperatureC: 40,
    indicatorBar: 4,
  }).lookAgainAt;
  if (again.kind !== "temperature") throw new Error("expected a temperature");
  const reading = assessIndicator({
    rated,
    viscosity: line,
    flowLpm: 100,
    temperatureC: again.temperatureC,
    indicatorBar: 4,
  });
  expect(reading.cleanDropBar).toBeCloseTo(2, 3);
});

test("an indication stands for the element only when the fluid is warm and a clean element would leave room", () => {
  const at = (temperatureC: number, flowLpm: number, cleanShare?: number) =>
    assessIndicator({
      rated,
      viscosity: line,
      flowLpm,
      temperatureC,
      indicatorBar: 4,
      ...(cleanShare !== undefined && { cleanShare }),
    });
  // At a low flow even cool fluid passes a clean element easily; the handbook still has it watched from 85 °F.
  expect(at(29, 5).cleanDropBar).toBeLessThan(1);
  expect([at(29, 5).meaning, at(29.5, 5).meaning]).toEqual(["cannot-tell", "element-is-loaded"]);
  // Warm, but a clean element already uses more than its share.
  const { cleanDropBar } = at(60, 50);
  const share = cleanDropBar / 4;
  expect(at(60, 50, share * 1.01).meaning).toBe("element-is-loaded");
  expect(at(60, 50, share * 0.99).meaning).toBe("cannot-tell");
  expect(at(60, 50).assumptions.map(({ code, source }) => [code, source])).toContainEqual([
    "clean-drop-scaled",
    "DROP-SCALING",
  ]);
  for (const bad of [0, 1, -0.1, 1.1, Number.NaN])
    expect(() => at(60, 50, bad)).toThrow(`cleanShare must be between 0 and 1, not ${bad}`);
});

test("the housing's share of the drop does not thin with the fluid, and the temperature to look again at takes it into account", () => {
  const housed = { elementBar: 0.7, housingBar: 0.25, flowLpm: 80, mm2PerS: 30 };
  const at = (temperatureC: number) =>
    assessIndicator({ rated: housed, viscosity: line, flowLpm: 120, temperatureC, indicatorBar: 2 });
  const again = at(-10).lookAgainAt;
  if (again.kind !== "temperature") throw new Error("expected a temperature");
  const { viscosityMm2PerS, cleanDropBar } = at(again.temperatureC);
  expect(cleanDropBar).toBeCloseTo(0.7 * 1.5 * (viscosityMm2PerS / 30) + 0.25 * 1.5 ** 2, 9);
  expect(again.temperatureC).toBeGreaterThan(40);
  expect(cleanDropBar).toBeCloseTo(1, 3);
});

test("a clean element that never leaves the indicator room says so", () => {
  expect(
    assessIndicator({ rated, viscosity: line, flowLpm: 400, temperatureC: 40, indicatorBar: 2 }).lookAgainAt,
  ).toEqual({ kind: "never" });
});

test("what cannot be is refused by name", () => {
  expect(() =>
    assessIndicator({ rated, viscosity: line, flowLpm: 0, temperatureC: 40, indicatorBar: 2 }),
  ).toThrow("flowLpm must be more than 0, not 0");
  expect(() =>
    elementLoading({
      volumeL: 60,
      capacityG: 0,
      retainedBeforeG: 0,
      removed: counts,
      removedPerPassAtEnd: counts,
      dust: QUARTZ_SPHERES,
    }),
  ).toThrow("capacityG must be more than 0, not 0");
  expect(() => dustMass(counts, { ...QUARTZ_SPHERES, densityGPerCm3: 0 })).toThrow(
    "the density of the dust must be more than 0, not 0",
  );
});
