import { type Conventions, cellViewer, conventionsOf } from "../conventions.js";
import { DateEvidence } from "../dates.js";
import type { ReadOptions } from "../fates.js";
import { DecimalEvidence } from "../numbers.js";
import type { RowSource } from "../readers/row.js";
import type { Table } from "../tables.js";
import { leftRows } from "./left-rows.js";
import { LEFT, MARK } from "./marks.js";
import { columnsToSplit, plainScanner } from "./plain-scanner.js";
import type { PlainPlan } from "./plan.js";
import { rawBlocks } from "./raw-blocks.js";
import { isLeft } from "./scan.js";
import { WHOLE } from "./scanned.js";
import { Texts } from "./texts.js";

/** Looks at a whole file, to see how its numbers and days are written; plain rows are looked at as bytes. */
export function surveyPlain(
  table: Table,
  plain: NonNullable<RowSource["plain"]>,
  plan: PlainPlan,
  options: ReadOptions,
): Conventions {
  const decimal = new DecimalEvidence();
  const dates = new DateEvidence();
  const see = cellViewer(table.layout, decimal, dates);
  const texts = new Texts(options.map?.zone);
  const scanner = plainScanner(plan, texts, { cart: 0, circuit: 0, fluid: 0 }, options);
  // A number that may have two readings shows nothing.
  scanner.number.rule = { point: true, comma: true, settled: "." };
  for (const raw of rawBlocks(plain, columnsToSplit(plan, true), plan.lastHeaderRow + 1)) {
    const rows = scanner.scan(raw.bytes, raw.split);
    for (const row of leftRows(raw, rows, LEFT, plain.separator)) see(row);
    let [seen, days] = [0, 0];
    const columns = [WHOLE.drawn, WHOLE.received, WHOLE.reported].map((at) =>
      rows.scanned.whole(at, rows.size),
    );
    for (const [index, mark] of rows.marks.entries()) {
      if (isLeft(mark)) continue;
      seen |= mark;
      for (const column of columns) if (column[index] !== 0) days += 1;
    }
    dates.sawYearFirst(days);
    if ((seen & MARK.point) !== 0) decimal.saw(".");
    if ((seen & MARK.comma) !== 0) decimal.saw(",");
  }
  return conventionsOf(decimal, dates, options.map);
}
