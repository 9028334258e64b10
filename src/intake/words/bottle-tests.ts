import {
  badStatement,
  isPatchCode,
  MAX_PATCH_CLASS,
  PATCH_STANDARDS,
  type PatchTest,
  type Sample,
} from "../../samples/index.js";
import type { TestMeaning } from "../layout/meaning.js";
import { STANDARD } from "../layout/patch-titles.js";
import { plainWords, wordsOf } from "./bottle-parts.js";
import type { BottleFinding } from "./bottle-terms.js";
import { BOTTLE_WORDS } from "./bottle-words-of-languages.js";

/** One thing that a simple test found. */
export type TestFinding =
  | Extract<BottleFinding, { is: "appearance" }>
  | { readonly is: "crackle"; readonly value: NonNullable<Sample["crackle"]> }
  | { readonly is: "smell"; readonly value: NonNullable<Sample["smell"]> }
  | { readonly is: "patch"; readonly value: PatchTest };

/** What one cell about a test of the bottle says; undefined where it is not understood. */
export type TestReading = readonly TestFinding[] | undefined;

/** Reads what a simple test of a bottle found. */
export function readBottleTest(meaning: TestMeaning, text: string): TestReading {
  switch (meaning.holds) {
    case "clear-and-bright":
      return readClearAndBright(text);
    case "fibres":
      return ofAnswer(answerIn(text, FIBRES), "fibres-seen");
    case "crackle": {
      const answer = BELOW.test(text) ? "no" : answerIn(text, CRACKLES);
      return answer && [{ is: "crackle", value: answer === "no" ? "none" : "crackles" }];
    }
    case "smell":
      return readSmell(text);
    case "patch-stain":
      return ofPatch(answerIn(text, STAINS), (stained) => ({ stained }));
    case "patch-free-water":
      return ofPatch(answerIn(text, WATER), (freeWater) => ({ freeWater }));
    case "patch-colour":
      return [{ is: "patch", value: { colour: text } }];
    case "patch-class":
      return readClass(meaning, text);
    case "patch-volume":
      return numberIn(text, meaning.unit, /^(?:mls?|cm3|cm³|cc)$/i, (volumeMl) => ({ volumeMl }));
    case "patch-pore":
      return numberIn(text, meaning.unit, /^(?:[uµμ]m|microns?|micromet(?:re|er)s?)$/i, (poreUm) => ({
        poreUm,
      }));
  }
}

function ofAnswer(answer: Answer, seen: "fibres-seen"): TestReading {
  return answer && [{ is: "appearance", value: answer === "no" ? "nothing-seen" : seen }];
}

function ofPatch(answer: Answer, finding: (isSeen: boolean) => PatchTest): TestReading {
  return answer && [{ is: "patch", value: finding(answer === "yes") }];
}

/** What denies a thing, or says that there is nothing to say of it. */
const NO: ReadonlySet<string> = new Set([
  ...BOTTLE_WORDS.flatMap(({ denying, denyingBehind, looks }) => [
    ...denying,
    ...denyingBehind,
    ...(looks["nothing-seen"] ?? []),
  ]),
  ...[
    "n",
    "false",
    "neg",
    "pass",
    "passed",
    "negativ",
    "négatif",
    "negativo",
    "negatief",
    "nein",
    "non",
    "nee",
  ],
]);
const HARMLESS: ReadonlySet<string> = new Set(BOTTLE_WORDS.flatMap(({ harmless }) => harmless.look));
/** Amounts of a thing, and other ways to say that it is there. */
const AMOUNTS: ReadonlySet<string> = new Set(
  (
    "yes y true positive pos fail failed trace traces slight slightly light faint minor moderate medium strong heavy severe violent loud " +
    "continuous few some several many much lots large visible ja oui si sim leicht stark wenig viele peu léger fort beaucoup"
  ).split(" "),
);

const listed = (words: string): ReadonlySet<string> => new Set(words.split(" "));
const FIBRES = listed("fibre fibres fiber fibers lint fasern fibras vezels");
const CRACKLES = listed(
  "crackle crackles crackled crackling pop pops popping spatter spatters spattering sizzle sizzles bubble bubbles bubbling test water",
);
const STAINS = listed("stain stains stained staining patch");
const WATER = listed("water free droplet droplets drop drops patch wet");
/** A crackle test that was worth a number: "< 500 ppm". */
const BELOW = /^[<≤] ?\d/;

type Answer = "yes" | "no" | undefined;

/** Whether a cell denies a thing, or says that there is some of it; undefined where a word is not known. */
function answerIn(text: string, own: ReadonlySet<string>): Answer {
  const words = wordsOf(text).filter((word) => !own.has(word));
  const isSome = words.some((word) => AMOUNTS.has(word));
  const left = words.filter((word) => !AMOUNTS.has(word) && !HARMLESS.has(word));
  if (left.length === 0) return wordsOf(text).length === 0 ? undefined : "yes";
  return !isSome && (NO.has(words.join(" ")) || left.every((word) => NO.has(word))) ? "no" : undefined;
}

