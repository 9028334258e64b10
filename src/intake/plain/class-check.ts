import {
  AS4059_CUMULATIVE,
  AS4059_DIFFERENTIAL,
  type CountColumns,
  classifyColumns,
  ISO_4406,
  NAS_1638,
} from "../../cleanliness/index.js";
import type { ReportedClass } from "../../samples/index.js";
import { rowOfLine } from "../readers/delimited.js";
import { decode } from "../readers/encoding.js";
import type { RawRow, Separator } from "../readers/row.js";
import type { PlainPlan } from "./plan.js";
import type { RawBlock } from "./raw-blocks.js";
import { countColumns, NONE, WHOLE } from "./scanned.js";
import { packedCode, type StatedClass, type Texts } from "./texts.js";

/**
 * Leaves to the ordinary reader the rows whose reported class is not plainly the class of their counts.
 *
 * @returns the block, with fewer scanned rows and more odd ones where that was needed
 */
export function setAsideDiffering(
  raw: RawBlock,
  plan: PlainPlan,
  texts: Texts,
  separator: Separator,
): RawBlock {
  if (plan.classes.length === 0 || plan.counts.length === 0 || raw.size === 0) return raw;
  const { scanned, size, bytes } = raw;
  const columns = countColumns(plan, scanned, size);
  const differs = new Uint8Array(size);
  plan.classes.forEach((standard, slot) => {
    const agree = agreement(standard, columns);
    const stated = scanned.classes(slot, size);
    const counts = columns.counts[0] as Float64Array;
    for (let index = 0; index < size; index += 1) {
      const id = stated[index] as number;
      if (id === NONE || Number.isNaN(counts[index])) continue;
      if (!agree(texts.classes.values[id] as StatedClass, index)) differs[index] = 1;
    }
  });
  if (!differs.includes(1)) return raw;
  const odd: RawRow[] = [...raw.odd];
  const [rows, starts, ends] = [WHOLE.row, WHOLE.start, WHOLE.end].map((column) =>
    scanned.whole(column, size),
  ) as [Int32Array, Int32Array, Int32Array];
  for (let index = 0; index < size; index += 1) {
    if (differs[index] === 0) continue;
    const line = decode(bytes, starts[index] as number, ends[index] as number);
    const row = rowOfLine(line, separator);
    if (row !== undefined) odd.push({ row: rows[index] as number, ...row });
  }
  odd.sort((a, b) => a.row - b.row);
  return { ...raw, odd, size: scanned.without(differs) };
}

/** Says whether a stated class is plainly that of the counts of a row. */
function agreement(
  standard: ReportedClass["standard"],
  columns: CountColumns,
): (stated: StatedClass, index: number) => boolean {
  if (standard === "ISO 4406") {
    const computed = classifyColumns(ISO_4406, columns);
    const [at4, at6, at14] = (computed?.channels ?? []).map(({ classes }) => classes);
    // A code has three places, or it is not given.
    if (at4 === undefined || at6 === undefined || at14 === undefined) return () => true;
    return ({ code }, index) =>
      code === packedCode(at4[index] as number, at6[index] as number, at14[index] as number);
  }
  const tables =
    standard === "NAS 1638"
      ? [classifyColumns(NAS_1638, columns)]
      : [classifyColumns(AS4059_CUMULATIVE, columns), classifyColumns(AS4059_DIFFERENTIAL, columns)];
  const computed = tables.filter((table) => table !== undefined);
  return ({ name }, index) =>
    name === undefined ||
    computed.length === 0 ||
    computed.some(({ names, classes }) => names[classes[index] as number] === name);
}
