import { bisect, highestAt } from "../../numeric/index.js";
import { type CountObservation, expectedCount, logLikelihood, varianceOf } from "./count-likelihood.js";

/** One count of a falling level. */
export interface DecayPoint {
  readonly minutes: number;
  /** Volume that was counted, in mL. */
  readonly countedMl: number;
  readonly observed: CountObservation;
}

/** An estimate with the interval that holds the truth in 90 of 100 cases; one that is open above gives no number. */
export type FittedValue =
  | { readonly low: number; readonly estimate: number; readonly high: number }
  | { readonly low: number; readonly estimate?: never; readonly high?: never };

/** A level that falls from `start` at `rate` towards `floor`, which is not above it: floor + (start − floor)·e^(−rate·t). */
export interface Decay {
  /** Particles per mL. */
  readonly start: number;
  readonly floor: number;
  /** Per minute. */
  readonly rate: number;
  readonly logLikelihood: number;
}

/** What is known of a falling level. */
export interface DecayFit {
  readonly best: Decay;
  /** Per minute. */
  readonly rate: FittedValue;
  /** Particles per mL. */
  readonly floor: FittedValue;
  /** Rate per minute of a level that would fall to nothing; it shows whether there is any fall at all. */
  readonly netRate: FittedValue;
}

/** Half of the 90 % point of χ² with one degree of freedom: how far a profile may fall within a 90 % interval. */
export const DROP_90 = 1.352771727047702;

const GRID = 48;
/** A step that gains less makes no difference to any interval: those end where the likelihood has fallen by more than 1. */
const LEAST_GAIN = 1e-7;
const MOST_STEPS = 100;

/**
 * Fits start, rate and floor to counts, by maximum likelihood with profile-likelihood intervals.
 *
 * For a given rate the expected counts are linear in start and floor, so each rate needs only a small weighted fit;
 * the rate itself is searched. An interval holds every value that the counts do not speak against.
 *
 * @param points - two or more counts, each of another moment; with two, the rate and the floor stay open
 * @param relativeVariance - square of the relative reproducibility from sample to sample, 0 for counting alone
 * @returns estimates with 90 % intervals
 * @throws RangeError for fewer than two points or a moment given twice
 */
export function fitDecay(points: readonly DecayPoint[], relativeVariance: number): DecayFit {
  const moments = new Set(points.map((point) => point.minutes));
  if (points.length < 2 || moments.size < points.length) {
    throw new RangeError("a fit needs counts at two or more different moments");
  }
  const fit = new ProfileFit(points, relativeVariance);
  const best = fit.best(undefined);
  const rate = fit.rateInterval(best, undefined);
  const bestNet = fit.best(0);
  return { best, rate, floor: fit.floorInterval(best), netRate: fit.rateInterval(bestNet, 0) };
}

/** The likelihood of one set of counts, with everything but the value of interest fitted away. */
class ProfileFit {
  private readonly rates: readonly number[];

  constructor(
    private readonly points: readonly DecayPoint[],
    private readonly relativeVariance: number,
  ) {
    const last = Math.max(...points.map((point) => point.minutes));
    const first = Math.min(...points.map((point) => point.minutes).filter((minutes) => minutes > 0));
    // From a fall too slow to be seen to one that is over before the first interim sample.
    const [slow, fast] = [1e-3 / last, 40 / first];
    this.rates = Array.from({ length: GRID + 1 }, (_, step) => slow * (fast / slow) ** (step / GRID));
  }

  /** The most likely decay, for any floor or a given one. */
  best(floor: number | undefined): Decay {
    const tried = [0, ...this.rates].map((rate) => this.at(rate, floor));
    const top = tried.reduce((a, b) => (b.logLikelihood > a.logLikelihood ? b : a));
    const index = tried.indexOf(top);
    const low = tried[Math.max(0, index - 1)] as Decay;
    const high = tried[Math.min(tried.length - 1, index + 1)] as Decay;
    const likelihood = (rate: number) => this.at(rate, floor).logLikelihood;
    const rate = highestAt(likelihood, low.rate, high.rate, 1e-6 * high.rate);
    const refined = this.at(rate, floor);
    return refined.logLikelihood > top.logLikelihood ? refined : top;
  }

  /** Start and floor that fit best at one rate. */
  private at(rate: number, floor: number | undefined): Decay {
    return climb(this.firstGuess(rate, floor), (decay) => this.improve(decay, floor));
  }

  private firstGuess(rate: number, floor: number | undefined): Decay {
    const { observed, countedMl } = this.points.reduce((a, b) => (b.minutes < a.minutes ? b : a));
    const start = Math.max(observed.count, 0.5) / countedMl;
    return this.scored(start, floor ?? start / 100, rate);
  }

  /** One step of iteratively weighted least squares, cut short until it does not make the fit worse. */
  private improve(decay: Decay, fixedFloor: number | undefined): Decay {
    let [aa, ab, bb, ay, by] = [0, 0, 0, 0, 0];
    for (const { minutes, countedMl, observed } of this.points) {
      const left = Math.exp(-decay.rate * minutes);
      const a = countedMl * left;
      const b = countedMl * (1 - left);
      const mean = a * decay.start + b * decay.floor;
      const weight = 1 / varianceOf(mean, this.relativeVariance);
      const y = expectedCount(observed, mean, this.relativeVariance) - (fixedFloor ?? 0) * b;
      aa += weight * a * a;
      ab += weight * a * b;
      bb += weight * b * b;
      ay += weight * a * y;
      by += weight * b * y;
    }
    let [start, floor] = [ay / aa, fixedFloor ?? 0];
    if (fixedFloor === undefined) {
      const determinant = aa * bb - ab * ab;
      const both = [(ay * bb - by * ab) / determinant, (by * aa - ay * ab) / determinant] as const;
      const level = (ay + by) / (aa + 2 * ab + bb);
      if (both[1] >= 0 && both[0] >= both[1]) [start, floor] = both;
      // A level that would rise is fitted as one that stays; one that would fall below 0 falls to 0.
      else if (both[0] < both[1]) [start, floor] = [level, level];
    }
    return this.stepTowards(decay, start, floor, decay.rate);
  }

