import {
  AS4059_CUMULATIVE,
  AS4059_DIFFERENTIAL,
  type CountColumns,
  classifyColumns,
  ISO_4406,
  NAS_1638,
} from "../../cleanliness/index.js";
import type { ReportedClass } from "../../samples/index.js";
import { MARK } from "./marks.js";
import type { PlainPlan } from "./plan.js";
import type { ScannedRows } from "./scan.js";
import { countColumns, NONE } from "./scanned.js";
import { packedCode, type StatedClass, type Texts } from "./texts.js";

/** Marks the rows whose reported class is not plainly the class of their counts. */
export function markDiffering({ scanned, size, marks }: ScannedRows, plan: PlainPlan, texts: Texts): void {
  if (plan.classes.length === 0 || plan.counts.length === 0 || size === 0) return;
  const columns = countColumns(plan, scanned, size);
  const counts = columns.counts[0] as Float64Array;
  plan.classes.forEach((standard, slot) => {
    const agree = agreement(standard, columns);
    const stated = scanned.classes(slot, size);
    for (let index = 0; index < size; index += 1) {
      const id = stated[index] as number;
      if (id === NONE || Number.isNaN(counts[index])) continue;
      if (!agree(texts.classes.values[id] as StatedClass, index))
        marks[index] = (marks[index] as number) | MARK.odd;
    }
  });
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
