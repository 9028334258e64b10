import { frozen, type SourceKey } from "../provenance/index.js";

/** What a fluid is made of. Bases decide what may meet what. */
export type FluidBase = "phosphate ester" | "mineral oil" | "synthetic hydrocarbon";

/** Families of hydraulic fluid that aircraft systems take, by their specification. */
export const FLUID_SPECIFICATIONS = frozen([
  "AS1241 Type IV",
  "AS1241 Type V",
  "MIL-PRF-5606",
  "MIL-PRF-83282",
  "MIL-PRF-87257",
] as const);

/**
 * Fluids that preserve stands and components while they are stored. They are drained before anything is connected: no
 * aircraft system takes them.
 *
 * @source PRESERVATIVE-FLUIDS
 */
export const PRESERVATIVE_FLUIDS = ["MIL-PRF-6083", "MIL-PRF-46170"] as const;

/** Every family that siltbook knows, the preservative ones among them. */
export const KNOWN_FLUIDS = frozen([...FLUID_SPECIFICATIONS, ...PRESERVATIVE_FLUIDS] as const);

/** The specification that names a family. */
export type FluidSpecification = (typeof KNOWN_FLUIDS)[number];

/** A fluid that aircraft systems take. */
export type AircraftFluid = (typeof FLUID_SPECIFICATIONS)[number];

/** Whether a fluid is one of {@link PRESERVATIVE_FLUIDS}. */
export function isPreservative(fluid: FluidSpecification): boolean {
  return (PRESERVATIVE_FLUIDS as readonly string[]).includes(fluid);
}

/** Base of each family; those of the preservative fluids from memory. */
export const FLUID_BASES: Record<FluidSpecification, FluidBase> = {
  "AS1241 Type IV": "phosphate ester",
  "AS1241 Type V": "phosphate ester",
  "MIL-PRF-5606": "mineral oil",
  "MIL-PRF-83282": "synthetic hydrocarbon",
  "MIL-PRF-87257": "synthetic hydrocarbon",
  "MIL-PRF-6083": "mineral oil",
  "MIL-PRF-46170": "synthetic hydrocarbon",
};

/** How a family is written: spelled out, and by the part of it that people leave the rest out of. */
interface Writing {
  readonly whole: RegExp;
  readonly part: RegExp;
}

const mil = (number: string, type = ""): Writing => {
  const part = `${number}(?:[a-z]| [a-z](?! ?\\d))?${type}`;
  return { whole: pattern(`(?:mil (?:prf |h )?|prf )${part}`), part: pattern(part) };
};

const ester = (type: string): Writing => {
  const issue = "(?:sae )?as ?1241(?: ?[a-z])?";
  const part = `type ?(?:${type})(?: cl(?:ass)? ?[12])?(?: grade [a-d])?`;
  return { whole: pattern(`${issue} (?:${part}|${type})`), part: pattern(part) };
};

/**
 * How each family is written on placards and reports, with a space for every dash, full stop and comma: revision letters,
 * older prefixes, classes.
 */
const WRITTEN_AS: Record<FluidSpecification, Writing> = {
  "AS1241 Type IV": ester("iv|4"),
  "AS1241 Type V": ester("v|5"),
  "MIL-PRF-5606": mil("5606"),
  "MIL-PRF-83282": mil("83282"),
  "MIL-PRF-87257": mil("87257"),
  "MIL-PRF-6083": mil("6083"),
  "MIL-PRF-46170": mil("46170", "(?: type (?:i{1,2}|[12]))?"),
};

/** The code of each family in another list; from memory, and read only with the specification. */
const CODES: Partial<Record<FluidSpecification, RegExp>> = {
  "MIL-PRF-5606": /\b(?:nato )?h 515\b/,
  "MIL-PRF-83282": /\b(?:nato )?h 537\b/,
  "MIL-PRF-87257": /\b(?:nato )?h 538\b/,
  "MIL-PRF-6083": /\b(?:nato )?c 635\b/,
  "MIL-PRF-46170": /\b(?:nato )?h 544\b/,
};

/** Words that name no other fluid: what it is, and by which issue of the specification. */
const KIND_WORDS =
  /^(?:hydraulic|fluid|oil|code|spec|specification|per|rev|revision|issue|iss|w|with|int|interim|amd|amdt|amend|amendment|aircraft|aviation)$/;
