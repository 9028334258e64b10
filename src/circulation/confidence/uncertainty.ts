import { checkNumbers, drawGammas, drawNormals, type RandomSource } from "../../numeric/index.js";
import { type Assumption, frozen, joinAssumptions } from "../../provenance/index.js";
import type { CircuitOfBins } from "../model/circuit.js";
import { type Factors, statedFactors } from "../model/solver.js";

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
  /** Up to this fraction of the volume is missing from the stated one, such as hoses; spread evenly from nothing on. */
  readonly hoses?: number;
  /** Up to this fraction of the flow gets past the seal of each element; spread evenly from nothing on. */
  readonly leakage?: number;
  /** Reproducibility of the laboratory, on all counts of the sample together. */
  readonly laboratory?: number;
  /** Volume in mL that was really counted, which fixes the counting statistics of the start. */
  readonly countedMl?: number;
}

/** The bottle that is drawn to verify a circulation. */
export interface VerifyingBottle {
  /** Volume in mL that will be counted of it. */
  readonly countedMl: number;
  /** Reproducibility of the laboratory, as a relative standard uncertainty. */
  readonly laboratory: number;
}

/** What is taken for each uncertainty that nobody states: common practice, no source. They are there to be replaced. */
export const TYPICAL_UNCERTAINTY = frozen({
  volume: 0.1,
  flow: 0.05,
  beta: 0.3,
  ingress: 0.3,
  slowZone: 0.3,
  hoses: 0.15,
  leakage: 0.1,
  laboratory: 0.2,
  countedMl: 20,
} as const satisfies Uncertainty);

/** The uncertain quantities that are one factor for the whole circuit. */
export const SHARED_FACTORS = frozen(["volume", "flow", "beta", "ingress", "slowZone"] as const);

/** The uncertain quantities that are known by their most alone, and spread evenly from nothing on. */
export const UP_TO = frozen(["hoses", "leakage"] as const);

/** How far a quantity that cannot be negative spreads: the standard deviation of its logarithm. */
export function logSpread(relative: number): number {
  return Math.sqrt(Math.log1p(relative * relative));
}

/** What is known of a bin's count before counting: Jeffreys' prior adds half a particle. */
export const HALF_COUNT = 0.5;

/** A limit of whole particles stays whole. */
const ROUNDING = 1e-9;

/** Cases that are drawn at a time: a column of each value costs less than one value of each column. */
const CASES_AT_A_TIME = 128;

/** Draws cases and gives them, one after the other, in the same {@link Factors}. */
export class CaseDrawer {
  readonly factors: Factors;
  private readonly shared: Readonly<Record<(typeof SHARED_FACTORS)[number], Column>>;
  private readonly upTo: Readonly<Record<(typeof UP_TO)[number], Column>>;
  private readonly laboratory: Column;
  private readonly verifying: readonly Column[];
  private readonly verifyingLaboratory: Column;
  private readonly starts: readonly Float64Array[];
  private given = CASES_AT_A_TIME;

  constructor(
    private readonly circuit: CircuitOfBins,
    private readonly uncertainty: Uncertainty,
    private readonly random: RandomSource,
    private readonly bottle?: VerifyingBottle,
  ) {
    this.factors = statedFactors(circuit);
    const column = (relative: number | undefined): Column => ({
      spread: logSpread(relative ?? 0),
      drawn: new Float64Array(CASES_AT_A_TIME).fill(1),
    });
    this.shared = {
      volume: column(uncertainty.volume),
      flow: column(uncertainty.flow),
      beta: column(uncertainty.beta),
      ingress: column(uncertainty.ingress),
      // What well mixed fluid has none of is not drawn.
      slowZone: column(circuit.mixing.kind === "two-zone" ? uncertainty.slowZone : 0),
    };
    this.upTo = { hoses: evenly(uncertainty.hoses), leakage: evenly(uncertainty.leakage) };
    this.laboratory = column(uncertainty.laboratory);
    this.verifyingLaboratory = column(bottle?.laboratory);
    this.verifying = bottle === undefined ? [] : circuit.limited.map(() => column(0));
    this.starts = circuit.bins.map(() => new Float64Array(CASES_AT_A_TIME));
  }

