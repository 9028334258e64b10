import fc from "fast-check";
import { parseTarget } from "../../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../../src/counts/index.js";
import type { CircuitCase } from "../../../src/fitness/index.js";
import type { CartState, Measured, Requirement, Sample } from "../../../src/samples/index.js";
import { CIRCUIT, SOUND } from "./bases.js";

/** Asks for everything that a requirement can ask for, so that no datum may be missing. */
export const FULL_REQUIREMENT: Requirement = {
  system: "main system",
  fluids: ["MIL-PRF-83282"],
  cleanliness: [parseTarget("17/15/12")],
  waterPpmMax: 200,
  acidMgKohPerGMax: 0.2,
  viscosity40Mm2PerS: { min: 12, max: 16 },
  chlorinePpmMax: 200,
  metalsPpmMax: { calcium: 50 },
  sampleAgeDaysMax: 30,
  identity: {
    viscosity40Mm2PerS: { min: 11, max: 17 },
    density15KgPerM3: { min: 830, max: 870 },
    chlorinePpmMax: 400,
    colours: ["red"],
  },
  sampling: {
    labelled: true,
    points: ["main-flow-line"],
    flowing: true,
    blank: true,
    replicatesMin: 2,
    countedMlMin: 20,
    lookedAt: true,
  },
  cartState: { ageDaysMax: 1 },
  confidence: {
    probability: 0.95,
    counts: { reproducibility: { kind: "relative", rsd: 0.1 } },
    water: { sd: 10 },
    acid: { sd: 0.01 },
    viscosity: { sd: 0.2 },
    chlorine: { sd: 10 },
    metals: { sd: 2 },
  },
};

const LIMITS_PER_ML = [1300, 320, 40] as const;
const SIZES_UM = [4, 6, 14] as const;

/** A factor that is often far inside, exactly at, just inside or just outside a limit. */
const aroundLimit = fc.oneof(
  { weight: 5, arbitrary: fc.constantFrom(0.3, 0.5, 0.6) },
  { weight: 2, arbitrary: fc.constantFrom(0.85, 0.95, 1 - 1e-9, 1, 1 + 1e-9, 1.02, 2) },
  { weight: 1, arbitrary: fc.integer({ min: 0, max: 3000 }).map((thousandths) => thousandths / 1000) },
);

/** Mostly what is wanted, sometimes something else. */
const mostly = <T>(usual: T, ...others: T[]) =>
  fc.oneof(
    { weight: 25, arbitrary: fc.constant(usual) },
    { weight: 1, arbitrary: fc.constantFrom(...others) },
  );

const upTo = (maximum: number): fc.Arbitrary<Measured> =>
  aroundLimit.map((factor) => ({ value: maximum * factor }));

/** Three falling counts per mL, each from its own limit, with the volume that was counted. */
function countsOf(factors: readonly number[], countedMl: number) {
  let above = Number.POSITIVE_INFINITY;
  const counts = LIMITS_PER_ML.map((limit, index) => {
    above = Math.min(above, limit * (factors[index] as number));
    return { sizeUm: SIZES_UM[index] as number, count: above };
  });
  return cumulativeCounts(counts, 1, "um(c)", { countedMl });
}

const sample: fc.Arbitrary<Sample> = fc
  .record({
    factors: fc.oneof(
      { weight: 3, arbitrary: fc.constantFrom<number[]>([0.3, 0.3, 0.3], [0.6, 0.5, 0.4]) },
      { weight: 1, arbitrary: fc.constantFrom<number[]>([5, 4, 3], [1.2, 1, 0.5]) },
      { weight: 1, arbitrary: fc.tuple(aroundLimit, aroundLimit, aroundLimit).map((all): number[] => all) },
    ),
    countedMl: mostly(30, 5),
    spread: mostly(1, 1.02, 2),
    blankShare: mostly(0.001, 0.02),
    waterPpm: upTo(200),
    acidMgKohPerG: upTo(0.2),
    chlorinePpm: upTo(200),
    calcium: upTo(50),
    viscosity: mostly(14, 12, 11.9, 12.1, 16.5, 18),
    density: mostly(850, 820, 995),
    fluid: mostly("MIL-PRF-83282", "MIL-PRF-5606"),
    samplePoint: mostly<Sample["samplePoint"]>("main-flow-line", "drain"),
    flowing: mostly(true, false),
    appearance: mostly<Sample["appearance"]>(["clear"], ["cloudy"], ["two-layers"], ["free-water"]),
    colour: mostly("red", "purple"),
    drawnOn: mostly("2026-03-04", "2026-02-11", "2026-02-12"),
  })
  .map(({ factors, countedMl, spread, blankShare, calcium, viscosity, density, ...rest }) => ({
    sample: "S-1",
    cart: "C-1",
    circuit: "1",
    ...rest,
    counts: countsOf(factors, countedMl),
    replicates: [
      countsOf(factors, countedMl),
      countsOf(
        factors.map((factor) => factor / spread),
        countedMl,
      ),
    ],
    blank: cumulativeCounts([{ sizeUm: 4, count: 1300 * blankShare }], 1),
    metalsPpm: { calcium },
    viscosity40Mm2PerS: { value: viscosity },
    density15KgPerM3: { value: density },
    origin: [{ file: "a.csv", rows: [2] }],
  }));

const state: fc.Arbitrary<CartState> = fc.record({
  on: mostly(SOUND.on, "2026-03-01"),
  indicator: mostly<"clear" | "persistent">("clear", "persistent"),
  level: mostly<"normal" | "alarm">("normal", "alarm"),
  temperature: mostly<"normal" | "tripped">("normal", "tripped"),
  seals: mostly<"sound" | "damaged">("sound", "damaged"),
});

/** Cases in which every datum is given, mostly good. */
export const fullCase: fc.Arbitrary<CircuitCase & { readonly samples: readonly [Sample] }> = fc
  .record({ sample, state })
  .map(({ sample: one, state: found }) => ({
    cart: "C-1",
    circuit: { ...CIRCUIT, state: found },
    requirement: FULL_REQUIREMENT,
    samples: [one] as const,
    unread: [],
    on: "2026-03-14",
  }));
