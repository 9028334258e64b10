import { countAt, countBetween } from "../../counts/index.js";
import { type Assumption, frozen } from "../../provenance/index.js";
import type { Ingress } from "../../samples/index.js";
import { formatShare } from "../../units/index.js";
import { TYPICAL_UNCERTAINTY, type Uncertainty } from "../confidence/uncertainty.js";
import type { CirculationInput } from "../model/circuit.js";
import type { Mixing } from "../model/mixing.js";

/** The confidence that a time is to have, and what it is computed from. */
export interface RequiredConfidence {
  /** Probability that the verifying bottle is accepted, above 0 and below 1. */
  readonly confidence: number;
  readonly uncertainty: Uncertainty;
  readonly seed: number;
  readonly draws: number;
}

/** Confidence of a time when none is named. */
const DEFAULT_CONFIDENCE = 0.95;

const DEFAULT_SEED = 1;

/** With this number the probability of the time is known to 0.7 %, and a fleet of thousands can be judged. */
const GO_BY_DRAWS = 1000;

/** A modest slow zone, for circuits whose mixing nobody states: common practice, no source. */
export const CUSTOMARY_MIXING = frozen({
  kind: "two-zone",
  slowFraction: 0.1,
  exchangePerPass: 0.08,
} as const satisfies Mixing);

/** Relative standard uncertainty on the odds of {@link CUSTOMARY_MIXING}: common practice, no source. */
const CUSTOMARY_SLOW_ZONE = 0.5;

/**
 * Dirt that enters while nobody says how much, of the sizes that the sample shows: as much as would hold the circuit at
 * this share of its limits with an ideal element. Common practice, no source.
 */
export const CUSTOMARY_INGRESS_SHARE = 0.05;

/** Relative standard uncertainty of {@link CUSTOMARY_INGRESS_SHARE}: a circuit in twenty takes in four times as much. Common practice, no source. */
const CUSTOMARY_INGRESS = 1;

/** A circuit with everything that matters to its time, stated or customary. */
export interface CustomaryCase {
  readonly input: CirculationInput;
  readonly required: RequiredConfidence;
  readonly assumptions: readonly Assumption[];
}

/**
 * Completes what is stated of a circuit and its uncertainties with what is customary. Whatever is stated takes the place
 * of its customary value: a stated volume uncertainty holds the hoses, a stated bypass the leakage past the seal.
 *
 * @source PRACTICE
 */
export function withCustomaryValues(
  stated: CirculationInput,
  given: Partial<RequiredConfidence> = {},
): CustomaryCase {
  const { uncertainty: known = {} } = given;
  const bypassIsStated = [stated, ...(stated.inSeries ?? [])].some(({ bypass }) => bypass !== undefined);
  // Plug flow is the shortest thinkable, and no circuit does it: nobody goes by it.
  const mixing = stated.mixing?.kind === "plug" ? undefined : stated.mixing;
  const customary = {
    ...TYPICAL_UNCERTAINTY,
    ...(mixing === undefined && { slowZone: CUSTOMARY_SLOW_ZONE }),
    ...(stated.ingress === undefined && { ingress: CUSTOMARY_INGRESS }),
    ...(known.volume !== undefined && { hoses: 0 }),
    ...(bypassIsStated && { leakage: 0 }),
  };
  const taken = Object.entries(customary).filter(
    ([name, value]) => known[name as keyof Uncertainty] === undefined && value > 0,
  );
  const assumptions: Assumption[] = [];
  if (taken.length > 0) assumptions.push(typical(taken));
  if (mixing === undefined) assumptions.push(stated.mixing === undefined ? SLOW_ZONE_TAKEN : NO_PLUG);
  if (stated.ingress === undefined) assumptions.push(INGRESS_TAKEN);
  return {
    input: {
      ...stated,
      mixing: mixing ?? CUSTOMARY_MIXING,
      ingress: stated.ingress ?? customaryIngress(stated),
    },
    required: {
      confidence: given.confidence ?? DEFAULT_CONFIDENCE,
      uncertainty: { ...customary, ...known },
      seed: given.seed ?? DEFAULT_SEED,
      draws: given.draws ?? GO_BY_DRAWS,
    },
    assumptions,
  };
}

/** The start, brought down until every limit is met, times the customary share, as particles that enter with each pass. */
function customaryIngress({ start, limits, flowLpm }: CirculationInput): Ingress[] {
  const allowed = limits.flatMap(({ fromUm, toUm, limit, volumeMl }) => {
    const count = toUm === undefined ? countAt(start, fromUm) : countBetween(start, fromUm, toUm);
    return count !== undefined && count > 0 ? [limit / volumeMl / (count / start.volumeMl)] : [];
  });
  if (allowed.length === 0) return [];
  const scale = CUSTOMARY_INGRESS_SHARE * Math.min(...allowed);
  return start.counts.map(({ sizeUm, count }) => ({
    sizeUmC: sizeUm,
    particlesPerMin: scale * (count / start.volumeMl) * ML_PER_L * flowLpm,
  }));
}

const ML_PER_L = 1000;

const SLOW_ZONE_TAKEN: Assumption = frozen({
  code: "customary-mixing",
  message:
    `how the circuit mixes was not stated, so the time to go by includes a slow zone of ${formatShare(CUSTOMARY_MIXING.slowFraction)} ` +
    `of the volume that trades ${formatShare(CUSTOMARY_MIXING.exchangePerPass)} of the circuit volume per pass`,
  source: "PRACTICE",
});

const NO_PLUG: Assumption = frozen({
  ...SLOW_ZONE_TAKEN,
  message: SLOW_ZONE_TAKEN.message.replace(
    "was not stated",
    "is not known from plug flow, which no circuit does",
  ),
});

const INGRESS_TAKEN: Assumption = frozen({
  code: "customary-ingress",
  message:
    "ingress was not stated, so the time to go by includes as much as would hold the circuit at " +
    `${formatShare(CUSTOMARY_INGRESS_SHARE)} of its limits with an ideal element`,
  source: "PRACTICE",
});

const NAMES: Record<keyof typeof TYPICAL_UNCERTAINTY, string> = {
  volume: "volume",
  flow: "flow",
  beta: "β",
  ingress: "ingress",
  slowZone: "slow zone",
  hoses: "hoses up to",
  leakage: "leakage past the seal up to",
  laboratory: "laboratory",
  countedMl: "counted",
};

function typical(taken: readonly (readonly [string, number])[]): Assumption {
  const texts = taken.map(([name, value]) => {
    const words = NAMES[name as keyof typeof NAMES];
    return name === "countedMl" ? `${value} mL ${words}` : `${words} ${formatShare(value)}`;
  });
  return {
    code: "typical-uncertainty",
    message: `uncertainties that were not stated; usual values were taken: ${texts.join(", ")}`,
    source: "PRACTICE",
  };
}
