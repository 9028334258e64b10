import { partsOf } from "./names/names.js";

/** Words that say what a thing is and not which one, as people write them before a number. Common practice, no source. */
const KIND_WORDS: ReadonlySet<string> = new Set(
  (
    "cart carts unit rig stand trolley mule machine equipment gpu hydraulic hyd power ground service no nr num nbr number " +
    "wagen nummer chariot numero carro carrito carrello"
  ).split(" "),
);

/**
 * A written name without words that say only what it is the name of: "cart", "No.".
 *
 * @returns the name as it is written where no other word is left
 * @example
 * withoutKindWords("Cart No. 7"); // => "7"
 */
export function withoutKindWords(written: string): string {
  const words = partsOf(written, "writing");
  const left = words.filter(({ text }) => !KIND_WORDS.has(text));
  if (left.length === 0 || left.length === words.length) return written;
  return left.map(({ withZeros }) => withZeros).join(" ");
}
