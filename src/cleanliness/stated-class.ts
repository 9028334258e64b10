import { readSizedClasses } from "./standards/as4059-notation.js";
import { ISO_4406, type Iso4406Code, parseIso4406, parseTwoNumberCode } from "./standards/iso-4406.js";

/** Standards whose classes a report may state. */
export const CLASS_STANDARDS = ["ISO 4406", "NAS 1638", "AS4059", "GOST 17216", "NAVAIR 01-1A-17"] as const;

/** See {@link CLASS_STANDARDS}. */
export type ClassStandard = (typeof CLASS_STANDARDS)[number];

/** The two tables of AS4059. A class without size codes is of one or the other, by the revision. */
export const AS4059_TABLES = ["cumulative", "differential"] as const;

/** A class as a report states it. */
export interface StatedClass {
  readonly standard: ClassStandard;
  readonly class: string;
  /** Of AS4059, where the report says which. */
  readonly table?: (typeof AS4059_TABLES)[number] | undefined;
}

/** What a stated class means: one class for the whole sample, or some for single sizes, by the names of their table. */
export type Stated =
  | { readonly whole: string }
  | {
      readonly bySize: ReadonlyMap<string, string>;
      /** Sizes whose scale number is written with ≥. */
      readonly atLeast?: ReadonlySet<string>;
    };

/** How a class of each standard is written. */
export const EXPECTED: Record<ClassStandard, string> = {
  "ISO 4406": "three scale numbers that do not rise, such as 18/16/13",
  "NAS 1638": "a class from 00 to 12",
  AS4059: "a class from 000 to 12, alone or with size codes such as 6B-F or 7A/6B/5C",
  "GOST 17216": "a grade from 00 to 17",
  "NAVAIR 01-1A-17": "a class from 0 to 6",
};

/** No class is written in more characters, whatever stands around it. */
const MAX_CLASS_LENGTH = 100;
/** Dirtier than the last class that is printed here. */
export const BEYOND = "beyond";

/**
 * Reads a class as laboratories write it.
 *
 * @returns undefined when no class of the standard is written so
 */
export function readStatedClass({ standard, class: text }: StatedClass): Stated | undefined {
  if (text.length > MAX_CLASS_LENGTH) return undefined;
  const plain = withoutLabel(text);
  if (standard === "ISO 4406") return readCode(plain);
  if (standard === "AS4059" && /\d[A-F]/i.test(plain)) return readSizes(plain);
  const last = { "NAS 1638": 12, AS4059: 12, "GOST 17216": 17, "NAVAIR 01-1A-17": 6 }[standard];
  if (/^(?:>|beyond|over|above|more than|worse than) ?\d{1,2}$|^\d{1,2} ?\+$/i.test(plain))
    return { whole: BEYOND };
  if (!/^(?:0{1,3}|[1-9]\d?)$/.test(plain) || Number(plain) > last) return undefined;
  if (plain === "000" && standard !== "AS4059") return undefined;
  return standard === "NAVAIR 01-1A-17" && plain === "00" ? undefined : { whole: plain };
}

/** Words of a note in brackets that leave no doubt that the class is that of the sample. */
const NOTE_WORD =
  /^(?:[uµ]m|c|and|iso|sae|as|nas|4406|4059|1638|(?:19)?99|(?:20)?(?:17|21)|rev|revision|table|[12]|[a-h]|cumulative|differential|apc|automatic|optical|laser|light|extinction|obscuration|blockage|particles?|counter|counting|counted)$/u;
/** Sizes that a class may repeat in brackets without meaning only some of its own: all those of the code. */
const CODE_SIZES = /(?<!\d)4\D{1,12}6\D{1,12}14(?!\d)/;
/** The edition whose sizes are on the older scale. */
const OLDER_EDITION = /4406 ?[:-] ?(?:19)?87\b/;
const NAME_OF_STANDARD = {
  "ISO 4406": /\biso\b/,
  "NAS 1638": /\bnas/,
  AS4059: /\bas ?-?4059/,
  "GOST 17216": /\bgost/,
  "NAVAIR 01-1A-17": /\b(?:navair|navy)/,
} as const satisfies Record<ClassStandard, RegExp>;

/**
 * Whether a text states a class of the sample by its own standard and nothing else, so that limits can rest on it.
 *
 * "17/15/12 (target)", "NAS 6 (5-15 µm)", a class by another standard or an edition with other sizes leave that open. They
 * are still read where they speak against the fluid.
 */
