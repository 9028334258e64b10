/**
 * The upper halves of the code pages of older computers, from byte 128.
 *
 * Source: the tables CP437.TXT and CP850.TXT of the Unicode Consortium, by way of Python's codecs.
 */
const UPPER_HALVES = {
  "code-page-437":
    "ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜ¢£¥₧ƒáíóúñÑªº¿⌐¬½¼¡«»░▒▓│┤╡╢╖╕╣║╗╝╜╛┐└┴┬├─┼╞╟╚╔╩╦╠═╬╧╨╤╥╙╘╒╓╫╪┘┌█▄▌▐▀αßΓπΣσµτΦΘΩδ∞φε∩≡±≥≤⌠⌡÷≈°∙·√ⁿ²■\u00a0",
  "code-page-850":
    "ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜø£Ø×ƒáíóúñÑªº¿®¬½¼¡«»░▒▓│┤ÁÂÀ©╣║╗╝¢¥┐└┴┬├─┼ãÃ╚╔╩╦╠═╬¤ðÐÊËÈıÍÎÏ┘┌█▄¦Ì▀ÓßÔÒõÕµþÞÚÛÙýÝ¯´\u00ad±‗¾¶§÷¸°¨·¹³²■\u00a0",
} as const;

/** A code in which every character is one byte. */
export type SingleByteCode = "windows-1252" | keyof typeof UPPER_HALVES;

const WINDOWS_1252 = Array.from({ length: 128 }, (_, index) =>
  // Streamed on purpose: this Node decodes windows-1252 as Latin-1 when it is given the bytes in one piece.
  new TextDecoder("windows-1252").decode(Uint8Array.of(128 + index), { stream: true }),
).join("");

/** Some bytes of a code as text. */
export function charactersOf(code: SingleByteCode, bytes: Uint8Array): string {
  const upper = code === "windows-1252" ? WINDOWS_1252 : UPPER_HALVES[code];
  return Buffer.from(bytes)
    .toString("latin1")
    .replace(/[\u0080-\u00ff]/g, (character) => upper[character.charCodeAt(0) - 128] as string);
}

/** A text in Windows-1252; undefined when it has characters that the code does not know. */
export function bytesOf(text: string): Uint8Array | undefined {
  const bytes = Array.from(text, (character) => {
    const code = character.charCodeAt(0);
    return code < 128 ? code : 128 + WINDOWS_1252.indexOf(character);
  });
  return bytes.some((byte, index) => byte === 127 && text[index] !== "\u007f")
    ? undefined
    : Uint8Array.from(bytes);
}

/** Where signs and letters are in a report of a laboratory: "4 µm", "40 °C", "mm²/s", "kg/m³", "≤ 5", "geprüft". */
const MAKES_SENSE =
  /(?<=[\d\s([>≥])µ(?=[mg])|°(?= ?[CF]\b)|(?<=m)[²³]|[≤≥±](?= ?\d)|(?<=\p{L})[äöüßéèêëàâçñíóáúôîï](?=\p{L})|(?<![\p{L}\p{N}])[ÄÖÜÉ](?=\p{L})/gu;
/** Letters that stand for a lost sign, and marks in the middle of a word. */
const MAKES_NONE =
  /(?<=\d ?)[æø](?=[mCF]\b)|(?<=\p{Ll})[^\p{L}\p{M}\p{N}\s!-~’–](?=\p{Ll})|[\u0080-\u009f]/gu;

/** The code in which some bytes make the most sense; of equals the one of older office computers. */
export function likelyCode(bytes: Uint8Array): SingleByteCode {
  const codes: readonly SingleByteCode[] = ["windows-1252", "code-page-850", "code-page-437"];
  const scored = codes.map((code) => {
    const text = charactersOf(code, bytes);
    return { code, score: (text.match(MAKES_SENSE)?.length ?? 0) - (text.match(MAKES_NONE)?.length ?? 0) };
  });
  const best = Math.max(...scored.map(({ score }) => score));
  return scored.find(({ score }) => score === best)?.code ?? "windows-1252";
}
