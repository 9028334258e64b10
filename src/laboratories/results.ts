import { type CountSet, rawParticles, readBetween } from "../counts/index.js";
import { FLUID_BASES, tryParseFluidSpecification } from "../fluids/index.js";
import { type Measured, type MeasuredBy, measuredBy, type Sample } from "../samples/index.js";

/** A sample with who measured it, where that is not in its report. */
export interface LaboratorySample {
  readonly sample: Sample;
  /** Taken where the report names no laboratory or no counter. */
  readonly otherwise?: MeasuredBy;
}

/** What laboratories are compared in. */
export interface ComparedIn {
  /** Such as "particles above 4 µm(c)" or "water in phosphate ester". */
  readonly quantity: string;
  readonly field: "counts" | "waterPpm" | "acidMgKohPerG" | "viscosity40Mm2PerS";
  readonly sizeUm?: number;
  /** What the fluids are made of, for water, acid number and viscosity. */
  readonly base?: ComparedBase;
  /** Of a difference; of counts the ratio is compared. */
  readonly unit?: string;
}

/** Fluids whose water, acid number and viscosity are compared together. */
export type ComparedBase = "phosphate ester" | "hydrocarbon" | "fluid not stated";

/** One bottle that one laboratory measured. */
export interface Bottle {
  /** The fluid: cart, circuit, day and time of drawing. */
  readonly material: string;
  readonly laboratory: string;
  readonly value: number;
  /** Variance of the value from counting few particles, where the counted volume is known. */
  readonly countingVariance?: number;
  /** Single counts of the bottle. */
  readonly runs: readonly Run[];
}

/** One of several counts of a bottle. */
export type Run = Pick<Bottle, "value" | "countingVariance">;

/** The bottles with a result of one quantity. */
export interface QuantityBottles extends ComparedIn {
  readonly bottles: readonly Bottle[];
  /** Bottles whose counts are too small to be compared. */
  readonly tooFewParticles: number;
}

/**
 * Of fewer particles the logarithm is no longer normal, and 0 has none (common practice, no source). Where the counted
 * volume is not known, the count itself has to be as large.
 */
export const MIN_PARTICLES = 10;

const MEASURED = [
  { field: "waterPpm", says: "water", unit: "ppm" },
  { field: "acidMgKohPerG", says: "acid number", unit: "mg KOH/g" },
  { field: "viscosity40Mm2PerS", says: "viscosity at 40 °C", unit: "mm²/s" },
] as const;

/** A sample, the fluid it is of, and who measured it. */
export interface Placed {
  readonly sample: Sample;
  readonly material: string;
  readonly by: MeasuredBy;
}

/** Who measured a sample: as its report says, and otherwise as the caller does. */
export function whoMeasured({ sample, otherwise }: LaboratorySample): MeasuredBy {
  return { ...otherwise, ...measuredBy(sample) };
}

/**
 * What the bottles hold of each quantity, counts as natural logarithms.
 *
 * Counts of a size are compared by their ratio, so that clean and dirty fluid weigh alike. Water, acid number and viscosity
 * are compared by their difference, and each base of fluid by itself: water of phosphate ester scatters by more than
 * hydrocarbon holds. Limit values are left out.
 */
export function resultsOf(placed: readonly Placed[]): QuantityBottles[] {
  const sizes = new Set(
    placed.flatMap(({ sample }) => sample.counts?.counts.map(({ sizeUm }) => sizeUm) ?? []),
  );
  const counted = [...sizes].sort((a, b) => a - b).map((sizeUm) => countsAbove(sizeUm, placed));
  const bases = [...new Set(placed.map(({ sample }) => baseOf(sample)))].sort();
  const measured = MEASURED.flatMap(({ field, says, unit }) =>
    bases.map((base): QuantityBottles => {
      const bottles = placed.flatMap(({ sample, material, by }): Bottle[] => {
        const result: Measured | undefined = baseOf(sample) === base ? sample[field] : undefined;
        if (result === undefined || result.limit !== undefined || by.laboratory === undefined) return [];
        return [{ material, laboratory: by.laboratory, value: result.value, runs: [] }];
      });
      const quantity = base === "fluid not stated" ? `${says}, ${base}` : `${says} in ${base}`;
      return { quantity, field, base, unit, bottles, tooFewParticles: 0 };
    }),
  );
  return [...counted, ...measured].filter(({ bottles }) => bottles.length > 0);
}

function countsAbove(sizeUm: number, placed: readonly Placed[]): QuantityBottles {
  let tooFewParticles = 0;
  const bottles = placed.flatMap(({ sample, material, by }): Bottle[] => {
    const laboratory = counterOf(by);
    if (laboratory === undefined || sample.counts === undefined) return [];
    const value = logOf(sample.counts, sizeUm);
    if (value === "too-few") tooFewParticles += 1;
    if (value === undefined || value === "too-few") return [];
    const runs = (sample.replicates ?? []).map((run) => logOf(run, sizeUm));
    const all = runs.filter((run): run is Run => typeof run === "object");
    return [{ material, laboratory, ...value, runs: all.length === runs.length ? all : [] }];
  });
  return { quantity: `particles above ${sizeUm} µm(c)`, field: "counts", sizeUm, bottles, tooFewParticles };
}

/** The logarithm of a count per mL; undefined where the size was not measured. */
function logOf(set: CountSet, sizeUm: number): Run | "too-few" | undefined {
  const reading = readBetween(set, sizeUm, undefined);
  if (reading === undefined || reading.basis !== "measured") return undefined;
  const raw = rawParticles(set, reading);
  if (!((raw ?? reading.count) >= MIN_PARTICLES && reading.count > 0)) return "too-few";
  // A Poisson number scatters by its root; what a blank took away counts in what is left.
  return {
    value: Math.log(reading.count / set.volumeMl),
    ...(raw !== undefined && {
      countingVariance: raw / ((raw * reading.count) / (reading.count + reading.blank)) ** 2,
    }),
  };
}

/** A counter is compared by itself, with the laboratory that has it. */
function counterOf({ laboratory, counter }: MeasuredBy): string | undefined {
  if (counter === undefined) return laboratory;
  return laboratory === undefined ? `counter ${counter}` : `${laboratory} (counter ${counter})`;
}

/** The base of a fluid as it is written. */
function baseOf({ fluid }: Pick<Sample, "fluid">): ComparedBase {
  const family = fluid === undefined ? undefined : tryParseFluidSpecification(fluid);
  if (family === undefined) return "fluid not stated";
  return FLUID_BASES[family] === "phosphate ester" ? "phosphate ester" : "hydrocarbon";
}
