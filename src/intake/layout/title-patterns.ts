import { ISO_4406_SIZES_UM } from "../../cleanliness/index.js";
import type { Meaning } from "./meaning.js";
import { isNotAResult } from "./title-words.js";

/** Nouns that title the laboratory's own words, whatever name comes before them. */
const REMARKS =
  "remarks?|comments?|notes?|observations?|evaluations?|assessments?|dispositions?|verdict|conclusions?|opinion|" +
  "diagnos(?:is|tics?)|recommend(?:ations?|ed actions?)|interpretation|judge?ment|pass ?[/|-]? ?(?:or )?fail|" +
  "fail ?[/|-]? ?pass|accept(?:ed)? ?\\/ ?reject(?:ed)?|ok ?\\/ ?nok|go ?\\/ ?no ?-?go|p ?\\/ ?f|acceptability|severity|" +
  "(?:(?:membrane|filter) )?patch(?: (?:test|colou?r))*|crackle(?: test)?|blotter(?: test)?|spot test|" +
  "ftir(?: \\p{L}+)?|infrared(?: \\p{L}+)?|ir (?:spectrum|match|spectroscopy)|fluid identi(?:fication|ty)|fluid identified as";
/** Nouns that may be of anything else as well, such as the status of an aircraft, unless they are of the sample. */
const OF_THE_SAMPLE =
  "status|condition|results?|rating|alarms?|alerts?|flags?|outcome|decision|acceptance|conformity|compliance|findings?|grade|summary";
const WHOSE =
  "(?:(?:lab|laboratory|analyst|qa|qc|overall|final|sample|report|general|test|fluid|oil|visual|our)(?:'?s)? )*";
const KIND =
  "(?: (?:level|code|text|flag|class|rating|results?|indicator|category|of (?:the )?(?:lab|laboratory|sample|analyst)|\\d))*";
/** The same in German, French, Spanish, Italian, Dutch and Portuguese. */
const REMARKS_ELSEWHERE =
  "bemerkung(?:en)?|anmerkung(?:en)?|kommentare?|bewertung|beurteilung|befund|ergebnis|gesamtergebnis|zustand|hinweise?|" +
  "empfehlung(?:en)?|remarques?|commentaires?|[ée]valuation|appréciation|avis|statut|état|observaci[óo]n(?:es)?|" +
  "comentarios?|evaluaci[óo]n|estado|dictamen|resultado|conclusi[óo]n|note|osservazioni|opmerking(?:en)?|beoordeling|" +
  "valutazione|esito|giudizio|risultato|stato|oordeel|bevindingen|resultaat|observaç(?:ão|ões)|avaliação|parecer|" +
  "situação|comentários|conclusão|判定|结论";
/** Titles under which a laboratory says in words what it makes of a sample. */
export const REMARKS_TITLE = new RegExp(
  `^(?:(?:[\\p{L}'’/&-]+ ){0,3}(?:${REMARKS})${KIND}|${WHOSE}(?:${OF_THE_SAMPLE})${KIND}|${REMARKS_ELSEWHERE})$`,
  "u",
);

/** What a title names besides the standard where its cells are no classes of the sample. */
const NO_CLASS = new RegExp(
  "method|status|pass|fail|remark|comment|note|trend|date|instrument|counter|\\bml\\b|scale n|r4|r6|r14|β|filter|" +
    "4406\\W{0,3}(?:19)?87\\b|\\b2 ?[/,] ?5 ?[/,] ?15|\\b5 ?[/,] ?15\\b|[<>≥≤] ?\\d|(?<!\\d)\\d{1,3} ?(?:-|–|to) ?\\d{1,3}(?!\\d)|" +
    "(?<![/\\d])(?<!/ )\\d{1,2} ?um|4406[ (]+\\d{1,2}\\)?$",
  "u",
);

