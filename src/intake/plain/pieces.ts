import { conventionsOf } from "../conventions.js";
import { DateEvidence } from "../dates.js";
import { entryReader } from "../entries.js";
import { type Fate, fatesOf, placeIn, type ReadOptions, readTable } from "../fates.js";
import { DecimalEvidence } from "../numbers.js";
import type { Table } from "../tables.js";
import type { SampleBlock } from "./block.js";
import { markDiffering } from "./class-check.js";
import { leftRows, rowOf } from "./left-rows.js";
import { makeBlock } from "./make-block.js";
import { LEFT, MARK } from "./marks.js";
import { NOT_PLAIN } from "./names.js";
import { columnsToSplit, plainScanner } from "./plain-scanner.js";
import { type PlainPlan, plainPlan } from "./plan.js";
import { rawBlocks } from "./raw-blocks.js";
import { type FixedNames, isLeft } from "./scan.js";
import { NONE } from "./scanned.js";
import { surveyPlain } from "./survey-plain.js";
import { Texts } from "./texts.js";

/**
 * Reads a table and says what became of every row, as {@link readTable} does, but samples of plain rows come together in
 * blocks of columns.
 *
 * A row is plain when each of its cells has one reading by itself and the sample stands every check; it is read from the
 * bytes of the file. All other rows go through the ordinary reader, so the two always agree. The whole file is looked at
 * beforehand only when a row is met that cannot be read without knowing the others.
 */
export function* readPieces(table: Table, options: ReadOptions): Generator<SampleBlock | Fate> {
  const { plain } = table.source;
  const plan = plain === undefined ? undefined : plainPlan(table, options.map);
  const texts = new Texts(options.map?.zone);
  const fixed = plan && fixedNames(plan, texts);
  if (plain === undefined || plan === undefined || fixed === undefined) {
    yield* readTable(table, options);
    return;
  }
  const { separator } = plain;
  const scanner = plainScanner(plan, texts, fixed, options);
  // Where each cell of a row has one reading, it does not matter what the rest of the file shows.
  let conventions = conventionsOf(new DecimalEvidence(), new DateEvidence(), options.map);
  let isSettled = false;
  const read = entryReader(table.layout, options.map);
  const place = placeIn(table.source);
  const readOrdinarily = (row: number, text: string): Fate => {
    const [fate] = fatesOf(place, read(rowOf(row, text, separator)), conventions, options);
    return fate as Fate;
  };
  const columns = columnsToSplit(plan, options.map?.decimal !== ",");
  const file = { file: place.file, plan, texts, readOrdinarily };
  for (const raw of rawBlocks(plain, columns, plan.lastHeaderRow + 1)) {
    let rows = scanner.scan(raw.bytes, raw.split);
    // A row is met whose reading may depend on the others: the whole file is looked at, and the block read again.
    if (!isSettled && leftRows(raw, rows, MARK.oddCell, separator).some((row) => !("skipped" in read(row)))) {
      isSettled = true;
      conventions = surveyPlain(table, plain, plan, options);
      texts.settle(conventions);
      const { decimal } = conventions;
      if (decimal === "." || decimal === ",")
        scanner.number.rule = { ...scanner.number.rule, settled: decimal };
      rows = scanner.scan(raw.bytes, raw.split);
    }
    markDiffering(rows, plan, texts);
    const others = leftRows(raw, rows, LEFT, separator).flatMap((row) => [
      ...fatesOf(place, read(row), conventions, options),
    ]);
    const size =
      others.length === 0 ? rows.size : rows.scanned.without((index) => isLeft(rows.marks[index] as number));
    if (size > 0) yield makeBlock(file, raw, rows, size, others, conventions);
    else yield* others;
  }
}

/** The numbers of what holds for every row; undefined when one of the texts has no plain reading. */
function fixedNames({ fixed }: PlainPlan, texts: Texts): FixedNames | undefined {
  const idOf = (text: string | undefined) => {
    if (text === undefined) return NONE;
    const bytes = new TextEncoder().encode(text);
    const id = texts.names.idOf(bytes, 0, bytes.length);
    return id === NOT_PLAIN ? undefined : id;
  };
  const [cart, circuit, fluid] = [idOf(fixed.cart), idOf(fixed.circuit), idOf(fixed.fluid)];
  if (cart === undefined || circuit === undefined || fluid === undefined) return undefined;
  return { cart, circuit, fluid };
}