/** The base and the dye of a fluid, and what the title of its own specification says of it. */
const OWN_WORDS: Record<FluidBase, RegExp> = {
  "phosphate ester": /^(?:phosphate|ester|based?|fire|resistant|purple)$/,
  "mineral oil": /^(?:petroleum|mineral|based?|red)$/,
  "synthetic hydrocarbon": /^(?:synthetic|hydrocarbon|based?|fire|resistant|low|temperature|red)$/,
};
const ISSUE_WORDS = /^(?:amd|amdt|amend|amendment)$/;
/** Words before a letter. */
const LETTER_WORDS = /^(?:rev|revision|issue|iss)$/;
/** Words before the number of a batch or a day. */
const BATCH_WORDS =
  /^(?:batch|lot|charge|chargen|los|lote|lotto|partij|bn|date|dated|dom|mfg|mfd|made|exp|expiry|expires)$/;
const NUMBER_WORDS = /^(?:no|nr|num|number|nummer)$/;
const BATCH_NUMBER = /^(?=.*\d)[\p{L}\d]{1,20}$/u;
/** What stands between words and says nothing. A question mark, a plus sign or the like does say something. */
const SEPARATORS = /[\s.,;:()[\]_\p{Pd}\u2212/#®™]+/gu;

/** A fluid's name in lower case with single spaces, and nothing between letters and the figures after them. */
function plainName(text: string): string {
  return text
    .normalize("NFKC")
    .toLowerCase()
    .replace(SEPARATORS, " ")
    .replace(/\bmil(?=prf|h\d|\d)/g, "mil ")
    .replace(/\b(prf|h)(?=\d)/g, "$1 ")
    .trim();
}

function pattern(written: string): RegExp {
  return new RegExp(`(?<![\\p{L}\\p{N}])(?:${written})(?![\\p{L}\\p{N}])`, "u");
}

/**
 * Reads a fluid's specification.
 *
 * Spaces, dashes, revision letters and classes do not matter, nor do the number of a batch and words such as "hydraulic
 * fluid". A text with any other word, or with the number of another family, names no fluid.
 *
 * @param text - for example "MIL-PRF-83282D batch 12", "mil h 5606" or "AS1241 Type IV class 1"
 * @returns the family, or undefined when the text names none that siltbook knows
 * @example
 * tryParseFluidSpecification("MIL-H-83282"); // => "MIL-PRF-83282"
 */
export function tryParseFluidSpecification(text: string): FluidSpecification | undefined {
  const plain = plainName(text);
  const [named, ...others] = KNOWN_FLUIDS.filter((name) => WRITTEN_AS[name].part.test(plain));
  const anyhow = named ?? KNOWN_FLUIDS.find((name) => WRITTEN_AS[name].whole.test(plain));
  if (anyhow === undefined || others.length > 0) return undefined;
  const { whole, part } = WRITTEN_AS[anyhow];
  const isWhole = whole.test(plain);
  const left = plain.replace(isWhole ? whole : part, " ").replace(CODES[anyhow] ?? "", " ");
  const words = left.split(" ").filter((word) => word !== "");
  const hasBatch = words.some((word) => BATCH_WORDS.test(word));
  const hasLetter = hasBatch || words.some((word) => LETTER_WORDS.test(word));
  const hasIssue = words.some((word) => ISSUE_WORDS.test(word));
  const ownWords = OWN_WORDS[FLUID_BASES[anyhow]];
  const isHarmless = (word: string) =>
    KIND_WORDS.test(word) ||
    (hasIssue && /^\d$/.test(word)) ||
    (hasLetter && isWhole && /^\p{L}$/u.test(word)) ||
    // The number of a batch may look like that of a specification.
    (hasBatch && isWhole && [BATCH_WORDS, NUMBER_WORDS, BATCH_NUMBER].some((known) => known.test(word))) ||
    ownWords.test(word);
  return words.every(isHarmless) ? anyhow : undefined;
}

/** What a text names that is in no hydraulic system of an aircraft. */
export const OTHER_LIQUID = "another liquid";

/**
 * Lubricants by their use, fuels, specifications that are none of ours, and grades of viscosity that no aircraft fluid has:
 * ISO 3448 has VG 15 nearest to them. In the singular, since methods are named for "turbine oils". Common practice, no
 * source.
 */
const OTHER_LIQUIDS =
  /(?<![\p{L}\p{N}])(?:(?:engine|motor|crankcase|turbine|gear|gearbox|transmission|compressor|transformer|brake|heat transfer) (?:oil|fluid)|(?:jet|diesel|turbine) fuel|kerosene|kerosine|gasoline|antifreeze|glycol|mil (?:prf |[hlg] )\d{4,6}[a-z]?|h(?:v|l|vl)?lp ?\d{2,3}|(?:iso )?vg ?(?!15(?!\d))\d{2,4}|sae \d{1,2}w?|\d{1,2}w ?\d{2})(?![\p{L}\p{N}])/gu;

/**
 * The families and bases that a text names, wherever in it, and {@link OTHER_LIQUID} where it names one that is neither;
 * none where something is denied in it.
 *
 * @example
 * fluidsNamedIn("matches AS1241 Type V"); // => ["AS1241 Type V"]
 */
export function fluidsNamedIn(text: string): (FluidSpecification | FluidBase | typeof OTHER_LIQUID)[] {
  const plain = plainName(text);
  if (/\b(?:no|not|non|without|nicht|kein\w*|ohne|pas|sans|sin|senza|geen|niet)\b/.test(plain)) return [];
  const named = KNOWN_FLUIDS.filter(
    (name) =>
      WRITTEN_AS[name].whole.test(plain) || (/\bnato\b/.test(plain) && CODES[name]?.test(plain) === true),
  );
  const others = plain.match(OTHER_LIQUIDS) ?? [];
  return [
    ...named,
    ...(/\bphosph(?:ate|or) ?esters?\b/.test(plain) ? (["phosphate ester"] as const) : []),
    ...(others.some((one) => tryParseFluidSpecification(one) === undefined) ? ([OTHER_LIQUID] as const) : []),
  ];
}

/** Whether two fluids may meet, and why. */
export interface Meeting {
  readonly outcome: "same" | "mixes-but-not-the-same" | "never";
  readonly reason: string;
  readonly source: SourceKey;
}

/**
 * Says whether two families may meet in one circuit.
 *
 * "mixes-but-not-the-same" means that the fluids stay clear when mixed, yet the mixture meets neither
 * specification; whether that is allowed is for the aircraft's manual to say.
 *
 * @example
 * mayMeet("AS1241 Type IV", "MIL-PRF-83282").outcome; // => "never"
 */
export function mayMeet(a: FluidSpecification, b: FluidSpecification): Meeting {
  if (a === b) return { outcome: "same", reason: `both are ${a}`, source: "PRACTICE" };
  const bases = [FLUID_BASES[a], FLUID_BASES[b]];
  const esters = bases.filter((base) => base === "phosphate ester").length;
  if (esters === 1) {
    return {
      outcome: "never",
      reason: "phosphate ester and hydrocarbon fluids do not mix and attack each other's seals",
      source: "PHOSPHATE-ESTER-MIXING",
    };
  }
  if (esters === 2) {
    return {
      outcome: "mixes-but-not-the-same",
      reason:
        "both are phosphate ester, of different types; the aircraft's manual says whether they may meet",
      source: "PRACTICE",
    };
  }
  if (isPreservative(a) || isPreservative(b)) {
    return {
      outcome: "mixes-but-not-the-same",
      reason:
        "the fluids mix, but a preservative fluid is not for aircraft systems and is drained before anything is connected",
      source: "PRESERVATIVE-FLUIDS",
    };
  }
  if (bases.includes("mineral oil")) {
    return {
      outcome: "mixes-but-not-the-same",
      reason: "the fluids mix, but mineral oil lowers the fire resistance of a synthetic hydrocarbon",
      source: "FAA-H-8083-31",
    };
  }
  return {
    outcome: "mixes-but-not-the-same",
    reason:
      "both are synthetic hydrocarbon and stay clear when mixed, but the mixture meets neither specification",
    source: "MIL-PRF-87257",
  };
}
