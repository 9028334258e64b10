import * as z from "zod";
import { AS4059_TABLES, CLASS_STANDARDS, ISO_4406_SIZES_UM } from "../../cleanliness/index.js";
import { MAX_SIZE_UM, MAX_VOLUME_ML } from "../../counts/index.js";
import { METALS, type Metal, PATCH_LIMIT_STANDARDS } from "../../samples/index.js";
import { type QuantityKind, tryParseQuantity } from "../../units/index.js";

/** What names a sample, besides its results. */
export const NAMING = [
  "sample",
  "cart",
  "circuit",
  "drawn",
  "drawn-time",
  "received",
  "reported",
  "calibration-due",
  "fluid",
] as const;

/** See {@link NAMING}. */
export type Naming = (typeof NAMING)[number];

/** A sample without these is not a sample of anything. */
export const NEEDED_NAMING = ["sample", "cart", "circuit", "drawn"] as const satisfies readonly Naming[];

/** See {@link NEEDED_NAMING}. */
export type NeededNaming = (typeof NEEDED_NAMING)[number];

interface QuantityOfSample {
  readonly quantity: QuantityKind;
  readonly says: string;
}

/** Measured quantities besides counts, and the kind of unit each is written in. */
export const QUANTITIES = {
  water: { quantity: "waterContent", says: "water" },
  acid: { quantity: "acidNumber", says: "acid number" },
  viscosity40: { quantity: "viscosity", says: "viscosity at 40 °C" },
  temperature: { quantity: "temperature", says: "fluid temperature" },
  density15: { quantity: "density", says: "density at 15 °C" },
  chlorine: { quantity: "massFraction", says: "chlorine" },
  /** The volume that went through the counter, which says how sure the counts are. */
  counted: { quantity: "volume", says: "counted volume" },
  ...(Object.fromEntries(
    METALS.map((metal) => [metal, { quantity: "massFraction", says: metal } satisfies QuantityOfSample]),
  ) as Record<Metal, { readonly quantity: "massFraction"; readonly says: Metal }>),
} as const satisfies Record<string, QuantityOfSample>;

/** See {@link QUANTITIES}. */
export type QuantityName = keyof typeof QUANTITIES;

const QUANTITY_NAMES = Object.keys(QUANTITIES) as [QuantityName, ...QuantityName[]];

const countSchema = z
  .strictObject({
    holds: z.literal("count"),
    /** Particles larger than this size in µm; with `toUm` those between the two sizes. */
    fromUm: z.number().positive().max(MAX_SIZE_UM),
    toUm: z.number().positive().max(MAX_SIZE_UM).optional(),
    scale: z.enum(["um(c)", "um-older", "um-microscope"]),
    /**
     * The volume in mL that the counts stand for: 1 for per mL, 100 for per 100 mL; left out where a column holds it.
     */
    volumeMl: z.number().positive().max(MAX_VOLUME_ML).optional(),
    /** Counts of a clean bottle. */
    blank: z.literal(true).optional(),
    /** One of several counts of the same bottle, from 1 on. */
    run: z.number().int().positive().max(20).optional(),
  })
  .refine(({ blank, run }) => blank === undefined || run === undefined, "a blank is no run of the sample")
  .refine(({ fromUm, toUm }) => toUm === undefined || toUm > fromUm, "toUm must be more than fromUm");

const quantitySchema = z
  .strictObject({
    holds: z.enum(QUANTITY_NAMES),
    /** The unit that the numbers are in; left out when every cell writes its own. */
    unit: z.string().min(1).optional(),
  })
  .superRefine(({ holds, unit }, context) => {
    if (unit === undefined) return;
    const reading = tryParseQuantity(`1 ${plainUnit(unit)}`, QUANTITIES[holds].quantity);
    if (reading.kind === "refused") {
      context.addIssue({ code: "custom", message: `expected ${reading.expected}, found "${unit}"` });
    }
  });

/** The volume that the counts of a row stand for, in a column of its own; its unit where the cells leave it out. */
const countsPerSchema = z.strictObject({ holds: z.literal("counts-per"), unit: z.literal("mL").optional() });

const classSchema = z.strictObject({
  holds: z.literal("class"),
  standard: z.enum(CLASS_STANDARDS),
  /** Of AS4059: the table of classes without size codes, which the revisions read in different ways. */
  table: z.enum(AS4059_TABLES).optional(),
  /** Of ISO 4406: the size whose scale number alone the column holds. */
  sizeUmC: z.literal([...ISO_4406_SIZES_UM]).optional(),
});

/** Which of several counts of one bottle a row holds. */
const runSchema = z.strictObject({ holds: z.literal("run") });

/** Parts of mixture for one part of sample. */
const dilutionSchema = z.strictObject({
  holds: z.literal("dilution"),
  /** Whether the counts are multiplied by it already; asked for where a bottle was diluted. */
  counts: z.enum(["multiplied", "as-counted"]).optional(),
});

