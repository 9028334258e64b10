import type { SourceKey } from "../provenance/index.js";

/** What a fluid is made of. Bases decide what may meet what. */
export type FluidBase = "phosphate ester" | "mineral oil" | "synthetic hydrocarbon";

/** Families of hydraulic fluid by their specification. */
export const FLUID_SPECIFICATIONS = [
  "AS1241 Type IV",
  "AS1241 Type V",
  "MIL-PRF-5606",
  "MIL-PRF-83282",
  "MIL-PRF-87257",
] as const;

/** The specification that names a family. */
export type FluidSpecification = (typeof FLUID_SPECIFICATIONS)[number];

/** Base of each family. */
export const FLUID_BASES: Record<FluidSpecification, FluidBase> = {
  "AS1241 Type IV": "phosphate ester",
  "AS1241 Type V": "phosphate ester",
  "MIL-PRF-5606": "mineral oil",
  "MIL-PRF-83282": "synthetic hydrocarbon",
  "MIL-PRF-87257": "synthetic hydrocarbon",
};

/** How each family is written on placards and reports, besides its own name: revision letters, older prefixes. */
const WRITTEN_AS: Record<FluidSpecification, RegExp> = {
  "AS1241 Type IV": /^(sae )?as ?1241[a-z]?,? type (iv|4)(,? class [12])?$/,
  "AS1241 Type V": /^(sae )?as ?1241[a-z]?,? type (v|5)$/,
  "MIL-PRF-5606": /^mil[ -]?(prf|h)[ -]?5606[a-z]?$/,
  "MIL-PRF-83282": /^mil[ -]?(prf|h)[ -]?83282[a-z]?$/,
  "MIL-PRF-87257": /^mil[ -]?(prf|h)[ -]?87257[a-z]?$/,
};

/**
 * Reads a fluid's specification.
 *
 * @param text - for example "MIL-PRF-83282D", "mil-h-5606" or "AS1241 Type IV class 1"
 * @returns the family, or undefined when the text names none that siltbook knows
 * @example
 * tryParseFluidSpecification("MIL-H-83282"); // => "MIL-PRF-83282"
 */
export function tryParseFluidSpecification(text: string): FluidSpecification | undefined {
  const plain = text.trim().toLowerCase().replace(/\s+/g, " ");
  return FLUID_SPECIFICATIONS.find((name) => WRITTEN_AS[name].test(plain));
}

/**
 * The families and bases that a text names, wherever in it; none where something is denied in it.
 *
 * @example
 * fluidsNamedIn("matches AS1241 Type V"); // => ["AS1241 Type V"]
 */
export function fluidsNamedIn(text: string): (FluidSpecification | FluidBase)[] {
  const plain = text.toLowerCase().replace(/\s+/g, " ");
  if (/\b(?:no|not|non|without|nicht|kein\w*|ohne|pas|sans|sin|senza|geen|niet)\b/.test(plain)) return [];
  const named = FLUID_SPECIFICATIONS.filter((name) =>
    new RegExp(`(?<![\\p{L}\\p{N}])(?:${WRITTEN_AS[name].source.slice(1, -1)})(?![\\p{L}\\p{N}])`, "u").test(
      plain,
    ),
  );
  return /\bphosph(?:ate|or)[ -]?esters?\b/.test(plain) ? [...named, "phosphate ester"] : named;
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
