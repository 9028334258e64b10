import { CountError, subtractAsWritten } from "../counts/index.js";
import { type ClassTable, limitsOfChannel } from "./class-table.js";

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

interface Reader {
  readonly from: Float64Array;
  readonly to: Float64Array | undefined;
  /** Limits per mL; −1, which no count meets, where none is printed. */
  readonly limits: Float64Array;
  readonly lastLimit: number;
  readonly classes: Int8Array;
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
  const bySize = inOrder(columns);
  const rows = bySize[0]?.counts.length ?? 0;
  const columnAt = (sizeUm: number) => bySize.find((column) => column.sizeUm === sizeUm)?.counts;
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
    const limits = Float64Array.from(limitsOfChannel(table, place), (limit) =>
      limit === undefined ? -1 : limit / table.volumeMl,
    );
    const lastLimit = limits.findLast((limit) => limit >= 0) ?? Number.NaN;
    readers.push({ from, to, limits, lastLimit, classes: new Int8Array(rows).fill(-1) });
    channels.push(name);
  });
  if (readers.length === 0) return undefined;

  const status = new Uint8Array(rows);
  const classes = new Int8Array(rows).fill(-1);
  const governing = new Int8Array(rows).fill(-1);
  for (let row = 0; row < rows; row += 1) {
    const found = checkRow(bySize, row);
    status[row] = found;
    if (found !== ROW_STATUS.classified) continue;
    let worst = -1;
    let worstShare = -1;
    for (let place = 0; place < readers.length; place += 1) {
      const reader = readers[place] as Reader;
      const above = reader.from[row] as number;
      const count = reader.to === undefined ? above : subtractAsWritten(above, reader.to[row] as number);
      const perMl = count / columns.volumeMl;
      const index = indexOf(reader.limits, perMl);
      reader.classes[row] = index;
      if (index < worst) continue;
      const share = count === 0 ? 0 : perMl / (reader.limits[index] ?? reader.lastLimit);
      if (index === worst && !(share > worstShare)) continue;
      worst = index;
      worstShare = share;
      governing[row] = place;
    }
    classes[row] = worst;
  }
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

/** The rules of a cumulative count set, for one row. */
function checkRow(columns: readonly SizedColumn[], row: number): number {
  let smaller = Number.POSITIVE_INFINITY;
  let status: number = ROW_STATUS.classified;
  for (const { counts } of columns) {
    const count = counts[row] as number;
    if (!(count >= 0 && Number.isFinite(count))) return ROW_STATUS.notACount;
    if (!(count <= smaller)) status = ROW_STATUS.risesWithSize;
    smaller = count;
  }
  return status;
}

function indexOf(limits: Float64Array, perMl: number): number {
  let index = 0;
  while (index < limits.length && !(perMl <= (limits[index] as number))) index += 1;
  return index;
}
