import { MAX_SIZE_UM, MAX_VOLUME_ML } from "../../counts/index.js";
import { readNumber } from "../cells/numbers.js";
import { bottleIn, isOfMean } from "./bottle-titles.js";
import type { CountMeaning, Recognition } from "./meaning.js";
import { METHOD } from "./title-patterns.js";
import { isNotAResult, notHarmless } from "./title-words.js";

/** What a column map says about counts whose title leaves it out. */
export interface CountBasis {
  readonly scale?: CountMeaning["scale"] | undefined;
  readonly volumeMl?: number | undefined;
}

type Scale = CountMeaning["scale"];

const SCALES: readonly (readonly [RegExp, Scale])[] = [
  [/\biso[ -]?11171(?:[:-] ?\d{2,4})?\b/g, "um(c)"],
  [/\biso[ -]?4402(?:[:-] ?\d{2,4})?\b|\bacftd\b/g, "um-older"],
  [/\biso[ -]?4407(?:[:-] ?\d{2,4})?\b|\bmicroscop\p{L}*/gu, "um-microscope"],
];
const ML = "(?:mls?|cm3|cc|millilit(?:er|re)s?)";
/** "per 100 mL", "1/mL", "mL-1". */
const VOLUME = new RegExp(
  String.raw`(?:\b1 ?)?(?:\b(?:per|in|je|pro|par|por)|\/) ?(\d+(?:[.,]\d+)?)? ?${ML}(?![\p{L}\d])|\bml ?\^?-1(?!\d)`,
  "gu",
);
const NUMBER = String.raw`(\d+(?:[.,]\d+)?)`;
const SIZE_UNIT = String.raw`(?:um|u(?= ?[([] ?c ?[)\]])|mi[kc]ro(?:n|m[eè]t(?:re|er))e?s?|micras?)(?:( ?[([] ?c ?[)\]]| ?c\b)|(?!\p{L}))`;
const LESS = "(?:<=|≤|<|less than|smaller than|kleiner(?: als)?)";
const TO = String.raw`(?:-|–|—|~|…|\.{2,}|to|bis|à|al?|tot|hasta|até|and|und|et|y|e|en|&)`;
/** "4-6 µm", "4 µm(c) ≤ x < 6 µm(c)", "between 4 and 6 µm". */
const BAND = new RegExp(
  String.raw`${NUMBER} ?(?:${SIZE_UNIT})?,? ?(?:${TO} ?${LESS}?|${LESS}(?: ?\p{L}? ?${LESS})?) ?${NUMBER} ?${SIZE_UNIT}`,
  "u",
);
const SIZE = new RegExp(`${NUMBER} ?${SIZE_UNIT}`, "u");
const BETWEEN_SIZES =
  /\bdiff(?:erential|\b)\p{L}*|\bdifferen[tcz]i\p{L}*|\bintervals?\b|\bbands?\b|\branges?\b/u;
const DIFFERENTIAL = /\bdiff[eé]ren[tcz]i\p{L}*(?!\p{L}| (?:pressure|druck|pressione|pression|presi[oó]n))/u;
/** "Multiply counts by 10"; what was multiplied already is not meant. */
const ORDERED =
  /\bmultiply|be multiplied|zu multiplizieren|à multiplier|multiplicar|moltiplicare|vermenigvuldigen/.source;
/** "3 x 10 mL" is how it was counted, and "x 100" a magnification. */
const DIVIDED =
  "\\bin (?:tens|dozens|hundreds|zehnern?|hundertern?)\\b|\\b(?:en|in|em) (?:dizaines|centaines|decenas|centenas|decine|centinaia|dezenas)\\b|" +
  "\\b(?:divided by|durch|divis\\p{L}* (?:par|por|per)|dividid\\p{L}* por|gedeeld door) 10";
const MULTIPLIER_IN_LINE = new RegExp(
  "^(?!.*(?:magnif|vergr[öo]|grossiss|aument|ingrand)).*[×x*] ?10{1,6}(?![\\d.,]| ?(?:m?l|cc|cm)\\b)|" +
    `[×x*] ?(?:10\\^|1[ ,.']?000)|10\\^\\d|(?:${ORDERED})|thousand|million|tausend|millier|\\bmiles\\b|\\bmigliaia\\b|${DIVIDED}`,
  "u",
);
const CUMULATIVE = /\b(?:cum|kumul|acum)\p{L}*/u;
/** In the title of a group, where other words are free. */
const MULTIPLIER = new RegExp(
  "[×^%]|\\bx ?1|\\b1[ ,.']?000\\b|\\bk\\b|thousand|million|tausend|\\bmille\\b|millier|\\bmiles\\b|\\bmigliaia\\b|\\blog|" +
    ORDERED,
  "u",
);

