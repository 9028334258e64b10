import { CountError, highestWithin, subtractAsWritten } from "../counts/index.js";
import { type ClassTable, limitsOfChannel } from "./class-table.js";
import { LimitLookup, LookedUp, TOGETHER } from "./limit-lookup.js";

/** Cumulative counts of many samples in µm(c): one column for each size, one row for each sample. */
export interface CountColumns {
  /** Size of each column in µm(c), in any order. */
  readonly sizesUm: readonly number[];
  readonly counts: readonly Float64Array[];
  /** The volume in mL that every count stands for. */
  readonly volumeMl: number;
}

/** What became of a row: why it has no class, or 0. */
export const ROW_STATUS = { classified: 0, notACount: 1, risesWithSize: 2 } as const;

/** Classes of many samples. Numbers are places in `names`; −1 where a row has no class. */
export interface ClassColumns<C extends string, N extends string> {
  readonly standard: string;
  /** Classes from clean to dirty; the last is the one beyond the table. */
  readonly names: readonly N[];
  readonly status: Uint8Array;
  readonly classes: Int8Array;
  /** Place in `channels` of the governing channel, by the same rule as for one sample. */
  readonly governing: Int8Array;
  readonly channels: readonly { readonly channel: C; readonly classes: Int8Array }[];
  readonly missing: readonly C[];
}

/** The limits of one channel, made ready for looking counts up. */
interface ChannelLimits {
  /** What a count in each class is a share of, per mL: the limit, and the last one again for what is beyond it. */
  readonly shareOf: Float64Array;
  readonly lookup: LimitLookup;
}

interface Reader extends ChannelLimits {
  readonly from: Float64Array;
  readonly to: Float64Array | undefined;
  readonly classes: Int8Array;
}

const PREPARED = new WeakMap<object, readonly ChannelLimits[]>();

/** The limits of all channels of a table. Whoever classifies block after block asks for the same ones each time. */
function limitsOf<C extends string, N extends string>(table: ClassTable<C, N>): readonly ChannelLimits[] {
  const known = PREPARED.get(table);
  if (known !== undefined) return known;
  const prepared = table.channels.map((_, place) => {
    // No count meets −1, which stands where no limit is printed.
    const limits = Float64Array.from(limitsOfChannel(table, place), (limit) =>
      limit === undefined ? -1 : limit / table.volumeMl,
    );
    const last = limits.findLast((limit) => limit >= 0) ?? Number.NaN;
    const lookup = new LimitLookup(limits.map((limit) => highestWithin(limit, 1)));
    return { shareOf: Float64Array.from([...limits, last]), lookup };
  });
  PREPARED.set(table, prepared);
  return prepared;
}

/**
 * Classifies many samples by one table, column by column, without an object for each row.
 *
 * The result is the same as from {@link classifyByTable} row by row. A row that the object form would refuse with an
 * error gets no class and a status that says why.
 *
 * @param table - a printed table
 * @param columns - cumulative counts
 * @returns the classes, or undefined when no channel can be formed from the sizes
 * @throws CountError for columns of different lengths, a size given twice or a volume that is not above 0
 */
export function classifyColumns<C extends string, N extends string>(
  table: ClassTable<C, N>,
  columns: CountColumns,
): ClassColumns<C, N> | undefined {
  return byTable(table, checked(columns));
}

/** What {@link classifyColumns} gives for each of some tables. */
export type ClassColumnsBy<T> = {
  readonly [K in keyof T]: T[K] extends ClassTable<infer C, infer N> ? ClassColumns<C, N> | undefined : never;
};

/**
 * Classifies many samples by several tables, as {@link classifyColumns} does by one; the rows are checked once.
 *
 * @param tables - printed tables
 * @param columns - cumulative counts
 * @returns the classes by each table, in their order; all share one `status`
 * @throws CountError as {@link classifyColumns} does
 */
export function classifyColumnsBy<T extends readonly [] | readonly ClassTable<string, string>[]>(
  tables: T,
  columns: CountColumns,
): ClassColumnsBy<T> {
  const counted = checked(columns);
  return tables.map((table) => byTable(table, counted)) as unknown as ClassColumnsBy<T>;
}

/** Counts that obey the rules of a cumulative count set. */
interface CheckedColumns {
  readonly bySize: readonly SizedColumn[];
  readonly volumeMl: number;
  readonly status: Uint8Array;
}

function checked(columns: CountColumns): CheckedColumns {
  const bySize = inOrder(columns);
  return { bySize, volumeMl: columns.volumeMl, status: statusOf(bySize) };
}

function byTable<C extends string, N extends string>(
  table: ClassTable<C, N>,
  { bySize, volumeMl, status }: CheckedColumns,
): ClassColumns<C, N> | undefined {
  const rows = status.length;
  const columnAt = (sizeUm: number) => bySize.find((column) => column.sizeUm === sizeUm)?.counts;
  const prepared = limitsOf(table);
  const readers: Reader[] = [];
  const channels: C[] = [];
  const missing: C[] = [];
  table.channels.forEach(({ name, fromUm, toUm }, place) => {
    const from = columnAt(fromUm);
    const to = toUm === undefined ? undefined : columnAt(toUm);
    if (from === undefined || (toUm !== undefined && to === undefined)) {
      missing.push(name);
      return;
    }
    readers.push({ from, to, ...(prepared[place] as ChannelLimits), classes: new Int8Array(rows) });
    channels.push(name);
  });
  if (readers.length === 0) return undefined;

  const classes = new Int8Array(rows);
  const governing = new Int8Array(rows);
  const worst = new Worst();
  const perMl = new LookedUp();
  for (let start = 0; start < rows; start += TOGETHER) {
    const end = Math.min(start + TOGETHER, rows);
    worst.clear();
    for (const [place, reader] of readers.entries()) {
      levelsOf(reader, volumeMl, start, end, perMl.values);
      reader.lookup.find(perMl, end - start, reader.classes, start);
      worst.take(reader, place, perMl.values, start, end, governing);
    }
    classes.set(worst.classes.subarray(0, end - start), start);
  }
  refuse(status, [classes, governing, ...readers.map(({ classes }) => classes)]);
  return {
    standard: table.standard,
    names: [...table.rows.map(([name]) => name), table.beyond],
    status,
    classes,
    governing,
    channels: channels.map((channel, place) => ({ channel, classes: (readers[place] as Reader).classes })),
    missing,
  };
}

