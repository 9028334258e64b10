import { OLDER_TO_UM_C } from "../counts/index.js";
import type { Assumption } from "../provenance/index.js";

/** Filtration ratios of an element, and what they rest on where they were not stated. */
export interface RatedElement {
  readonly betas: { readonly sizeUmC: number; readonly beta: number }[];
  readonly assumptions: readonly Assumption[];
}

/** What a rating has to look like, for messages. */
export const RATING_EXAMPLES = '"β10(c) = 1000", "3 µm absolute" or "10 µm nominal"';

const BETA = /^(?:β|beta)[ _]?(\d+(?:\.\d+)?)\s*(?:[µμu]m)?\s*\(c\)\s*(?:=|:|≥|>=)\s*(\d+(?:\.\d+)?)$/i;
const WORD =
  /^(\d+(?:\.\d+)?)\s*(?:[µμu]m|micron|microns|micrometres?)\s*(\(c\))?[\s,]*(absolute|abs\.?|nominal|nom\.?|mean)$/i;

/** The codes of what is taken where no β is stated. */
const BY_RATING = "element-by-its-rating";
const NOT_STATED = "element-not-stated";
const BELOW_ITS_RATING = "element-below-its-rating";

/** In the specification an element whose absolute size is 25 µm has a mean of 10 µm; others are taken in proportion. */
const ABSOLUTE_PER_MEAN = 2.5;
const BETA_OF_MEAN = 2;
const BETA_OF_ABSOLUTE = 75;

/** Nobody asks for particles larger than this; a larger number is in another unit. */
const MAX_SIZE_UM = 200;

/**
 * Filtration ratios from the words that an element is sold by.
 *
 * "Absolute" means β = 75 and "mean" β = 2 at a size, and an element has its mean at two fifths of its absolute size. A
 * "nominal" size has no agreed meaning and is taken as the mean. A size that is not marked (c) may be of the older scale, so
 * the larger of the two readings is taken. "β10(c) = 1000" is a ratio and rests on nothing.
 *
 * @param position - names the element in the assumption
 * @returns undefined for words that have no meaning here
 * @source F-F-351F
 * @example
 * betasOfRating("pressure", "10 µm absolute").betas; // => [{ sizeUmC: 4, beta: 2 }, { sizeUmC: 10, beta: 75 }]
 */
export function betasOfRating(position: string, rating: string): RatedElement | undefined {
  const text = rating.trim();
  const [, size, ratio] = BETA.exec(text) ?? [];
  if (size !== undefined && Number(ratio) >= 1) {
    return { betas: [{ sizeUmC: Number(size), beta: Number(ratio) }], assumptions: [] };
  }
  const [, written, marked, word] = WORD.exec(text) ?? [];
  const sizeUm = Number(written);
  if (word === undefined || !(sizeUm > 0 && sizeUm <= MAX_SIZE_UM)) return undefined;
  const isAbsolute = /^abs/i.test(word);
  const named = marked === undefined ? largerReading(sizeUm) : sizeUm;
  const [mean, absolute] = isAbsolute
    ? [sizeUm / ABSOLUTE_PER_MEAN, named]
    : [named, named * ABSOLUTE_PER_MEAN];
  const betas = [
    { sizeUmC: rounded(mean), beta: BETA_OF_MEAN },
    { sizeUmC: rounded(absolute), beta: BETA_OF_ABSOLUTE },
  ];
  const shown = betas.map(({ sizeUmC, beta }) => `β${sizeUmC}(c) = ${beta}`).join(" and ");
  const meaning = isAbsolute
    ? 'the published meaning of "absolute"'
    : /^nom/i.test(word)
      ? '"nominal" has no agreed meaning and was taken as the published "mean"'
      : 'the published meaning of "mean"';
  return {
    betas,
    assumptions: [
      {
        code: BY_RATING,
        message: `the ${position} element is rated "${text}" and no β was stated: ${shown} were taken, ${meaning}; state its β to plan with that`,
        source: "F-F-351F",
      },
    ],
  };
}

/** Sizes that codes name begin here, in µm(c). */
const SMALLEST_COUNTED_UM = 4;

/**
 * An element with stated ratios, and the size below them at which it still retains half of the particles: without it, one
 * whose ratio is stated at 10 µm(c) alone would be planned as if it retained nothing smaller, worse than one of which
 * nothing is stated. The size follows from the published relation of mean and absolute, with log β straight between them.
 *
 * @param position - names the element in the assumption
 * @param betas - in any order, each 1 or more
 * @returns the ratios as they are where they begin at 4 µm(c) or with a ratio of 2 or less
 * @source F-F-351F
 * @example
 * withMeanBelow("return", [{ sizeUmC: 10, beta: 1000 }]).betas; // => [{ sizeUmC: 4, beta: 2 }, { sizeUmC: 10, beta: 1000 }]
 */
export function withMeanBelow(position: string, betas: RatedElement["betas"]): RatedElement {
  const [first] = [...betas].sort((a, b) => a.sizeUmC - b.sizeUmC);
  if (first === undefined || first.sizeUmC <= SMALLEST_COUNTED_UM || first.beta <= BETA_OF_MEAN)
    return { betas: [...betas], assumptions: [] };
  // The part of the way from the mean to the absolute size at which the stated ratio lies.
  const part =
    Math.log(Math.min(first.beta, BETA_OF_ABSOLUTE) / BETA_OF_MEAN) /
    Math.log(BETA_OF_ABSOLUTE / BETA_OF_MEAN);
  const mean = { sizeUmC: rounded(first.sizeUmC / (1 + part * (ABSOLUTE_PER_MEAN - 1))), beta: BETA_OF_MEAN };
  if (mean.sizeUmC >= first.sizeUmC) return { betas: [...betas], assumptions: [] };
  return {
    betas: [mean, ...betas],
    assumptions: [
      {
        code: BELOW_ITS_RATING,
        message: `no β of the ${position} element was stated below ${first.sizeUmC} µm(c): β${mean.sizeUmC}(c) = 2 was taken, by the published meaning of "mean"; state its β at 4 and 6 µm(c) to plan with that`,
        source: "F-F-351F",
      },
    ],
  };
}

/** Half of the particles at every size that a code names: what an element in working order surely does. */
const UNKNOWN_BETAS = [{ sizeUmC: 4, beta: BETA_OF_MEAN }];

/** An element of which nothing is stated but where it is. */
export function unknownElement(position: string): RatedElement {
  return {
    betas: [...UNKNOWN_BETAS],
    assumptions: [
      {
        code: NOT_STATED,
        message:
          `nothing was stated of the ${position} element: β4(c) = 2 was taken, which retains half of the particles in each pass. ` +
          "One that retains nearly all takes about half of the time, one of β4(c) = 1.2 three times as long; only samples show which",
        source: "PRACTICE",
      },
    ],
  };
}

const TAKEN: readonly string[] = [BY_RATING, NOT_STATED, BELOW_ITS_RATING];

/** What was taken of elements without a stated β, for the first lines of an answer: its minutes are no better than that. */
export function describeElementTaken(assumptions: readonly Assumption[]): string[] {
  return assumptions
    .filter(({ code }) => TAKEN.includes(code))
    .map(({ message }) => message.split(/; |\. /)[0] as string);
}

/** The size in µm(c), by the printed row at or next above where it may be of the older scale. */
function largerReading(sizeUm: number): number {
  const row = OLDER_TO_UM_C.find(([older]) => older >= sizeUm);
  return Math.max(sizeUm, row?.[1] ?? sizeUm);
}

function rounded(sizeUm: number): number {
  return Number(sizeUm.toPrecision(3));
}
