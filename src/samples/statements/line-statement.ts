import { ANYWHERE, anyOf, IN_REMARKS, listed, once, plain, UNSAFE, withSigns } from "./hear.js";
import { MUST_BE_CHANGED } from "./statement-words.js";
import { BOTTLE, COUNTER, FILL, REPEATED, RESULT, SAID_OF, SAMPLE } from "./unreliable-words.js";
import { words } from "./words.js";

/**
 * Whether a line of text around a table says that the results in it are not to be relied on, or that samples in it are bad.
 *
 * It knows the words of remarks. That a report, a bottle or a counter is not in order counts however it is said. Words about
 * the fluid count where the line says them of samples ("both samples abnormal") or says nothing else ("REJECTED"), and not
 * in a title ("Contamination report") or of a kind of samples ("abnormal samples are counted twice").
 *
 * @param line - the cells of a row, joined
 * @example
 * doubtsSamples("Bottles arrived broken"); // => true
 */
export function doubtsSamples(line: string): boolean {
  return (
    !line.includes("=") &&
    line.split(END_OF_CLAUSE).some((clause) => clause !== "" && isDoubt(withNames(clause)))
  );
}

const END_OF_CLAUSE = /(?<=[.;!?])(?:\s+|$)/u;

function isDoubt(clause: string): boolean {
  if (EXPLAINS.test(clause)) return false;
  const remarked = withSigns(clause, IN_REMARKS).text;
  if (MEANING.test(remarked) && !ALL_OF_THEM.test(clause)) return false;
  if (ORDER.test(clause)) return !OF_BOTTLES.test(clause);
  if (remarked.includes(UNSAFE) || OF_SAMPLES.test(remarked)) return true;
  const plainly = VERDICT_LABEL.test(clause) ? remarked : withSigns(clause, ANYWHERE).text;
  return FIRST.test(plainly) || ALONE.test(plainly);
}

/** Whether a line says how results are marked, what is done on a condition, or under which terms a report may be used. */
export function explains(line: string): boolean {
  return EXPLAINS.test(withNames(line));
}

/** Whether a line asks for another sample or fluid and says no more; a sheet of that name holds what was drawn again. */
export function asksForAnother(line: string): boolean {
  return ASKS_AGAIN.test(plain(line));
}

/** Whether a line means all samples of its table, whatever it names. */
export function meansAll(line: string): boolean {
  return ALL_OF_THEM.test(withNames(line));
}

/** Standards and specifications, which are no names of samples. */
const STANDARD =
  /\b(?:iso(?:\/iec)?|din|en|astm|ip|sae|nas|arp|as|gost|mil|prf|navair)(?:[ -]?[a-z]{0,3}[ -]?\d[\d.:/-]*[a-z]?)+\b|\b[de][ -]?\d{3,5}\b/giu;
