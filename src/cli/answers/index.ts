import * as z from "zod";
import { FILLED_FROM } from "../../samples/index.js";
import * as book from "./book.js";
import { circulation, circulationOfCart, nothingToPlan } from "./circulation.js";
import { classified, unusable } from "./classes.js";
import { evidence, packVerification, signedStatement } from "./evidence.js";
import { cautions, day } from "./fields.js";
import { imported, understood } from "./intake.js";
import { fleet, judgement, shard } from "./judged.js";
import { laboratories } from "./laboratories.js";
import { onlineEvents } from "./online.js";
import { exchanged } from "./plan.js";
import { aircraftTrace, cartTrace } from "./trace.js";
import { trend } from "./trends.js";

const out = z.string().describe("The file that was written.");

const bottleLabel = z.object({
  cart: z.string(),
  circuit: z.string(),
  fluid: z.string(),
  point: z.enum(FILLED_FROM).optional(),
  number: z.string().optional().describe("Number of the bottle; absent where people write it."),
});

/** What each command answers with --json: a title, and the forms that the answer may have. */
export const ANSWERS = {
  classify: ["classes of one set of particle counts", classified, unusable],
  circulate: [
    "how long to circulate until it is clean",
    z.object(circulation),
    circulationOfCart,
    nothingToPlan,
  ],
  follow: ["a counter in the line, minute by minute: each line is one document", ...onlineEvents],
  exchange: ["fresh fluid that water and acid need", z.object({ ...exchanged, cautions })],
  judge: ["what to do with every circuit, and why", z.object(judgement)],
  report: ["the verdicts, and where the page is", z.object({ ...judgement, out })],
  page: [
    "the page for the hangar",
    z.object({
      out,
      on: day,
      goodUntil: day.describe("The last day on which the page calls anything fit."),
      carts: z.number(),
      circuits: z.number(),
      samples: z.number(),
      unread: z.number().describe("Rows that could not be read and may be a newer result."),
      bytes: z.number().describe("Size of the page in bytes."),
    }),
  ],
  labels: ["labels for sample bottles", z.object({ out, labels: z.array(bottleLabel) })],
  trend: ["where a measure is heading", z.object(trend)],
  trace: ["what a cart or an aircraft touched", z.object(cartTrace), z.object(aircraftTrace)],
  import: ["what became of every row of laboratory files", z.object(imported)],
  columns: ["what is understood of a laboratory file", z.object(understood)],
  init: [
    "files to fill in",
    z.object({ files: z.array(z.string()).describe("The files that were written.") }),
  ],
  list: ["files, carts or open rows of a book", z.object(book.files), z.object(book.carts)],
  quarantine: ["rows that wait for a person", z.object(book.quarantine)],
  history: ["all samples of a circuit", z.object(book.history)],
  rows: ["every row of a file and what became of it", z.object(book.rows)],
  withdraw: ["what a withdrawn file changed", z.object(book.withdrawn)],
  export: [
    "tables that were written",
    z.object(book.writtenSamples),
    z.object(book.writtenTables),
    z.object(book.writtenPartitions),
  ],
  backup: ["a copy of the book", z.object(book.backedUp)],
  restore: ["a book from its backup", z.object(book.restored)],
  salvage: ["what can be read of a damaged book", z.object(book.salvaged)],
  verify: [
    "whether a book, or an evidence pack, is as it was written",
    z.object({ ...book.verification, signed: signedStatement.optional() }),
    z.object(packVerification),
  ],
  evidence: ["all that one verdict rests on", z.object(evidence)],
  laboratories: ["whether laboratories agree", z.object(laboratories)],
  fleet: ["every circuit of the book", z.object(fleet), z.object(shard)],
  override: ["what a person decided", z.object(book.decided), z.object(book.lifted)],
} as const satisfies Record<string, readonly [title: string, ...forms: z.ZodObject[]]>;