/** The names of the standards whose classes are reported. */
const CLASS_NAMES = [
  [
    "ISO 4406",
    "iso[ -]?4406(?:[ -]?(?:19|20)?\\d\\d)?|iso[ -](?:cleanliness |purity )?(?:code|class|rating|level)|cleanliness iso",
  ],
  ["NAS 1638", "nas[ -]?1638|nas[ -](?:class|klasse|code)|(?:class|klasse|classe|clase) nas|nas$"],
  ["AS4059", "as[ -]?4059 ?[a-h]?"],
  ["GOST 17216", "(?:gost|гост)[ -]?17216"],
] as const;
const CLASS_TITLES = CLASS_NAMES.map(
  ([standard, names]) =>
    [standard, new RegExp(`(?<![\\p{L}\\p{N}])(?:${names})(?![\\p{L}\\p{N}])`, "u")] as const,
);
const NAVAIR_TITLE = /^(?:navair 01-1a-17|navy)(?: (?:standard |contamination )?class)?$/;

/** Whose class a title stands over, wherever in it the standard is named: "Reinheitsklasse NAS 1638", "ISO 4406 code (4/6/14 µm)". */
export function classTitle(plain: string, group = ""): Meaning | undefined {
  const named = classNamedIn(plain);
  return named === undefined || isNotAResult(`${plain} ${group}`) ? undefined : named;
}

function classNamedIn(plain: string): Meaning | undefined {
  if (NAVAIR_TITLE.test(plain)) return { holds: "class", standard: "NAVAIR 01-1A-17" };
  const sizeUmC = sizeOfScaleNumber(plain);
  if (sizeUmC !== undefined) return { holds: "class", standard: "ISO 4406", sizeUmC };
  const [standard] = CLASS_TITLES.find(([, names]) => names.test(plain)) ?? [];
  return standard !== undefined && !NO_CLASS.test(plain) ? { holds: "class", standard } : undefined;
}

/** The size of a title over one scale number of a code: "ISO 4406 > 4 µm(c)", "ISO code 6", "14 µm(c) ISO 4406". */
function sizeOfScaleNumber(plain: string): (typeof ISO_4406_SIZES_UM)[number] | undefined {
  const rest = plain.replace(/\biso(?:[ -]?4406(?:[ :-]?(?:19|20)\d\d)?)?(?=\W|$)/, " ");
  if (rest === plain) return undefined;
  const size = rest
    .replace(/\(c\)|\b(?:code|class|rating|cleanliness|scale|number|no|um)\b|(?<=\d)um\b|[()>≥=,/-]/g, " ")
    .trim();
  return ISO_4406_SIZES_UM.find((sizeUmC) => size === String(sizeUmC));
}

/** Titles over the run that a row holds. */
export const RUN_TITLE =
  /^(?:run|rep|replicate|repeat|repetition|determination|aliquot|(?:count|counting) run|messung|wiederholung)(?: (?:no|number|nr|id))?$/;

/** Titles over the dilution of the bottle, with what follows it. */
export const DILUTION_TITLE =
  /^(?:(?:sample )?dilution(?: (?:factor|ratio|rate))?|dilution|verdünnung(?:sfaktor)?|facteur de dilution|factor de dilución|fattore di diluizione|verdunning(?:sfactor)?)(?!\p{L})(.*)$/u;

/** Titles over the volume that the counts of a row stand for. */
export const COUNTS_PER_TITLE =
  /^(?:(?:particles?|counts?|particle counts?)(?: are)?(?: given| reported)? per(?: volume)?|(?:counts?|particle count|counting|reporting|reference|basis|reported) volume|(?:count|volume) basis|basis of counts?|volume of (?:the )?counts?|zählung pro|bezugsvolumen|volume de référence|volumen de referencia)(?: ?[([] ?ml ?[)\]]| in ml|, ml)?$/;

/** A size in a title with one of these words is not the size of a count. */
export const NOT_A_COUNT =
  /β|\b(filter|filtration|membrane|beta|rating|rated|mesh|code|class|scale no|nas|as ?4059)\b|^(?!.*\bml\b).*\biso 4406\b/;

/** How the first cell of a row below the table begins. */
export const FOOTER =
  /^(\W*$|total|sum|mean|average|end of|page \d|printed|signed|approved|checked by|remarks?:|notes?:|legend|report (no|by)|n ?=|laboratory|copyright|©)/i;

/** Words of the method or laboratory in a title that say nothing about the unit. */
export const METHOD =
  /\b(astm|iso|din|en|ip)( en)?( iso)? ?[a-z]? ?\d+(-\d+)?[a-z]?( (19|20)\d\d)?\b|\bkarl fischer\b|\bkf\b|\bcoulometric\b|\btitration\b|\b[de] ?\d{3,5}\b/g;
