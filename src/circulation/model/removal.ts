import { checkNumbers } from "../../numeric/index.js";
import type { Assumption } from "../../provenance/index.js";
import type { RatedBeta } from "../../samples/index.js";

/** Fraction of the particles larger than a size that one pass through the element holds back, 0 to 1. */
export interface Removal {
  readonly fraction: number;
  readonly assumptions: readonly Assumption[];
}

/** A filtration ratio at any size, with what it rests on. */
export interface BetaReading {
  readonly beta: number;
  readonly assumptions: readonly Assumption[];
}

/**
 * What is credited below the smallest rated size.
 *
 * - `nothing`: no removal at all, the cautious reading
 * - `log-line`: log β on a straight line, the lower of the line through the two smallest rated sizes and the line
 *   from β = 1 at 0 µm(c) to the smallest; never below β = 1
 */
export type BelowRated = "nothing" | "log-line";

/**
 * How much of the particles larger than a size one pass removes: 1 − 1/β.
 *
 * @param betas - filtration ratios βx(c) at rated sizes, in any order, each 1 or more
 * @param sizeUm - size in µm(c)
 * @param belowRated - what is credited below the smallest rated size; nothing unless named
 * @throws RangeError for an empty list, a size given twice, or a β below 1
 * @source ISO-16889
 * @source BETA-INTERPOLATION
 * @example
 * removalAt([{ sizeUmC: 4, beta: 20 }], 4).fraction; // => 0.95
 */
export function removalAt(
  betas: readonly RatedBeta[],
  sizeUm: number,
  belowRated: BelowRated = "nothing",
): Removal {
  checkNumbers("positive", { sizeUm });
  const { beta, assumptions } = betaAt(betas, sizeUm, belowRated);
  return { fraction: 1 - 1 / beta, assumptions };
}

/**
 * The filtration ratio at any size.
 *
 * Between two rated sizes log β is drawn straight against size. Above the largest rated size β stays at its
 * last value. Below the smallest rated size nothing is credited unless the input says so. Each of these is returned as
 * an assumption.
 *
 * @param betas - filtration ratios βx(c) at rated sizes, in any order, each 1 or more
 * @param sizeUm - size in µm(c)
 * @param belowRated - what is credited below the smallest rated size
 * @throws RangeError for an empty list, a size given twice, or a β below 1
 * @source ISO-16889
 * @source BETA-INTERPOLATION
 */
export function betaAt(betas: readonly RatedBeta[], sizeUm: number, belowRated: BelowRated): BetaReading {
  const rated = checkBetas(betas);
  const first = rated[0] as RatedBeta;
  const last = rated.at(-1) as RatedBeta;
  if (sizeUm < first.sizeUmC) return below(rated, sizeUm, belowRated);
  const exact = rated.find((entry) => entry.sizeUmC === sizeUm);
  if (exact !== undefined) return { beta: exact.beta, assumptions: [] };
  if (sizeUm > last.sizeUmC) {
    return {
      beta: last.beta,
      assumptions: [
        {
          code: "beta-held-above-rated",
          message: `β at ${sizeUm} µm(c) was held at the ${last.beta} of the largest rated size ${last.sizeUmC} µm(c)`,
          source: "ISO-16889",
        },
      ],
    };
  }
  const above = rated.findIndex((entry) => entry.sizeUmC > sizeUm);
  const lower = rated[above - 1] as RatedBeta;
  const upper = rated[above] as RatedBeta;
  const beta = onLogLine(lower, upper, sizeUm);
  return {
    beta,
    assumptions: [
      {
        code: "beta-interpolated",
        message:
          `β at ${sizeUm} µm(c) was read as ${beta.toPrecision(3)} on a straight line of log β ` +
          `between ${lower.sizeUmC} and ${upper.sizeUmC} µm(c)`,
        source: "BETA-INTERPOLATION",
      },
    ],
  };
}

function below(rated: readonly RatedBeta[], sizeUm: number, belowRated: BelowRated): BetaReading {
  const first = rated[0] as RatedBeta;
  if (belowRated === "nothing") {
    return {
      beta: 1,
      assumptions: [
        {
          code: "no-removal-below-rated",
          message: `no removal is credited at ${sizeUm} µm(c), below the smallest rated size ${first.sizeUmC} µm(c)`,
          source: "ISO-16889",
        },
      ],
    };
  }
  const second = rated[1];
  const fromNothing = onLogLine({ sizeUmC: 0, beta: 1 }, first, sizeUm);
  const prolonged = second === undefined ? fromNothing : onLogLine(first, second, sizeUm);
  const beta = Math.max(1, Math.min(fromNothing, prolonged));
  return {
    beta,
    assumptions: [
      {
        code: "beta-credited-below-rated",
        message:
          `β at ${sizeUm} µm(c), below the smallest rated size ${first.sizeUmC} µm(c), was credited as ` +
          `${beta.toPrecision(3)} on a straight line of log β, as chosen; no rating supports it`,
        source: "BETA-INTERPOLATION",
      },
    ],
  };
}

function onLogLine(lower: RatedBeta, upper: RatedBeta, sizeUm: number): number {
  const along = (sizeUm - lower.sizeUmC) / (upper.sizeUmC - lower.sizeUmC);
  return Math.exp(Math.log(lower.beta) * (1 - along) + Math.log(upper.beta) * along);
}

/**
 * Refuses ratings that cannot be true.
 *
 * @returns the ratings, smallest size first
 * @throws RangeError for an empty list, a size given twice, or a β below 1
 */
export function checkBetas(betas: readonly RatedBeta[]): RatedBeta[] {
  if (betas.length === 0) throw new RangeError("at least one rated size with its β is needed");
  const rated = [...betas].sort((a, b) => a.sizeUmC - b.sizeUmC);
  for (const [index, { sizeUmC, beta }] of rated.entries()) {
    if (!(beta >= 1 && Number.isFinite(beta))) {
      throw new RangeError(`β at ${sizeUmC} µm(c) must be 1 or more, not ${beta}`);
    }
    if (!(sizeUmC > 0 && Number.isFinite(sizeUmC))) {
      throw new RangeError(`a rated size must be more than 0 µm(c), not ${sizeUmC}`);
    }
    if (sizeUmC === rated[index - 1]?.sizeUmC) throw new RangeError(`β at ${sizeUmC} µm(c) is given twice`);
  }
  return rated;
}