/** What a report says in words about a bottle and how it was filled. */
export const DESCRIPTIONS = {
  colour: "colour",
  appearance: "appearance",
  "sample-point": "sample point",
  flowing: "whether the fluid was flowing",
} as const;

/** See {@link DESCRIPTIONS}. */
export type Description = keyof typeof DESCRIPTIONS;

const descriptionSchema = z.strictObject({
  holds: z.enum(Object.keys(DESCRIPTIONS) as [Description, ...Description[]]),
});

/** What simple tests of a bottle found. */
export const TESTS = {
  "clear-and-bright": "whether the fluid is clear and bright",
  fibres: "fibres",
  crackle: "crackle test",
  smell: "smell",
  "patch-class": "class of the patch",
  "patch-colour": "colour of the patch",
  "patch-stain": "stain on the patch",
  "patch-free-water": "free water on the patch",
  "patch-volume": "volume filtered for the patch",
  "patch-pore": "pore size of the patch",
} as const;

/** See {@link TESTS}. */
export type BottleTest = keyof typeof TESTS;

const PLAIN_TESTS = [
  "clear-and-bright",
  "fibres",
  "crackle",
  "smell",
  "patch-colour",
  "patch-stain",
  "patch-free-water",
] as const;
const plainTestSchema = z.strictObject({ holds: z.enum(PLAIN_TESTS) });
const patchClassSchema = z.strictObject({
  holds: z.literal("patch-class"),
  /** The standard whose classes the patch was compared with; left out where every cell names it. */
  standard: z.enum(PATCH_LIMIT_STANDARDS).optional(),
});
const patchVolumeSchema = z.strictObject({
  holds: z.literal("patch-volume"),
  unit: z.literal("mL").optional(),
});
const patchPoreSchema = z.strictObject({ holds: z.literal("patch-pore"), unit: z.literal("µm").optional() });
const TEST_SCHEMAS = [plainTestSchema, patchClassSchema, patchVolumeSchema, patchPoreSchema] as const;

/** A thing that is measured, with the unit or the basis it is reported in, or that is said in words. */
export const measurandSchema = z.discriminatedUnion("holds", [
  countSchema,
  quantitySchema,
  classSchema,
  descriptionSchema,
  ...TEST_SCHEMAS,
  runSchema,
  dilutionSchema,
]);

/** What one column, one label of a block or one name in a column of measurands holds. */
export const meaningSchema = z.discriminatedUnion("holds", [
  measurandSchema,
  countsPerSchema,
  z.strictObject({
    holds: z.enum([
      ...NAMING,
      ...(["measurand", "value", "unit", "accepted", "place", "nothing"] as const),
      /** What the laboratory makes of the sample, in words. */
      "remarks",
      /** Not used, and shown with the verdict. */
      "text",
    ]),
  }),
]);

/** See {@link measurandSchema}. */
export type Measurand = z.infer<typeof measurandSchema>;
/** See {@link meaningSchema}. */
export type Meaning = z.infer<typeof meaningSchema>;
/** A column of counts. */
export type CountMeaning = z.infer<typeof countSchema>;
/** A column of a quantity. */
export type QuantityMeaning = z.infer<typeof quantitySchema>;
/** A column of a simple test. */
export type TestMeaning = z.infer<(typeof TEST_SCHEMAS)[number]>;
type DescribedMeaning = z.infer<typeof descriptionSchema>;

/** What is known of a title. */
export type Recognition =
  | { readonly kind: "known"; readonly meaning: Meaning }
  /** Something that matters, but not certain enough to be read: `question` is what a column map has to answer. */
  | {
      readonly kind: "unsure";
      readonly question: string;
      /** What the title holds where the volume of the counts is in its own column. */
      readonly withoutVolume?: CountMeaning;
    }
  | { readonly kind: "unknown" };

/** Something whose title was looked at: a column, a label of a block. */
interface Titled {
  readonly recognition: Recognition;
}

/** What a title is known to hold. */
export function holdsOf({ recognition }: Titled): Meaning["holds"] | undefined {
  return recognition.kind === "known" ? recognition.meaning.holds : undefined;
}

/** Whether a title is known to stand over a result. */
export function holdsResult({ recognition }: Titled): boolean {
  return recognition.kind === "known" && isMeasurand(recognition.meaning);
}

/** The kinds of what some titles are known to hold. */
export function kindsIn(titles: readonly Titled[]): ReadonlySet<string> {
  return new Set(titles.flatMap((title) => holdsOf(title) ?? []));
}

/** Whether a column or label holds a result. */
export function isMeasurand(meaning: Meaning | undefined): meaning is Measurand {
  return (
    meaning !== undefined &&
    (meaning.holds === "count" ||
      meaning.holds === "class" ||
      saysHowCounted(meaning) ||
      isDescribed(meaning) ||
      isTest(meaning) ||
      meaning.holds in QUANTITIES)
  );
}

