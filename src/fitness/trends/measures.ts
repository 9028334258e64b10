import { continuousCode, formatTarget, limitsOfTarget } from "../../cleanliness/index.js";
import { countAt } from "../../counts/index.js";
import type { TestMethodName } from "../../fluids/index.js";
import { frozen } from "../../provenance/index.js";
import {
  type CircuitEvent,
  isCounterRun,
  type Limit,
  type Measured,
  maximumOf,
  type Requirement,
  type Sample,
  sideOfElement,
} from "../../samples/index.js";
import type { Bound } from "../../trend/index.js";
import { compareDays } from "../days.js";

/** What siltbook follows over time. */
export const MEASURES = frozen([
  "water",
  "acid",
  "viscosity",
  "particles-4",
  "particles-6",
  "particles-14",
] as const);

/** See {@link MEASURES}. */
export type Measure = (typeof MEASURES)[number];

/** Particles in the three channels of ISO 4406. */
export const PARTICLE_MEASURES = [
  "particles-4",
  "particles-6",
  "particles-14",
] as const satisfies readonly Measure[];

/** What an event does to a measure: fluid that is new to it, a jump of unknown height, or nothing. */
type Effect = "new-fluid" | "step" | "none";

/** How a measure is read, and what events do to it. */
interface MeasureKind {
  readonly name: string;
  readonly unit: string;
  readonly effects: Record<CircuitEvent["kind"], Effect>;
  /** Size of particles in µm(c). */
  readonly sizeUm?: number;
  /** The method whose published precision tells whether two results differ. */
  readonly method?: TestMethodName;
}

const PARTICLE_EFFECTS = {
  "fluid-change": "new-fluid",
  "element-change": "step",
  opening: "step",
  "top-up": "step",
  dehydration: "step",
  hookup: "none",
  circulation: "none",
} as const;

const particles = (sizeUm: number): MeasureKind => ({
  name: `particles above ${sizeUm} µm(c)`,
  unit: "ISO 4406 codes",
  effects: PARTICLE_EFFECTS,
  sizeUm,
});

/** Names, units and the effect of events, for each measure. */
export const MEASURE_KINDS: Record<Measure, MeasureKind> = {
  water: {
    name: "water",
    unit: "ppm by mass",
    effects: {
      "fluid-change": "new-fluid",
      dehydration: "new-fluid",
      "top-up": "step",
      "element-change": "none",
      opening: "step",
      hookup: "none",
      circulation: "none",
    },
    method: "ASTM D6304",
  },
  acid: {
    name: "acid number",
    unit: "mg KOH/g",
    effects: {
      "fluid-change": "new-fluid",
      "top-up": "step",
      "element-change": "none",
      opening: "none",
      dehydration: "none",
      hookup: "none",
      circulation: "none",
    },
    method: "ASTM D664 used",
  },
  viscosity: {
    name: "viscosity at 40 °C",
    unit: "mm²/s",
    effects: {
      "fluid-change": "new-fluid",
      "top-up": "step",
      "element-change": "none",
      opening: "none",
      dehydration: "none",
      hookup: "none",
      circulation: "none",
    },
    method: "ASTM D445 at 40 °C",
  },
  "particles-4": particles(4),
  "particles-6": particles(6),
  "particles-14": particles(14),
};

/** A value of one sample as it takes part in a trend. */
export interface Reading {
  readonly sample: string;
  readonly drawnOn: string;
  readonly drawnTime?: string;
  /** In the unit of the measure; particles as a continuous ISO 4406 code, so that a doubling is one unit. */
  readonly value: number;
  readonly limit?: Limit;
  /** The side of the element on which the bottle was filled, where that is stated. */
  readonly port?: "upstream" | "downstream";
}

/** What a measure is a result of. */
export function resultOfMeasure(measure: Measure) {
  if (measure === "acid") return "acid number";
  if (measure === "viscosity") return "viscosity at 40 °C";
  return measure === "water" ? measure : "particles";
}

/** On which side of a limit value the true one lies. */
export function sideOf(limit: Limit): "below" | "above" {
  return limit === "below" || limit === "at-most" ? "below" : "above";
}

