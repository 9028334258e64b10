import { ROUTINE, STATEMENT_LANGUAGES } from "./statement-words.js";
import { BOTTLE, FILL, RESULT, SAMPLE, UNRELIABLE } from "./unreliable-words.js";
import { words } from "./words.js";
import type { StatementWords } from "./words-of-language.js";

/** Whether some words of a text are bad and some are sound. */
export interface Heard {
  readonly bad?: "rejects" | "doubts";
  readonly sound: boolean;
}

export const anyOf = (words: readonly string[]) => `(?:${words.join("|")})`;
export const listed = (of: (words: StatementWords) => readonly string[]) => [
  ...new Set(STATEMENT_LANGUAGES.flatMap(of)),
];
/** Every sign but blanks, marks and figures: a fraction of the size of \p{L}, of which there are hundreds in a pattern. */
const LETTER =
  "[^\\0-@[-`{-\\xBF×÷\\u2000-\\u2BFF\\u3000-\\u3004\\u3008-\\u3020\\uE000-\\uF8FF\\uFF00-\\uFF20]";
const LETTER_OR_FIGURE = LETTER.replace("0-@", "0-/:-@");
/** Nothing is captured in a text, so a list writes its groups without saying so. */
const short = (words: string) =>
  words
    .replace(/(?<!\\)\((?!\?)/g, "(?:")
    .replaceAll("[\\p{L}\\p{N}]", LETTER_OR_FIGURE)
    .replaceAll("\\p{L}", LETTER);
/** A pattern for whole words of a text that is {@link plain}. */
export const whole = (words: string) =>
  new RegExp(`(?<!${LETTER_OR_FIGURE})${short(words)}(?!${LETTER_OR_FIGURE})`, "gu");
/** The same for a single look: without a place to go on from. */
export const once = (words: string) => new RegExp(whole(words).source, "u");

const BETWEEN = anyOf(listed(({ between }) => between));
const NONE_OF_IT = anyOf(listed(({ noneOfIt }) => noneOfIt));
export const DENIAL = `${anyOf(listed(({ denying }) => denying))}(?: ${BETWEEN}){0,4}`;

/** Signs that stand for words of a kind once they are found, so that denials need not know the words. */
export const [REJECTS, DOUBTS, UNSAFE, SOUND] = ["\uE000", "\uE001", "\uE002", "\uE003"] as const;
const BAD = `[${REJECTS}${DOUBTS}${UNSAFE}]`;
/** One by one: a pattern as long as all of them together is not compiled well, and takes twenty times as long. */
const ARE_UNRELIABLE = UNRELIABLE.map(whole);
const IS_REJECTING = whole(anyOf(listed(({ rejecting }) => rejecting)));
const IS_SOUND = whole(anyOf(listed(({ sound }) => sound)));
export const IN_REMARKS = whole(
  anyOf(listed(({ doubting, doubtingInRemarks }) => [...doubting, ...doubtingInRemarks])),
);
export const ANYWHERE = whole(anyOf(listed(({ doubting }) => doubting)));
const DENIED_BAD = whole(
  `(?:${DENIAL}|(?<![.,])0(?: ${BETWEEN}){0,2}) ${BAD}(?:(?: or | nor | ?/ ?)(?:${BETWEEN} )?${BAD})*`,
);
const NONE_OF_BAD = whole(`${BAD}(?:(?: \\p{L}+){0,3} ?[:=] ?| )${NONE_OF_IT}(?=\\s*(?:$|[;,.)]))`);
/** "Not acceptable", "voldoet niet", "passed: no". */
const DENIED_SOUND = whole(
  `(?:${DENIAL} ${SOUND}|${SOUND} (?:nicht|niet|pas)|${SOUND} ?[:=] ?${NONE_OF_IT}(?=\\s*(?:$|[;,.)])))`,
);
const IS_ROUTINE = whole(anyOf(ROUTINE));

const ARE =
  "(?:are|will be|get|werden|sont|seront|se|seran|son|sono|vengono|saranno|worden|zullen|sao|serao|(?:was|were) (?=counted|retested|repeated))";
/** What is done with such samples whenever there are any. "volume" stands for a dilution in lines around a table. */
const IS_DONE = anyOf(words`
  (?:reported|comm?uni[cq]~|notif~|phoned|telephoned|e ?mailed|sent|announced)(?! (?:below|above|here|in)), inform~, rep(?:ea|e|i)t~, (?:drawn|taken|counted|measured) again,
  re ?tested, counted twice, marked, flagged, kept, rem?plac~, returned, volume, gemeld~, mitgeteilt, wiederholt, gekennzeichnet, ersetzt, s[ei]gn?al~, ripetut~,
  doorgegeven, herhaald, vervangen, dilu~, verdu~`);
const BEFORE = "(?:before|vor|avant|antes|prima|voor)";
const THING = anyOf([RESULT, BOTTLE, SAMPLE]);
/** "Abnormal results are reported by telephone" is said of no result in particular, unless one is named after it. */
const OF_A_KIND = new RegExp(
  short(
    `(?<!\\b(?:all|both|these|alle|beide|diese|ces|est[ao]s|quest[ei]|deze) )(?:${BAD} (?:${FILL})?${THING}|${THING} ${BAD}|${UNSAFE}(?: ${THING})?) ${ARE} ` +
      `(?:(?:${FILL}){0,2}${IS_DONE}|(?:${FILL})?${DOUBTS} ${BEFORE}|${BEFORE} (?:${FILL}){0,2}${DOUBTS}|(?:${FILL})?${REJECTS} (?!\\W*$)|(?<=${UNSAFE}(?: ${THING})? ${ARE} )(?:${REJECTS}|not|nicht|niet|nao|rechaz|zuruck|refus|geweigerd|recus))(?![^.;]*(?:\uE004|\\p{L}[–_./#]?\\d|(?<!\\p{L})(?!in |um )\\p{L}{1,2} \\d|: ))`,
  ),
  "gu",
);

/** A text in which {@link REJECTS} and the like stand for what is bad or sound; what is denied is taken out. */
interface Signed {
  readonly text: string;
  readonly deniesBad: boolean;
}

/** @param doubting - words of doubt, by what column it is */
export function withSigns(text: string, doubting: RegExp): Signed {
  const settled = text.replace(IS_ROUTINE, " ; ");
  let left = ARE_UNRELIABLE.reduce((rest, one) => rest.replace(one, UNSAFE), settled)
    .replace(IS_REJECTING, REJECTS)
    .replace(doubting, DOUBTS)
    .replace(IS_SOUND, SOUND);
  const replace = (said: RegExp, by: string): boolean => {
    const before = left;
    left = left.replace(said, by);
    return left !== before;
  };
  replace(OF_A_KIND, " ; ");
  const deniesBad = [DENIED_BAD, NONE_OF_BAD].filter((said) => replace(said, " ; ")).length > 0;
  replace(DENIED_SOUND, REJECTS);
  return { text: left, deniesBad };
}

export function hear(said: string, doubting: RegExp): Heard {
  const { text, deniesBad } = withSigns(said, doubting);
  const isDoubted = text.includes(DOUBTS) || text.includes(UNSAFE);
  const bad = text.includes(REJECTS) ? "rejects" : isDoubted ? "doubts" : undefined;
  return { ...(bad && { bad }), sound: deniesBad || text.includes(SOUND) };
}

/** The intake cuts longer texts to the part that says that something is wrong; the patterns need not be tried on more. */
export const MAX_LENGTH = 1100;

/** In lower case, without accents, with hyphens and apostrophes resolved. */
export function plain(text: string): string {
  return text
    .slice(0, MAX_LENGTH)
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replaceAll("ß", "ss")
    .replace(/[’‘`´]/g, "'")
    .replace(/n't\b/g, " not")
    .replace(/\bcannot\b/g, "can not")
    .replace(/(?<!\p{L})([cdjlmnst]|qu)'(?=\p{L})/gu, "$1 ")
    .replace(/(?<![\p{L}\p{N}])(\p{L})\.(?:(\p{L})\.)?(\p{L})(?:\.|(?![\p{L}\p{N}]))/gu, "$1$2$3")
    .replace(/[-_‐-―\s]+/g, " ")
    .trim();
}
