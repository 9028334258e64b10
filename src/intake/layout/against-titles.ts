import { contradictsCount } from "./count-titles.js";
import type { CountMeaning } from "./meaning.js";
import { MAX_TITLE_LENGTH } from "./namer.js";

const FACTOR = /dilut|verdünn|diluc|diluiz|multipl|\bfactor|faktor|facteur|fattore/u;
/** A cell without any of these says nothing of counts; most cells are looked at no closer. */
const MAY_SPEAK = /ml|milli|cc|cm|iso|acftd|microsc|mikrosk|[x×*^]|thousand|tausend|mi(?:les|gliaia)/iu;
const FACTOR_OF_ONE = /^(?:[x×] ?|1 ?[:/] ?)?1(?:[.,]0*)?$/u;

/**
 * Whether a cell of a column that is not known says that some counts of its row stand for something else than their titles
 * say: a factor by which they may still have to be multiplied, or another volume or scale.
 */
export function speaksAgainst(title: string, text: string, counts: readonly CountMeaning[]): boolean {
  if (counts.length === 0 || title.length + text.length > MAX_TITLE_LENGTH) return false;
  const isFactor = FACTOR.test(title.toLowerCase()) && /[1-9]/.test(text) && !FACTOR_OF_ONE.test(text);
  return isFactor || (MAY_SPEAK.test(text) && counts.some(contradictsCount(`${title} ${text}`)));
}