const CLEAR = /^(?:y|yes|true|pass(?:ed)?|ok|p|ja|oui|si|sí|sim|✓|✔)$/;
const NOT_CLEAR = /^(?:n|no|false|fail(?:ed)?|f|nein|non|nee|não|✗|✘|not clear|not c b)$/;

/** A single answer; everything else is read as words about the look of the bottle. */
function readClearAndBright(text: string): TestReading {
  const plain = plainWords(text) || text.trim();
  if (CLEAR.test(plain)) return [{ is: "appearance", value: "clear" }];
  return NOT_CLEAR.test(plain) ? [{ is: "appearance", value: "cloudy" }] : undefined;
}

const SMELLS = listed(
  "burnt burned burning acrid sour rancid pungent foul rotten solvent fuel kerosene petrol gasoline diesel jet sharp chemical strong musty " +
    "acid acidic vinegar ammonia verbrannt brûlé brulé quemado bruciato verbrand queimado",
);
const ORDINARY = listed(
  "smell smells odour odor odours odourless odorless typical characteristic usual fresh hydraulic oil fluid mild phosphate ester petroleum mineral like of",
);

const UNUSUAL = listed("unusual abnormal foreign bad off");

function readSmell(text: string): TestReading {
  if (badStatement("smell", text) !== undefined) return [{ is: "smell", value: "unusual" }];
  const words = wordsOf(text);
  const bad = words.some((word) => SMELLS.has(word));
  const isDenied = NO.has(words[0] ?? "");
  if (bad) return [{ is: "smell", value: isDenied ? "normal" : "unusual" }];
  const left = words.filter(
    (word) => !ORDINARY.has(word) && !HARMLESS.has(word) && !(isDenied && UNUSUAL.has(word)),
  );
  const isOrdinary =
    left.every((word) => NO.has(word)) && words.some((word) => NO.has(word) || ORDINARY.has(word));
  return isOrdinary && !words.some((word) => AMOUNTS.has(word))
    ? [{ is: "smell", value: "normal" }]
    : undefined;
}

/** "3", "class 3", "NAVAIR class 3", "> 5" or "beyond 6". */
const CLASS = /^(?:class |klasse |classe |clase )?(>|>=|≥|<|<=|≤|beyond|over|above)? ?(\d{1,2})(\+)?$/i;
const SIGNS = {
  ">": "above",
  beyond: "above",
  over: "above",
  above: "above",
  "≥": "at-least",
  ">=": "at-least",
  "<": "below",
  "≤": "at-most",
  "<=": "at-most",
} as const;

/** Two numbers with a dash between them are a range of classes, unless a title says otherwise. */
const TWO_WITH_A_DASH = /^[^/]*\d ?[-–] ?\d+[^/\d]*$/;

/** A class as one number, or a code of ISO 4406, which no other standard writes. */
function readClass(ofTitle: TestMeaning & { holds: "patch-class" }, text: string): TestReading {
  const inCell = PATCH_STANDARDS.find((name) => STANDARD[name].test(text));
  const named = ofTitle.standard;
  const isCode = isPatchCode(text) && (named === "ISO 4406" || !TWO_WITH_A_DASH.test(text));
  if (named === "ISO 4406" || isCode)
    return isCode && (named ?? "ISO 4406") === "ISO 4406" && inCell === undefined
      ? [{ is: "patch", value: { code: text } }]
      : undefined;
  if (inCell !== undefined && named !== undefined && inCell !== named) return undefined;
  const standard = named ?? inCell;
  const plain = text
    .replace(/\b(?:navair(?: 01-1a-17)?|01-1a-17|navy|nas(?: ?-?1638)?)\b:?/gi, "")
    .replace(/\s+/g, " ")
    .trim();
  const [, sign, digits, plus] = CLASS.exec(plain) ?? [];
  const value = Number(digits);
  if (digits === undefined || (standard !== undefined && value > MAX_PATCH_CLASS[standard])) return undefined;
  const limit = plus === undefined ? sign && SIGNS[sign.toLowerCase() as keyof typeof SIGNS] : "above";
  return [
    { is: "patch", value: { class: { value, ...(limit && { limit }) }, ...(standard && { standard }) } },
  ];
}

/** A plain number with the unit of its title or its own. */
function numberIn(
  text: string,
  unit: string | undefined,
  isUnit: RegExp,
  finding: (value: number) => PatchTest,
): TestReading {
  const [, digits = "", own = ""] = /^(\d{1,5}(?:[.,]\d{1,2})?) ?(\S*)$/.exec(text) ?? [];
  const value = Number(digits.replace(",", "."));
  const hasUnit = own === "" ? unit !== undefined : isUnit.test(own);
  return hasUnit && value > 0 ? [{ is: "patch", value: finding(value) }] : undefined;
}
