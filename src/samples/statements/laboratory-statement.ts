import { fluidsNamedIn, tryParseFluidSpecification } from "../../fluids/index.js";
import {
  ANYWHERE,
  anyOf,
  DENIAL,
  type Heard,
  hear,
  IN_REMARKS,
  listed,
  MAX_LENGTH,
  once,
  plain,
  UNSAFE,
  whole,
  withSigns,
} from "./hear.js";
import { SAYS_NO_VERDICT } from "./statement-words.js";
import { NOT_FINAL, RESULT, SAMPLE } from "./unreliable-words.js";

/** What a text of a laboratory says of its sample; "nothing" where it says neither good nor bad. */
export type Statement = "rejects" | "doubts" | "sound" | "nothing";

/**
 * Says what a laboratory means by a text in a column of remarks, evaluation, status or the like.
 *
 * Denials are understood ("no abnormal findings", "not acceptable"), and a "yes", "no" or cross answers the title of its
 * column. Bad and sound words in one text are a doubt: a person has to read it.
 *
 * @param column - title of the column
 * @param text - the cell
 * @example
 * readStatement("Status", "Not acceptable"); // => "rejects"
 */
export function readStatement(column: string, text: string): Statement {
  return read(column, text, IN_REMARKS);
}

/**
 * The fluids that a text names as the one in the bottle; none under a title about another fluid, a method or a machine.
 *
 * The title need not speak of a fluid: laboratories put its name under "Lubricant", "Medium", "Spec" or "Description".
 *
 * @param column - title of the column
 * @param text - the cell
 */
export function fluidsSaidIn(column: string, text: string): ReturnType<typeof fluidsNamedIn> {
  const title = plain(column);
  if (title === "" || ABOUT_ANOTHER_FLUID.test(title) || ABOUT_OTHER_THINGS.test(title)) return [];
  if (ABOUT_MACHINE.test(title) && !NAMES_FLUID.test(title)) return [];
  const said = text.slice(0, MAX_LENGTH).replace(OF_CALIBRATION, " ");
  const inShort = NAMES_FLUID.test(title) ? tryParseFluidSpecification(said) : undefined;
  return inShort === undefined ? fluidsNamedIn(said) : [inShort];
}

/** Titles under which "5606" or "Type V" is a fluid and no number or kind of something else. */
const NAMES_FLUID =
  /\b(?:fluid|oil|lubricants?|lube|medium|product|material|schmierstoff|(?:hydraulik)?ol|lubrifiant|huile|lubricante|aceite|lubrificante|olio|smeermiddel|olie|oleo)\b/;

const ABOUT_ANOTHER_FLUID =
  /\b(?:other|next|allowed|permitted|approved|accepted|required?|requirements?|target|limits?|old|fresh|new|reference|standards?|methods?|procedures?|calibrat\w*|counters?|instruments?|solvents?|dilut\w*|rinsed?|circuits?|aircraft|serves)\b/;
/** A machine may be named for the fluids of all its circuits. */
const ABOUT_MACHINE =
  /\b(?:carts?|units?|equipment|machines?|assets?|rigs?|stands?|systems?|sites?|locations?|customers?|owners?|operators?|lab|laboratory|compan(?:y|ies)|address|departments?)\b/;
/** Counters are calibrated with dust in a hydraulic fluid, whatever they count later. */
const OF_CALIBRATION = /\b(?:calibrat\w*|kalibr\w*|[eé]talonn\w*|calibrad\w*|tarat\w*)[^;.]*/gi;

/** What a text says that is bad, in a column for the laboratory's own remarks; undefined when it says nothing bad. */
export function badStatement(column: string, text: string): "rejects" | "doubts" | undefined {
  const statement = readStatement(column, text);
  return statement === "rejects" || statement === "doubts" ? statement : undefined;
}

/**
 * Whether a remark says more than is understood: words are left when sound, routine and harmless ones are taken out. Nothing
 * is concluded from it, so a person has to read it.
 *
 * @param column - title of the column
 * @param text - the cell
 * @example
 * leavesWords("Remarks", "values copied from cart C-9"); // => true
 */
