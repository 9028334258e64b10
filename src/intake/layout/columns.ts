import { MAX_SIZE_UM, MAX_VOLUME_ML } from "../../counts/index.js";
import { tryParseQuantity } from "../../units/index.js";
import { DICTIONARIES, type Dictionary } from "./dictionary.js";
import {
  type CountMeaning,
  type Meaning,
  plainUnit,
  QUANTITIES,
  type QuantityName,
  type Recognition,
} from "./meaning.js";

/** What a column map says about counts whose title leaves it out. */
export interface CountBasis {
  readonly scale?: CountMeaning["scale"] | undefined;
  readonly volumeMl?: number | undefined;
}

/** The columns that siltbook writes into a quarantine file or an export. They say nothing about a sample. */
const OWN_COLUMNS: Readonly<Record<string, Meaning>> = {
  "quarantine reason": { holds: "nothing" },
  "quarantine place": { holds: "place" },
  "quarantine accepted": { holds: "accepted" },
  "apostrophe before formulas": { holds: "nothing" },
};

/** How the title of a column begins that an export writes for what a laboratory says. */
export const SAYS_TITLE = "laboratory says: ";

/**
 * Says what a column holds, from its title.
 *
 * A count needs its size, its scale and its volume: "4 µm(c) per mL". A title that names a count or a quantity but leaves
 * out what it stands in is unsure, not guessed.
 *
 * @param title - as the file writes it, with the titles above it where the header has several rows
 * @param unit - from a column or row of units, "" where there is none
 * @param basis - what a column map says of all counts
 * @example
 * recognise("> 4 µm(c) / 100 mL", "", {}); // => { kind: "known", meaning: { holds: "count", fromUm: 4, scale: "um(c)", volumeMl: 100 } }
 */
export function recognise(title: string, unit: string, basis: CountBasis): Recognition {
  const plain = plainTitle(title);
  const own = Object.hasOwn(OWN_COLUMNS, plain) ? OWN_COLUMNS[plain] : undefined;
  if (own !== undefined) return { kind: "known", meaning: own };
  if (plain.startsWith(plainTitle(SAYS_TITLE))) return { kind: "known", meaning: { holds: "remarks" } };
  for (const dictionary of DICTIONARIES) {
    const recognition = recogniseIn(dictionary, plain, title, unit, basis);
    if (recognition.kind !== "unknown") return recognition;
  }
  return { kind: "unknown" };
}

function recogniseIn(
  dictionary: Dictionary,
  plain: string,
  title: string,
  unit: string,
  basis: CountBasis,
): Recognition {
  const { naming, long, descriptions } = dictionary;
  for (const [holds, words] of Object.entries({ ...naming, ...long, ...descriptions })) {
    if (words.includes(plain)) return { kind: "known", meaning: { holds } as Meaning };
  }
  const named = dictionary.classes.find(({ words }) => words.test(plain));
  if (named !== undefined) return { kind: "known", meaning: named.meaning };
  const count = dictionary.notACount.test(plain) ? undefined : recogniseCount(`${title} ${unit}`, basis);
  if (count !== undefined) return count;
  const quantity = recogniseQuantity(dictionary, plain, unit);
  if (quantity !== undefined) return quantity;
  if (dictionary.remarks.test(plain)) return { kind: "known", meaning: { holds: "remarks" } };
  const asked = dictionary.unsure.find(({ words }) => words.includes(withoutUnit(plain)));
  return asked === undefined ? { kind: "unknown" } : { kind: "unsure", question: asked.question };
}

