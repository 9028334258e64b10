import {
  Book,
  type FleetOutline,
  fleetRowsOf,
  type JudgedInBook,
  judgeBook,
  readFleetOutline,
  type SampleQuery,
} from "../../../book/index.js";
import { compareFleetRows, dueSamples, type FleetRow } from "../../../fitness/index.js";
import {
  calendarOf,
  type KeptSample,
  type Table,
  tableAsCsv,
  tableAsParquet,
  tableOfDue,
  tableOfFleet,
  tableOfQuantities,
  tableOfSamples,
  tableOfVerdicts,
  tablesAsWorkbook,
} from "../../../tables/index.js";
import { answerOf } from "../../answer.js";
import { describeDays } from "../../day.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { describeAssumptions, drawLines, formatHowMany } from "../../text.js";
import { writeWhole } from "../../whole-file.js";
import { cartsAskedFor, type JudgeOptions, readDays } from "../judge/judgement.js";

/** Options of `siltbook export` and `siltbook backup`. */
export interface ExportOptions extends Pick<JudgeOptions, "cart" | "on" | "asOf" | "json"> {
  readonly book: string;
  readonly to: string;
  readonly table?: string;
  readonly days?: string;
  /** The name of the base, for a folder of Parquet files. */
  readonly base?: string;
}

/** The tables that can be written out. */
const TABLES = ["samples", "verdicts", "quantities", "fleet", "due"] as const;
type TableName = (typeof TABLES)[number];

const DEFAULT_DAYS = "30";

/** Writes samples, verdicts or what is due, in the form that the file's name says. */
export async function runExport(options: ExportOptions, io: Io): Promise<ExitCode> {
  const { to, json } = options;
  if (options.base !== undefined)
    return (await import("./partitions.js")).exportPartitions({ ...options, base: options.base }, io);
  const kind = /\.(csv|jsonl|xlsx|parquet|ics)$/i.exec(to)?.[1]?.toLowerCase();
  if (kind === undefined) {
    throw new UsageError(
      `--to: expected a name that ends in .csv, .jsonl, .xlsx, .parquet or .ics, or a folder with --base, found "${to}"`,
    );
  }
  const name = readTable(options.table);
  const isWhole = name === undefined && (kind === "csv" || kind === "jsonl");
  if (kind === "jsonl" && name !== undefined && name !== "samples") {
    throw new UsageError(`--table: .jsonl holds samples only, found "${name}"`);
  }
  if (kind === "ics" && name !== undefined && name !== "due") {
    throw new UsageError(`--table: a calendar holds what is due, found "${name}"`);
  }
  if (isWhole || kind === "jsonl") return exportSamples(kind as "csv" | "jsonl", options, io);
  const tables = new TablesOfBook(options, readAhead(options.days));
  const { content, rows } = await contentOf(kind, name, tables);
  await writeWhole("--to", to, [content]);
  const { days, assumptions, leftOut } = tables;
  const { on, asOf = null } = days;
  if (json)
    printJson(
      io,
      answerOf("export", {
        ...{ to, on, asOf, tables: rows, assumptions },
        ...(leftOut !== undefined && { leftOut }),
      }),
    );
  else {
    const listed = Object.entries(rows).map(([one, many]) => `${one} ${many}`);
    const known = asOf === null ? "" : `, with what was known on ${asOf}`;
    const when = tables.isJudged ? `, judged for ${describeDays(days)}` : known;
    io.out(drawLines([`${to}${when}: rows of ${listed.join(", ")}${describeLeftOut(leftOut, days.asOf)}`]));
    io.out(describeAssumptions(assumptions));
  }
  return 0;
}

async function exportSamples(kind: "csv" | "jsonl", options: ExportOptions, io: Io): Promise<ExitCode> {
  const { to, json } = options;
  const book = Book.open(options.book);
  try {
    const query = queryOf(book, options);
    await writeWhole("--to", to, kind === "csv" ? book.csv(query) : book.jsonLines(query));
    const samples = Object.keys(query).length === 0 ? book.sampleCount : [...book.samples(query)].length;
    const leftOut = notKnown(book, query, samples);
    if (json) printJson(io, answerOf("export", { to, samples, ...(leftOut !== undefined && { leftOut }) }));
    else io.out(`${to}: ${formatHowMany(samples, "sample")}${describeLeftOut(leftOut, query.knownBy)}\n`);
    return 0;
  } finally {
    book.close();
  }
}

/** How many samples are left out because they were not known on a day; undefined where no day is named. */
function notKnown(book: Book, { knownBy, ...all }: SampleQuery, known: number): number | undefined {
  return knownBy === undefined ? undefined : [...book.samples(all)].length - known;
}

function describeLeftOut(leftOut: number | undefined, day: string | undefined): string {
  if (leftOut === undefined) return "";
  return `; ${leftOut} left out, not known on ${day}`;
}

