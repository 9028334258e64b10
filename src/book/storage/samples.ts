import type { Origin, Sample } from "../../samples/index.js";
import { type Connection, eachOf, numberOf, readerOf, rowsOf, rowsTogether, type Sql } from "./database.js";
import { given } from "./given.js";
import { type SampleRow, SELECT_SAMPLES, sampleOf } from "./sample-row.js";

/** Which samples are wanted; all when nothing is named. */
export interface SampleQuery {
  readonly cart?: string;
  readonly circuit?: string;
  /** First day on which a sample was drawn. */
  readonly from?: string;
  /** Last day on which a sample was drawn. */
  readonly to?: string;
  /** As of this day: what was drawn, and reported or imported by then, as its reports had it. */
  readonly knownBy?: string;
}

/** What a sample said before another file corrected it. */
export interface Amendment {
  /** When the correction was brought in, as ISO 8601. */
  readonly at: string;
  readonly by: { readonly file: string; readonly sha256: string; readonly rows: readonly number[] };
  readonly earlier: Sample;
}

/** A sample with everything the book knows of how it came to be. */
export interface SampleHistory {
  readonly sample: Sample;
  readonly source: {
    readonly file: string;
    readonly sha256: string;
    readonly sheet?: string;
    readonly rows: readonly number[];
    /** Name of the column map that the file was read with. */
    readonly columnMap?: string;
  };
  /** Oldest first. */
  readonly amendments: readonly Amendment[];
}

const OF_CIRCUITS = "FROM sample JOIN circuit ON circuit.id = circuit_id JOIN cart ON cart.id = cart_id";
export const IN_ORDER = " ORDER BY cart.cart, circuit.circuit, drawn_on, drawn_time, sample.sample";

/** The conditions of a query, but for what was known by a day. */
export function where({ cart, circuit, from, to }: SampleQuery): { sql: string; values: Sql[] } {
  const wanted: [string, Sql | undefined][] = [
    ["cart.cart = ?", cart],
    ["circuit.circuit = ?", circuit],
    ["drawn_on >= ?", from],
    ["drawn_on <= ?", to],
  ];
  const given = wanted.filter((entry): entry is [string, Sql] => entry[1] !== undefined);
  const conditions = given.map(([condition]) => condition).join(" AND ");
  return {
    sql: given.length === 0 ? "" : ` WHERE ${conditions}`,
    values: given.map(([, value]) => value),
  };
}

/**
 * The samples of the book one by one, by cart and circuit, oldest first.
 *
 * The origin of an amended sample names the correcting file first and the corrected ones after it.
 */
export function* samplesIn(db: Connection, query: SampleQuery): Generator<Sample> {
  const { sql, values } = where(query);
  const origins = earlierOrigins(db, sql, values);
  const isFew =
    query.cart !== undefined && numberOf(db, `SELECT count(*) ${OF_CIRCUITS}${sql}`, ...values) <= FEW;
  const read = isFew ? rowsTogether<SampleRow> : eachOf<SampleRow>;
  for (const row of read(db, SELECT_SAMPLES + sql + IN_ORDER, ...values)) {
    const sample = sampleOf(row);
    const earlier = origins.get(row.id);
    yield earlier === undefined ? sample : { ...sample, origin: [...sample.origin, ...earlier] };
  }
}

/** A cart has some hundreds; of more than this the samples come one by one. */
const FEW = 20_000;

function earlierOrigins(db: Connection, condition: string, values: readonly Sql[]): Map<number, Origin[]> {
  const origins = new Map<number, Origin[]>();
  const rows = rowsOf<{ sample_id: number; earlier: string }>(
    db,
    `SELECT sample_id, earlier ${OF_CIRCUITS} JOIN amendment ON sample.id = sample_id${condition} ORDER BY amendment.id DESC`,
    ...values,
  );
  for (const { sample_id, earlier } of rows) {
    origins.set(sample_id, [...(origins.get(sample_id) ?? []), ...(JSON.parse(earlier) as Sample).origin]);
  }
  return origins;
}

/** The samples of one circuit, oldest first, with where each came from and what was corrected. */
export function historyIn(db: Connection, cart: string, circuit: string): SampleHistory[] {
  const { sql, values } = where({ cart, circuit });
  const selectSource = readerOf<{ sha256: string; columnMap: string | null }>(
    db,
    "SELECT sha256, (SELECT name FROM column_map WHERE id = column_map_id) AS columnMap FROM file WHERE id = ?",
  );
  const amendmentsOf = amendmentsReader(db);
  return rowsOf<SampleRow>(db, SELECT_SAMPLES + sql + IN_ORDER, ...values).map((row) => {
    const source = selectSource.first(row.file_id) as { sha256: string; columnMap: string | null };
    const { file, sheet } = row;
    return {
      sample: sampleOf(row),
      source: given({ file, sheet, rows: JSON.parse(row.rows) as number[], ...source }),
      amendments: amendmentsOf(row.id),
    };
  });
}

function amendmentsReader(db: Connection): (sampleId: number) => Amendment[] {
  const select = readerOf<{ at: string; name: string; sha256: string; rows: string; earlier: string }>(
    db,
    `SELECT at, name, sha256, rows, earlier FROM amendment JOIN file ON file.id = file_id
     WHERE sample_id = ? ORDER BY amendment.id`,
  );
  return (sampleId) =>
    select.all(sampleId).map(({ at, name, sha256, rows, earlier }) => ({
      at,
      by: { file: name, sha256, rows: JSON.parse(rows) as number[] },
      earlier: JSON.parse(earlier) as Sample,
    }));
}
