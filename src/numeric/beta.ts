/**
 * The continued fraction of the incomplete beta function (DLMF 8.17.22), by the modified Lentz rule.
 *
 * I_x(a, b) is x^a (1 − x)^b Γ(a + b) / (Γ(a + 1) Γ(b)) times it. It ends soon where x < (a + 1) / (a + b + 2), and takes
 * some steps for each standard deviation of a count where a and b are counts.
 *
 * @source DLMF-8-17
 */
export function betaFraction(x: number, a: number, b: number): number {
  const tiny = 1e-300;
  let c = 1;
  let d = 1 / (1 - ((a + b) * x) / (a + 1) || tiny);
  let value = d;
  for (let m = 1; m < MOST_STEPS; m += 1) {
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
const MOST_STEPS = 100_000;
