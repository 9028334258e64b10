import type { Appearance, SamplePoint } from "../../samples/index.js";
import type { Description } from "../layout/meaning.js";
import { BOTTLE_WORDS } from "./bottle-words-of-languages.js";

/** One thing that words about a bottle say. */
export type BottleFinding =
  | { readonly is: "appearance"; readonly value: Appearance }
  | { readonly is: "sample-point"; readonly value: SamplePoint }
  | { readonly is: "flowing"; readonly value: "yes" | "no" }
  /** A colour; its words are kept as they stand. */
  | { readonly is: "colour"; readonly value: string };

/** What is wrong with a fluid to the eye. */
export const BAD_LOOKS: readonly Appearance[] = [
  "cloudy",
  "two-layers",
  "free-water",
  "particles-seen",
  "fibres-seen",
];

const listed = (of: (words: (typeof BOTTLE_WORDS)[number]) => readonly string[]): Set<string> =>
  new Set(BOTTLE_WORDS.flatMap(of));

/** What a known word says, and whether it names a thing that can be denied in a list. */
type Term = { readonly finding: BottleFinding; readonly isThing: boolean };

function termsOf<T extends string>(
  table: Partial<Record<T, readonly string[]>>,
  finding: (value: T) => BottleFinding,
  isThing = false,
): [string, Term][] {
  return (Object.entries(table) as [T, readonly string[]][]).flatMap(([value, words]) =>
    [value.replaceAll("-", " "), ...words].map((word): [string, Term] => [
      word,
      { finding: finding(value), isThing },
    ]),
  );
}

export const LOOKS = new Map(
  BOTTLE_WORDS.flatMap(({ things, looks }) => [
    ...termsOf(things, (value) => ({ is: "appearance", value }), true),
    ...termsOf(looks, (value) => ({ is: "appearance", value })),
  ]),
);
/** Most texts have none of the words, and need not be read. */
export const LOOKS_BAD = new RegExp(
  [...LOOKS]
    .flatMap(([word, { finding }]) =>
      BAD_LOOKS.some((look) => look === finding.value) || finding.value === "clear"
        ? [word.replace(/\W/g, ".")]
        : [],
    )
    .join("|"),
  "i",
);
const POINTS = new Map(
  BOTTLE_WORDS.flatMap(({ samplePoints }) =>
    termsOf(samplePoints, (value) => ({ is: "sample-point", value })),
  ),
);
const FLOW = new Map(
  BOTTLE_WORDS.flatMap(({ flowing }) => termsOf(flowing, (value) => ({ is: "flowing", value }))),
);
/** Words about flow that mean it under any title; "no" and "off" alone answer the title they stand under. */
const FLOW_ANYWHERE = new Map([...FLOW].filter(([word]) => /flow|static|pump|running|shut/.test(word)));

export const TERMS: Record<Description, ReadonlyMap<string, Term>> = {
  appearance: LOOKS,
  colour: LOOKS,
  "sample-point": new Map([...FLOW_ANYWHERE, ...POINTS]),
  flowing: new Map([...POINTS, ...FLOW]),
};
const HARMLESS_LOOK = listed(({ harmless }) => harmless.look);
export const HARMLESS: Record<Description, ReadonlySet<string>> = {
  appearance: HARMLESS_LOOK,
  colour: new Set([...HARMLESS_LOOK, ...listed(({ scales }) => scales)]),
  "sample-point": listed(({ harmless }) => harmless.place),
  flowing: new Set([...listed(({ harmless }) => harmless.flow), ...listed(({ harmless }) => harmless.place)]),
};
export const DENYING = listed(({ denying }) => denying);
export const DENYING_BEHIND = listed(({ denyingBehind }) => denyingBehind);
export const ONLY_DENIED = listed(({ onlyDenied }) => onlyDenied);
export const COLOURS = listed(({ colours }) => colours);
export const SHADES = listed(({ shades }) => shades);
export const OR = listed(({ or }) => or);

/** Colours that a fluid has only when something is wrong with it. */
export const OF_THINGS: ReadonlySet<string> = new Set(
  "black schwarz noir noire negro negra nero nera zwart preto svart".split(" "),
);