/** What is left of the title of a count whose size has no unit: "particles > 4", "5-15". */
const SIZE_ALONE = new RegExp(
  `^(?:particles?|(?:particle )?counts?|cnt|p)?[ >≥=]*${NUMBER}(?: ?[-–] ?${NUMBER})?$`,
);
const WHICH_SIZE = "is it a count of particles, of which size in µm, and is the size µm(c) of ISO 11171?";
const WHICH_SCALE =
  "is the size µm(c) of ISO 11171, the older scale of ISO 4402, or measured under the microscope?";
export const WHICH_VOLUME = "do the counts stand for 1 mL or for 100 mL?";

const FIGURE = /[\d⁰¹²³⁴⁵⁶⁷⁸⁹]/;
/** Every unit of a size or a volume has one of these. */
const LETTER_OF_UNIT = /[muµμ]|cc/i;

/** The parts of the title of a count, and what is left when they are taken out of it. */
interface CountTitle {
  readonly scales: ReadonlySet<Scale>;
  readonly volumesMl: ReadonlySet<number>;
  readonly sizes: RegExpExecArray | null;
  readonly rest: string;
}

/**
 * Reads the whole title of a count: size, scale, volume and form are taken out of it, and every word that is left must
 * be known to change nothing. Otherwise the title is unsure, because "× 1000" and "< 4 µm" are in titles as well.
 *
 * @param text - title and unit
 * @param group - the title of the group above it
 * @returns undefined when no count is named
 */
export function recogniseCount(text: string, group: string, basis: CountBasis): Recognition | undefined {
  if (!FIGURE.test(text) || !LETTER_OF_UNIT.test(text)) return undefined;
  const plain = plainCountText(text);
  const { of: own, rest } = bottleIn(plain);
  const of = Object.keys(own).length > 0 || isOfMean(plain) ? own : bottleIn(plainCountText(group)).of;
  const found = recognisePlainCount(rest, group, basis);
  if (found?.kind === "known" && found.meaning.holds === "count")
    return { kind: "known", meaning: { ...found.meaning, ...of } };
  if (found?.kind === "unsure" && found.withoutVolume?.holds === "count")
    return { ...found, withoutVolume: { ...found.withoutVolume, ...of } };
  return found;
}

function recognisePlainCount(written: string, group: string, basis: CountBasis): Recognition | undefined {
  const { scales, volumesMl, sizes, rest } = partsOf(written);
  if (sizes === null) return withoutUnit(rest, scales, volumesMl);
  if (isNotAResult(written) || isNotAResult(group)) return { kind: "unknown" };
  const [, from = "", cFrom, to, cTo] = sizes;
  const [fromUm, toUm] = [from, to].map((digits) => digits && Number(digits.replace(",", ".")));
  if (!fromUm || (toUm !== undefined && !(Number(toUm) > Number(fromUm)))) return unsure(WHICH_SIZE);
  if (Math.max(Number(fromUm), Number(toUm ?? 0)) > MAX_SIZE_UM)
    return unsure(`which size of particles is it, of at most ${MAX_SIZE_UM} µm?`);
  const above = partsOf(plainCountText(group));
  const allScales = new Set([...scales, ...above.scales, ...((cFrom ?? cTo) ? ["um(c)" as const] : [])]);
  const allVolumes = new Set([...volumesMl, ...above.volumesMl]);
  if (allScales.size > 1) return unsure(`${WHICH_SCALE} The file says more than one`);
  if (allVolumes.size > 1)
    return unsure(`do the counts stand for ${[...allVolumes].join(" mL or for ")} mL? The file says both`);
  const isBand = toUm !== undefined;
  const left = rest
    .replace(/:((?:19|20)\d\d)/g, " $1")
    .replace(METHOD, " ")
    .replace("equal to", " ");
  const otherForm = isBand ? CUMULATIVE : BETWEEN_SIZES;
  const [inTitle] = notHarmless(isBand ? left.replace(BETWEEN_SIZES, " ") : left);
  const odd = otherForm.exec(`${left} ${above.rest}`)?.[0] ?? MULTIPLIER.exec(above.rest)?.[0] ?? inTitle;
  if (odd !== undefined)
    return unsure(
      `is it a plain count of the particles ${isBand ? "between the sizes" : "above the size"}, and what does "${odd}" mean?`,
    );
  const [scale = basis.scale] = allScales;
  const [volumeMl = basis.volumeMl] = allVolumes;
  if (scale === undefined) return unsure(WHICH_SCALE);
  const range = typeof toUm === "number" ? { fromUm: Number(fromUm), toUm } : { fromUm: Number(fromUm) };
  if (volumeMl === undefined) {
    return { kind: "unsure", question: WHICH_VOLUME, withoutVolume: { holds: "count", ...range, scale } };
  }
  if (!(volumeMl > 0 && volumeMl <= MAX_VOLUME_ML)) return unsure(WHICH_VOLUME);
  return { kind: "known", meaning: { holds: "count", ...range, scale, volumeMl } };
}

