const UMLAUTS: readonly (readonly [RegExp, string])[] = [
  [/ä/g, "ae"],
  [/ö/g, "oe"],
  [/ü/g, "ue"],
];

/** The ways in which a word of a title is written: "säurezahl", "saurezahl" and "saeurezahl". */
export function spellings(word: string): string[] {
  const umlautsInFull = UMLAUTS.reduce((text, [umlaut, inFull]) => text.replace(umlaut, inFull), word);
  return [...new Set([word, withoutAccents(word), withoutAccents(umlautsInFull)])];
}

/** What the writings of one title have in common: "Proben-Nr." and "Probennr", "Date (drawn)" and "date drawn". */
export function titleKey(plain: string): string {
  return withoutAccents(plain).replace(/[\s'’´`()]|(?<=\p{L})[/-](?=\p{L})/gu, "");
}

function withoutAccents(text: string): string {
  // ASCII has none.
  if (!/[^ -~]/.test(text)) return text;
  return text.normalize("NFD").replace(/\p{M}/gu, "").replaceAll("ß", "ss");
}