/** A title in lower case, without the marks that laboratories put in or leave out. */
export function plainTitle(title: string): string {
  return title
    .replaceAll("º", "°")
    .normalize("NFKC")
    .toLowerCase()
    .replace(/[µμ]/g, "u")
    .replaceAll("°", " ")
    .replace(/[._:#*?\u00a0]/g, " ")
    .replace(/\s+/g, " ")
    .trim();
}

const SIZE = String.raw`(\d+(?:[.,]\d+)?)`;
const SIZE_IN_UM = new RegExp(
  String.raw`${SIZE}(?: ?(?:-|–|to|\.\.) ?[<≤]? ?${SIZE})? ?(?:um|micro(?:n|met(?:re|er))s?)(?:( ?[([]c[)\]]| ?c\b)|\b)`,
);
const VOLUME = /(?:per|\/|in) ?(\d+(?:\.\d+)?)? ?(?:ml|cm3|cm³|cc)\b/;

/** What is left of the title of a count whose size has no unit: "particles > 4", "5-15". */
const SIZE_ALONE = new RegExp(
  `^(?:particles?|(?:particle )?counts?|cnt|p)?[ >≥=]*${SIZE}(?: ?[-–] ?${SIZE})?$`,
);
const ISO_11171 = /\biso ?11171\b/;
const WHICH_SIZE = "is it a count of particles, of which size in µm, and is the size µm(c) of ISO 11171?";

/** As a column of units writes it: "1/mL". */
const VOLUME_WITH_ONE = new RegExp(String.raw`(?:\b1 ?)?${VOLUME.source}`);

/** A title without the volume that its counts stand for; nothing when it names no volume. */
function plainCount(written: string): string {
  return VOLUME.test(written)
    ? written
        .replace(VOLUME_WITH_ONE, "")
        .replace(/[()[\],]/g, " ")
        .trim()
    : "";
}

function recogniseCount(text: string, basis: CountBasis): Recognition | undefined {
  const written = text.toLowerCase().replace(/[µμ]/g, "u").replace(/\s+/g, " ").trim();
  const { of, rest } = bottleIn(written);
  if (rest !== written) {
    const recognition = recogniseCount(rest, basis);
    return recognition?.kind === "known" && recognition.meaning.holds === "count"
      ? { kind: "known", meaning: { ...recognition.meaning, ...of } }
      : recognition;
  }
  const size = SIZE_IN_UM.exec(written) ?? sizeByStandard(written);
  if (size === null)
    return SIZE_ALONE.test(plainCount(written)) ? { kind: "unsure", question: WHICH_SIZE } : undefined;
  const [fromUm, toUm] = [size[1], size[2]].map((digits) => digits && Number(digits.replace(",", ".")));
  if (!fromUm || (toUm !== undefined && !(Number(toUm) > fromUm))) return undefined;
  if (Math.max(Number(fromUm), Number(toUm ?? 0)) > MAX_SIZE_UM)
    return { kind: "unsure", question: `which size of particles is it, of at most ${MAX_SIZE_UM} µm?` };
  const scale = scaleIn(written, size[3] !== undefined) ?? basis.scale;
  const volume = VOLUME.exec(written.replace(size[0], " "));
  const volumeMl = volume === null ? basis.volumeMl : Number(volume[1] ?? 1);
  if (scale === undefined) {
    return {
      kind: "unsure",
      question:
        "is the size µm(c) of ISO 11171, the older scale of ISO 4402, or measured under the microscope?",
    };
  }
  if (volumeMl === undefined || !(volumeMl > 0 && volumeMl <= MAX_VOLUME_ML))
    return { kind: "unsure", question: "do the counts stand for 1 mL or for 100 mL?" };
  const range = typeof toUm === "number" ? { fromUm, toUm } : { fromUm };
  return { kind: "known", meaning: { holds: "count", ...range, scale, volumeMl } };
}

const BLANK = /\b(?:bottle )?(?:blank(?: (?:bottle|value|count))?|blindwert|blanc|blanco|bianco)\b/;
const RUN =
  /\b(?:run|rep|repl|replicate|repeat|repetition|determination|aliquot|messung|wiederholung) ?(?:no\.? ?|nr\.? ?|#)?(\d{1,2})\b|\b(\d)(?:st|nd|rd|th) (?:run|count|replicate|determination)\b/;

/** Of which bottle or run a title gives the counts, and the title without it. */
function bottleIn(written: string): { of: Pick<CountMeaning, "blank" | "run">; rest: string } {
  const run = RUN.exec(written);
  const named = BLANK.exec(written) ?? run;
  if (named === null) return { of: {}, rest: written };
  const rest = written
    .replace(named[0], " ")
    .replace(/\( *\)|\[ *\]/g, " ")
    .replace(/^[ ,;:-]+|[ ,;:-]+$/g, "")
    .replace(/\s+/g, " ");
  return { of: named === run ? { run: Number(run[1] ?? run[2]) } : { blank: true }, rest };
}

/** The size in a title that leaves out its unit but names the standard, by which it can only be µm(c). */
function sizeByStandard(written: string): RegExpExecArray | null {
  if (!ISO_11171.test(written)) return null;
  return SIZE_ALONE.exec(plainCount(written.replace(ISO_11171, " ")).replace(/\s+/g, " "));
}

function scaleIn(written: string, markedC: boolean): CountMeaning["scale"] | undefined {
  if (markedC || ISO_11171.test(written)) return "um(c)";
  if (/\biso ?4402\b|\bacftd\b/.test(written)) return "um-older";
  return /\biso ?4407\b|microscop/.test(written) ? "um-microscope" : undefined;
}

/** The names of the quantities, the longest first: "iron (fe)" begins with "iron". */
const MAX_FIRST_LENGTH = new Map(
  DICTIONARIES.map((dictionary) => [
    dictionary,
    (Object.entries(dictionary.quantities) as [QuantityName, readonly string[]][])
      .flatMap(([holds, words]) => words.map((word) => ({ holds, word })))
      .sort((a, b) => b.word.length - a.word.length),
  ]),
);

function recogniseQuantity(dictionary: Dictionary, plain: string, unit: string): Recognition | undefined {
  const simple = plain.replace(/(\d+) ?(c|f)\b/g, "$1 $2").replace(/@ ?(?=\d)/, "@ ");
  const named = MAX_FIRST_LENGTH.get(dictionary)?.find(
    ({ word }) => simple.startsWith(word) && /^([^a-z0-9]|$)/.test(simple.slice(word.length)),
  );
  if (named === undefined) return undefined;
  const { holds, word } = named;
  const { onlyWithUnit } = dictionary;
  const rest = withoutBrackets(simple.slice(word.length).replace(dictionary.method, " "));
  // What is asked of a quantity is no result of it, and what is seen of it has no unit.
  if (
    /^(?:limits?|max|maximum|target|allowed|allowable|requirement|visible|seen|present|layer|droplets?)\b/.test(
      rest,
    )
  )
    return undefined;
  const written = plainUnit(withoutBrackets(unit) || rest);
  if (written === "") return onlyWithUnit.includes(word) ? undefined : { kind: "known", meaning: { holds } };
  const reading = tryParseQuantity(`1 ${written}`, QUANTITIES[holds].quantity);
  if (reading.kind === "refused") {
    if (onlyWithUnit.includes(word)) return undefined;
    return {
      kind: "unsure",
      question: `in which unit is ${QUANTITIES[holds].says}? Expected ${reading.expected}, found "${written}"`,
    };
  }
  return { kind: "known", meaning: { holds, unit: written } };
}

function withoutBrackets(text: string): string {
  const plain = text
    .replace(/\(\s*\)|\[\s*\]/g, " ")
    .replace(/^[\s,;/-]*(in )?/, "")
    .trim();
  const inside = /^[([](.*)[)\]]$/.exec(plain);
  return (inside?.[1] ?? plain).trim();
}

function withoutUnit(plain: string): string {
  return plain.replace(/[([,].*$/, "").trim();
}
