import * as z from "zod";
import { chainEntry, verdictComputedOtherwise } from "./book.js";
import { day, verdictName } from "./fields.js";

const misfit = z
  .object({ file: z.string(), message: z.string() })
  .meta({ id: "EvidenceMisfit", description: "What is wrong with one file of a pack." });

const verdict = z
  .object({
    number: z.number().describe("Number of the verdict in the book."),
    entry: z.number().describe("The entry of the chain that wrote it."),
    verdict: verdictName.describe("As it was computed."),
    cart: z.string(),
    circuit: z.string(),
    on: day,
    at: z.string().describe("When it was kept, as ISO 8601."),
    document: z.string(),
    revision: z.string(),
    version: z.string().describe("Version of siltbook that judged."),
  })
  .nullable()
  .describe("The verdict that the pack is about; null where it cannot be read.");

const manifestSha256 = z.string().nullable().describe("SHA-256 of the list of files.");

/** The answer of `evidence`. */
export const evidence = {
  out: z.string().describe("The folder or archive that was written."),
  verdict,
  head: z.string().nullable().describe("Hash of the last entry of the book."),
  manifestSha256,
  files: z.array(
    z.object({
      path: z.string().describe("Path of the file in the pack."),
      bytes: z.number().describe("Size in bytes."),
    }),
  ),
  misfits: z.array(misfit).describe("What does not fit; nothing for a sound book."),
};

/** A signed statement, as `verify --signed` finds it. */
export const signedStatement = z
  .object({
    statement: z
      .object({
        siltbookSignedHead: z.literal(1).describe("The form of the statement."),
        entry: z.number().describe("Number of the last entry."),
        head: z.string().describe("Hash of the last entry."),
        at: z.string().describe("When that entry was written, as ISO 8601."),
        signedOn: day.describe("The day of signing."),
        keySha256: z.string().describe("SHA-256 of the public key."),
        signature: z.string().describe("By Ed25519, in base64."),
      })
      .describe("What was signed, with its signature."),
    isSigned: z.boolean().describe("Whether it was signed with this key and not changed afterwards."),
    isContained: z.boolean().describe("Whether the chain contains its head."),
    coversVerdict: z
      .boolean()
      .nullable()
      .describe("Whether its head is that of the verdict's entry or of a later one; null for a book."),
  })
  .meta({ id: "SignedStatement", description: "A statement of a head, with what was found of it." });

/** The answer of `verify --evidence`. */
export const packVerification = {
  fits: z
    .boolean()
    .describe(
      "Whether all of the pack was compared, is as it was written, and this version computes the same verdict.",
    ),
  misfits: z.array(misfit),
  first: misfit.nullable().describe("The first that does not fit."),
  verdict,
  computedOtherwise: verdictComputedOtherwise
    .nullable()
    .describe("The verdict, where another version made it and it comes out otherwise today."),
  head: chainEntry.nullable().describe("The last entry of the book when the pack was made."),
  files: z.number().describe("How many files the pack has."),
  manifestSha256,
  covered: z
    .array(
      z.object({
        entry: z.number().describe("Number of the entry."),
        what: z.string().describe("What it wrote."),
      }),
    )
    .describe("The entries that wrote what the pack shows."),
  samples: z
    .array(
      z.object({
        sample: z.string(),
        files: z.array(z.string()),
        result: z
          .enum(["same", "differs", "not at hand"])
          .describe("What reading the laboratory's rows again gave."),
        isAsDelivered: z.boolean().describe("Whether the files are as the laboratory delivered them."),
      }),
    )
    .describe("The samples that the verdict rests on."),
  notMadeAgain: z
    .array(z.string())
    .describe(
      "Files that another version made and this one makes otherwise, so that they cannot be compared.",
    ),
  against: z
    .object({
      isInPack: z.boolean().describe("Whether the pack has the entry of the printed head."),
      coversVerdict: z.boolean().describe("Whether it is the verdict's entry or a later one."),
      entry: chainEntry.nullable(),
    })
    .nullable()
    .describe("The head of a printed page, where one is given."),
  book: z
    .object({ containsHead: z.boolean().describe("Whether the book contains the head of the pack.") })
    .nullable()
    .describe("The book, where one is given."),
  signed: signedStatement.nullable().describe("The signed statement, where a key is given."),
};
