import * as z from "zod";
import { MAX_VOLUME_ML } from "../../counts/index.js";
import { KNOWN_FLUIDS, tryParseFluidSpecification } from "../../fluids/index.js";
import { expecting, fluidSchema, isReadable, READABLE_CHARACTERS } from "../../samples/index.js";
import { IntakeError } from "../checks/issue.js";
import { OPEN, readJson } from "../documents/json-file.js";
import { plainWords } from "../words/bottle-parts.js";
import { SETTLED_WORDS, type SettledWord } from "../words/read-bottle-words.js";
import { plainTitle } from "./columns.js";
import { type Meaning, meaningSchema } from "./meaning.js";

const nameSchema = z.string().min(1).refine(isReadable, expecting(READABLE_CHARACTERS));

/**
 * What a person has settled about the files of one laboratory.
 *
 * It answers what a file cannot say for itself and overrules what was recognised.
 */
export const columnMapSchema = z.strictObject({
  siltbookColumnMap: z.literal(1).describe("Version of this format."),
  name: z.string().min(1).describe("Whose files these are, for example the laboratory and its form."),
  shape: z
    .enum(["wide", "long", "block", "across"])
    .optional()
    .describe(
      "A row for each sample, a row for each measurand, one sample as two columns, or a column for each sample.",
    ),
  decimal: z.enum([".", ","]).optional().describe("The decimal mark. Without it the file has to show it."),
  dates: z
    .enum(["day-month-year", "month-day-year", "year-month-day"])
    .optional()
    .describe("Order of days written with figures. Without it the file has to show it."),
  zone: z
    .string()
    .regex(/^(Z|[+-]\d{2}:\d{2})$/, "Z or an offset such as +02:00")
    .optional()
    .describe("Zone of times that do not name one, such as +02:00. Without it they are local."),
  blanks: z
    .array(z.string().min(1))
    .optional()
    .describe('Texts that mean "not measured" in these files, such as N/A.'),
  results: z
    .record(z.string(), z.enum(["not-detected", "trace", "too-many-to-count"]))
    .optional()
    .describe('What words in the place of a number mean in these files: { "n.n.": "not-detected" }.'),
  words: z
    .record(z.string(), z.enum(SETTLED_WORDS))
    .optional()
    .describe(
      'What words about a bottle mean in these files, by the whole cell or a part of it: { "port 3": "main-flow-line" }.',
    ),
  counts: z
    .strictObject({
      scale: z.enum(["um(c)", "um-older", "um-microscope"]).optional(),
      volumeMl: z.number().positive().max(MAX_VOLUME_ML).optional(),
    })
    .optional()
    .describe("Size scale and volume of all counts whose title does not say them."),
  fixed: z
    .strictObject({
      cart: nameSchema.optional(),
      circuit: nameSchema.optional(),
      fluid: nameSchema.optional(),
    })
    .optional()
    .describe("What holds for every sample of the file and is in no column."),
  carts: z
    .record(z.string(), nameSchema)
    .optional()
    .describe(
      'The laboratory\'s own names of carts, each with the name in the carts file: { "4711": "C-1" }.',
    ),
  circuits: z
    .record(z.string(), nameSchema)
    .optional()
    .describe("The laboratory's own names of circuits, each with the name in the carts file."),
  fluids: z
    .record(z.string(), fluidSchema(KNOWN_FLUIDS))
    .refine(
      (fluids) =>
        Object.entries(fluids).every(
          ([text, fluid]) => (tryParseFluidSpecification(text) ?? fluid) === fluid,
        ),
      "a name that is the specification of another fluid cannot be given a new meaning",
    )
    .optional()
    .describe("The laboratory's own names of fluids, each with the specification."),
  which: z
    .record(
      z.string(),
      z.string().regex(/^(?:[A-Z]{1,3}|\d{1,9})$/, "the letter of a column or the number of a row"),
    )
    .optional()
    .describe(
      'Which of several columns of one title counts, by its letter, or by the number of its row where samples stand across: { "Water (ppm)": "F" }.',
    ),
  columns: z
    .record(z.string(), meaningSchema)
    .default({})
    .describe("By title: a column, a label of a block, or a name in the column of measurands."),
});

/** See {@link columnMapSchema}. */
export type ColumnMap = z.infer<typeof columnMapSchema>;

/**
 * Reads a column map.
 *
 * @param file - name for messages
 * @param text - JSON
 * @throws IntakeError naming the file, the place in it and what was expected
 */
