/**
 * Letters of other scripts that look like a Latin letter or a digit, each before what it looks like. From memory; the whole
 * list is that of Unicode Technical Standard 39, of which these are the letters that stand on keyboards.
 */
const PAIRS = {
  cyrillic:
    "АA ВB ЕE З3 КK МM НH ОO РP СC ТT УY ХX ЅS ІI ЈJ ԚQ ԜW аa вb еe з3 кk мm нh оo рp сc тt уy хx ѕs іi јj ӏl ԛq ԝw һh",
  greek: "ΑA ΒB ΕE ΖZ ΗH ΙI ΚK ΜM ΝN ΟO ΡP ΤT ΥY ΧX αa βb εe ηn ιi κk νv οo ρp τt υu χx",
  others: "ıi ØO øo ŁL łl ĐD đd ɑa ɡg ՕO օo",
} as const;

const LATIN = new Map(
  Object.values(PAIRS).flatMap((pairs) =>
    pairs.split(" ").map((pair): [string, string] => [pair.charAt(0), pair.charAt(1)]),
  ),
);
const OTHERS = new RegExp(`[${[...LATIN.keys()].join("")}]`, "gu");

/** Marks over and under letters, and characters that take no room: soft hyphens, joiners, spaces without width. */
const MARKS = /[\u0300-\u036f\p{Cf}]/gu;
const PLAIN_ASCII = /^[\t\n\r\x20-\x7e]*$/;

/**
 * A text in Latin letters and plain digits, as far as a person would read it so: full-width letters, letters with marks, and
 * letters of other scripts that look alike become the letter they look like.
 *
 * @example
 * latinOf("ＱＢ－О1"); // => "QB-O1"
 */
export function latinOf(text: string): string {
  if (PLAIN_ASCII.test(text)) return text;
  return text
    .normalize("NFKD")
    .replace(MARKS, "")
    .replace(OTHERS, (letter) => LATIN.get(letter) as string)
    .normalize("NFC");
}