  /** The next case: medians are the stated values, spreads log-normal, counts as Poisson statistics leave them. */
  draw(): Factors {
    if (this.given === CASES_AT_A_TIME) this.drawColumns();
    const { factors, shared, upTo, starts, given } = this;
    factors.volume = (shared.volume.drawn[given] as number) * (1 + (upTo.hoses.drawn[given] as number));
    factors.leakage = upTo.leakage.drawn[given] as number;
    factors.flow = shared.flow.drawn[given] as number;
    factors.beta = shared.beta.drawn[given] as number;
    factors.ingress = shared.ingress.drawn[given] as number;
    factors.slowZone = shared.slowZone.drawn[given] as number;
    for (let bin = 0; bin < starts.length; bin += 1) {
      factors.startPerMl[bin] = (starts[bin] as Float64Array)[given] as number;
    }
    const reads = this.verifyingLaboratory.drawn[given] as number;
    for (let channel = 0; channel < this.verifying.length; channel += 1) {
      factors.limitPerMl[channel] = ((this.verifying[channel] as Column).drawn[given] as number) / reads;
    }
    this.given += 1;
    return factors;
  }

  /**
   * The level in each channel that the verifying bottle of a case still accepts: a Poisson count is at most c just when its
   * mean is below a gamma variable with c + 1.
   */
  private drawBottle(): void {
    if (this.bottle === undefined) return;
    const { countedMl } = this.bottle;
    drawFactors(this.random, this.verifyingLaboratory);
    this.circuit.limited.forEach(({ limit }, channel) => {
      const { drawn } = this.verifying[channel] as Column;
      drawGammas(Math.floor(limit * countedMl * (1 + ROUNDING)) + 1, this.random, drawn);
      for (let index = 0; index < drawn.length; index += 1)
        drawn[index] = (drawn[index] as number) / countedMl;
    });
  }

  private drawColumns(): void {
    this.given = 0;
    for (const name of SHARED_FACTORS) drawFactors(this.random, this.shared[name]);
    for (const name of UP_TO) drawEvenly(this.random, this.upTo[name]);
    drawFactors(this.random, this.laboratory);
    this.drawBottle();
    const { countedMl } = this.uncertainty;
    this.circuit.bins.forEach(({ startPerMl, countedPart }, bin) => {
      const start = this.starts[bin] as Float64Array;
      const perMl = countedMl === undefined ? 1 : countedMl * countedPart;
      if (countedMl === undefined) start.fill(startPerMl);
      else drawGammas(startPerMl * perMl + HALF_COUNT, this.random, start);
      for (let index = 0; index < start.length; index += 1) {
        start[index] = ((start[index] as number) / perMl) * (this.laboratory.drawn[index] as number);
      }
    });
  }
}

/** Factors that have been drawn, 1 where nothing is uncertain; of those known by their most, 0. */
interface Column {
  readonly spread: number;
  readonly drawn: Float64Array;
}

function drawFactors(random: RandomSource, { spread, drawn }: Column): void {
  if (spread === 0) return;
  drawNormals(random, drawn);
  for (let index = 0; index < drawn.length; index += 1) {
    drawn[index] = Math.exp(spread * (drawn[index] as number));
  }
}

function evenly(most: number | undefined): Column {
  return { spread: most ?? 0, drawn: new Float64Array(CASES_AT_A_TIME) };
}

function drawEvenly(random: RandomSource, { spread, drawn }: Column): void {
  if (spread === 0) return;
  for (let index = 0; index < drawn.length; index += 1) drawn[index] = spread * random();
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
    checkNumbers("notNegative", { [`the relative uncertainty of ${name}`]: uncertainty[name] });
  }
  for (const name of UP_TO) {
    const value = uncertainty[name] ?? 0;
    checkNumbers("number", { [`the most of ${name}`]: uncertainty[name] });
    if (!(value >= 0 && value < 1)) {
      throw new RangeError(`the most of ${name} must be a fraction from 0 to less than 1, not ${value}`);
    }
  }
  const { countedMl } = uncertainty;
  checkNumbers("positive", { countedMl });
  const exact = [...SHARED_FACTORS, ...UP_TO, "laboratory" as const].filter(
    (name) => (uncertainty[name] ?? 0) === 0,
  );
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
  hoses: "hoses in the volume",
  leakage: "seals without leakage",
  laboratory: "laboratory reproducibility",
} as const;
