import { join, resolve } from "node:path";
import { Book } from "../../../book/index.js";
import { partitionName, partOfSamples, samplesOfAllColumns, tableAsParquet } from "../../../tables/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { formatHowMany } from "../../text.js";
import { replaceFolder } from "../../whole-file.js";

/** Options of `siltbook export` with a base. */
interface PartitionOptions {
  readonly book: string;
  readonly to: string;
  readonly base: string;
  readonly table?: string;
  readonly cart?: string;
  readonly asOf?: string;
  readonly json?: boolean;
}

const FILE = "samples.parquet";

/** Writes the samples with their classes as Parquet files, one for each cart, in folders that name base and cart. */
export async function exportPartitions(options: PartitionOptions, io: Io): Promise<ExitCode> {
  const { book: path, to, json } = options;
  const base = options.base.trim();
  if (base === "") throw new UsageError("--base: expected the name of the base that the book is of");
  if (options.table !== undefined && options.table !== "samples") {
    throw new UsageError(`--table: with --base samples are written, found "${options.table}"`);
  }
  for (const [option, given] of Object.entries({ "--cart": options.cart, "--as-of": options.asOf })) {
    // A part of them would take the place of the whole base.
    if (given !== undefined)
      throw new UsageError(
        `${option}: with --base all samples are written as they are now, found "${given}"`,
      );
  }
  if (to === "") throw new UsageError("--to: expected a folder");
  const folder = join(to, partitionName("base", base));
  const book = Book.open(path);
  try {
    const carts = await replaceFolder("--to", folder, filesOf(book, base), {
      elsewhere: resolve(to),
      isOurs: (name) => /^cart=[^/]+\/samples\.parquet$/.test(name),
    });
    const samples = book.sampleCount;
    if (json) printJson(io, answerOf("export", { to, base, carts, samples }));
    else
      io.out(
        `${folder}: ${formatHowMany(samples, "sample")} of ${formatHowMany(carts, "cart")}, a file for each cart\n`,
      );
    return 0;
  } finally {
    book.close();
  }
}

/** One cart at a time is in memory. */
async function* filesOf(book: Book, base: string) {
  const like = samplesOfAllColumns(book.samples());
  const circuits = book.circuits();
  for (const cart of new Set(circuits.map((circuit) => circuit.cart))) {
    const kept = circuits
      .filter((one) => one.cart === cart)
      .flatMap(({ circuit }) => book.history(cart, circuit))
      .map(({ sample, amendments }) => ({ sample, amendments: amendments.length }));
    if (kept.length === 0) continue;
    const bytes = await tableAsParquet(partOfSamples(base, kept, like));
    yield { path: `${partitionName("cart", cart)}/${FILE}`, bytes };
  }
}
