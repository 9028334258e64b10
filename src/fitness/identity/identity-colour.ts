import { type ColourReading, DYE_HUES, dyeOf, type Hue, readColour, wordsOf } from "../../fluids/index.js";
import type { Circuit, Requirement, Sample } from "../../samples/index.js";
import type { Finding } from "../assessed.js";
import { type Reason, reason } from "../reasons.js";

/** Is the colour that of the fluid? By the colours of the requirement, or by the recalled dye where it gives none. */
export function checkColour(
  circuit: Circuit,
  { identity }: Requirement,
  { sample, colour }: Sample,
): Finding {
  const colours = identity?.colours;
  if (colour === undefined) {
    if (colours === undefined) return { reasons: [] };
    const message = `the colour of sample ${sample} was not reported; expected ${colours.join(" or ")}`;
    return { reasons: [reason("colour-not-reported", message)] };
  }
  const said = `sample ${sample} is reported as "${colour}"`;
  const reading = readColour(colour);
  const known = colours?.flatMap(wordsOf) ?? [];
  const unknown = reading.unknown.filter((word) => !known.includes(word));
  const finding =
    colours === undefined
      ? holdAgainstDye(circuit, reading, said)
      : { reasons: holdAgainstColours(colours, reading, colour, said) };
  if (unknown.length === 0) return finding;
  const words = unknown.map((word) => `"${word}"`).join(", ");
  const message = `${said}: ${words} ${unknown.length === 1 ? "is" : "are"} no colour known here; let a person look at the bottle`;
  return { ...finding, reasons: [...finding.reasons, reason("colour-not-understood", message)] };
}

/** A dye that the requirement does not name is a second fluid, also together with one that it names. */
function holdAgainstColours(
  colours: readonly string[],
  { seen, isShade, denied, unknown }: ColourReading,
  colour: string,
  said: string,
): Reason[] {
  const expected = colours.join(" or ");
  const allowed = colours.map((name) => readColour(name).seen);
  const words = wordsOf(colour);
  // As the requirement writes it, or the same hue in another language or spelling; "reddish" is not red.
  const isNamed =
    colours.some((name) => wordsOf(name).every((word) => words.includes(word))) ||
    (!isShade && allowed.some((hues) => hues.length > 0 && hues.every((hue) => seen.includes(hue))));
  const isDenied = denied.some((hue) => allowed.flat().includes(hue));
  const isSecond = seen.some((hue) => DYE_HUES.includes(hue) && !allowed.flat().includes(hue));
  if (isNamed && !isDenied && !isSecond && !areTwoFluids(seen)) return [];
  if (isNamed || seen.length + denied.length > 0) {
    return [reason("fluid-contradicts-colour", `${said}; the fluid is ${expected}`)];
  }
  if (unknown.length > 0) return [];
  return [reason("colour-not-reported", `${said}, which names no colour; expected ${expected}`)];
}

/** The dyes of both bases in one bottle, whatever a requirement for several fluids allows. */
function areTwoFluids(seen: readonly Hue[]): boolean {
  return seen.includes("red") && seen.includes("purple");
}

function holdAgainstDye({ fluid }: Circuit, { seen, denied }: ColourReading, said: string): Finding {
  const { own, foreign } = dyeOf(fluid);
  if (denied.includes(own) || seen.some((hue) => foreign.includes(hue))) {
    const message = `${said}; ${fluid} is dyed ${own}, so it may be another fluid or a mixture`;
    return { reasons: [reason("colour-of-another-fluid", message)] };
  }
  const isOwn = seen.includes(own) && seen.every((hue) => hue === own || hue === "blue");
  if (isOwn || seen.length === 0) return { reasons: [] };
  const message = `${said}; ${fluid} is dyed ${own}: the dye may have faded or the fluid darkened, or it is another fluid`;
  return { reasons: [], assumptions: [{ code: "colour-unusual", message, source: "FLUID-COLOURS" }] };
}
