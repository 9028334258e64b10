import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import { LEAST_WATER_PPM, lastDay, MOST_WATER_PPM } from "../checks.js";
import { type Conventions, cellViewer, conventionsOf } from "../conventions.js";
import { DateEvidence } from "../dates.js";
import { entryReader } from "../entries.js";
import { type Fate, fatesOf, placeIn, type ReadOptions, readTable } from "../fates.js";
import { DecimalEvidence } from "../numbers.js";
import { TIMES_ARE_LOCAL } from "../read-sample.js";
import { rowOfLine } from "../readers/delimited.js";
import type { RawRow, RowSource } from "../readers/row.js";
import type { Table } from "../tables.js";
import { SampleBlock } from "./block.js";
import { setAsideDiffering } from "./class-check.js";
import { NOT_PLAIN } from "./names.js";
import { type PlainPlan, plainPlan } from "./plan.js";
import { BLOCK_ROWS, type RawBlock, rawBlocks } from "./raw-blocks.js";
import { PlainScanner } from "./scan.js";
import { countColumns, NONE, WHOLE } from "./scanned.js";
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
  const scanner = plainScanner(plain, plan, texts, fixed, options);
  // Where each cell of a row has one reading, it does not matter what the rest of the file shows.
  let conventions = conventionsOf(new DecimalEvidence(), new DateEvidence(), options.map);
  let isSettled = false;
  const read = entryReader(table.layout, options.map);
  const settleFor = (row: RawRow): void => {
    if (isSettled || !scanner.oddCell || "skipped" in read(row)) return;
    isSettled = true;
    conventions = surveyPlain(table, plain, plan, options);
    texts.settle(conventions);
    const { decimal } = conventions;
    if (decimal === "." || decimal === ",")
      scanner.number.rule = { ...scanner.number.rule, settled: decimal };
  };
  const place = placeIn(table.source);
  const readOrdinarily = (row: number, text: string): Fate => {
    const split = rowOfLine(text, plain.separator) ?? { cells: [text], text };
    const [fate] = fatesOf(place, read({ row, ...split }), conventions, options);
    return fate as Fate;
  };
  for (const raw of rawBlocks(plain, scanner, plan.lastHeaderRow + 1, settleFor)) {
    const block = setAsideDiffering(raw, plan, texts, plain.separator);
    const others = block.odd.flatMap((row) => [...fatesOf(place, read(row), conventions, options)]);
    if (block.size > 0) yield blockOf(place.file, block, plan, texts, others, readOrdinarily);
    else yield* others;
  }
}

type Plain = NonNullable<RowSource["plain"]>;
type FixedNames = { readonly cart: number; readonly circuit: number; readonly fluid: number };

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

function plainScanner(
  { separator }: Plain,
  plan: PlainPlan,
  texts: Texts,
  fixed: FixedNames,
  { map, today }: ReadOptions,
): PlainScanner {
  const slotOf = (field: string) => plan.measured.findIndex((place) => place.field === field);
  const scanner = new PlainScanner(
    plan,
    separator.charCodeAt(0),
    texts,
    fixed,
    {
      lastDay: today === undefined ? Number.POSITIVE_INFINITY : Number(lastDay(today).replaceAll("-", "")),
      waterPpm: { least: LEAST_WATER_PPM, most: MOST_WATER_PPM },
      waterSlot: slotOf("waterPpm"),
      temperatureSlot: slotOf("fluidTemperatureC"),
    },
    BLOCK_ROWS,
  );
  scanner.number.rule = {
    point: map?.decimal !== ",",
    comma: map?.decimal !== ".",
    ...(map?.decimal !== undefined && { settled: map.decimal }),
  };
  return scanner;
}

/** Looks at a whole file, to see how its numbers and days are written; plain rows are looked at as bytes. */
function surveyPlain(table: Table, plain: Plain, plan: PlainPlan, options: ReadOptions): Conventions {
  const decimal = new DecimalEvidence();
  const dates = new DateEvidence();
  const see = cellViewer(table.layout, decimal, dates);
  const texts = new Texts(options.map?.zone);
  const scanner = plainScanner(plain, plan, texts, { cart: 0, circuit: 0, fluid: 0 }, options);
  // A number that may have two readings shows nothing.
  scanner.number.rule = { point: true, comma: true, settled: "." };
  for (const { odd, scanned, size } of rawBlocks(plain, scanner, plan.lastHeaderRow + 1)) {
    for (const row of odd) see(row);
    for (const place of [WHOLE.drawn, WHOLE.received, WHOLE.reported]) {
      const column = scanned.whole(place, size);
      let days = 0;
      for (let index = 0; index < size; index += 1) if (column[index] !== 0) days += 1;
      dates.sawYearFirst(days);
    }
  }
  if (scanner.sawPoint) decimal.saw(".");
  if (scanner.sawComma) decimal.saw(",");
  return conventionsOf(decimal, dates, options.map);
}

function blockOf(
  file: string,
  { scanned, size, firstRow, rows, bytes, start, end }: RawBlock,
  plan: PlainPlan,
  texts: Texts,
  others: readonly Fate[],
  readOrdinarily: (row: number, text: string) => Fate,
): SampleBlock {
  const column = (place: number) => scanned.whole(place, size);
  const values = plan.measured.map((_, slot) => scanned.values(slot, size));
  const drawnTime = column(WHOLE.time);
  return new SampleBlock({
    file,
    firstRow,
    rows,
    size,
    row: column(WHOLE.row),
    rowStart: column(WHOLE.start),
    rowEnd: column(WHOLE.end),
    numberStart: column(WHOLE.numberStart),
    numberEnd: column(WHOLE.numberEnd),
    names: texts.names.values,
    cart: column(WHOLE.cart),
    circuit: column(WHOLE.circuit),
    fluid: column(WHOLE.fluid),
    times: texts.times.values,
    drawnTime,
    drawnOn: column(WHOLE.drawn),
    receivedOn: column(WHOLE.received),
    reportedOn: column(WHOLE.reported),
    ...(plan.counts.length > 0 && { counts: countColumns(plan, scanned, size) }),
    measured: plan.measured.map(({ field }, slot) => ({
      field,
      values: values[slot] as Float64Array,
      limits: scanned.limitsOf(slot, size),
    })),
    reportedClasses: plan.classes.map((standard, slot) => ({
      standard,
      texts: scanned.classes(slot, size),
    })),
    classTexts: texts.classes.values,
    assumptions: assumptionsOf(plan, values, drawnTime, texts.times.values),
    others,
    bytes,
    start,
    end,
    readOrdinarily,
  });
}

/** What the samples of a block leave open, each once. */
function assumptionsOf(
  { measured }: PlainPlan,
  values: readonly Float64Array[],
  drawnTime: Int32Array,
  times: readonly string[],
): readonly Assumption[] {
  const ofUnits = measured.flatMap(({ assumption }, slot) =>
    assumption !== undefined && values[slot]?.some((value) => !Number.isNaN(value)) ? [assumption] : [],
  );
  // In a file without any time there is nothing to look for.
  const someAreLocal =
    times.length > 0 && drawnTime.some((id) => id !== NONE && /^[\d:]+$/.test(times[id] as string));
  return joinAssumptions(ofUnits, someAreLocal ? [TIMES_ARE_LOCAL] : []);
}
