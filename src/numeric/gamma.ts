import { root } from "./roots.js";

/**
 * The lower regularised incomplete gamma function P(a, x) and its complement Q(a, x), to about 13 digits.
 *
 * P(a, x) is the probability that a gamma variable of shape `a` and scale 1 is at most `x`. A series serves x < a + 1,
 * a continued fraction the rest; the factor before both is built on the saddle point, which keeps its digits for shapes
 * of many thousand.
 *
 * @param a - shape, more than 0
 * @param x - 0 or more
 * @returns both tails, each with its own full precision
 * @source DLMF-8
 */
export function gammaTails(a: number, x: number): { readonly lower: number; readonly upper: number } {
  if (!(x > 0)) return { lower: 0, upper: 1 };
  if (x === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  if (x < a + 1) {
    const lower = density(a, x) * x * seriesSum(a, x);
    return { lower, upper: 1 - lower };
  }
  const upper = density(a, x) * x * fraction(a, x);
  return { lower: 1 - upper, upper };
}

/** Σ xⁿ / (a(a+1)…(a+n)): DLMF 8.11.4. */
function seriesSum(a: number, x: number): number {
  let term = 1 / a;
  let sum = term;
  for (let n = 1; term > sum * Number.EPSILON; n += 1) {
    term *= x / (a + n);
    sum += term;
  }
  return sum;
}

/** The continued fraction of DLMF 8.9.2 in its even part, by the modified Lentz rule. */
function fraction(a: number, x: number): number {
  const tiny = 1e-300;
  let b = x + 1 - a;
  let c = 1 / tiny;
  let d = 1 / b;
  let value = d;
  for (let n = 1; ; n += 1) {
    const step = -n * (n - a);
    b += 2;
    d = 1 / (step * d + b || tiny);
    c = b + step / c || tiny;
    const factor = c * d;
    value *= factor;
    if (Math.abs(factor - 1) < Number.EPSILON * 2) return value;
  }
}

/** Density of a gamma variable with scale 1 at x, by its saddle point: e^(−a φ) √(a / 2π) / x, φ = d − ln(1 + d). */
function density(a: number, x: number): number {
  // Close to the saddle point the distance from it keeps the digits of φ, far from it the ratio does.
  const d = (x - a) / a;
  const log = Math.abs(d) < 0.5 ? Math.log1p(d) : Math.log(x / a);
  return (Math.exp(-a * (d - log) - stirlingError(a)) * Math.sqrt(a / (2 * Math.PI))) / x;
}

/** ln Γ(a) − ((a − ½) ln a − a + ½ ln 2π): DLMF 5.11.1, lifted to a large argument where the series is exact. */
export function stirlingError(a: number): number {
  let lifted = a;
  let sum = 0;
  for (; lifted < 20; lifted += 1) sum += (lifted + 0.5) * Math.log1p(1 / lifted) - 1;
  const r = 1 / (lifted * lifted);
  return sum + (1 / 12 - r * (1 / 360 - r * (1 / 1260 - r * (1 / 1680 - r / 1188)))) / lifted;
}

/**
 * The value that a gamma variable of shape `a` and scale 1 stays below with a given probability.
 *
 * @param a - shape, more than 0
 * @param probability - between 0 and 1
 * @returns the quantile, by bisection
 */
export function gammaQuantile(a: number, probability: number): number {
  const isBelow = (x: number) => {
    const { lower, upper } = gammaTails(a, x);
    return probability < 0.5 ? lower < probability : upper > 1 - probability;
  };
  let high = a + 1;
  while (isBelow(high)) high *= 2;
  return root(isBelow, 0, high);
}