export function leavesWords(column: string, text: string): boolean {
  if (badStatement(column, text) !== undefined) return false;
  const said = withSigns(plain(text), IN_REMARKS).text;
  return /\p{L}{3}|\p{Lo}/u.test(said.replace(NO_VERDICT, " ").replace(SAMPLE_OR_RESULT, " "));
}

/**
 * Whether a text in any other column says without doubt that something is wrong: "REJECTED" is plain under every title.
 *
 * Columns that say why a sample was drawn, that name limits, or that speak of an earlier sample do not count.
 *
 * @param column - title of the column
 * @param text - the cell
 */
export function saysPlainly(column: string, text: string): boolean {
  if (ABOUT_OTHER_THINGS.test(plain(column))) return false;
  const words = ABOUT_SMELL.test(plain(column)) ? IN_REMARKS : ANYWHERE;
  const statement = read(column, text, words);
  return statement === "rejects" || statement === "doubts";
}

/** Whether a title is itself good or bad, so that a number or a day under it says something: "Void", "Cancelled on". */
export function isTitleOfVerdict(column: string): boolean {
  const { bad, sound } = hear(plain(column), ANYWHERE);
  return (bad !== undefined || sound) && !ABOUT_OTHER_THINGS.test(plain(column));
}

/** What stands under these titles is said of the bottle: "leaking", "open". */
const ABOUT_BOTTLE =
  /\b(?:condition|state|zustand|etat|estado|stato|staat)\b.*\b(?:arrival|receipt|received|samples?|bottles?|containers?|eingang|probe|flasche|reception|echantillon|flacon|recepcion|muestra|frasco|arrivo|campione|flacone|ontvangst|monster|fles|rececao|amostra)\b|\b(?:samples?|bottles?|containers?|proben?|flaschen?) ?(?:condition|state|zustand)/;

/** Nothing is reported of a smell but what the nose makes of the sample. */
const ABOUT_SMELL = /\b(?:odou?r|smell)\b/;

const ABOUT_OTHER_THINGS =
  /\b(?:purpose|occasion|trigger|why|previous|prior|former|earlier|last)\b|^(?!.*(?:fail|reject|condemn)).*\breasons?\b|^(?!.*\b(?:within|in|exceed\w*|over|above|out of)\b).*\b(?:limits?|criteri\w+|threshold)$/;

/** What comes after these words is not said of the sample itself. */
const EARLIER = /\b(?:after|following|before|previous|previously|prior|last|earlier|since)\b/;

/** What is sound up to here. */
const BUT = /\b(?:but|except|however|although|aber|mais|pero)\b/;

function read(column: string, text: string, words: RegExp): Statement {
  const said = plain(text);
  const title = hear(plain(column), ANYWHERE);
  const answer = answerTo(title, said, column);
  if (answer !== undefined) return answer;
  if (words === IN_REMARKS && (SEVERE.test(said) || isGraded(plain(column), said))) return "doubts";
  const { bad, sound } = hear(ABOUT_BOTTLE.test(plain(column)) ? `bottle ${said}` : said, words);
  if (bad === undefined && sound && BUT.test(said)) return "doubts";
  if (bad === undefined && sound) return "sound";
  if (bad === undefined) {
    const isAsked = words === IN_REMARKS && isVerdictNotUnderstood(plain(column), said);
    return isAsked || whyFailed(title, plain(column), said) ? "doubts" : "nothing";
  }
  return bad === "rejects" && !sound && !EARLIER.test(said) ? "rejects" : "doubts";
}

const YES = /^(?:y|yes|true|1|x|✓|✔|☑|✅|ja|j|oui|si)[.!]*$/;
const NO = /^(?:n|no|false|0|✗|✘|❌|nein|non)[.!]*$/;
const FAILS = /^(?:f|u|r|x)[.!]*$/;
const PASSES = /^(?:p|go)[.!]*$/;