/** Whether at least that many samples have a measure. */
export function isMeasured(measure: Measure, samples: readonly Sample[], fewest: number): boolean {
  let found = 0;
  return samples.some((sample) => {
    if (measuredOf(measure, sample) !== undefined) found += 1;
    return found >= fewest;
  });
}

/**
 * The readings of a measure, oldest first.
 *
 * @param samples - samples of one circuit, in any order
 * @returns one reading for each sample that has the measure; none of a bottle that was filled from a drum or can, or
 *   of a run of a counter in the line, which is another method
 * @source ISO-4406
 */
export function readingsOf(measure: Measure, samples: readonly Sample[]): Reading[] {
  const readings: Reading[] = [];
  for (const sample of samples) {
    const measured = measuredOf(measure, sample);
    if (measured === undefined || sample.samplePoint === "supply-container" || isCounterRun(sample)) continue;
    const { sample: number, drawnOn, drawnTime, samplePoint } = sample;
    const port = sideOfElement(samplePoint);
    readings.push({
      ...{ sample: number, drawnOn, value: measured.value },
      ...(drawnTime !== undefined && { drawnTime }),
      ...(measured.limit !== undefined && { limit: measured.limit }),
      ...(port && { port }),
    });
  }
  return readings.sort((a, b) => compareDays(a.drawnOn, b.drawnOn) || a.sample.localeCompare(b.sample));
}

function measuredOf(measure: Measure, sample: Sample): Measured | undefined {
  switch (measure) {
    case "water":
      return sample.waterPpm;
    case "acid":
      return sample.acidMgKohPerG;
    case "viscosity":
      return sample.viscosity40Mm2PerS;
    default:
      return codeOf(sample, MEASURE_KINDS[measure].sizeUm as number);
  }
}

/** Below the scale "< 0" and beyond it "> 28": a code off the scale is a limit value, never a number. */
function codeOf({ counts }: Sample, sizeUm: number): Measured | undefined {
  const count = counts && countAt(counts, sizeUm);
  if (counts === undefined || count === undefined) return undefined;
  const code = continuousCode(count, counts.volumeMl);
  switch (code.kind) {
    case "code":
      return { value: code.value };
    case "below-scale":
      return { value: 0, limit: "below" };
    case "beyond-scale":
      return { value: 28, limit: "above" };
  }
}

/**
 * The bounds that a requirement sets to a measure.
 *
 * For particles it is the strictest limit at the measure's size; a limit on a size range cannot be read as one, see
 * {@link limitsNotFollowed}.
 *
 * @returns none when the requirement sets none
 */
export function boundsOf(measure: Measure, requirement: Requirement): Bound[] {
  switch (measure) {
    case "water":
      return bounds({ max: maximumOf(requirement.waterPpmMax) });
    case "acid":
      return bounds({ max: maximumOf(requirement.acidMgKohPerGMax) });
    case "viscosity":
      return bounds(requirement.viscosity40Mm2PerS ?? {});
    default: {
      const codes = requirement.cleanliness
        .flatMap(limitsOfTarget)
        .filter((limit) => limit.fromUm === MEASURE_KINDS[measure].sizeUm && limit.toUm === undefined)
        .flatMap((limit) => {
          const code = continuousCode(limit.limit, limit.volumeMl);
          return code.kind === "code" ? [code.value] : [];
        });
      return codes.length === 0 ? [] : bounds({ max: Math.min(...codes) });
    }
  }
}

/** The targets of a requirement that a trend of particles above one size cannot be compared with: their limits are for ranges. */
export function limitsNotFollowed(measure: Measure, { cleanliness }: Requirement): string[] {
  if (MEASURE_KINDS[measure].sizeUm === undefined) return [];
  return cleanliness
    .filter((target) => limitsOfTarget(target).every(({ toUm, fromUm }) => toUm !== undefined || fromUm > 14))
    .map(formatTarget);
}

function bounds({
  min,
  max,
}: {
  readonly min?: number | undefined;
  readonly max?: number | undefined;
}): Bound[] {
  return [
    ...(max === undefined ? [] : [{ limit: max, towards: "above" as const }]),
    ...(min === undefined ? [] : [{ limit: min, towards: "below" as const }]),
  ];
}
