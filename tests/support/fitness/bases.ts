import { parseTarget } from "../../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../../src/counts/index.js";
import type { CircuitCase, ReasonCode, VerdictName } from "../../../src/fitness/index.js";
import type {
  CartState,
  Circuit,
  CirculatingCircuit,
  Requirement,
  Sample,
} from "../../../src/samples/index.js";

/** One case: what is changed, the verdict it must lead to, and a reason that calls for that verdict. */
export type Case = readonly [string, Partial<CircuitCase>, VerdictName, ReasonCode];

export const CIRCUIT: CirculatingCircuit = {
  circuit: "1",
  serves: "main system",
  fluid: "MIL-PRF-83282",
  volumeL: 60,
  flowLpm: 45,
  element: {
    position: "pressure",
    betas: [
      { sizeUmC: 4, beta: 20 },
      { sizeUmC: 6, beta: 100 },
      { sizeUmC: 14, beta: 1000 },
    ],
  },
  events: [],
};

/** Asks for the least that a requirement can ask for, and for no confidence. */
export const REQUIREMENT: Requirement = {
  system: "main system",
  fluids: ["MIL-PRF-83282"],
  cleanliness: [parseTarget("17/15/12")],
  waterPpmMax: 200,
  acidMgKohPerGMax: 0.2,
  sampleAgeDaysMax: 30,
};

/** Cumulative counts per mL at 4, 6, 14, 21, 38 and 70 µm(c), as many as are given. */
export function counts(...perMl: number[]) {
  return countedIn(undefined, ...perMl);
}

/** The same, with the volume in mL that went through the counter. */
export function countedIn(countedMl: number | undefined, ...perMl: number[]) {
  const sizes = [4, 6, 14, 21, 38, 70];
  return cumulativeCounts(
    perMl.map((count, index) => ({ sizeUm: sizes[index] as number, count })),
    1,
    "um(c)",
    countedMl === undefined ? undefined : { countedMl },
  );
}

/** A sample exactly at every limit, ten days old on 14 March 2026. */
export const CLEAN: Sample = {
  sample: "S-1",
  cart: "C-1",
  circuit: "1",
  drawnOn: "2026-03-04",
  fluid: "MIL-PRF-83282D",
  counts: counts(1300, 320, 40),
  waterPpm: { value: 200 },
  acidMgKohPerG: { value: 0.2 },
  origin: [{ file: "a.csv", rows: [2] }],
};

export const SOUND: CartState = {
  on: "2026-03-13",
  indicator: "clear",
  level: "normal",
  temperature: "normal",
  seals: "sound",
};

/** One sample that differs from {@link CLEAN}. */
export const sample = (change: Partial<Sample>): Partial<CircuitCase> => ({
  samples: [{ ...CLEAN, ...change }],
});

/** A sample without some of its results. */
export function without(base: Sample, ...keys: (keyof Sample)[]): Sample {
  return Object.fromEntries(
    Object.entries(base).filter(([key]) => !keys.includes(key as keyof Sample)),
  ) as Sample;
}

/** A requirement that asks for more than {@link REQUIREMENT}, and a sample that differs from {@link CLEAN}. */
export const asking = (more: Partial<Requirement>, change: Partial<Sample> = {}): Partial<CircuitCase> => ({
  requirement: { ...REQUIREMENT, ...more },
  samples: [{ ...CLEAN, ...change }],
});

export const events = (...list: Circuit["events"]): Partial<CircuitCase> => ({
  circuit: { ...CIRCUIT, events: list },
});

export const inState = (change: Partial<CartState>): Partial<CircuitCase> => ({
  circuit: { ...CIRCUIT, state: { ...SOUND, ...change } },
});

/** The case of {@link CLEAN} on 14 March 2026 with a change. */
export function caseOf(change: Partial<CircuitCase>): CircuitCase {
  return {
    cart: "C-1",
    circuit: CIRCUIT,
    requirement: REQUIREMENT,
    samples: [CLEAN],
    unread: [],
    on: "2026-03-14",
    ...change,
  };
}
