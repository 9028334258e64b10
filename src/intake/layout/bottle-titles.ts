import type { CountMeaning } from "./meaning.js";

const BLANK = /\b(?:bottle )?(?:blank(?: (?:bottle|value|count))?|blindwert|blanc|blanco|bianco)\b/;
const RUN =
  /\b(?:run|rep|repl|replicate|repeat|repetition|determination|aliquot|messung|wiederholung) ?(?:no\.? ?|nr\.? ?|#)?(\d{1,2})\b|\b(\d)(?:st|nd|rd|th) (?:run|count|replicate|determination)\b/;

const MEAN_WORD = "(?:mean|average|avg|mittel(?:wert)?|moyenne|media|gemiddelde?)";
const MEAN = new RegExp(String.raw`(?<!\p{L})${MEAN_WORD}(?!\p{L})`, "u");
const ONLY_MEAN = new RegExp(
  String.raw`^${MEAN_WORD}\.?(?: (?:values?|counts?|results?|of(?: the)?(?: \d+)? (?:runs|counts|replicates)))?:?$`,
  "u",
);

/** Whether a title, in lower case, is of the mean of runs. */
export function isOfMean(written: string): boolean {
  return MEAN.test(written);
}

/** Whether a title, in lower case, says that it is of the mean of runs and nothing else. */
export function isOnlyMean(written: string): boolean {
  return ONLY_MEAN.test(written);
}

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