interface SizedColumn {
  readonly sizeUm: number;
  readonly counts: Float64Array;
}

function inOrder({ sizesUm, counts, volumeMl }: CountColumns): SizedColumn[] {
  if (!(volumeMl > 0 && Number.isFinite(volumeMl))) {
    throw new CountError(`the volume that counts stand for must be more than 0 mL, not ${volumeMl}`);
  }
  if (sizesUm.length !== counts.length) {
    throw new CountError(`${sizesUm.length} sizes are given for ${counts.length} columns`);
  }
  const columns = sizesUm
    .map((sizeUm, index) => ({ sizeUm, counts: counts[index] as Float64Array }))
    .sort((a, b) => a.sizeUm - b.sizeUm);
  columns.forEach(({ sizeUm, counts: column }, index) => {
    if (!(sizeUm > 0)) throw new CountError(`a particle size must be more than 0 µm, not ${sizeUm}`, sizeUm);
    if (columns[index - 1]?.sizeUm === sizeUm)
      throw new CountError(`the size ${sizeUm} µm is given twice`, sizeUm);
    if (column.length !== columns[0]?.counts.length) {
      throw new CountError(
        `the column at ${sizeUm} µm has ${column.length} rows, others ${columns[0]?.counts.length}`,
      );
    }
  });
  return columns;
}

/** Levels of a channel in particles per mL. */
function levelsOf(
  { from, to }: Reader,
  volumeMl: number,
  start: number,
  end: number,
  levels: Float64Array,
): void {
  if (to === undefined) {
    for (let row = start; row < end; row += 1) levels[row - start] = (from[row] as number) / volumeMl;
    return;
  }
  for (let row = start; row < end; row += 1) {
    levels[row - start] = between(from[row] as number, to[row] as number) / volumeMl;
  }
}

/** Particles of a range. */
function between(above: number, beyond: number): number {
  // Nearly all counts are whole numbers, whose difference needs no care.
  return Number.isInteger(above) && Number.isInteger(beyond)
    ? above - beyond
    : subtractAsWritten(above, beyond);
}

/** The worst class so far of some rows, and the share of its limit that the governing channel uses. */
class Worst {
  readonly classes = new Int8Array(TOGETHER);
  private readonly shares = new Float64Array(TOGETHER);

  clear(): void {
    this.classes.fill(-1);
  }

  /** Of several channels in the worst class the one that uses the most of its limit governs, of equal ones the first. */
  take(
    reader: Reader,
    place: number,
    levels: Float64Array,
    start: number,
    end: number,
    governing: Int8Array,
  ): void {
    const { classes: own, shareOf } = reader;
    const { classes, shares } = this;
    for (let row = start; row < end; row += 1) {
      const at = row - start;
      const index = own[row] as number;
      const worst = classes[at] as number;
      if (index < worst) continue;
      const level = levels[at] as number;
      const share = level === 0 ? 0 : level / (shareOf[index] as number);
      if (index === worst && !(share > (shares[at] as number))) continue;
      classes[at] = index;
      shares[at] = share;
      governing[row] = place;
    }
  }
}

/** Takes every class from the rows that have none. */
function refuse(status: Uint8Array, places: readonly Int8Array[]): void {
  for (let row = 0; row < status.length; row += 1) {
    if (status[row] !== ROW_STATUS.classified) for (const place of places) place[row] = -1;
  }
}

/** The rules of a cumulative count set, for every row. */
function statusOf(columns: readonly SizedColumn[]): Uint8Array {
  const rows = columns[0]?.counts.length ?? 0;
  if (rows === 0) return new Uint8Array();
  const status = new Uint8Array(rows);
  const smallest = (columns[0] as SizedColumn).counts;
  const largest = (columns.at(-1) as SizedColumn).counts;
  // Whoever falls from a finite number to one that is not below 0 is a count all the way.
  for (let start = 0; start < rows; start += TOGETHER) {
    const end = Math.min(start + TOGETHER, rows);
    for (let row = start; row < end; row += 1) {
      if (!((smallest[row] as number) < Number.POSITIVE_INFINITY && (largest[row] as number) >= 0)) {
        status[row] = ROW_STATUS.risesWithSize;
      }
    }
    for (let size = 1; size < columns.length; size += 1) {
      const { counts } = columns[size] as SizedColumn;
      const smaller = (columns[size - 1] as SizedColumn).counts;
      for (let row = start; row < end; row += 1) {
        if (!((counts[row] as number) <= (smaller[row] as number))) status[row] = ROW_STATUS.risesWithSize;
      }
    }
  }
  for (let row = 0; row < rows; row += 1) {
    if (
      status[row] !== ROW_STATUS.classified &&
      !columns.every(({ counts }) => isCount(counts[row] as number))
    ) {
      status[row] = ROW_STATUS.notACount;
    }
  }
  return status;
}

function isCount(count: number): boolean {
  return count >= 0 && Number.isFinite(count);
}