export function isPlainlyStated({ standard, class: text }: StatedClass): boolean {
  const plain = text.normalize("NFKC").replace(/μ/g, "µ").toLowerCase();
  const notes = [...plain.replace(/\(c\)/g, " ").matchAll(/\(([^)]*)\)/g)].flatMap(([, note = ""]) =>
    (standard === "ISO 4406" ? note.replace(CODE_SIZES, " ") : note).split(/[\s,;:/.-]+/),
  );
  const isOther = CLASS_STANDARDS.some((one) => one !== standard && NAME_OF_STANDARD[one].test(plain));
  return !isOther && !OLDER_EDITION.test(plain) && notes.every((word) => word === "" || NOTE_WORD.test(word));
}

/** Titles over a result that is required, or that is not of this sample: of an earlier one, of new fluid, of a control. */
export const NOT_OF_THE_SAMPLE = new RegExp(
  "limit|target|goal|max|requir|specif|spec\\b|allow|accept|previous|prior|last|former|before|alert|alarm|warn|baseline|referen|" +
    "typical|expected|wanted|desir|nominal|recommend|\\bnew\\b|\\bfresh|averag|avg|estimat|predict|threshold|\\bblank|" +
    // German, French, Spanish, Italian, Dutch and Portuguese, with and without accents (common practice, no source).
    "soll|gren[zs]|ziel|zul(?:ä|ae)ss|\\bzul\\b|h(?:ö|oe)chst|richtwert|eingriff|consigne|objecti|objetivo|obiettivo|exig|seuil|" +
    "umbral|soglia|\\bcible|streefw|l[ií]mite|máx|massim|admis|ammess|ammiss|permi[ts]|toegest|toelaat|" +
    "vorwert|vorprobe|vorg(?:ä|ae)ng|vorher|letzt|derni[eè]r|pr[eé]c[eé]dent|ant[eé]rieu|anterior|(?<!\\p{L})[uú]ltim[oa]|\\bprevi[oa]|" +
    "vorige?\\b|frisch(?:ö|oe|[fw])|\\bneu(?!tr)|\\bnuev|\\bnuov|\\bnieuw|\\bnov[oa]s?\\b|r[eé]f[eé]ren|riferim|" +
    "blindwert|blindprobe|nullprobe|r(?:ü|ue)ckstell|t[eé]moin",
  "u",
);
const CLEANLINESS_TITLE =
  /cleanliness|contamination|particle|purity|reinheit|verschmutzungs|propret|pollution|limpieza|pulizia|contaminazione|zuiverheid|reinheid|limpeza/u;
const CLASS_TITLE = /class|klasse|classe|clase|code|level|grade/u;

const ISO_CODE = "[≥>]?(?:\\d{1,2}|[-*])(?: ?[/] ?[≥>]?(?:\\d{1,2}|[-*])){1,2}";
/** Classes that name their standard, and the codes that only ISO 4406 writes. */
const NAMED: readonly (readonly [ClassStandard, RegExp])[] = [
  ["NAS 1638", /\bnas(?: ?-?1638)?(?: (?:class|klasse|classe|code))? ?[:=]? ?(>? ?\d{1,2})(?![\d/])/giu],
  [
    "AS4059",
    /\b(?:sae )?as ?-?4059 ?[a-h]?(?: (?:class|klasse|classe|code))? ?[:=]? ?(\d{1,2}(?:[a-f](?:-[a-f])?(?:\/\d{1,2}[a-f](?:-[a-f])?)*)?)(?![\d/])/giu,
  ],
  [
    "ISO 4406",
    new RegExp(
      `(?:\\biso(?: ?-?4406)?(?: ?[:-] ?(?:19|20)\\d\\d)? ?(?:code|class)? ?[:=]? ?)?(?<![\\d/.])(${ISO_CODE})(?![\\d/.])`,
      "giu",
    ),
  ],
];
/** Words that may stand around a class and leave it the only thing that is said. */
const AROUND =
  /\b(?:cleanliness|contamination|particles?|count|counts|code|class|klasse|classe|level|grade|result|fluid|oil|sample|is|at|of|the|found|measured|and)\b/giu;

