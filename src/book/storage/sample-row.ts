import { CountError, type CumulativeCount, cumulativeCounts } from "../../counts/index.js";
import { describePlaces } from "../../provenance/index.js";
import type { Measured, Origin, Sample } from "../../samples/index.js";
import { BookError, type Sql } from "./database.js";
import { checkOf } from "./row-check.js";

/** A sample as the book keeps it. */
export interface SampleRow {
  readonly id: number;
  readonly cart: string;
  readonly circuit: string;
  readonly sample: string;
  readonly drawn_on: string;
  readonly drawn_time: string | null;
  readonly fluid: string | null;
  readonly count_volume_ml: number | null;
  readonly counts: string | null;
  readonly water_ppm: number | null;
  readonly water_limit: string | null;
  readonly acid_mg_koh_per_g: number | null;
  readonly acid_limit: string | null;
  readonly viscosity_40_mm2_per_s: number | null;
  readonly viscosity_40_limit: string | null;
  readonly more: string | null;
  readonly file_id: number;
  readonly file: string;
  readonly sheet: string | null;
  readonly rows: string;
  /** See {@link checkOf}; null while an older book is brought up to date. */
  readonly row_check: number | null;
}

/** A query for {@link SampleRow}; conditions are appended to it. */
export const SELECT_SAMPLES = `
  SELECT sample.id, cart.cart, circuit.circuit, sample.sample, drawn_on, drawn_time, fluid, count_volume_ml, counts,
    water_ppm, water_limit, acid_mg_koh_per_g, acid_limit, viscosity_40_mm2_per_s, viscosity_40_limit, more,
    file_id, file.name AS file, sheet, rows, row_check
  FROM sample JOIN circuit ON circuit.id = circuit_id JOIN cart ON cart.id = cart_id JOIN file ON file.id = file_id`;

/** The columns that {@link valuesOf} fills, in its order. */
export const RESULT_COLUMNS = [
  "drawn_on",
  "drawn_time",
  "fluid",
  "count_volume_ml",
  "counts",
  "water_ppm",
  "water_limit",
  "acid_mg_koh_per_g",
  "acid_limit",
  "viscosity_40_mm2_per_s",
  "viscosity_40_limit",
  "more",
  "file_id",
  "sheet",
  "rows",
  "row_check",
] as const;

/** Parts of a sample that have columns of their own. */
const IN_COLUMNS: ReadonlySet<string> = new Set<keyof Sample>([
  "sample",
  "cart",
  "circuit",
  "origin",
  "drawnOn",
  "drawnTime",
  "fluid",
  "counts",
  "waterPpm",
  "acidMgKohPerG",
  "viscosity40Mm2PerS",
]);

/** A sample as the values of {@link RESULT_COLUMNS}. Its origin is the file it is taken from now. */
export function valuesOf(sample: Sample, fileId: number, rows: Origin): Sql[] {
  const { drawnOn, drawnTime, fluid, counts, waterPpm, acidMgKohPerG, viscosity40Mm2PerS } = sample;
  const values = [
    drawnOn,
    drawnTime ?? null,
    fluid ?? null,
    counts?.volumeMl ?? null,
    counts === undefined ? null : writeCounts(counts),
    waterPpm?.value ?? null,
    waterPpm?.limit ?? null,
    acidMgKohPerG?.value ?? null,
    acidMgKohPerG?.limit ?? null,
    viscosity40Mm2PerS?.value ?? null,
    viscosity40Mm2PerS?.limit ?? null,
    writeMore(sample),
    fileId,
    rows.sheet ?? null,
    `[${rows.rows.join(",")}]`,
  ];
  values.push(checkOf(sample, values));
  return values;
}

/** What has no column, as JSON in the order of the names, however the file was read; null when there is nothing. */
function writeMore(sample: Sample): string | null {
  const names: (keyof Sample)[] = [];
  // Most samples have nothing more, and a large file has millions of them: no copy is made to find out.
  for (const name in sample) if (!IN_COLUMNS.has(name)) names.push(name as keyof Sample);
  if (saysMore(sample.counts)) names.push("counts");
  if (names.length === 0) return null;
  return JSON.stringify(Object.fromEntries(names.sort().map((name) => [name, sample[name]])));
}

