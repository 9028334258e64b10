import { BOTTLE_WORDS } from "./bottle-words-of-languages.js";

const AND = BOTTLE_WORDS.flatMap(({ and }) => and).join("|");
const SEPARATORS = new RegExp(
  String.raw`[,;/+&|\n]|\.(?!\d)|(?<!\S)[-–—](?!\S)|(?<![\p{L}\p{N}])(?:${AND})(?![\p{L}\p{N}])`,
  "giu",
);
/** What is denied, up to where something else begins. */
const DENIED_LIST =
  /(?<!\p{L})(?:no|without|\ue001|free (?:of|from))\s(?=[\p{L}\d])(?!(?:and|or)\b)(?:(?!\b(?:but|with|although|though)\b|\s[-–—]\s)[^.;:|])*/giu;

/** Signs that keep the place of what is read otherwise, so that a part can be quoted unchanged. */
const STAND_INS: readonly (readonly [string, string])[] = [
  ["\ue000", "or"],
  ["\ue001", "without"],
  ["\ue002", "clear bright"],
  ["\ue003", "lpm"],
];
const [OR_SIGN, WITHOUT_SIGN, CLEAR_SIGN, LPM_SIGN] = STAND_INS.map(([sign]) => sign) as [
  string,
  string,
  string,
  string,
];

/** One part of a text: unchanged, and as it is read. */
export interface Part {
  readonly written: string;
  readonly masked: string;
}

/** The parts of a text; a list of things that are denied together stays in one. */
export function partsOf(text: string): Part[] {
  const masked = mask(text);
  const parts: Part[] = [];
  let from = 0;
  const add = (to: number) => {
    const written = trimmed(text.slice(from, to), " ,;/+&|");
    if (written !== "") parts.push({ written, masked: masked.slice(from, to) });
  };
  for (const separator of masked.matchAll(SEPARATORS)) {
    add(separator.index);
    from = separator.index + separator[0].length;
  }
  add(text.length);
  return parts;
}

/** A text of the same length in which signs stand for what people abbreviate and for what joins a list. */
function mask(text: string): string {
  const same = (found: string, sign: string) => sign.padEnd(found.length);
  return text
    .replace(/[\p{Cc}\p{Co}]/gu, (found) => same(found, " "))
    .replace(/\bn\/a\b/gi, (found) => same(found, " "))
    .replace(/\bw\/o\b/gi, (found) => same(found, WITHOUT_SIGN))
    .replace(/\bw\//gi, (found) => same(found, "&"))
    .replace(/\b(?:c\s?[&+/]\s?b|b\s?[&+/]\s?c)\b/gi, (found) => same(found, CLEAR_SIGN))
    .replace(/(?<=\d)\s?l\s?\/\s?min\b/gi, (found) => same(found, LPM_SIGN))
    .replace(/\s[-–—]\s(?=(?:none|nil|no|absent)\b)/giu, (found) => same(found, " "))
    .replace(DENIED_LIST, (list) => {
      const joined = list.replace(/(?<=\p{L}\s?)\/(?=\s?\p{L})/gu, OR_SIGN);
      const both = /^(?:without|\ue001|free)/i.test(list)
        ? joined.replace(/(?<=\p{L})\s(?:and|&)(?=\s\p{L})/giu, (found) => same(found, OR_SIGN))
        : joined;
      const ending = list.slice(list.lastIndexOf(",") + 1);
      return /\b(?:or|nor)\b/i.test(ending) ? both.replace(/,/g, OR_SIGN) : both;
    });
}

/** The words of a text in lower case; signs of {@link mask} are the words they stand for. */
export function wordsOf(text: string): string[] {
  const readable = STAND_INS.reduce((left, [sign, words]) => left.replaceAll(sign, ` ${words} `), text);
  return readable
    .normalize("NFKC")
    .toLowerCase()
    .replace(/n['’]t\b/g, " not")
    .replace(/\?/g, " ? ")
    .replace(/(?<=\p{L})[-‐-―_](?=\p{L})/gu, " ")
    .split(/[^\p{L}\p{N}#<>≤≥~=.,?!/]+/u)
    .map((word) => trimmed(word, ".,!"))
    .filter((word) => word !== "");
}

/** A text without these marks around it. */
function trimmed(word: string, marks: string): string {
  const isMark = (at: number) => marks.includes(word[at] ?? "");
  let [start, end] = [0, word.length];
  while (start < end && isMark(start)) start += 1;
  while (end > start && isMark(end - 1)) end -= 1;
  return word.slice(start, end);
}

/** A text as words with single spaces, for looking it up. */
export function plainWords(text: string): string {
  return wordsOf(text).join(" ");
}
