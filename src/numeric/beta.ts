import { stirlingError } from "./gamma.js";

/**
 * The regularised incomplete beta function I_x(a, b) and its complement, to about 12 digits.
 *
 * I_x(a, b) is the probability that a beta variable is at most x. The factor before the continued fraction is built on
 * the saddle point, as that of the gamma function is, and keeps its digits where `a` and `b` are counts of many thousand.
 *
 * @param x - 0 to 1
 * @param rest - 1 − x, with all its digits where x is close to 1
 * @param a - more than 0
 * @param b - more than 0
 * @returns both tails; the smaller one with its own full precision
 * @source DLMF-8-17
 */
export function betaTails(
  x: number,
  rest: number,
  a: number,
  b: number,
): { readonly lower: number; readonly upper: number } {
  // The continued fraction of no number has no end.
  if (Number.isNaN(x)) return { lower: Number.NaN, upper: Number.NaN };
  if (x <= 0) return { lower: 0, upper: 1 };
  if (rest <= 0) return { lower: 1, upper: 0 };
  const front = saddle(x, rest, a, b);
  if (x < (a + 1) / (a + b + 2)) {
    const lower = (front * fraction(x, a, b)) / a;
    return { lower, upper: 1 - lower };
  }
  const upper = (front * fraction(rest, b, a)) / b;
  return { lower: 1 - upper, upper };
}

/** x^a (1 − x)^b Γ(a + b) / (Γ(a) Γ(b)), about its highest point in x. */
function saddle(x: number, rest: number, a: number, b: number): number {
  const n = a + b;
  const away = b * x - a * rest;
  const exponent = a * logLess(away / a, (n * x) / a) + b * logLess(-away / b, (n * rest) / b);
  const error = stirlingError(n) - stirlingError(a) - stirlingError(b);
  return Math.exp(exponent + error) * Math.sqrt((a * b) / (2 * Math.PI * n));
}

/** ln(1 + d) − d, where `ratio` is 1 + d with the digits that 1 + d loses far from the saddle point. */
function logLess(d: number, ratio: number): number {
  return (Math.abs(d) < 0.5 ? Math.log1p(d) : Math.log(ratio)) - d;
}

/**
 * The continued fraction of the incomplete beta function (DLMF 8.17.22), by the modified Lentz rule.
 *
 * It ends soon where x < (a + 1) / (a + b + 2), and takes some steps for each standard deviation of a count where a and b
 * are counts.
 */
function fraction(x: number, a: number, b: number): number {
  const tiny = 1e-300;
  let c = 1;
  let d = 1 / (1 - ((a + b) * x) / (a + 1) || tiny);
  let value = d;
  for (let m = 1; m < MAX_STEPS; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / (1 + even * d || tiny);
    c = 1 + even / c || tiny;
    value *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / (1 + odd * d || tiny);
    c = 1 + odd / c || tiny;
    value *= d * c;
    if (Math.abs(d * c - 1) < 1e-15) break;
  }
  return value;
}

/** Where it takes more, nothing is to be had. */
const MAX_STEPS = 100_000;
