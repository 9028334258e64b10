import * as z from "zod";
import { meaningSchema } from "../../intake/index.js";
import { assumptions, growing } from "./fields.js";

export const shape = z
  .enum(["wide", "long", "block", "across"])
  .describe("How the samples are arranged in the table.");

const issueCode = growing(
  "IssueCode",
  [
    ...([
      "cell-not-read",
      "cell-ambiguous",
      "cell-missing",
      "row-not-split",
      "row-of-wrong-length",
      "table-in-doubt",
    ] as const),
    ...(["counts-break-a-rule", "measurand-not-known", "repeated-measurand", "name-given-twice"] as const),
    ...([
      "conflicting-results",
      "circuit-not-known",
      "class-differs-from-counts",
      "class-cannot-be",
    ] as const),
    ...(["factor-of-100", "counts-all-zero", "counts-all-equal", "counts-break-off"] as const),
    ...([
      "water-per-cent-as-ppm",
      "water-ppm-as-per-cent",
      "water-zero",
      "acid-zero",
      "property-zero",
    ] as const),
    ...(["drawn-after-received", "received-after-reported", "drawn-long-before-received"] as const),
    ...(["day-differs-from-book", "differs-from-book", "date-in-the-future"] as const),
  ],
  "What is wrong, for machines.",
);

const issue = {
  code: issueCode,
  file: z.string(),
  sheet: z.string().optional(),
  row: z.number().describe("Row as a person counts it; a column's place where samples stand across."),
  column: z.string().describe("Title of the cell as the file writes it."),
  value: z.string().describe("The text as it is in the file."),
  expected: z.string(),
};

export const plainIssue = z
  .object(issue)
  .meta({ id: "Issue", description: "What is wrong with one cell or one row, and where it is." });

export const saidIssue = z
  .object({ ...issue, message: z.string() })
  .meta({ id: "SaidIssue", description: "The same with a sentence for a person." });

export const issueOfRow = z
  .object({ ...issue, message: z.string(), text: z.string().describe("The whole row as it is in the file.") })
  .meta({ id: "IssueOfRow", description: "The same with the whole row." });

const countMeaning = z.object({
  holds: z.literal("count"),
  fromUm: z.number().describe("Particles larger than this size in µm."),
  toUm: z.number().optional().describe("Upper end of a range in µm."),
  scale: z.enum(["um(c)", "um-older", "um-microscope"]),
  volumeMl: z.number().optional().describe("Volume in mL that the counts stand for."),
  blank: z.literal(true).optional().describe("Counts of a clean bottle."),
  run: z.number().optional().describe("One of several counts of the same bottle, from 1 on."),
});

const column = z.union([
  z.object({ title: z.string(), kind: z.literal("known"), meaning: meaningSchema }),
  z.object({
    title: z.string(),
    kind: z.literal("unsure"),
    question: z.string(),
    withoutVolume: countMeaning.optional().describe("What it holds where a column gives the volume."),
  }),
  z.object({ title: z.string(), kind: z.literal("unknown") }),
]);

const conventions = z.object({
  decimal: z.enum([".", ",", "not-shown", "contradicting"]).describe("The decimal mark."),
  decimalIsGiven: z.boolean().describe("Whether a column map gives it."),
  dates: z.object({
    order: z.enum(["day-month-year", "month-day-year", "year-month-day", "not-shown", "contradicting"]),
    settled: z.boolean().describe("Whether a column map gives the order."),
    form: z.enum([".", "year", "/", "-"]).optional().describe("How most days are written."),
  }),
  open: z.array(z.enum(["decimal", "dates"])).describe("What its cells need and nothing shows."),
  zone: z.string().optional().describe("Zone of times that do not name one; absent: local."),
  blanks: z.array(z.string()).describe('Texts that mean "not measured".'),
});