/**
 * The classes that a text of a report states, where it says nothing else: "NAS 1638 class 12", "ISO 17/15/12, NAS 7".
 *
 * Under a title such as "cleanliness class" a number alone is a class as well. Its standard is not said; AS4059 has the widest
 * reading, which is that of NAS 1638 too.
 *
 * @param title - title of the column
 * @param text - the cell
 */
export function classesIn(title: string, text: string): StatedClass[] {
  const about = title.toLowerCase();
  if (text.length > MAX_CLASS_LENGTH || NOT_OF_THE_SAMPLE.test(about)) return [];
  const found: StatedClass[] = [];
  let left = text.normalize("NFKC");
  for (const [standard, named] of NAMED) {
    left = left.replace(named, (_, name: string) => {
      if (readStatedClass({ standard, class: name }) === undefined) return _;
      found.push({ standard, class: name });
      return " ";
    });
  }
  if (found.length === 0 && CLEANLINESS_TITLE.test(about) && CLASS_TITLE.test(about)) {
    const alone = { standard: "AS4059", class: text.trim() } as const;
    return readStatedClass(alone) === undefined || about.includes("(") ? [] : [alone];
  }
  return /[\p{L}\d]/u.test(left.replace(AROUND, " ")) ? [] : found;
}

/** A cell without the name of its standard, its edition, notes in brackets and words such as "class". */
function withoutLabel(text: string): string {
  return text
    .normalize("NFKC")
    .replace(/\(c\)/gi, " ")
    .replace(/\([^)]*\)/g, " ")
    .replace(/\biso[ -]?4406(?:\s?[:-]\s?(?:19|20)\d\d)?/gi, " ")
    .replace(/\b(?:sae )?as[ -]?4059 ?[a-h]?(?![\p{L}\d])/giu, " ")
    .replace(/\bnas(?:[ -]?1638)?(?![\p{L}])|\bgost(?:[ -]?17216)?|\bnavair(?: ?01-1a-17)?|\bnavy\b/giu, " ")
    .replace(
      /\b(?:iso|sae|class|cl|code|level|grade|cleanliness|contamination|rev(?:ision)? [a-h]|table [12])\b\.?/gi,
      " ",
    )
    .replace(/[:=]/g, " ")
    .replace(/\s+/g, " ")
    .trim();
}

/**
 * Which table of AS4059 a title or a cell names: in words, by its number, or by a revision whose classes without size codes
 * are those of table 1.
 *
 * @source AS4059-WITHOUT-LETTER
 * @source AS4059-WITHOUT-LETTER-EARLIER
 */
export function as4059TableIn(text: string): StatedClass["table"] {
  const plain = text.normalize("NFKC");
  const differential = /differential|table ?1\b|as[ -]?4059[ -]?[ef]\b|\brev(?:ision)?\.? ?[ef]\b/i.test(
    plain,
  );
  const cumulative = /cumulative|table ?2\b/i.test(plain);
  if (cumulative) return /differential|table ?1\b/i.test(plain) ? undefined : "cumulative";
  return differential ? "differential" : undefined;
}

function readCode(text: string): Stated | undefined {
  const code = text.replace(/ /g, "").replace(/(?<=\d)[-–](?=[≥>]?\d)/g, "/");
  const places = tryRead(() => parseIso4406(code)) ?? tryRead(() => parseTwoNumberCode(code));
  if (places === undefined) return undefined;
  const atLeast = ISO_4406.channels.flatMap(({ name }, index) => {
    const place = places[index];
    return place?.kind === "number" && place.atLeast ? [name] : [];
  });
  return {
    bySize: new Map(ISO_4406.channels.flatMap(({ name }, index) => placeOf(name, places[index]))),
    ...(atLeast.length > 0 && { atLeast: new Set(atLeast) }),
  };
}

function placeOf(name: string, place: Iso4406Code[number] | undefined): [string, string][] {
  if (place === undefined || place.kind === "not-counted") return [];
  return [[name, place.kind === "number" ? String(place.scaleNumber) : BEYOND]];
}

function readSizes(text: string): Stated | undefined {
  const sizes = tryRead(() => readSizedClasses(text.toUpperCase().replace(/ ?[/,;] ?| (?=\d)/g, "/")));
  return sizes && { bySize: new Map(sizes.map((one) => [one.size, one.class])) };
}

function tryRead<T>(read: () => T): T | undefined {
  try {
    return read();
  } catch {
    return undefined;
  }
}