/** What a single "yes", "no" or mark says under a title that is itself good or bad: "Accepted: no", "Pass/fail: F". */
function answerTo({ bad, sound }: Heard, said: string, column: string): Statement | undefined {
  if ((bad !== undefined && sound) || PASS_OR_FAIL.test(plain(column))) {
    if (NO.test(said) || FAILS.test(said)) return "rejects";
    return YES.test(said) || PASSES.test(said) ? "sound" : undefined;
  }
  if (NO.test(said) && bad === undefined && isUnreliableWithout(plain(column))) return "doubts";
  if (bad === undefined && !sound) return undefined;
  if (YES.test(said)) return bad ?? "sound";
  if (NO.test(said)) return bad === undefined ? "rejects" : "sound";
  return undefined;
}

/** Whether a "no" says that a result is not to be relied on: "Validated: no", "Ultra clean bottle: no", "Bottle sealed: no". */
function isUnreliableWithout(title: string): boolean {
  const lastDenied = title.replace(/\S+$/, "not $&");
  return [`not ${title}`, lastDenied].some((denied) => withSigns(denied, ANYWHERE).text.includes(UNSAFE));
}

const PASS_OR_FAIL = /^(?:p ?\/ ?f|go ?\/ ?no ?go)$/;
/** A colour or a letter that is the whole of what is said of a sample. */
const SEVERE =
  /^(?:(?:code|flag|status|zone|severity)?\s*(?:red|amber|yellow|orange|rot|gelb)(?: (?:alert|flag|status|zone))?|f|x|u|u\/s|n\/g|ng|[✗✘❌⛔⚠🔴🟠🟡!❗‼]+)[.!]*$/u;

/** Laboratories grade what is wrong from 0 or 1 upwards, both of which are normal. Common practice, no source. */
function isGraded(column: string, said: string): boolean {
  return /\b(?:severity|alarms?|alerts?|warnings?)\b/.test(column) && GRADE.test(said);
}

const GRADE =
  /^(?:(?:level|code|class|grade|severity|alarm|alert) ?)?(?:[2-9]|[1-9]\d)(?: ?(?:\/|of) ?\d{1,2})?$/;

const VERDICT_TITLE = whole(anyOf(listed(({ verdictTitles }) => verdictTitles)));
const NO_VERDICT = whole(anyOf([...SAYS_NO_VERDICT, ...listed(({ between }) => between)]));
const SAMPLE_OR_RESULT = whole(anyOf([SAMPLE, RESULT]));
const NOTHING_OF_IT = new RegExp(`^${DENIAL}(?![\\p{L}\\p{N}])`, "u");
/** A verdict is given in a few words; what is longer tells of something. */
const MAX_WORDS_OF_VERDICT = 3;

/** A word or two where a laboratory gives its verdict, in a language or a manner of speaking that is not known here. */
function isVerdictNotUnderstood(column: string, said: string): boolean {
  if (column.replace(VERDICT_TITLE, "") === column || /\p{N}/u.test(said) || NOTHING_OF_IT.test(said))
    return false;
  if (said.split(" ").length > MAX_WORDS_OF_VERDICT) return false;
  return /\p{L}{3}|\p{Lo}/u.test(said.replace(NO_VERDICT, " "));
}

/** Text under a title such as "Reject reason" or "Superseded by": nobody writes one for a sample that stands. */
function whyFailed({ bad }: Heard, column: string, said: string): boolean {
  if (bad === undefined || NOT_SAID.test(said)) return false;
  return (
    (bad === "rejects" && WHY.test(column) && /\p{L}/u.test(said)) ||
    (WHO_OR_WHEN.test(column) && !EARLIER_REPORT.test(column) && /[\p{L}\p{N}]/u.test(said))
  );
}

const WHY = /\b(?:reasons?|causes?|codes?|modes?|details?|remarks?|comments?|tests?|items?)\b/;
const WHO_OR_WHEN = /\b(?:by|on)$|\bdate\b/;
/** "Preliminary report on": the day of a report that this one may have replaced. */
const EARLIER_REPORT = once(anyOf(NOT_FINAL));

const NOT_SAID = /^(?:none|nil|no|0|n\/?a|-+|not (?:applicable|given|stated|reported))[.]?$/;