export function parseColumnMap(file: string, text: string): ColumnMap {
  for (const { what, question } of openEntries(text))
    throw new IntakeError(`${file}: ${what} is still open: ${question}`);
  const map = readJson(file, text, z.preprocess(withoutAnswered, columnMapSchema));
  const seen = new Set<string>();
  const twice = Object.keys(map.columns)
    .map(plainTitle)
    .find((title) => seen.size === seen.add(title).size);
  if (twice !== undefined) {
    throw new IntakeError(`${file}: columns: two titles differ only in their marks: "${twice}"`);
  }
  return map;
}

const textsSchema = z.record(z.string(), z.unknown());

/** What nobody has decided yet; a text that is no map has nothing open. */
function openEntries(text: string): { what: string; question: string }[] {
  const columnSchema = z.looseObject({ holds: z.literal(OPEN), question: z.string().optional() });
  try {
    return Object.entries(textsSchema.parse(withoutAnswered(JSON.parse(text)))).flatMap(([field, value]) => {
      if (typeof value === "string") return openText(field, value);
      return Object.entries(textsSchema.safeParse(value).data ?? {}).flatMap(([key, held]) => {
        if (typeof held === "string") return openText(`${field} of "${key}"`, held);
        const { data } = columnSchema.safeParse(held);
        return data === undefined
          ? []
          : [{ what: `column "${key}"`, question: data.question ?? "say what it holds" }];
      });
    });
  } catch {
    return [];
  }
}

/** A map without the questions that are answered: for a name by the title of a column, of a column by what it holds. */
function withoutAnswered(written: unknown): unknown {
  const { data: map } = textsSchema.safeParse(written);
  const { data: columns } = z
    .record(z.string(), z.looseObject({ holds: z.string() }))
    .safeParse(map?.columns);
  const { data: fixed } = textsSchema.safeParse(map?.fixed);
  if (map === undefined || columns === undefined) return written;
  const held = new Set(Object.values(columns).map(({ holds }) => holds));
  const isOpen = (value: unknown) => typeof value === "string" && value.startsWith(OPEN);
  const left = Object.entries(fixed ?? {}).filter(([kind, value]) => !(held.has(kind) && isOpen(value)));
  const asked = Object.entries(columns)
    .filter(([title, { holds }]) => holds !== OPEN || !held.has(title.replace(/^\((.*)\)$/, "$1")))
    .map(([title, { question, ...column }]) => [
      title,
      column.holds === OPEN ? { ...column, question } : column,
    ]);
  return { ...map, ...(fixed && { fixed: Object.fromEntries(left) }), columns: Object.fromEntries(asked) };
}

function openText(what: string, text: string): { what: string; question: string }[] {
  return text.startsWith(OPEN)
    ? [{ what, question: text.slice(OPEN.length).trim() || "say what it is" }]
    : [];
}

/** The published JSON Schema of a column map. */
export function columnMapJsonSchema(): object {
  return {
    $id: "https://siltbook.invalid/column-map.schema.json",
    title: "siltbook column map",
    ...z.toJSONSchema(columnMapSchema, { io: "input" }),
  };
}

/** What a map says of words about a bottle, found by the words without their marks. */
export function wordsOfMap(map: ColumnMap | undefined): ReadonlyMap<string, SettledWord> {
  return new Map(Object.entries(map?.words ?? {}).map(([text, word]) => [plainWords(text), word]));
}

/** The names that a laboratory uses for carts, circuits and fluids, each with the one that is known here. */
export type NamesOfMap = Readonly<Record<"cart" | "circuit" | "fluid", ReadonlyMap<string, string>>>;

/** What a map says of names, found by the name in any case and with any spaces. */
export function namesOfMap(map: ColumnMap | undefined): NamesOfMap {
  const found = (names: Readonly<Record<string, string>> = {}) =>
    new Map(Object.entries(names).map(([text, name]) => [plainName(text), name]));
  return { cart: found(map?.carts), circuit: found(map?.circuits), fluid: found(map?.fluids) };
}

/** A name as {@link namesOfMap} finds it. */
export function plainName(text: string): string {
  return text.trim().replace(/\s+/g, " ").toLowerCase();
}

/** What a map says of titles, found by the title without its marks. */
export function meaningsOfMap(map: ColumnMap | undefined): ReadonlyMap<string, Meaning> {
  return new Map(Object.entries(map?.columns ?? {}).map(([title, meaning]) => [plainTitle(title), meaning]));
}

/** Which of several columns of one title a map means, found by the title without its marks. */
export function placesOfMap(map: ColumnMap | undefined): ReadonlyMap<string, string> {
  return new Map(Object.entries(map?.which ?? {}).map(([title, place]) => [plainTitle(title), place]));
}
