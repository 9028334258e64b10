import { FLUID_BASES, type FluidSpecification } from "./families.js";

/** Groups of colours that tell fluids apart. */
export type Hue = "red" | "purple" | "blue" | "green" | "yellow" | "dark" | "colourless";

/** Words of a hue, in the languages that laboratories write most. */
const HUES: Record<Hue, string> = {
  red:
    "red scarlet crimson cherry ruby maroon burgundy wine pink rose rosy " +
    "rot rote roter rotes rosa rouge rojo roja rosso rossa vermelho vermelha rood rode roze röd rød rosé",
  purple:
    "purple violet mauve lilac lavender plum magenta " +
    "violett lila purpur pourpre violette morado morada púrpura purpura violeta viola roxo roxa paars lilla",
  blue: "blue indigo turquoise blau blaue blauer bleu bleue azul blu blauw blauwe blå",
  green: "green grün grüne grüner vert verte verde groen groene grön grønn",
  yellow:
    "yellow amber straw gold golden honey orange lemon gelb gelbe bernstein jaune ambre amarillo amarilla giallo amarelo geel gele gul",
  dark:
    "brown black dark darker darkened grey gray tan coffee braun braune schwarz dunkel brun brune noir foncé marrón negro oscuro " +
    "bruno nero scuro marrom preto escuro bruin zwart donker brunt svart",
  colourless:
    "colourless colorless uncoloured uncolored undyed white farblos incolore incoloro incolor kleurloos färglös",
};

/** Shades that are said with an ending of their own: a little of a hue. */
const SHADES: Record<string, Hue> = {
  reddish: "red",
  pinkish: "red",
  rötlich: "red",
  rougeâtre: "red",
  rojizo: "red",
  rossastro: "red",
  purplish: "purple",
  purply: "purple",
  bluish: "blue",
  blueish: "blue",
  bläulich: "blue",
  greenish: "green",
  grünlich: "green",
  yellowish: "yellow",
  gelblich: "yellow",
  orangish: "yellow",
  brownish: "dark",
  bräunlich: "dark",
  blackish: "dark",
  greyish: "dark",
  darkish: "dark",
};

/** Words that say how strong or how usual a colour is. */
const PLAIN = new Set(
  (
    "light lightly pale deep bright clear transparent translucent faint faded slight slightly medium strong intense vivid rich " +
    "very fairly rather quite somewhat normal typical usual ok okay good fine acceptable satisfactory standard new fresh " +
    "uniform even homogeneous limpid hell helle klar blass leicht clair claire claro clara chiaro chiara licht ljus"
  ).split(" "),
);

/** Words that say nothing by themselves. */
const LINKS = new Set(
  (
    "as still looks look appears appearance visual visually turned turning be longer like fluid oil liquid hydraulic colour color " +
    "coloured colored dye dyed tint tinted tinge hue shade with and or to an the of in it is was und mit et avec con"
  ).split(" "),
);

/** Words after which a colour is denied, or only wished for. */
const DENIALS = new Set(
  (
    "not no non never without lost instead former formerly should expected cannot isn isnt wasn wasnt " +
    "nicht kein keine ohne pas sans sin senza sem niet geen"
  ).split(" "),
);

const MEANINGS = new Map<string, Hue>([
  ...(Object.entries(HUES) as [Hue, string][]).flatMap(([hue, words]) =>
    words.split(" ").map((word): [string, Hue] => [word, hue]),
  ),
  ...Object.entries(SHADES),
]);

/** What a report says of a colour. */
export interface ColourReading {
  /** Hues that are said to be there, shades such as "reddish" among them. */
  readonly seen: readonly Hue[];
  /** Whether a hue is only a shade, such as "reddish". */
  readonly isShade: boolean;
  /** Hues that are said not to be there. */
  readonly denied: readonly Hue[];
  /** Words that have no reading here. */
  readonly unknown: readonly string[];
}

/**
 * Reads the colour that a report gives in words.
 *
 * A denial reaches to the next comma or other mark, or to "but": "not red, purple" denies red and says purple.
 *
 * @example
 * readColour("purple with red streaks").unknown; // => ["streaks"]
 */
export function readColour(text: string): ColourReading {
  const [seen, denied, unknown] = [new Set<Hue>(), new Set<Hue>(), new Set<string>()];
  for (const phrase of text
    .normalize("NFKC")
    .toLowerCase()
    .split(/[^\p{L}\p{M}\s'’-]+|\bbut\b|\bnow\b/u)) {
    let isDenied = false;
    for (const word of wordsOf(phrase)) {
      if (DENIALS.has(word)) isDenied = true;
      // "Not clear" and "not normal" are findings, though of no colour.
      else if (LINKS.has(word) || (PLAIN.has(word) && !isDenied)) continue;
      else {
        const hues = huesOf(word);
        if (hues === undefined) unknown.add(isDenied ? `not ${word}` : word);
        else for (const hue of hues) (isDenied ? denied : seen).add(hue);
      }
    }
  }
  if (wordsOf(text).length === 0) unknown.add(text.trim());
  const isShade = wordsOf(text).some((word) => Object.hasOwn(SHADES, word));
  return { seen: [...seen], isShade, denied: [...denied], unknown: [...unknown] };
}

/** The words of a text in lower case, single letters left out. */
export function wordsOf(text: string): string[] {
  return text
    .normalize("NFKC")
    .toLowerCase()
    .split(/[^\p{L}\p{M}]+/u)
    .filter((word) => word.length > 1);
}

/** The hue of a word, or both of a word made of two, such as "rotbraun"; none for words such as "hellrot" but the hue. */
function huesOf(word: string): Hue[] | undefined {
  const whole = MEANINGS.get(word);
  if (whole !== undefined) return [whole];
  for (let cut = 3; cut <= word.length - 3; cut += 1) {
    const parts = [word.slice(0, cut), word.slice(cut)];
    if (
      parts.every((part) => MEANINGS.has(part) || PLAIN.has(part)) &&
      parts.some((part) => MEANINGS.has(part))
    )
      return parts.flatMap((part) => MEANINGS.get(part) ?? []);
  }
  return undefined;
}

/**
 * The dye of a fluid, and the hues that name a fluid of the other base.
 *
 * Hydrocarbons are dyed red (for MIL-PRF-87257 from memory), phosphate esters purple. Esters of earlier types and aged
 * ones may be blue or green (from memory), so these name no other fluid in a phosphate ester, but do in a hydrocarbon.
 *
 * @source FLUID-COLOURS
 */
export function dyeOf(fluid: FluidSpecification): { readonly own: Hue; readonly foreign: readonly Hue[] } {
  return FLUID_BASES[fluid] === "phosphate ester"
    ? { own: "purple", foreign: ["red"] }
    : { own: "red", foreign: ["purple", "blue", "green"] };
}

/** Hues of dyes: two of them in one bottle are two fluids. */
export const DYE_HUES: readonly Hue[] = ["red", "purple", "blue", "green"];
