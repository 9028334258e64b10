import {
  AS4059_CUMULATIVE,
  AS4059_DIFFERENTIAL,
  classifyAs4059Cumulative,
  classifyAs4059Differential,
  classifyIso4406,
  classifyNas1638,
  compareIso4406,
  decideLimits,
  formatIso4406,
  formatTarget,
  ISO_4406,
  type Iso4406Code,
  NAS_1638,
  parseIso4406,
  parseTarget,
  SIZE_PAIRS,
} from "../cleanliness/index.js";
import { type CountSet, cumulativeCounts } from "../counts/index.js";
import { frozen } from "../provenance/index.js";

/** A value of SQL: null where nothing is known. */
export type SqlValue = number | string | boolean | null;

/** One of siltbook's functions as SQL knows it. */
export interface DuckdbFunction {
  readonly name: string;
  /** The arguments in order. A count is of the particles above its size in µm(c), in `volume_ml`. */
  readonly parameters: readonly { readonly name: string; readonly type: "DOUBLE" | "VARCHAR" }[];
  readonly returns: "VARCHAR" | "BOOLEAN";
  /**
   * Its value for one row.
   *
   * @throws RangeError for a count that cannot be and a text that cannot be read
   */
  readonly answer: (row: readonly SqlValue[]) => SqlValue;
}

type SqlParameter = DuckdbFunction["parameters"][number];

/** A table of classes, as far as it says which sizes it is read at. */
interface TableSizes {
  readonly channels: readonly { readonly fromUm: number }[];
}

const TARGET: SqlParameter = { name: "target", type: "VARCHAR" };
const VOLUME: SqlParameter = { name: "volume_ml", type: "DOUBLE" };
/** All sizes that any target is written in. */
const ALL_SIZES_UM = SIZE_PAIRS.map(({ umC }) => umC);

/**
 * The functions that {@link registerDuckdbFunctions} registers.
 *
 * Each row is classified by the function of `siltbook/cleanliness`; SQL states no rule of its own. A null stays null: a
 * class is given only where all sizes of its table were counted, because a value of SQL has no place to say that it
 * rests on some. A count that cannot be is an error.
 */
export const DUCKDB_FUNCTIONS: readonly DuckdbFunction[] = frozen([
  classOfCounts("iso4406_of_umc_counts", ISO_4406, (counts) => {
    const code = classifyIso4406(counts);
    return code && formatIso4406(code);
  }),
  classOfCounts(
    "as4059_cumulative_of_umc_counts",
    AS4059_CUMULATIVE,
    (counts) => classifyAs4059Cumulative(counts)?.class,
  ),
  classOfCounts(
    "as4059_differential_of_umc_counts",
    AS4059_DIFFERENTIAL,
    (counts) => classifyAs4059Differential(counts)?.class,
  ),
  classOfCounts("nas1638_of_umc_counts", NAS_1638, (counts) => classifyNas1638(counts)?.class),
  as4059AtSize(),
  countsWithinTarget(),
  iso4406WithinTarget(),
]);

function classOfCounts(
  name: string,
  table: TableSizes,
  classOf: (counts: CountSet) => string | undefined,
): DuckdbFunction {
  const sizesUm = table.channels.map(({ fromUm }) => fromUm);
  return {
    name,
    parameters: [VOLUME, ...sizesUm.map(aboveSize)],
    returns: "VARCHAR",
    answer: ([volumeMl, ...counts]) =>
      counts.includes(null) ? null : (countsOf(sizesUm, volumeMl, counts, classOf) ?? null),
  };
}

function as4059AtSize(): DuckdbFunction {
  const sizesUm: readonly number[] = AS4059_CUMULATIVE.channels.map(({ fromUm }) => fromUm);
  return {
    name: "as4059_at_size_of_umc_count",
    parameters: [{ name: "size_um", type: "DOUBLE" }, VOLUME, { name: "above_size", type: "DOUBLE" }],
    returns: "VARCHAR",
    answer: ([sizeUm, volumeMl, count]) => {
      if (sizeUm === null) return null;
      if (!sizesUm.includes(sizeUm as number)) {
        throw new RangeError(`AS4059 has classes at ${sizesUm.join(", ")} µm(c), not at ${sizeUm}`);
      }
      const classOf = (counts: CountSet) => classifyAs4059Cumulative(counts)?.class;
      return countsOf([sizeUm as number], volumeMl, [count as SqlValue], classOf) ?? null;
    },
  };
}

/** True where the counts keep every limit, false where they exceed one, otherwise null. */
function countsWithinTarget(): DuckdbFunction {
  const read = readOnce(parseTarget);
  return {
    name: "umc_counts_within_target",
    parameters: [TARGET, VOLUME, ...ALL_SIZES_UM.map(aboveSize)],
    returns: "BOOLEAN",
    answer: ([text, volumeMl, ...values]) => {
      if (text === null) return null;
      const target = read(text as string);
      const outcomes = countsOf(ALL_SIZES_UM, volumeMl, values, (counts) =>
        decideLimits({ counts }, target).map(({ outcome }) => outcome),
      );
      if (outcomes?.includes("outside")) return false;
      return outcomes === undefined || outcomes.includes("not-measured") ? null : true;
    },
  };
}

/** True where the code is inside, false where it is outside, null where a place is not known well enough. */
function iso4406WithinTarget(): DuckdbFunction {
  const read = readOnce(readIso4406Target);
  const within = { inside: true, outside: false, "not-known": null };
  return {
    name: "iso4406_within_target",
    parameters: [{ name: "code", type: "VARCHAR" }, TARGET],
    returns: "BOOLEAN",
    answer: ([code, target]) =>
      code === null || target === null
        ? null
        : within[compareIso4406(parseIso4406(code as string), read(target as string))],
  };
}

function aboveSize(sizeUm: number): SqlParameter {
  return { name: `above_${sizeUm}_umc`, type: "DOUBLE" };
}

/** What a function makes of the counts that are not null; undefined where there are none, or no volume. */
function countsOf<T>(
  sizesUm: readonly number[],
  volumeMl: SqlValue | undefined,
  values: readonly SqlValue[],
  use: (counts: CountSet) => T,
): T | undefined {
  const counted = sizesUm.flatMap((sizeUm, index) => {
    const count = values[index] as number | null;
    return count === null ? [] : [{ sizeUm, count }];
  });
  return volumeMl === null || counted.length === 0
    ? undefined
    : use(cumulativeCounts(counted, volumeMl as number));
}

function readIso4406Target(text: string): Iso4406Code {
  const target = parseTarget(text);
  if (target.standard === "ISO 4406") return target.code;
  throw new RangeError(
    `a code is compared with an ISO 4406 target such as 17/15/12, not with ${formatTarget(target)}`,
  );
}

/** Reads a text once for all rows in a run that have the same. */
function readOnce<T>(read: (text: string) => T): (text: string) => T {
  let last: { readonly text: string; readonly value: T } | undefined;
  return (text) => {
    if (last?.text !== text) last = { text, value: read(text) };
    return last.value;
  };
}
