import type { Judgement } from "./judgement.js";

/** What pins the book that the verdicts are in, to be noted with them; "" where they are in none. */
export function describeHead({ kept, head, notKept }: Judgement): string {
  if (notKept !== undefined) return `These verdicts are not kept in the book: ${notKept}.\n`;
  const numbers = kept.flatMap(({ verdict }) => (verdict === undefined ? [] : [verdict.id]));
  if (head === undefined || numbers.length === 0) return "";
  const [first, last] = [Math.min(...numbers), Math.max(...numbers)];
  return `${first === last ? `Verdict ${first}` : `Verdicts ${first} to ${last}`} of the book, head ${head.slice(0, 12)}.\n`;
}
