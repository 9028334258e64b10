import type { RowFate } from "./row-fates.js";

/** How each fate is said, of one row and of several, in the order in which they are listed. */
const FATE_WORDS = {
  taken: ["taken", "taken"],
  known: ["known", "known"],
  amended: ["amended", "amended"],
  quarantined: ["in quarantine", "in quarantine"],
  withdrawn: ["withdrawn", "withdrawn"],
  "not a sample": ["not a sample", "not samples"],
} as const satisfies Readonly<Record<RowFate["fate"], readonly [one: string, several: string]>>;

/**
 * How many rows had which fate, in words.
 *
 * @param became - how many rows, by their fate
 * @param settled - how many of those in quarantine have been settled since
 * @example
 * describeFates({ taken: 112, quarantined: 1, "not a sample": 1 }); // => "112 taken, 1 in quarantine, 1 not a sample"
 */
export function describeFates(
  became: Readonly<Partial<Record<RowFate["fate"], number>>>,
  settled = 0,
): string {
  return Object.entries(FATE_WORDS)
    .flatMap(([fate, [one, several]]) => {
      const many = became[fate as RowFate["fate"]] ?? 0;
      const since = fate === "quarantined" && settled > 0 ? ` (${settled} settled since)` : "";
      return many === 0 ? [] : [`${many} ${many === 1 ? one : several}${since}`];
    })
    .join(", ");
}

/** What became of one row, and why: "in quarantine, settled since". */
export function describeFate({ fate, settled, waitsIn, why }: Omit<RowFate, "row" | "text">): string {
  const reason = why ?? (waitsIn && `waits in ${waitsIn}`);
  return `${FATE_WORDS[fate][0]}${settled ? ", settled since" : ""}${reason === undefined ? "" : ` (${reason})`}`;
}

/** The rows of a file by what became of them. */
export interface RowsByFate {
  readonly became: Readonly<Partial<Record<RowFate["fate"], number>>>;
  /** How many of those in quarantine have been settled since. */
  readonly settled: number;
  readonly rows: number;
  readonly waiting: readonly RowFate[];
}

/** Counts rows by their fate, and keeps those that wait for a person. */
export function rowsByFate(rows: Iterable<RowFate>): RowsByFate {
  const became: Partial<Record<RowFate["fate"], number>> = {};
  const waiting: RowFate[] = [];
  let [settled, all] = [0, 0];
  for (const row of rows) {
    all += 1;
    became[row.fate] = (became[row.fate] ?? 0) + 1;
    if (row.fate !== "quarantined") continue;
    if (row.settled) settled += 1;
    else waiting.push(row);
  }
  return { became, settled, rows: all, waiting };
}
