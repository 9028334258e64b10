import * as z from "zod";
import { INPUT_ROLES } from "../../fitness/index.js";
import { sampleSchema } from "../../samples/index.js";
import { circuitDecision } from "./decisions.js";
import { assumptions, cautions, day, fluidSpecification, verdictName } from "./fields.js";
import { issueOfRow, plainIssue, rowCounts, saidIssue } from "./intake.js";
import { event, sample } from "./samples.js";

const moment = z.string().describe("When, as ISO 8601.");

const importedAt = z.string().describe("When its file came in first, as ISO 8601.");

const taken = { at: moment, person: z.string(), reason: z.string() };

export const keptInput = z
  .object({
    role: z.enum(INPUT_ROLES).describe("What the verdict used it for."),
    sha256: z.string(),
  })
  .meta({ id: "KeptInput", description: "An input of a verdict, by its hash." });

export const override = z
  .object({
    at: moment,
    person: z.string(),
    second: z.string().optional(),
    decision: verdictName,
    reason: z.string(),
    until: day.optional().describe("Last day of a milder decision."),
  })
  .meta({ id: "Override", description: "What a person decided against a verdict." });

const keptVerdict = z.object({
  id: z.number().describe("Number of the verdict in the book."),
  at: moment,
  on: day,
  cart: z.string(),
  circuit: z.string(),
  verdict: verdictName.describe("As it was computed; no decision changes it."),
  document: z.string(),
  revision: z.string(),
  version: z.string().describe("Version of siltbook that judged."),
  inputs: z.array(keptInput),
  resultSha256: z.string(),
  overrides: z.array(override),
});

/** The answer of `override --decision`. */
export const decided = { verdict: keptVerdict.nullable(), decision: circuitDecision, cautions };

/** The answer of `override --lift`. */
export const lifted = { decision: circuitDecision, cautions };

export const chainEntry = z
  .object({
    number: z.number().describe("Number of the entry, from 1 on."),
    at: moment,
    kind: z.enum([
      ...(["begin", "reading", "carts", "requirement", "quarantine", "verdicts"] as const),
      ...(["override", "lifting", "withdrawal", "book"] as const),
    ]),
    by: z.string().nullable(),
    subject: z.string().describe("What it is about, in words."),
    bodySha256: z.string().describe("SHA-256 of what it wrote, in canonical form."),
    previous: z.string().describe("Hash of the entry before; 64 zeros for the first."),
    hash: z.string(),
  })
  .meta({ id: "ChainEntry", description: "One entry of the chain of the book." });

const misfit = z
  .object({ entry: z.number().describe("Number of the entry that does not fit."), message: z.string() })
  .meta({ id: "Misfit", description: "Something that is not as the chain says." });

/** A verdict that another version computed otherwise. */
export const verdictComputedOtherwise = z
  .object({
    number: z.number().describe("Number of the verdict in the book."),
    entry: z.number().describe("Number of the entry that wrote it."),
    cart: z.string(),
    circuit: z.string(),
    on: day.describe("The day it was judged for."),
    version: z.string().describe("The version that it names."),
    recorded: verdictName,
    today: verdictName.nullable().describe("As this version computes it; null where it cannot."),
  })
  .meta({
    id: "VerdictComputedOtherwise",
    description: "A verdict that another version computed otherwise.",
  });

/** The answer of `verify`. */
export const verification = {
  fits: z
    .boolean()
    .describe("Whether all of the book is as the chain says; verdicts.otherwise does not change that."),
  entries: z.number().describe("How many entries the chain has."),
  begins: chainEntry.nullable().describe("The first entry."),
  head: chainEntry.nullable().describe("The last entry, which printed pages name."),
  first: misfit.nullable().describe("The first that does not fit."),
  misfits: z.array(misfit),
  damage: z.array(z.string()).describe("What is wrong with the file itself."),
  verdicts: z
    .object({
      kept: z.number().describe("How many the book has."),
      same: z.number().describe("How many the installed version computes the same."),
      sameOfOthers: z.record(z.string(), z.number()).describe("Of these, how many another version had made."),
      otherwise: z
        .array(verdictComputedOtherwise)
        .describe("Verdicts of another version that are as they were written and come out otherwise today."),
    })
    .describe("What became of the verdicts when they were computed again."),
  withdrawn: z.array(z.object({ file: z.string(), sha256: z.string(), importedAt, ...taken })),
  against: z
    .object({
      isInBook: z.boolean(),
      entry: chainEntry.nullable(),
      book: z.string().optional().describe("The other book that the entry is of, where that was brought in."),
      broughtBy: z.number().optional().describe("Number of the entry that brought it in."),
    })
    .optional()
    .describe("Whether the book contains the head of a printed page, where one is given."),
};