/**
 * Says of counts whether a line of text contradicts the titles of their columns: "All counts are per 100 mL", "particle
 * sizes by ISO 4402", "counts × 1000", "counts are differential". A line that names both forms explains them.
 */
export function contradictsCount(line: string): (count: CountMeaning) => boolean {
  const written = plainCountText(line);
  if (!ABOUT_COUNTS.test(written) || ABOUT_CLASSES.test(written) || isNotAResult(written)) return () => false;
  const { scales, volumesMl, rest } = partsOf(written);
  return ({ volumeMl, scale, toUm }) =>
    (volumesMl.size === 1 && volumeMl !== undefined && !volumesMl.has(volumeMl)) ||
    (scales.size === 1 && !scales.has(scale)) ||
    (CUMULATIVE.test(rest)
      ? typeof toUm === "number" && !DIFFERENTIAL.test(rest)
      : toUm === undefined && DIFFERENTIAL.test(rest)) ||
    MULTIPLIER_IN_LINE.test(rest);
}

/** What a class allows is said per 100 mL, whatever the counts of the file stand for. */
const ABOUT_CLASSES = /class|klasse|clase|\bcode|\bnas\b|4059|4406|bottle|flasche/u;
const ABOUT_COUNTS =
  /particle|count|[ck]alibr|partikel|particule|partícula|particella|deeltje|result|value|\bunits?\b|\bsizes\b|größen|tailles|tamaños|dimensioni|tamanhos|groottes|zähl|anzahl|ergebnis|résultat|compt|conte[og]|telling|contag/u;

function unsure(question: string): Recognition {
  return { kind: "unsure", question };
}

/** What becomes of "µ" in a wrong code or font, before "m"; "m(c)" is written for no other unit, whatever stands before it. */
const LOST_MU = /(?<=\d ?)(?!um)(?:[æ?\ufffd]m(?!\p{L})|[^\s\d.,<>≥≤()[\]–-]{0,2}m(?= ?[([] ?c ?[)\]]))/gu;

/** Whether a title has another sign where the "µ" of a size belongs. */
export function hasLostMu(title: string): boolean {
  const plain = title.toLowerCase().replace(/[µμ]/g, "u");
  return plain.replace(LOST_MU, "") !== plain;
}

/** In lower case, in the letters that the patterns know; "10³" keeps its power. */
function plainCountText(text: string): string {
  return text
    .toLowerCase()
    .replace(/[µμ]/g, "u")
    .replace(LOST_MU, "um")
    .replaceAll("cm³", "cm3")
    .replaceAll("⁻¹", "-1")
    .replace(/[⁰¹²³⁴⁵⁶⁷⁸⁹]/g, (digit) => `^${digit.normalize("NFKC")}`)
    .replace(/[\s\u00a0_]+/g, " ")
    .trim();
}

function partsOf(written: string): CountTitle {
  let rest = written;
  const scales = new Set<Scale>();
  for (const [pattern, scale] of SCALES) {
    rest = rest.replace(pattern, () => {
      scales.add(scale);
      return " ";
    });
  }
  const volumesMl = new Set<number>();
  rest = rest.replace(VOLUME, (_, digits: string | undefined) => {
    // "1,000 mL" is one millilitre or a litre.
    for (const mark of [".", ","] as const) {
      const volume = readNumber(digits ?? "1", mark);
      if (volume.kind === "read") volumesMl.add(volume.value);
    }
    return " ";
  });
  const sizes = BAND.exec(rest) ?? SIZE.exec(rest);
  if (sizes !== null) rest = rest.replace(sizes[0], " ");
  return { scales, volumesMl, sizes, rest };
}

/** A size without a unit is questioned where the title can be nothing but a count; with ISO 11171 it can only be µm(c). */
function withoutUnit(
  rest: string,
  scales: ReadonlySet<Scale>,
  volumesMl: ReadonlySet<number>,
): Recognition | undefined {
  const alone = SIZE_ALONE.exec(rest.replace(/[()[\],\s]+/g, " ").trim());
  const [volumeMl, ...more] = volumesMl;
  if (alone === null || volumeMl === undefined) return undefined;
  const [fromUm = 0, toUm] = [alone[1], alone[2]].map((digits) => digits && Number(digits.replace(",", ".")));
  const isBand = typeof toUm === "number";
  if (
    !scales.has("um(c)") ||
    scales.size > 1 ||
    more.length > 0 ||
    !fromUm ||
    (isBand && !(toUm > Number(fromUm)))
  )
    return unsure(WHICH_SIZE);
  if (!(volumeMl > 0 && volumeMl <= MAX_VOLUME_ML)) return unsure(WHICH_VOLUME);
  const range = isBand ? { fromUm: Number(fromUm), toUm } : { fromUm: Number(fromUm) };
  return { kind: "known", meaning: { holds: "count", ...range, scale: "um(c)", volumeMl } };
}
