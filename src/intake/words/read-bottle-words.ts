import { readColour } from "../../fluids/index.js";
import { APPEARANCES, type Appearance, FILLED_FROM, type SamplePoint } from "../../samples/index.js";
import type { Description } from "../layout/meaning.js";
import { partsOf, plainWords, wordsOf } from "./bottle-parts.js";
import {
  BAD_LOOKS,
  type BottleFinding,
  COLOURS,
  DENYING,
  DENYING_BEHIND,
  HARMLESS,
  LOOKS,
  LOOKS_BAD,
  OF_THINGS,
  ONLY_DENIED,
  OR,
  SHADES,
  TERMS,
} from "./bottle-terms.js";

/** What became of a cell in words. */
export interface BottleReading {
  readonly findings: readonly BottleFinding[];
  /** Parts of the cell that hold a word without a reading here, as they stand. */
  readonly notUnderstood: readonly string[];
  /** Words that were read as others of siltbook's own. */
  readonly readAs: readonly { readonly words: string; readonly value: string }[];
}

/** What a column map says that a text means. */
export const SETTLED_WORDS = [...APPEARANCES, ...FILLED_FROM, "flowing", "not-flowing", "nothing"] as const;

/** See {@link SETTLED_WORDS}; "nothing" says nothing against the sample. */
export type SettledWord = (typeof SETTLED_WORDS)[number];

/**
 * Reads what is said of a bottle in words, part by part.
 *
 * What is known is kept, whatever else is said; a part with a word that is not known is handed back unchanged.
 * Words of every language are known at once. A finding of another kind counts as well: "cloudy" under colour is cloudy.
 *
 * @param settled - by {@link plainWords}, what a column map says that a text means
 */
export function readBottleWords(
  about: Description,
  text: string,
  settled: ReadonlyMap<string, SettledWord>,
): BottleReading {
  const whole = settledFinding(about, settled.get(plainWords(text)));
  if (whole !== undefined) return { findings: whole, notUnderstood: [], readAs: [] };
  const findings: BottleFinding[] = [];
  const notUnderstood: string[] = [];
  const readAs: { words: string; value: string }[] = [];
  const parts = partsOf(text).map((part) => {
    const known = settledFinding(about, settled.get(plainWords(part.written)));
    if (known !== undefined) return { part, findings: known, isKnown: true, saysNothing: false, readAs: [] };
    return { part, ...readPart(about, part.masked) };
  });
  const saysSomething = parts.some((part) => !part.saysNothing);
  for (const reading of parts) {
    findings.push(...reading.findings);
    readAs.push(...reading.readAs);
    // "Port 3" after "pressure line" only says more of it; "heavy" after "clear" may mean anything.
    const isBeside = reading.saysNothing && saysSomething && !isLook(about);
    const { written } = reading.part;
    if (saysSomething && about === "sample-point" && SAMPLER.test(plainWords(written))) continue;
    if (!reading.isKnown || (reading.saysNothing && !isBeside)) notUnderstood.push(written);
  }
  return { findings, notUnderstood, readAs };
}