/** Whether something is said in words. */
export function isDescribed(meaning: Meaning): meaning is DescribedMeaning {
  return meaning.holds in DESCRIPTIONS;
}

/** Whether a column says how the counts of its row came about. */
export function saysHowCounted(
  meaning: Meaning,
): meaning is z.infer<typeof runSchema> | z.infer<typeof dilutionSchema> {
  return meaning.holds === "run" || meaning.holds === "dilution";
}

/**
 * Whether a column next to measurands and their values says something of the whole bottle. A count or a class there may be
 * that of the size in its row alone.
 */
export function isOfBottle({ holds }: Measurand): boolean {
  return holds !== "count" && holds !== "class";
}

/** Whether a column or label holds a simple test of the bottle. */
export function isTest(meaning: Meaning): meaning is TestMeaning {
  return meaning.holds in TESTS;
}

/**
 * Whether a title stands over texts that are kept as they are, and over which.
 *
 * "Result" alone is the value of a measurand where there is a column of measurands, and otherwise what the laboratory
 * makes of the sample.
 *
 * @param hasMeasurands - whether the table has a column of measurands
 */
export function textIn(recognition: Recognition, hasMeasurands: boolean): "remarks" | "text" | undefined {
  if (recognition.kind === "unknown") return "text";
  if (recognition.kind === "unsure") return undefined;
  const { holds } = recognition.meaning;
  if (holds === "remarks" || holds === "text") return holds;
  if (hasMeasurands) return undefined;
  if (holds === "value") return "remarks";
  return holds === "measurand" || holds === "unit" ? "text" : undefined;
}

/** Whether what a column holds is written in numbers. */
export function isInNumbers(measurand: Measurand): boolean {
  return (
    measurand.holds !== "class" && !isDescribed(measurand) && !isTest(measurand) && !saysHowCounted(measurand)
  );
}

/** Names a measurand for messages: "count above 4 µm(c)", "water", "ISO 4406 class". */
export function describeMeasurand(measurand: Measurand): string {
  if (measurand.holds === "class") {
    const { standard, sizeUmC } = measurand;
    return sizeUmC === undefined ? `${standard} class` : `${standard} scale number above ${sizeUmC} µm(c)`;
  }
  if (isDescribed(measurand)) return DESCRIPTIONS[measurand.holds];
  if (isTest(measurand)) return TESTS[measurand.holds];
  if (saysHowCounted(measurand)) return measurand.holds;
  if (measurand.holds !== "count") return QUANTITIES[measurand.holds].says;
  const { fromUm, toUm, scale, blank, run } = measurand;
  const of = blank ? "blank " : run === undefined ? "" : `run ${run} `;
  const unit = { "um(c)": "µm(c)", "um-older": "µm (older scale)", "um-microscope": "µm (microscope)" }[
    scale
  ];
  return `${of}${toUm === undefined ? `count above ${fromUm} ${unit}` : `count from ${fromUm} to ${toUm} ${unit}`}`;
}

/** Spellings of units that laboratories use, and how the module units writes them. */
const UNIT_SPELLINGS: readonly (readonly [RegExp, string])[] = [
  [/^(ppm|mg\/kg) ?\(?(m\/m|w\/w|by (mass|weight)|mass|wt)\)?$|^[uµμ]g ?\/ ?g$/, "ppm by mass"],
  [/^(%|percent|per cent|pct) ?\(?(m\/m|w\/w|by (mass|weight)|mass|wt)\)?$/, "% m/m"],
  [/^(mass|wt|weight|gew|gewichts?|massen?|ma|massa|peso)[-. ]*(%|percent|prozent|procent)$/, "% m/m"],
  [/^% ?\(?(p\/p|(?:en |in |em )?(masse|massa|masa|peso)|massique|gew\.?)\)?$/, "% m/m"],
  [/^(percent|per cent|pct)$/, "%"],
  [/^mg ?koh ?(\/|per) ?g$/, "mg koh/g"],
  [/^(mm\^?2|mm²|sq mm) ?(\/|per) ?s(ec)?$/, "mm²/s"],
  [/^(centistokes?|cst)$/, "cst"],
  [/^(° ?|deg ?|degrees )?(c|celsius)$/, "°C"],
  [/^(° ?|deg ?|degrees )?(f|fahrenheit)$/, "°F"],
];

/** A unit as the module units writes it; a spelling that is not known is left as it is. */
export function plainUnit(unit: string): string {
  const plain = unit.trim().toLowerCase().replace(/\s+/g, " ");
  return UNIT_SPELLINGS.find(([spelling]) => spelling.test(plain))?.[1] ?? plain;
}
