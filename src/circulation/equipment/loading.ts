import type { CountSet } from "../../counts/index.js";
import { checkNumbers } from "../../numeric/index.js";
import { type Assumption, frozen } from "../../provenance/index.js";

/** How counts become mass. */
export type DustMass =
  | {
      readonly kind: "particles";
      /** Density of the dust in g/cm³; 2.65 for quartz. */
      readonly densityGPerCm3: number;
      /** Volume of a particle as a fraction of the sphere of its size, more than 0; 1 for spheres. */
      readonly shapeFactor: number;
    }
  | {
      readonly kind: "test-dust";
      /** Particles above 10 µm(c) per mL that 1 mg/L shows; 140 is recalled for the older air-cleaner dust. */
      readonly above10PerMlPerMgPerL: number;
    };

/** Quartz spheres, the usual stand-in for dust. */
export const QUARTZ_SPHERES = frozen({
  kind: "particles",
  densityGPerCm3: 2.65,
  shapeFactor: 1,
} as const satisfies DustMass);

/** Mass of the counted particles. */
export interface DustReading {
  readonly mgPerL: number;
  readonly assumptions: readonly Assumption[];
}

/** How often something can still be done, or that it adds nothing to the element. */
export type WorkLeft = { readonly kind: "times"; readonly value: number } | { readonly kind: "adds-nothing" };

/** How far an element is loaded, in grams, and how much work is left in it. */
export interface ElementLoading {
  readonly retainedBeforeG: number;
  readonly addedG: number;
  readonly capacityG: number;
  /** Held after this circulation divided by the capacity. */
  readonly share: number;
  /** Whole circulations like this one that are left after it. */
  readonly circulationsLeft: WorkLeft;
  /** Passes that are left at the level the circuit ends at, if it stays there. */
  readonly passesLeft: WorkLeft;
  readonly assumptions: readonly Assumption[];
}

/**
 * Mass of one sphere in micrograms.
 *
 * @param diameterUm - µm
 * @param densityGPerCm3 - g/cm³
 * @source NIOSH-APPENDIX-A
 * @example
 * 1 / sphereMassUg(10, 2.65); // => 720.7
 */
export function sphereMassUg(diameterUm: number, densityGPerCm3: number): number {
  return ((4 * Math.PI) / 3) * (diameterUm / 2) ** 3 * densityGPerCm3 * 1e-6;
}

/**
 * Mass concentration of the counted particles.
 *
 * Particles between two sizes are taken at the size that halves the interval on a logarithmic scale; those above the
 * largest size at that size times the same step as between the two sizes before it.
 *
 * @param counts - cumulative counts on the µm(c) scale
 * @param dust - density and shape, or the test-dust relation
 * @returns mg per litre of fluid
 * @throws RangeError for a density or factor that is not above 0, or when the test-dust relation has no count at 10 µm(c)
 * @source NIOSH-APPENDIX-A
 * @source TEST-DUST-RELATION
 */
export function dustMass(counts: CountSet, dust: DustMass): DustReading {
  if (dust.kind === "test-dust") return fromTestDust(counts, dust.above10PerMlPerMgPerL);
  const { densityGPerCm3, shapeFactor } = dust;
  checkNumbers("positive", {
    "the density of the dust": densityGPerCm3,
    "the shape factor of the dust": shapeFactor,
  });
  const sizes = counts.counts.map((entry) => entry.sizeUm);
  const steps = sizes.slice(1).map((size, index) => Math.sqrt(size / (sizes[index] as number)));
  const last = steps.at(-1) ?? 1;
  const ugPerMl = counts.counts.reduce((sum, { sizeUm, count }, index) => {
    const between = count - (counts.counts[index + 1]?.count ?? 0);
    const diameterUm = sizeUm * (steps[index] ?? last);
    return sum + (between / counts.volumeMl) * sphereMassUg(diameterUm, densityGPerCm3) * shapeFactor;
  }, 0);
  return {
    mgPerL: ugPerMl,
    assumptions: [
      {
        code: "mass-of-counted-particles",
        message:
          `the mass is that of the counted particles at a density of ${densityGPerCm3} g/cm³ and ${shapeFactor} of the volume of ` +
          `a sphere; particles below ${sizes[0]} µm(c) are not in it, and a few large ones weigh most of it`,
        source: "NIOSH-APPENDIX-A",
      },
    ],
  };
}

function fromTestDust(counts: CountSet, above10PerMlPerMgPerL: number): DustReading {
  const count = counts.counts.find((entry) => entry.sizeUm === 10)?.count;
  if (count === undefined) throw new RangeError("the test-dust relation needs a count at 10 µm(c)");
  checkNumbers("positive", { above10PerMlPerMgPerL });
  return {
    mgPerL: count / counts.volumeMl / above10PerMlPerMgPerL,
    assumptions: [
      {
        code: "mass-by-test-dust",
        message: `${above10PerMlPerMgPerL} particles above 10 µm per mL were taken as 1 mg/L, a relation of the older test dust, from memory; service dirt is not test dust`,
        source: "TEST-DUST-RELATION",
      },
    ],
  };
}

/** What the loading of an element is computed from. */
export interface LoadingInput {
  readonly volumeL: number;
  /** Rated retained capacity in grams of test dust. */
  readonly capacityG: number;
  readonly retainedBeforeG: number;
  /** Particles that this circulation takes out, per mL of circuit volume, as cumulative counts. */
  readonly removed: CountSet;
  /** Particles that one more pass at the final level takes out, per mL of circuit volume. */
  readonly removedPerPassAtEnd: CountSet;
  readonly dust: DustMass;
}

/**
 * How much of its capacity an element has used after a circulation.
 *
 * @throws RangeError for a capacity that is not above 0 or a retained mass below 0
 */
export function elementLoading(input: LoadingInput): ElementLoading {
  const { capacityG, retainedBeforeG, volumeL } = input;
  checkNumbers("positive", { volumeL, capacityG });
  checkNumbers("notNegative", { retainedBeforeG });
  const added = dustMass(input.removed, input.dust);
  const addedG = (added.mgPerL * volumeL) / 1000;
  const perPassG = (dustMass(input.removedPerPassAtEnd, input.dust).mgPerL * volumeL) / 1000;
  const left = capacityG - retainedBeforeG - addedG;
  return {
    retainedBeforeG,
    addedG,
    capacityG,
    share: (retainedBeforeG + addedG) / capacityG,
    circulationsLeft: workLeft(left, addedG, Math.floor),
    passesLeft: workLeft(left, perPassG, (times) => times),
    assumptions: [
      ...added.assumptions,
      {
        code: "capacity-of-test-dust",
        message:
          "the capacity was measured with test dust at a steady flow; in service an element clogs earlier on fine or gummy dirt",
        source: "ISO-16889",
      },
    ],
  };
}

function workLeft(leftG: number, eachG: number, count: (times: number) => number): WorkLeft {
  return eachG > 0 ? { kind: "times", value: Math.max(0, count(leftG / eachG)) } : { kind: "adds-nothing" };
}
