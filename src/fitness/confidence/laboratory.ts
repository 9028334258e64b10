import { TEST_METHODS, type TestMethod, withinPublished } from "../../fluids/index.js";
import type { Assumption } from "../../provenance/index.js";
import type { Precision } from "../../samples/index.js";

/** How far single results scatter about the true value at a limit. */
export interface LaboratoryScatter {
  /** Of one result of any laboratory. */
  readonly standardUncertainty: number;
  /** The part that remains however often one laboratory repeats; absent where only the whole is known. */
  readonly betweenLaboratories?: number;
  readonly assumptions: readonly Assumption[];
}

/** Two results lie further apart than r or R in one case of twenty: 1.96·√2 standard deviations. */
const PAIR_FACTOR = 1.959963984540054 * Math.SQRT2;

/**
 * The standard uncertainty that a precision gives a result.
 *
 * That of a test method is taken at the limit, as ISO 4259 takes R, and not at the result, so that a worse result never
 * counts as a surer one.
 *
 * @param precision - by method, standard deviation or relative standard deviation
 * @param limit - in the unit of the quantity
 * @throws RangeError when the method has neither reproducibility nor repeatability
 * @source ISO-4259
 * @example
 * scatterAt({ method: "ASTM D664 used" }, 1.5).standardUncertainty; // => 0.238
 */
export function scatterAt(precision: Precision, limit: number): LaboratoryScatter {
  if ("sd" in precision) return { standardUncertainty: precision.sd, assumptions: [] };
  if ("rsd" in precision) return { standardUncertainty: precision.rsd * limit, assumptions: [] };
  const method: TestMethod = TEST_METHODS[precision.method];
  const { inRange, assumptions } = withinPublished(method, limit);
  const repeated = method.repeatability && method.repeatability(inRange) / PAIR_FACTOR;
  const reproduced = method.reproducibility && method.reproducibility(inRange) / PAIR_FACTOR;
  if (reproduced !== undefined) {
    return {
      standardUncertainty: reproduced,
      ...(repeated !== undefined && {
        betweenLaboratories: Math.sqrt(Math.max(0, reproduced ** 2 - repeated ** 2)),
      }),
      assumptions,
    };
  }
  if (repeated === undefined) throw new RangeError(`no precision of ${method.name} is known`);
  assumptions.push({
    code: "precision-of-one-laboratory",
    message: `only the repeatability of ${method.name} is known; laboratories differ by more`,
    source: method.source,
  });
  return { standardUncertainty: repeated, assumptions };
}