/** Which samples are asked for. */
function queryOf(book: Book, { cart, on, asOf }: ExportOptions): SampleQuery {
  const { asOf: knownBy } = readDays({
    ...(on !== undefined && { on }),
    ...(asOf !== undefined && { asOf }),
  });
  const [named] = cart === undefined ? [] : cartsAskedFor({ carts: book.circuits() }, cart);
  return { ...(named && { cart: named.cart }), ...(knownBy !== undefined && { knownBy }) };
}

function readTable(text: string | undefined): TableName | undefined {
  if (text === undefined) return undefined;
  const name = TABLES.find((one) => one === text.trim().toLowerCase());
  if (name !== undefined) return name;
  throw new UsageError(`--table: expected one of ${TABLES.join(", ")}, found "${text}"`);
}

function readAhead(text = DEFAULT_DAYS): number {
  if (/^\d{1,4}$/.test(text.trim())) return Number(text);
  throw new UsageError(`--days: expected a whole number of at most 9999, found "${text}"`);
}

/** The content of the file, and how many rows each table has. */
async function contentOf(kind: string, name: TableName | undefined, tables: TablesOfBook) {
  if (kind === "ics") {
    const due = await tables.due();
    return { content: calendarOf(due, tables.days.on), rows: { due: due.length } };
  }
  const made: Table[] = [];
  for (const one of name === undefined && kind === "xlsx" ? TABLES : [name ?? "samples"]) {
    made.push(await tables.table(one));
  }
  const rows = Object.fromEntries(made.map((table) => [table.name, table.rows.length]));
  const [first] = made as [Table, ...Table[]];
  if (kind === "xlsx") return { content: await tablesAsWorkbook(made), rows };
  return { content: kind === "csv" ? tableAsCsv(first) : await tableAsParquet(first), rows };
}

/** The tables of a book; its circuits are judged once, when a table asks for it. */
class TablesOfBook {
  /** Cart by cart. */
  #judged: Promise<readonly (readonly JudgedInBook[])[]> | undefined;
  #outline: FleetOutline | undefined;
  #leftOut: number | undefined;
  readonly days: { readonly on: string; readonly asOf?: string };

  constructor(
    private readonly options: ExportOptions,
    private readonly ahead: number,
  ) {
    const { on, asOf } = readDays(options);
    this.days = { on, ...(asOf !== undefined && { asOf }) };
  }

  /** What the tables that were made take for granted. */
  get assumptions() {
    return this.#outline?.assumptions ?? [];
  }

  /** How many samples the table of samples leaves out, with what was known on a day. */
  get leftOut(): number | undefined {
    return this.#leftOut;
  }

  get isJudged(): boolean {
    return this.#outline !== undefined;
  }

  async table(name: TableName): Promise<Table> {
    switch (name) {
      case "samples":
        return tableOfSamples(this.#samples());
      case "verdicts":
        return tableOfVerdicts((await this.#carts()).flat());
      case "quantities":
        return tableOfQuantities((await this.#carts()).flat());
      case "fleet":
        return tableOfFleet(await this.#rows());
      case "due":
        return tableOfDue(await this.due());
    }
  }

  async due() {
    return dueSamples(await this.#rows(), this.days.on, this.ahead);
  }

  async #rows(): Promise<FleetRow[]> {
    return (await this.#carts()).flatMap(fleetRowsOf).sort(compareFleetRows);
  }

  #carts(): Promise<readonly (readonly JudgedInBook[])[]> {
    this.#judged ??= this.#judgeAll();
    return this.#judged;
  }

  /** Judges cart by cart; an export keeps no verdict. */
  async #judgeAll(): Promise<readonly (readonly JudgedInBook[])[]> {
    const { book, cart } = this.options;
    this.#outline = readFleetOutline(book, this.days);
    const asked = { ...this.#outline, carts: cartsAskedFor(this.#outline, cart), isKept: false };
    const carts: (readonly JudgedInBook[])[] = [];
    for await (const circuits of judgeBook(book, asked, this.days.on)) carts.push(circuits);
    return carts;
  }

  #samples(): KeptSample[] {
    const book = Book.open(this.options.book);
    try {
      const { knownBy, ...query } = queryOf(book, this.options);
      if (knownBy !== undefined) {
        const known = [...book.correctedSamples({ ...query, knownBy })];
        this.#leftOut = notKnown(book, { ...query, knownBy }, known.length);
        return known;
      }
      return book
        .circuits()
        .filter(({ cart }) => query.cart === undefined || cart === query.cart)
        .flatMap(({ cart, circuit }) => book.history(cart, circuit))
        .map(({ sample, amendments }) => ({ sample, amendments: amendments.length }));
    } finally {
      book.close();
    }
  }
}

/** Writes a copy of the whole book. */
export function runBackup({ book: path, to, json }: ExportOptions, io: Io): ExitCode {
  const book = Book.open(path);
  try {
    book.backup(to);
    if (json) printJson(io, answerOf("backup", { to, samples: book.sampleCount }));
    else io.out(`A copy of the book with ${book.sampleCount} samples is in ${to}\n`);
    return 0;
  } finally {
    book.close();
  }
}
