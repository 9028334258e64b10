import type { CountMeaning } from "./meaning.js";

const BLANK = /\b(?:bottle )?(?:blank(?: (?:bottle|value|count))?|blindwert|blanc|blanco|bianco)\b/;
const RUN =
  /\b(?:run|rep|repl|replicate|repeat|repetition|determination|aliquot|messung|wiederholung) ?(?:no\.? ?|nr\.? ?|#)?(\d{1,2})\b|\b(\d)(?:st|nd|rd|th) (?:run|count|replicate|determination)\b/;

/** Of which bottle or run a title, in lower case, gives the counts, and the title without it. */
export function bottleIn(written: string): { of: Pick<CountMeaning, "blank" | "run">; rest: string } {
  const run = RUN.exec(written);
  const named = BLANK.exec(written) ?? run;
  if (named === null) return { of: {}, rest: written };
  const rest = written
    .replace(named[0], " ")
    .replace(/\( *\)|\[ *\]/g, " ")
    .replace(/^[ ,;:-]+|[ ,;:-]+$/g, "")
    .replace(/\s+/g, " ");
  return { of: named === run ? { run: Number(run[1] ?? run[2]) } : { blank: true }, rest };
}