const table = z.object({
  file: z.string(),
  sheet: z.string().optional(),
  readAs: z.string(),
  shape,
  headerRows: z.array(z.number()).describe("Rows that hold the titles."),
  columns: z.array(column),
  conventions,
  open: z
    .array(
      z.object({
        field: z
          .enum(["decimal", "dates", "fixed", "which", "columns"])
          .describe("The field of the map that settles it."),
        key: z.string().optional().describe("The name or title that it is about."),
        question: z.string(),
      }),
    )
    .describe("What a column map has to say."),
  obstacle: z.string().nullable().describe("Why it cannot be taken in as it is."),
});

/** The answer of `columns`. */
export const understood = {
  tables: z.array(table),
  map: z.record(z.string(), z.unknown()).describe("The column map to edit: siltbook/column-map.schema.json."),
};

const change = z.object({
  kind: growing(
    "FleetChangeKind",
    [
      ...(["cart-new", "other-cart-new", "other-cart-gone", "circuit-new", "circuit-gone"] as const),
      ...(["event-new", "event-changed", "event-kept", "event-gone", "fluid-without-change"] as const),
      ...(["field-changed", "system-new", "system-gone", "limits-under-one-revision"] as const),
    ],
    "What has changed, for machines.",
  ),
  cart: z.string().optional(),
  circuit: z.string().optional(),
  system: z.string().optional(),
  field: z.string().optional().describe("The field, where one has changed."),
  message: z.string(),
});

/** Rows of a file by what became of them. */
export const rowCounts = {
  rows: z.number().describe("All rows of the file: the five kinds added up."),
  taken: z.number().describe("Rows of new samples."),
  known: z.number().describe("Rows whose results the book has already, or that a person has settled."),
  amended: z.number().describe("Rows that corrected or completed a sample of an earlier file."),
  quarantined: z.number(),
  notSamples: z.number().describe("Headers, blank rows, footers, and rows of carts of other bases."),
};

/** The answer of `import`. */
export const imported = {
  setAside: z
    .array(issueOfRow)
    .describe("Rows that came in before the book knew its carts and name none of them."),
  changes: z.array(change).describe("What the carts file and the requirements file change."),
  files: z.array(
    z.object({
      file: z.string(),
      sha256: z.string(),
      readAs: z.string(),
      ...rowCounts,
      unusedColumns: z.array(z.string()),
    }),
  ),
  books: z
    .array(
      z.object({
        book: z.string().describe("Name of the file of the other book."),
        head: z.string().describe("Hash of the last entry of the other book."),
        headNumber: z.number().describe("Number of that entry."),
        entries: z.number().describe("Entries of the other book that this one did not know."),
        changes: z.array(change).describe("What changes of the carts."),
        files: z.number().describe("Files that this book did not have."),
        samples: z
          .object({
            taken: z.number().describe("Samples that this book did not have."),
            known: z.number().describe("Samples of which it had the same, or more."),
            amended: z.number().describe("Samples that were completed or corrected."),
            setAside: z
              .number()
              .describe("With a report that contradicts this book; its rows are in quarantine."),
          })
          .describe("Samples by what became of them."),
        withdrawn: z.array(z.string()).describe("Files withdrawn there since, and here too."),
        importAgain: z
          .array(z.string())
          .describe("Files to import again, because they have rows that no book has read."),
        waiting: z.number().describe("How many more rows wait for a person than before."),
        setAside: z
          .array(issueOfRow)
          .describe("Rows that came in before this book knew its carts and name none of them."),
        verdicts: z.number().describe("Verdicts that this book did not have."),
        decisions: z.number().describe("Decisions of people about circuits."),
        requirementNotTaken: z
          .object({ document: z.string(), revision: z.string() })
          .optional()
          .describe("The requirement of the other book, where it is another than this book's."),
      }),
    )
    .describe("Other books that were brought in."),
  quarantine: z.array(issueOfRow),
  refused: z
    .array(z.object({ file: z.string(), message: z.string() }))
    .describe("Files of which nothing was taken, and why."),
  quarantineFiles: z
    .array(z.object({ file: z.string(), map: z.string().describe("The column map to read it with.") }))
    .describe("Where quarantined rows were written to be corrected."),
  openInBook: z.number().describe("Rows of all files of the book that wait for a person."),
  by: z.string().nullable(),
  assumptions,
};