/** Nor are numbers of reports and orders. */
const NUMBERED =
  /\b(report|order|batch|lot|job|consignment|auftrag|bericht|sendung|commande|rapport|pedido|informe|ordine|opdracht)((?: (?:no|nr|number|ref)\.?)?[ :#.]+)[\p{L}\p{N}._/-]{0,40}\d[\p{L}\p{N}._/-]*/giu;
/** What tells one thing from others of its kind: letters and figures in one word, as "S-1", "QB-01", "12a". */
const NAME = /(?<![\p{L}\p{N}._/-])[\p{L}\p{N}._/-]*(?:\p{L}[-–_./#]?\d|\d[-–_./#]?\p{L})[\p{L}\p{N}._/-]*/gu;

/** What may be names of samples or carts in a line. */
export function namesInLine(line: string): string[] {
  return line.replace(STANDARD, " ").replace(NUMBERED, "$1").match(NAME) ?? [];
}

const NAMED = "\uE004";

let lastLine = { line: "", text: "" };

/** A line in plain letters, with one sign for every name, and one word for what is seen in a bottle. Several questions are asked about each. */
function withNames(line: string): string {
  if (lastLine.line !== line) lastLine = { line, text: inPlainLetters(line) };
  return lastLine.text;
}

function inPlainLetters(line: string): string {
  const text = line
    .replace(STANDARD, " ")
    .replace(NUMBERED, "$1 9")
    .replace(NAME, NAMED)
    .replace(/[()[\]"“”„«»]/g, " ");
  return plain(text)
    .replace(LIST, "$1")
    .replace(DILUTION, "volume")
    .replace(MATTER_FOUND, "contaminated")
    .replace(MATTER, "content")
    .replace(SEEN, "contaminated");
}

/** "1, 2 and 3", "S-1 to S-3". */
const LIST = /(\d+|\uE004)(?:(?: ?[,&+] ?| )(?:(?:and|to|und|bis|et|a|y|e|en) )?(?:\d+|\uE004))+/gu;
const SEEN =
  /\b(?:cloudy|hazy|turbid|milky|murky|emulsified|two layers|phase separation|(?:free|visible) water(?! (?:by|method|test|content))|water (?:visible|droplets))\b/gu;
/** Whether counts were multiplied is asked of the titles of a table. */
const DILUTION = /\b(?:dil(?:ut|ui|uc)|verdunn)\p{L}*/gu;
/** What a table is about, unless it was found. */
const MATTERS =
  "(?<!cross )\\b(?:contamina(?:tion|cion|cao|zione)|kontamination|verschmutzung|verunreinigung|pollution|vervuiling|verontreiniging)\\p{L}*";
const MATTER = new RegExp(MATTERS, "gu");
const MATTER_FOUND = new RegExp(
  `${MATTERS} (?:was |were |wurden? |has been |ete |a ete )?(?:found|detected|seen|gefunden|festgestellt|constatee?|detectad[oa]|rilevata|gevonden)`,
  "gu",
);

const ASKS_AGAIN = new RegExp(
  `^(?:(?:please|bitte|action|status) ?:? ?)?(?:${REPEATED}[.!]*$|${anyOf(MUST_BE_CHANGED)})`,
  "u",
);

const QUANTITY = anyOf(words`
  all, every, each, both, some, several, most, many, two, three, alle[rn]?, saemtliche[rn]?, samtliche[rn]?, beide, einige, mehrere,
  tou(?:te)?s, plusieurs, tod[oa]s, vari[oa]s, tutt[ei], todas as, todos os`);
const OF_A_SAMPLE = anyOf([
  ...[SAMPLE, BOTTLE, RESULT, COUNTER, NAMED],
  ...words`
    carts?, circuits?, units?, wagen, kreise?, chariots?, carros?, carrelli, fluids?, oils?, filters?, elements?, oe?l, fluides?, huiles?, fluidos?, aceites?,
    fluido, oli[oe]?, vloeistof, oleo, contents?, these, they, diese, ceux ci, estas?, queste?, deze`,
]);
const BAD = "[\uE000\uE001]";

const ALL_OF_THEM = once(`${QUANTITY} (?:${FILL}){0,2}(?:${SAMPLE}|${BOTTLE}|${RESULT})`);
/** "Do not use": what a bottle must not be used for is no order about a sample. */
const ORDER = once(
  anyOf(
    listed(({ rejecting }) => rejecting).filter((word) =>
      /^(?:do not|not|nicht|ne pas|no|non|niet|nao|\(must)\b/.test(word),
    ),
  ),
);
const OF_BOTTLES = once(BOTTLE);
/** A verdict that is all there is, with its label: "Evaluation: rejected". */
const VERDICT_LABEL = new RegExp(
  `^(?:\\p{L}+ )?${anyOf(listed(({ verdictTitles }) => verdictTitles))} ?: `,
  "u",
);
const ALONE = new RegExp(
  `^(?:[\\p{L} ]{3,30}: )?(?:(?:please|bitte|${QUANTITY}) )*${BAD}(?: (?:these|this|diese[rs]?|ces|estos|questi|deze|${OF_A_SAMPLE})){0,3}(?: for (?:use|service|flight|connection))?[.!]*$`,
  "u",
);
const OF_SAMPLES = new RegExp(
  `(?:(?<![\\p{L}\\p{N}])${OF_A_SAMPLE})${SAID_OF}${BAD}|^${QUANTITY} (?:${FILL}){0,3}${BAD}(?! (?:${FILL}){0,1}${OF_A_SAMPLE})|${BAD} (?:${FILL}){0,3}(?:in|of|bei|dans|en|nei|em) (?:the )?(?:${QUANTITY} )?(?:${FILL}){0,1}(?:${SAMPLE}|${BOTTLE}|${RESULT}|${COUNTER})|${BAD} (?:${SAMPLE}|${BOTTLE}|${RESULT}) (?:are|were|was|is)(?! counted)`,
  "u",
);
/** "FAIL: water 250". */
const FIRST = new RegExp(`^(?:\\p{L}+ )?${BAD} ?: ?\\S`, "u");
/** "FAIL: a result is above its limit" says what a word means. */
const MEANING = /^(?:\p{L}+ )?[\uE000\uE001\uE003] ?: ?[^\d\uE004]+$/u;

const EXPLAINS = new RegExp(
  `^\\W*(?:[*†‡#]|(?!nb|ps|re)\\p{L}{1,2} ?: |(?:the |die )?(?:previous|earlier|former|prior|vorherige|fruhere)\\p{L}* (?:${FILL}){0,1}(?:${SAMPLE}|${RESULT})(?: ?:|$))|[?]|\\b(?:${[
    ...words`
      (?<!not )mark(?:ed|s), highlight~, bold, italics?, asterisk, flag(?:ged|s)?, denote[ds]?, indicated (?:by|with|in), shaded,
      underlined, colou?red, in (?:red|colou?r|brackets|parentheses|klammern), entre parenthes~, tra parentesi, entre parentesis, fett,
      kursiv, gekennzeichnet, markiert, criteri~, legende?, legenda, leyenda, key`,
    ...words`
      if, when(?! (?:\p{L}+ )?(?:received|arrived|opened|delivered|unpacked)), whenever, whether, in case, unless, wenn, falls, sofern, si, se (?:il|i|un|o|os|as), caso, indien`,
    ...words`
      are (?:available|sent|given|reported|issued) (?:on request|by (?:e ?mail|post|phone|telephone|fax)),
      (?:changes?|alterations?|modifications?) (?:\p{L}+ )?(?:make|render|void)s?, without (?:a |the )?(?:signature|stamp|written), liab~, responsib~, haft(?:et|ung), gewahr~, responsab~,
      aansprakelijk~, complain~, reklamation~, reclam~, (?!reproducib)reprod~, copie[ds]?, copied, vervielfaltig~, auszugsweise, riprod~,
      gereproduceerd, vermenigvuldig~, advertis~, legal, court, (?:provided|supplied|given|stated) by (?:the )?(?:customer|client|applicant)`,
    "(?:below|above|under|over|less than|more than|greater than|unter|uber|sous|sotto|onder|boven|abaixo de|inferieure?s? a|superieure?s? a) [<>]? ?\\d[\\d.,]*(?![\\d.,]| ?[uμ]m)",
  ].join("|")})(?![\\p{L}\\p{N}])`,
  "u",
);