/** Columns that say what was found; the others say where it stood. */
const FOUND_COLUMNS = RESULT_COLUMNS.filter(
  (column) => !["file_id", "sheet", "rows", "row_check"].includes(column),
);

/**
 * Whether a row holds what {@link valuesOf} made of another report, written in the same way.
 *
 * Most samples that come twice come the same way twice; only the others have to be compared in earnest.
 */
export function holdsSame(row: SampleRow, values: readonly Sql[]): boolean {
  return FOUND_COLUMNS.every((column, index) => row[column as keyof SampleRow] === values[index]);
}

/** Whether the columns alone would lose something of the counts: the counted volume, a basis, or a subtracted blank. */
function saysMore(counts: Sample["counts"]): boolean {
  if (counts === undefined) return false;
  if (counts.counting !== undefined) return true;
  for (const { basis, blank } of counts.counts) if (basis !== undefined || blank !== undefined) return true;
  return false;
}

/** Written by hand: a large file has millions of these, and they hold nothing but numbers. */
function writeCounts({ counts }: NonNullable<Sample["counts"]>): string {
  let text = "";
  for (const { sizeUm, count } of counts) text += `${text === "" ? "{" : ","}"${sizeUm}":${count}`;
  return `${text === "" ? "{" : text}}`;
}

/**
 * A sample as it is in the book.
 *
 * @throws BookError when the row is not what was written
 */
export function sampleOf(row: SampleRow): Sample {
  if (row.row_check !== checkOfRow(row)) throw new BookError(describeChanged(row));
  return readSample(row);
}

/** The {@link checkOf} that the row should have. */
export function checkOfRow(row: SampleRow): number {
  const values = CHECKED_COLUMNS.map((column) => row[column]);
  return checkOf(row, values);
}

const CHECKED_COLUMNS = RESULT_COLUMNS.filter((column) => column !== "row_check");

function describeChanged({ sample, cart, circuit, file, rows }: SampleRow): string {
  const places = describePlaces(rows.slice(1, -1).split(",").map(Number));
  return (
    `sample ${sample} of cart ${cart}, circuit ${circuit} (${file}, ${places}): its row in the book is not what ` +
    `was written; run "siltbook verify", keep the book as it is, and go on with the last backup`
  );
}

function readSample(row: SampleRow): Sample {
  return {
    sample: row.sample,
    cart: row.cart,
    circuit: row.circuit,
    drawnOn: row.drawn_on,
    ...(row.drawn_time !== null && { drawnTime: row.drawn_time }),
    ...(row.fluid !== null && { fluid: row.fluid }),
    ...countsOf(row),
    ...(row.water_ppm !== null && { waterPpm: measured(row.water_ppm, row.water_limit) }),
    ...(row.acid_mg_koh_per_g !== null && {
      acidMgKohPerG: measured(row.acid_mg_koh_per_g, row.acid_limit),
    }),
    ...(row.viscosity_40_mm2_per_s !== null && {
      viscosity40Mm2PerS: measured(row.viscosity_40_mm2_per_s, row.viscosity_40_limit),
    }),
    ...(row.more === null ? {} : (JSON.parse(row.more) as Partial<Sample>)),
    origin: [
      {
        file: row.file,
        ...(row.sheet !== null && { sheet: row.sheet }),
        rows: JSON.parse(row.rows) as number[],
      },
    ],
  };
}

function countsOf(row: SampleRow): Pick<Sample, "counts"> {
  const { counts, count_volume_ml } = row;
  if (counts === null || count_volume_ml === null) return {};
  const entries = JSON.parse(counts) as Record<string, number>;
  const found: CumulativeCount[] = [];
  for (const size in entries) found.push({ sizeUm: Number(size), count: entries[size] as number });
  try {
    return { counts: cumulativeCounts(found, count_volume_ml) };
  } catch (error) {
    if (!(error instanceof CountError)) throw error;
    // No import takes such counts, so somebody changed the book.
    throw new RangeError(
      `sample ${row.sample} of cart ${row.cart}, circuit ${row.circuit} in the book: ${error.message}`,
      { cause: error },
    );
  }
}

function measured(value: number, limit: string | null): Measured {
  return limit === null ? { value } : { value, limit: limit as NonNullable<Measured["limit"]> };
}
