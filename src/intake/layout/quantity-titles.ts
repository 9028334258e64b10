import { type QuantityReading, spelledUnit, tryParseQuantity } from "../../units/index.js";
import { QUANTITY_WORDS } from "./dictionary.js";
import {
  plainUnit,
  QUANTITIES,
  type QuantityMeaning,
  type QuantityName,
  type Recognition,
} from "./meaning.js";
import { isNotAResult, notHarmless } from "./title-words.js";

/** The name of a quantity at the beginning of a title, and what stands after it. */
export interface NamedQuantity {
  readonly holds: QuantityName;
  /** The title after the name, in lower case and without the words of a method. */
  readonly rest: string;
  /** The name means something else unless a unit of the quantity stands with it. */
  readonly onlyWithUnit: boolean;
}

/** A unit found in a text, and what is left of the text. */
interface UnitFound {
  readonly unit: string;
  readonly reading: Exclude<QuantityReading, { kind: "refused" }>;
  readonly rest: string;
}

/**
 * Reads the whole title of a quantity: after its name a unit may follow, and every word that is left must be known to
 * change nothing. "Water saturation" is no water content, whatever the unit below it.
 *
 * @param unit - from a row or column of units, "" where there is none
 * @param group - the title of the group above this one; where it ends with a unit, that is the unit of its columns
 */
export function recogniseQuantity(
  { holds, rest: after, onlyWithUnit }: NamedQuantity,
  unit: string,
  group: string,
): Recognition {
  const { says } = QUANTITIES[holds];
  if (isNotAResult(`${after} ${unit}`) || isNotAResult(group) || SEEN.test(after)) return { kind: "unknown" };
  const inTitle = unitIn(after, holds);
  const below = unitIn(unit, holds);
  const above = unitAtEnd(group, holds);
  const found = below ?? inTitle ?? above;
  // Of these the words without a unit mean something else, so a title that is not understood need not be questioned.
  if (onlyWithUnit && found === undefined) {
    // A counted volume says what it is, and its cells may write their unit.
    const isPlain = `${after}${unit}`.trim() === "";
    return holds === "counted" && isPlain ? { kind: "known", meaning: { holds } } : { kind: "unknown" };
  }
  const left = `${inTitle?.rest ?? after} ${below?.rest ?? unit}`;
  const odd = PARTICLES.exec(left)?.[0] ?? notHarmless(left)[0];
  if (odd !== undefined) {
    if (onlyWithUnit) return { kind: "unknown" };
    const question =
      found === undefined
        ? `in which unit is ${says}? Expected ${expectedUnit(holds)}, found "${withoutBrackets(unit) || withoutBrackets(after)}"`
        : `is it the ${says} of this sample, and what does "${odd}" mean?`;
    return { kind: "unsure", question };
  }
  if (found === undefined) return { kind: "known", meaning: { holds } };
  const other = [inTitle, above].find(
    (one) => one !== undefined && one.reading.value !== found.reading.value,
  );
  if (other === undefined) return { kind: "known", meaning: { holds, unit: found.unit } };
  return {
    kind: "unsure",
    question: `in which unit is ${says}, ${other.unit} or ${found.unit}? The file says both`,
  };
}

/** What is seen of a fluid in per cent besides its contents. */
const OTHER_SHARE = /satur|sättig|humidity|feuchte|\brh\b/u;

/**
 * What has to be asked of a quantity where a line of text names it with another unit than its title, "water in per cent".
 * A number with its unit is no such line: it is a limit, or what a method finds.
 */
export function unitAgainst(line: string, { holds, unit }: QuantityMeaning): string | undefined {
  const plain = line.toLowerCase();
  const isNamed = QUANTITY_WORDS[holds].some(
    (word) => word.length >= MIN_NAME_LENGTH && plain.includes(word),
  );
  if (unit === undefined || !isNamed || isNotAResult(plain) || OTHER_SHARE.test(plain)) return undefined;
  const own = asUnit(unit, holds);
  if (own === undefined) return undefined;
  const words = plain.replace(/(?<!\p{L})\d[\d.,]*\s*\S*/gu, " ").split(/[\s,;:()[\]]+/);
  const units = words.flatMap((_, at) =>
    [1, 2, 3].flatMap((length) => asUnit(words.slice(at, at + length).join(" "), holds) ?? []),
  );
  const [other] = units;
  if (other === undefined || units.some(({ reading }) => reading.value === own.reading.value))
    return undefined;
  return `in which unit is ${QUANTITIES[holds].says}, ${other.unit} or ${own.unit}? The file says both`;
}

/** Shorter names are words of other things as well. */
const MIN_NAME_LENGTH = 4;

/** In the title of a count these change nothing; "iron particles" are no content of iron. */
const PARTICLES = /\b(?:part[ií][ckt]\p{L}*|counts?|sizes?|teilchen\p{L}*|deeltjes?)(?!\p{L})/u;
/** What is seen of a quantity has no unit. */
const SEEN = /\b(?:visible|visibile|seen|present|layer|droplets?|sichtbar|zichtbaar|libre|libera|livre)\b/;

/** The longest part of a text that is a unit of a quantity. */
function unitIn(text: string, holds: QuantityName): UnitFound | undefined {
  const pieces = text.split(/([\s,;:()[\]]+)/);
  for (let length = pieces.length; length > 0; length -= 1) {
    for (let start = 0; start + length <= pieces.length; start += 1) {
      const part = pieces.slice(start, start + length).join("");
      const found = asUnit(withoutBrackets(part), holds);
      if (found !== undefined) {
        const rest = [...pieces.slice(0, start), " ", ...pieces.slice(start + length)].join("");
        return { ...found, rest };
      }
    }
  }
  return undefined;
}

/** The unit with which the title of a group ends: in brackets, after a comma, or as its last word. */
function unitAtEnd(group: string, holds: QuantityName): Omit<UnitFound, "rest"> | undefined {
  return ["([", ",", " "]
    .map((marks) => group.slice(Math.max(...[...marks].map((mark) => group.lastIndexOf(mark))) + 1))
    .map((end) => asUnit(end.replace(/[)\]]\s*$/, ""), holds))
    .find((found) => found !== undefined);
}

function asUnit(text: string, holds: QuantityName): Omit<UnitFound, "rest"> | undefined {
  const unit = plainUnit(text);
  const { quantity } = QUANTITIES[holds];
  const reading = unit === "" ? undefined : tryParseQuantity(`1 ${unit}`, quantity);
  return reading === undefined || reading.kind === "refused"
    ? undefined
    : { unit: spelledUnit(unit, quantity), reading };
}

function expectedUnit(holds: QuantityName): string {
  const reading = tryParseQuantity("1", QUANTITIES[holds].quantity);
  return reading.kind === "refused" ? reading.expected : "";
}

function withoutBrackets(text: string): string {
  const plain = text.replace(/^[\s,;/-]*(in )?/, "").trim();
  const inside = /^[([](.*)[)\]]$/.exec(plain);
  return (inside?.[1] ?? plain).trim();
}