/** The fitting that a bottle is filled at, with its tag; next to the name of its line it only adds detail. */
const SAMPLER =
  /^(?:(?:sampl(?:e|ing)|test) (?:valve|port|tap|cock|fitting|point)|sampler)(?: (?:no )?#?[a-z]{0,3} ?\d{1,3})?$/;

/**
 * Finds what is wrong to the eye in a text that stands under another title: "water at bottom" among the remarks.
 *
 * Only parts in which every word is known count, and none in which something sound is said as well. Words that mean only
 * one thing count next to others too: "sample arrived cloudy".
 *
 * @param isSentence - whether a person wrote the text as it is; otherwise it is a title with its cell
 */
export function badLooksIn(text: string, isSentence: boolean): Appearance[] {
  const looks = LOOKS_BAD.test(text)
    ? partsOf(text).flatMap((part) => {
        const { findings, isKnown } = readPart("appearance", part.masked);
        const values = findings.flatMap((finding) => (finding.is === "appearance" ? [finding.value] : []));
        const counts = isKnown || (isSentence && UNMISTAKABLE.test(plainWords(part.written)));
        return counts && values.every((value) => BAD_LOOKS.includes(value)) ? values : [];
      })
    : [];
  return [...new Set(looks)];
}

const UNMISTAKABLE =
  /\b(?:cloudy|hazy|turbid|milky|murky|emulsified|free water|visible water|water droplets|two layers|2 layers|phase separation)\b/;

function settledFinding(about: Description, word: SettledWord | undefined): BottleFinding[] | undefined {
  if (word === undefined) return undefined;
  if (word === "nothing") return [];
  if (word === "flowing" || word === "not-flowing")
    return about === "flowing" || about === "sample-point"
      ? [{ is: "flowing", value: word === "flowing" ? "yes" : "no" }]
      : undefined;
  if ((FILLED_FROM as readonly string[]).includes(word))
    return about === "sample-point" ? [{ is: about, value: word as SamplePoint }] : undefined;
  return about === "appearance" || about === "colour"
    ? [{ is: "appearance", value: word as Appearance }]
    : undefined;
}

const MAX_WORDS = 7;

/** The longest of the known phrases that begins at a word, and how many words it has. */
function longestAt(words: readonly string[], at: number, known: (phrase: string) => boolean): number {
  for (let length = Math.min(MAX_WORDS, words.length - at); length > 0; length -= 1)
    if (known(words.slice(at, at + length).join(" "))) return length;
  return 0;
}

interface PartReading {
  readonly findings: BottleFinding[];
  /** Whether every word is known. */
  readonly isKnown: boolean;
  /** Whether no word says anything by itself. */
  readonly saysNothing: boolean;
  readonly readAs: { words: string; value: string }[];
}

/** One thing that was said in a part, before it is known whether it was denied. */
interface Said {
  /** Absent for things that have no finding of their own. */
  readonly finding?: BottleFinding;
  readonly words: string;
  readonly isThing: boolean;
  denied: boolean;
}

function readPart(about: Description, part: string): PartReading {
  const words = wordsOf(part);
  const said: Said[] = [];
  const colours: string[] = [];
  let denying = false;
  let isKnown = true;
  for (let at = 0; at < words.length; ) {
    const word = words[at] as string;
    const colour = isLook(about) ? colourAt(words, at) : undefined;
    const term = longestAt(words, at, (phrase) => TERMS[about].has(phrase));
    const denial = longestAt(words, at, (phrase) => DENYING.has(phrase));
    const litres = about === "flowing" ? litresAt(words, at) : undefined;
    if (litres !== undefined) {
      const value = litres > 0 ? "yes" : "no";
      said.push({ finding: { is: "flowing", value }, words: value, isThing: false, denied: false });
      at += 2;
    } else if (colour !== undefined && colour.length >= term) {
      if (colour.isColour) colours.push(words.slice(at, at + colour.length).join(" "));
      at += colour.length;
    } else if (
      denial > 0 &&
      denial >= term &&
      !(about === "flowing" && denial === term && at + denial === words.length)
    ) {
      // "Not free of water" is water.
      denying = !denying;
      at += denial;
    } else if (term > 0 || (isLook(about) && ONLY_DENIED.has(word))) {
      const phrase = words.slice(at, at + Math.max(term, 1)).join(" ");
      const known = TERMS[about].get(phrase);
      const isThing = known?.isThing ?? true;
      said.push({ ...(known && { finding: known.finding }), words: phrase, isThing, denied: denying });
      at += Math.max(term, 1);
      denying = denying && OR.has(words[at] ?? "") && sameKind(about, words, at + 1, isThing);
    } else if (DENYING_BEHIND.has(word) && said.length > 0) {
      denyLast(said);
      at += 1;
    } else {
      isKnown &&= HARMLESS[about].has(word) || OR.has(word) || isFigure(about, word);
      at += 1;
    }
  }
  if (denying) {
    // A denial with nothing after it belongs to what stands before it: "water not visible".
    if (said.length === 0) isKnown = false;
    denyLast(said);
  }
  const readings = said.map(readingOf);
  const found = readings.flatMap(({ finding }) => finding ?? []);
  const isSaid =
    found.length > 0 || colours.length > 0 || (about === "colour" && words.some((word) => /\d/.test(word)));
  return {
    findings: [...found, ...colours.map((value): BottleFinding => ({ is: "colour", value }))],
    isKnown: isKnown && readings.every(({ finding }) => finding !== undefined),
    saysNothing: !isSaid,
    readAs: readings.flatMap(({ readAs }) => readAs ?? []),
  };
}

/** Denies what stands before: "water none". That nothing flowed is not turned round by a "no" after it. */
function denyLast(said: readonly Said[]): void {
  const last = said.at(-1);
  if (last !== undefined && last.finding?.value !== "no") last.denied = true;
}

function isLook(about: Description): boolean {
  return about === "appearance" || about === "colour";
}

/** A flow in L/min or gpm: "45 lpm". */
function litresAt(words: readonly string[], at: number): number | undefined {
  const flow = Number((words[at] ?? "").replace(",", "."));
  return /^(?:lpm|gpm)$/.test(words[at + 1] ?? "") && !Number.isNaN(flow) ? flow : undefined;
}

/** Whether what follows an "or" is a thing like the one before it, or like it a look. */
function sameKind(about: Description, words: readonly string[], at: number, isThing: boolean): boolean {
  let next = at;
  while (next < words.length && HARMLESS[about].has(words[next] as string)) next += 1;
  const length = longestAt(words, next, (phrase) => TERMS[about].has(phrase));
  const term = TERMS[about].get(words.slice(next, next + length).join(" "));
  return term === undefined ? ONLY_DENIED.has(words[next] ?? "") : term.isThing === isThing;
}

/** A colour with its shades, or shades and colours of a thing that follows: "black specks" says nothing of the fluid. */
function colourAt(words: readonly string[], at: number): { length: number; isColour: boolean } | undefined {
  let next = at;
  let isColour = false;
  for (;;) {
    const length =
      longestAt(words, next, (phrase) => COLOURS.has(phrase)) ||
      (isColourElsewhere(words[next] ?? "") ? 1 : 0);
    if (length === 0 && !SHADES.has(words[next] ?? "") && !OF_THINGS.has(words[next] ?? "")) break;
    isColour ||= length > 0;
    next += Math.max(length, 1);
  }
  if (next === at) return undefined;
  const thing = longestAt(words, next, (phrase) => LOOKS.get(phrase)?.isThing === true);
  if (thing > 0) return { length: next - at, isColour: false };
  return isColour && !words.slice(at, next).some((word) => OF_THINGS.has(word))
    ? { length: next - at, isColour: true }
    : undefined;
}

/** A colour in another language, by the one list of them. */
function isColourElsewhere(word: string): boolean {
  if (word === "" || SHADES.has(word) || OF_THINGS.has(word) || LOOKS.has(word)) return false;
  const { seen, unknown, isShade } = readColour(word);
  return seen.length > 0 && unknown.length === 0 && !isShade;
}

/** A place of a scale, or the number of a port with its name. */
function isFigure(about: Description, word: string): boolean {
  if (about === "colour") return /^[<>≤≥~=]?l?\d+([.,]\d+)?$/.test(word);
  return about !== "appearance" && /^#?\d+([.,]\d+)?[a-z]?$/.test(word);
}

function readingOf({ finding, words, denied }: Said): {
  finding?: BottleFinding;
  readAs?: { words: string; value: string };
} {
  if (finding === undefined) {
    if (!denied) return {};
    return { finding: NOTHING, readAs: { words: `no ${words}`, value: NOTHING.value } };
  }
  if (!denied) return as(finding, words);
  if (finding.is === "flowing")
    return as({ is: "flowing", value: finding.value === "yes" ? "no" : "yes" }, `not ${words}`);
  if (finding.is !== "appearance" || finding.value === "nothing-seen") return {};
  return finding.value === "clear"
    ? as({ is: "appearance", value: "cloudy" }, `not ${words}`)
    : as(NOTHING, `no ${words}`);
}

const NOTHING = { is: "appearance", value: "nothing-seen" } as const;

function as(finding: BottleFinding, words: string) {
  const value = finding.value;
  return { finding, ...(value.replaceAll("-", " ") !== words && { readAs: { words, value } }) };
}
