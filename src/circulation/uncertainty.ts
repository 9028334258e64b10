import { type Assumption, joinAssumptions } from "../provenance/index.js";
import type { Bin, CircuitOfBins } from "./circuit.js";
import { GammaDraws, NormalDraws } from "./draws.js";
import type { RandomSource } from "./random.js";
import { type Factors, statedFactors } from "./solver.js";

/**
 * How well the stated values are known. What is absent is taken as exact.
 *
 * Relative standard uncertainties: 0.05 stands for one standard deviation of 5 %.
 */
export interface Uncertainty {
  readonly volume?: number;
  readonly flow?: number;
  /** On β − 1, the same for all sizes and elements: a good or a poor specimen is so at every size. */
  readonly beta?: number;
  readonly ingress?: number;
  /** On the odds s/(1 − s) of the slow zone. */
  readonly slowZone?: number;
  /** Reproducibility of the laboratory, on all counts of the sample together. */
  readonly laboratory?: number;
  /** Volume in mL that was really counted, which fixes the counting statistics of the start. */
  readonly countedMl?: number;
}

/**
 * Values for when an answer with a confidence is asked for and nothing is known: common practice, no source. They are
 * there to be replaced.
 */
export const TYPICAL_UNCERTAINTY = {
  volume: 0.1,
  flow: 0.05,
  beta: 0.3,
  ingress: 0.5,
  slowZone: 0.3,
  laboratory: 0.2,
  countedMl: 20,
} as const satisfies Uncertainty;

/** The uncertain quantities that are one factor for the whole circuit. */
export const SHARED_FACTORS = ["volume", "flow", "beta", "ingress", "slowZone"] as const;

/** How far a quantity that cannot be negative spreads: the standard deviation of its logarithm. */
export function logSpread(relative: number): number {
  return Math.sqrt(Math.log1p(relative * relative));
}

/** What is known of a bin's count before counting: Jeffreys' prior adds half a particle. */
export const HALF_COUNT = 0.5;

/** Draws cases, one after the other, into the same {@link Factors}. */
export class CaseDrawer {
  readonly factors: Factors;
  private readonly normal: NormalDraws;
  private readonly spreads: { readonly [name in (typeof SHARED_FACTORS)[number]]: number };
  private readonly laboratory: number;
  private readonly counted: readonly GammaDraws[] | undefined;
  private readonly countedMl: number;
  private readonly stated: Float64Array;

  constructor(circuit: CircuitOfBins, uncertainty: Uncertainty, random: RandomSource) {
    this.factors = statedFactors(circuit);
    this.stated = Float64Array.from(this.factors.startPerMl);
    this.normal = new NormalDraws(random);
    this.spreads = {
      volume: logSpread(uncertainty.volume ?? 0),
      flow: logSpread(uncertainty.flow ?? 0),
      beta: logSpread(uncertainty.beta ?? 0),
      ingress: logSpread(uncertainty.ingress ?? 0),
      slowZone: logSpread(uncertainty.slowZone ?? 0),
    };
    this.laboratory = logSpread(uncertainty.laboratory ?? 0);
    const { countedMl } = uncertainty;
    this.countedMl = countedMl ?? 1;
    this.counted =
      countedMl === undefined
        ? undefined
        : circuit.bins.map((bin: Bin) => new GammaDraws(bin.startPerMl * countedMl + HALF_COUNT, random));
  }

  /** Draws the next case: medians are the stated values, spreads log-normal, counts as Poisson statistics leave them. */
  draw(): Factors {
    const { factors, stated, spreads } = this;
    factors.volume = this.factor(spreads.volume);
    factors.flow = this.factor(spreads.flow);
    factors.beta = this.factor(spreads.beta);
    factors.ingress = this.factor(spreads.ingress);
    factors.slowZone = this.factor(spreads.slowZone);
    const laboratory = this.factor(this.laboratory);
    for (let index = 0; index < stated.length; index += 1) {
      const counted = this.counted?.[index];
      const perMl = counted === undefined ? (stated[index] as number) : counted.next() / this.countedMl;
      factors.startPerMl[index] = perMl * laboratory;
    }
    return factors;
  }

  private factor(spread: number): number {
    return spread === 0 ? 1 : Math.exp(spread * this.normal.next());
  }
}

/** Whether the start counts themselves are uncertain. */
export function startIsUncertain(uncertainty: Uncertainty): boolean {
  return uncertainty.countedMl !== undefined || (uncertainty.laboratory ?? 0) > 0;
}

/**
 * Refuses uncertainties that cannot be.
 *
 * @returns what an answer with them rests on
 * @throws RangeError naming the value and its range
 */
export function checkUncertainty(uncertainty: Uncertainty): Assumption[] {
  for (const name of [...SHARED_FACTORS, "laboratory"] as const) {
    const value = uncertainty[name] ?? 0;
    if (!(value >= 0 && Number.isFinite(value))) {
      throw new RangeError(`the relative uncertainty of ${name} must be 0 or more, not ${value}`);
    }
  }
  const { countedMl } = uncertainty;
  if (countedMl !== undefined && !(countedMl > 0 && Number.isFinite(countedMl))) {
    throw new RangeError(`countedMl must be more than 0, not ${countedMl}`);
  }
  const exact = [...SHARED_FACTORS, "laboratory" as const].filter((name) => (uncertainty[name] ?? 0) === 0);
  return joinAssumptions(
    [
      {
        code: "spread-log-normal",
        message:
          "uncertain values were spread log-normally about the stated ones and independently of each other; β by its excess over 1",
        source: "JCGM-101",
      },
    ],
    countedMl === undefined
      ? [
          {
            code: "counting-statistics-left-out",
            message: "the volume really counted was not given, so counting statistics are not in it",
            source: "ISO-TS-19036",
          },
        ]
      : [],
    exact.length === 0
      ? []
      : [
          {
            code: "taken-as-exact",
            message: `taken as exact: ${exact.map((name) => NAMES[name]).join(", ")}`,
          },
        ],
  );
}

const NAMES = {
  volume: "volume",
  flow: "flow",
  beta: "β",
  ingress: "ingress",
  slowZone: "slow zone",
  laboratory: "laboratory reproducibility",
} as const;
