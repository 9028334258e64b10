import type { Assumption } from "../provenance/index.js";
import type { Ingress } from "../samples/index.js";

/** Particles larger than a size that enter the whole circuit per minute. */
export interface IngressAbove {
  readonly particlesPerMin: number;
  readonly assumptions: readonly Assumption[];
}

/**
 * The ingress of particles larger than a size, from ingress given at some sizes.
 *
 * Where the size itself is not given, the next smaller one stands in: it cannot be less, so the plan errs on the
 * long side. An empty list means no ingress.
 *
 * @param ingress - cumulative ingress at some sizes, in any order
 * @param sizeUm - size in µm(c)
 * @throws RangeError when only larger sizes are given, when a size is given twice, or when ingress rises with size
 */
export function ingressAbove(ingress: readonly Ingress[], sizeUm: number): IngressAbove {
  const given = [...ingress].sort((a, b) => a.sizeUmC - b.sizeUmC);
  given.forEach((entry, index) => {
    const smaller = given[index - 1];
    if (!(entry.particlesPerMin >= 0 && Number.isFinite(entry.particlesPerMin))) {
      throw new RangeError(
        `ingress at ${entry.sizeUmC} µm(c) must be 0 or more, not ${entry.particlesPerMin}`,
      );
    }
    if (smaller?.sizeUmC === entry.sizeUmC) {
      throw new RangeError(`ingress at ${entry.sizeUmC} µm(c) is given twice`);
    }
    if (smaller !== undefined && entry.particlesPerMin > smaller.particlesPerMin) {
      throw new RangeError(
        `ingress is cumulative and cannot rise with size, as it does from ${smaller.sizeUmC} to ${entry.sizeUmC} µm(c)`,
      );
    }
  });
  if (given.length === 0) return { particlesPerMin: 0, assumptions: [] };
  const nearest = given.filter((entry) => entry.sizeUmC <= sizeUm).at(-1);
  if (nearest === undefined) {
    throw new RangeError(
      `ingress is needed at ${sizeUm} µm(c) or below, to know what enters above ${sizeUm} µm(c)`,
    );
  }
  if (nearest.sizeUmC === sizeUm) return { particlesPerMin: nearest.particlesPerMin, assumptions: [] };
  return {
    particlesPerMin: nearest.particlesPerMin,
    assumptions: [
      {
        code: "ingress-from-smaller-size",
        message: `ingress above ${sizeUm} µm(c) was not given; the one above ${nearest.sizeUmC} µm(c) stands in, on the long side`,
        source: "MASS-BALANCE",
      },
    ],
  };
}
