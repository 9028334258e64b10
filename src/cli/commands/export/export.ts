import { Book, fleetRowsOf, type JudgedInBook, judgeBook, readFleetOutline } from "../../../book/index.js";
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
import { readDay } from "../../day.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { writeWhole } from "../../whole-file.js";

/** Options of `siltbook export` and `siltbook backup`. */
export interface ExportOptions {
  readonly book: string;
  readonly to: string;
  readonly table?: string;
  readonly on?: string;
  readonly days?: string;
  /** The name of the base, for a folder of Parquet files. */
  readonly base?: string;
  readonly json?: boolean;
}

/** The tables that can be written out. */
const TABLES = ["samples", "verdicts", "quantities", "fleet", "due"] as const;
type TableName = (typeof TABLES)[number];

const DEFAULT_DAYS = "30";

/** Writes samples, verdicts or what is due, in the form that the file's name says. */
export async function runExport(options: ExportOptions, io: Io): Promise<ExitCode> {
  const { book: path, to, json } = options;
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
  if (isWhole || kind === "jsonl") return exportSamples(path, to, kind as "csv" | "jsonl", json, io);
  const tables = new TablesOfBook(path, readDay(options.on), readDays(options.days));
  const written = await contentOf(kind, name, tables);
  await writeWhole("--to", to, [written.content]);
  if (json) printJson(io, answerOf("export", { to, on: tables.on, tables: written.rows }));
  else {
    const rows = Object.entries(written.rows).map(([one, many]) => `${one} ${many}`);
    io.out(`${to}, judged for ${tables.on}: rows of ${rows.join(", ")}\n`);
  }
  return 0;
}

async function exportSamples(
  path: string,
  to: string,
  kind: "csv" | "jsonl",
  json: boolean | undefined,
  io: Io,
): Promise<ExitCode> {
  const book = Book.open(path);
  try {
    await writeWhole("--to", to, kind === "csv" ? book.csv() : book.jsonLines());
    if (json) printJson(io, answerOf("export", { to, samples: book.sampleCount }));
    else io.out(`${book.sampleCount} samples are in ${to}\n`);
    return 0;
  } finally {
    book.close();
  }
}

function readTable(text: string | undefined): TableName | undefined {
  if (text === undefined) return undefined;
  const name = TABLES.find((one) => one === text.trim().toLowerCase());
  if (name !== undefined) return name;
  throw new UsageError(`--table: expected one of ${TABLES.join(", ")}, found "${text}"`);
}

function readDays(text = DEFAULT_DAYS): number {
  if (/^\d{1,4}$/.test(text.trim())) return Number(text);
  throw new UsageError(`--days: expected a whole number of at most 9999, found "${text}"`);
}

/** The content of the file, and how many rows each table has. */
async function contentOf(kind: string, name: TableName | undefined, tables: TablesOfBook) {
  if (kind === "ics") {
    const due = await tables.due();
    return { content: calendarOf(due, tables.on), rows: { due: due.length } };
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

  constructor(
    private readonly path: string,
    readonly on: string,
    private readonly days: number,
  ) {}

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
    return dueSamples(await this.#rows(), this.on, this.days);
  }

  async #rows(): Promise<FleetRow[]> {
    return (await this.#carts()).flatMap(fleetRowsOf).sort(compareFleetRows);
  }

  #carts(): Promise<readonly (readonly JudgedInBook[])[]> {
    this.#judged ??= judgeAll(this.path, this.on);
    return this.#judged;
  }

  #samples(): KeptSample[] {
    const book = Book.open(this.path);
    try {
      return book
        .circuits()
        .flatMap(({ cart, circuit }) => book.history(cart, circuit))
        .map(({ sample, amendments }) => ({ sample, amendments: amendments.length }));
    } finally {
      book.close();
    }
  }
}

/** Judges all that is in the book; an export keeps no verdict. */
async function judgeAll(path: string, on: string): Promise<readonly (readonly JudgedInBook[])[]> {
  const outline = readFleetOutline(path, { on });
  const carts: (readonly JudgedInBook[])[] = [];
  for await (const circuits of judgeBook(path, { ...outline, isKept: false }, on)) carts.push(circuits);
  return carts;
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