/** The answer of `history`. */
export const history = {
  cart: z.string(),
  circuit: z.string(),
  held: z.boolean().describe("Whether a person's decision holds the circuit."),
  decisions: z.array(circuitDecision),
  samples: z.array(
    z.object({
      ...sampleSchema.shape,
      iso4406: z.string().nullable().describe("Code of ISO 4406, where the counts give one."),
      source: z.object({
        file: z.string(),
        sha256: z.string(),
        sheet: z.string().optional(),
        rows: z.array(z.number()),
        columnMap: z.string().optional().describe("The column map that the file was read with."),
      }),
      amendments: z
        .array(
          z.object({
            at: moment,
            by: z.object({ file: z.string(), sha256: z.string(), rows: z.array(z.number()) }),
            earlier: sample.describe("What the sample said before."),
          }),
        )
        .describe("What later files corrected, oldest first."),
    }),
  ),
  events: z.array(event),
  quarantine: z.array(issueOfRow),
  withdrawn: z
    .array(z.object({ sample, file: z.string(), importedAt, ...taken }))
    .describe("Samples of files that were taken back."),
};

const file = { file: z.string(), sha256: z.string() };

/** The answer of `list files`. */
export const files = {
  files: z.array(
    z.object({
      ...file,
      at: moment,
      ...rowCounts,
      withdrawnAt: z.string().nullable().describe("When it was taken back, as ISO 8601."),
    }),
  ),
};

/** The answer of `list carts`. */
export const carts = {
  circuits: z.array(
    z.object({
      cart: z.string(),
      circuit: z.string(),
      fluid: fluidSpecification,
      serves: z.string(),
      samples: z.number(),
      lastDrawnOn: day.nullable().describe("Day of the last sample."),
    }),
  ),
};

const row = {
  sheet: z.string().optional(),
  row: z.number().describe("Row as a person counts it."),
  text: z.string().describe("The row as it is in the file."),
};

const openRow = {
  id: z.string().describe("Short name of the row, which settling names."),
  ...file,
  ...row,
  importedAt,
  cart: z.string().optional(),
  circuit: z.string().optional(),
  drawnOn: day.optional(),
  sample: z.string().optional(),
  issues: z.array(saidIssue),
};

/** The answer of `quarantine` and of `list rows`. */
export const quarantine = {
  open: z.array(z.object(openRow)).describe("Rows that wait for a person."),
  settled: z
    .array(
      z.object({
        ...openRow,
        replacedBy: z
          .string()
          .optional()
          .describe("The file that brought it corrected, or in which the same row came first."),
        decided: z
          .object({ decision: z.enum(["withdrawn", "settled", "discarded", "reopened"]), ...taken })
          .optional()
          .describe("What a person decided."),
        ofOtherBase: z.literal(true).optional().describe("Whether it is of a cart of another base."),
        settledAt: z.string().optional().describe("When it ceased to wait, as ISO 8601."),
      }),
    )
    .describe("Rows that wait no longer, with --all."),
  decided: z.array(z.string()).describe("Names of the rows that were decided now."),
};

/** The answer of `rows`. */
export const rows = {
  ...file,
  withdrawn: z.object(taken).nullable().describe("When, by whom and why the file was taken back."),
  rows: z.array(
    z.object({
      ...row,
      fate: z.enum(["taken", "known", "amended", "quarantined", "not a sample", "withdrawn"]),
      issues: z.array(plainIssue).optional().describe("Why the row is in quarantine."),
      settled: z.boolean().optional().describe("Whether it has come back corrected, or was discarded."),
      waitsIn: z.string().optional().describe("The earlier file in which the same row waits."),
      why: z
        .enum([
          ...(["blank", "above the table", "header", "footer", "label not known"] as const),
          ...(["sheet without samples", "discarded by a person", "a cart of another base"] as const),
        ])
        .optional()
        .describe("Why the row is not a sample."),
    }),
  ),
};

/** The answer of `withdraw`. */
export const withdrawn = {
  ...file,
  withdrawn: z.number().describe("Samples that count no longer."),
  restored: z.number().describe("Samples that are as other files report them."),
  reopened: z.number().describe("Rows of other files that wait again."),
  importAgain: z
    .array(z.string())
    .describe("Files that name the same samples and have to be imported again."),
  by: z.string(),
  reason: z.string(),
};

/** The answer of `salvage`. */
export const salvaged = {
  to: z.string(),
  rows: z.number().describe("Rows that are in the new book."),
  lost: z.array(
    z.object({
      what: z.string().describe("What the rows are, in words."),
      rows: z.number().describe("How many were found to be lost, at least."),
    }),
  ),
  chainGoesOn: z.boolean().describe("Whether the heads of printed pages are in the new book."),
  importAgain: z.array(z.string()).describe("Files to import again; no circuit is called fit until then."),
};

const written = { to: z.string(), samples: z.number() };

/** The answer of `backup`. */
export const backedUp = written;

const leftOut = z
  .number()
  .optional()
  .describe("With a day of knowledge: how many samples were not known then, and are left out.");

/** The answer of `export` where it writes samples alone. */
export const writtenSamples = { ...written, leftOut };

/** The answer of `export` where it writes a folder of Parquet files. */
export const writtenPartitions = {
  ...written,
  base: z.string().describe("The name of the base."),
  carts: z.number().describe("How many carts have a file."),
};

/** The answer of `restore`. */
export const restored = { ...written, head: chainEntry };

/** The answer of `export` where it writes tables. */
export const writtenTables = {
  to: z.string(),
  on: day,
  asOf: day.nullable(),
  tables: z.record(z.string(), z.number()).describe("Rows of each table that was written."),
  leftOut,
  assumptions,
};