  private scored(start: number, floor: number, rate: number): Decay {
    const sum = likelihoodOf(this.points, this.relativeVariance, start, floor, rate);
    return { start, floor, rate, logLikelihood: sum };
  }

  /** All rates whose best fit is not much less likely than the very best. */
  rateInterval(best: Decay, floor: number | undefined): FittedValue {
    const cut = best.logLikelihood - DROP_90;
    const inside = (rate: number) => this.at(rate, floor).logLikelihood >= cut;
    const slower = [0, ...this.rates].filter((rate) => rate < best.rate);
    const faster = this.rates.filter((rate) => rate > best.rate);
    const below = slower.findLast((rate) => !inside(rate));
    const above = faster.find((rate) => !inside(rate));
    const low = below === undefined ? 0 : edge(inside, best.rate, below);
    return above === undefined ? { low } : { low, estimate: best.rate, high: edge(inside, best.rate, above) };
  }

  /** All floors whose best fit is not much less likely than the very best. */
  floorInterval(best: Decay): FittedValue {
    const cut = best.logLikelihood - DROP_90;
    const inside = (floor: number) => this.nearBy(best, floor).logLikelihood >= cut;
    const lowest = inside(0) ? 0 : edge(inside, best.floor, 0);
    let beyond = Math.max(best.floor, best.start, 1e-6);
    for (let doubled = 0; doubled < 20 && inside(beyond); doubled += 1) beyond *= 2;
    return inside(beyond)
      ? { low: lowest }
      : { low: lowest, estimate: best.floor, high: edge(inside, best.floor, beyond) };
  }

  /** Start and rate that fit best with a given floor, climbing from the best decay. */
  private nearBy(best: Decay, floor: number): Decay {
    return climb(this.scored(best.start, floor, best.rate), (decay) => this.improveStartAndRate(decay));
  }

  private improveStartAndRate(decay: Decay): Decay {
    const { start, floor, rate } = decay;
    let [aa, ac, cc, ay, cy] = [0, 0, 0, 0, 0];
    for (const { minutes, countedMl, observed } of this.points) {
      const left = Math.exp(-rate * minutes);
      const a = countedMl * left;
      const c = -countedMl * minutes * (start - floor) * left;
      const mean = a * start + countedMl * floor * (1 - left);
      const weight = 1 / varianceOf(mean, this.relativeVariance);
      const y = expectedCount(observed, mean, this.relativeVariance) - mean;
      aa += weight * a * a;
      ac += weight * a * c;
      cc += weight * c * c;
      ay += weight * a * y;
      cy += weight * c * y;
    }
    const determinant = aa * cc - ac * ac;
    const regular = determinant > 1e-12 * aa * cc;
    const byStart = regular ? (ay * cc - cy * ac) / determinant : ay / aa;
    const byRate = regular ? (cy * aa - ay * ac) / determinant : 0;
    return this.stepTowards(decay, start + byStart, floor, rate + byRate);
  }

  /** Goes towards better values, less far each time until the fit is not worse. */
  private stepTowards(decay: Decay, start: number, floor: number, rate: number): Decay {
    for (let share = 1; share > 1e-3; share /= 2) {
      const next = this.scored(
        decay.start + share * (Math.max(0, start) - decay.start),
        decay.floor + share * (Math.max(0, floor) - decay.floor),
        decay.rate + share * (Math.max(0, rate) - decay.rate),
      );
      if (next.logLikelihood > decay.logLikelihood) return next;
    }
    return decay;
  }
}

/** Goes on as long as a step gains something. */
function climb(from: Decay, step: (decay: Decay) => Decay): Decay {
  let decay = from;
  for (let steps = 0; steps < MOST_STEPS; steps += 1) {
    const next = step(decay);
    const gain = next.logLikelihood - decay.logLikelihood;
    if (gain > 0) decay = next;
    // From what is impossible every step gains without measure.
    if (!(gain > LEAST_GAIN)) break;
  }
  return decay;
}

/** Log-likelihood of a decay; what cannot be computed is taken as impossible. */
export function likelihoodOf(
  points: readonly DecayPoint[],
  relativeVariance: number,
  start: number,
  floor: number,
  rate: number,
): number {
  let sum = 0;
  for (const { minutes, countedMl, observed } of points) {
    const left = Math.exp(-rate * minutes);
    sum += logLikelihood(observed, countedMl * (start * left + floor * (1 - left)), relativeVariance);
  }
  return Number.isNaN(sum) ? Number.NEGATIVE_INFINITY : sum;
}

/** The last value inside on the way from one that is inside to one that is not. */
export function edge(inside: (value: number) => boolean, from: number, to: number): number {
  // Two more digits than anybody reads.
  const isNear = (low: number, high: number) => high - low <= 1e-5 * high;
  return bisect(inside, from, to, { isNear }).holds;
}
