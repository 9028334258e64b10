import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import type { Conventions } from "../conventions.js";
import { orderOfFile } from "../dates.js";
import type { Fate } from "../fates.js";
import { markOfFile } from "../numbers.js";
import { TIMES_ARE_LOCAL } from "../read-sample.js";
import { SampleBlock } from "./block.js";
import { MARK } from "./marks.js";
import type { PlainPlan } from "./plan.js";
import type { RawBlock } from "./raw-blocks.js";
import { isLeft, type ScannedRows } from "./scan.js";
import { countColumns, NONE, WHOLE } from "./scanned.js";
import type { Texts } from "./texts.js";

/** What the blocks of a file have in common. */
export interface FileOfBlocks {
  readonly file: string;
  readonly plan: PlainPlan;
  readonly texts: Texts;
  readonly readOrdinarily: (row: number, text: string) => Fate;
}

/**
 * Makes a block of the rows that were read.
 *
 * @param size - how many of them are left, those of the ordinary reader having been taken out
 * @param others - what became of those
 * @param conventions - how the numbers and days of the file are written, as far as that was looked at
 */
export function makeBlock(
  { file, plan, texts, readOrdinarily }: FileOfBlocks,
  { firstRow, rows, bytes, start, end }: RawBlock,
  { scanned, marks }: ScannedRows,
  size: number,
  others: readonly Fate[],
  conventions: Conventions,
): SampleBlock {
  const column = (place: number) => scanned.whole(place, size);
  const values = plan.measured.map((_, slot) => scanned.values(slot, size));
  const drawnTime = column(WHOLE.time);
  const described = plan.described.map((description, slot) => ({
    places: scanned.described(slot, size),
    readings: texts.described[description].values,
  }));
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
    measured: plan.measured.map(({ place }, slot) => ({
      ...place,
      values: values[slot] as Float64Array,
      limits: scanned.limitsOf(slot, size),
    })),
    reportedClasses: plan.classes.map((standard, slot) => ({
      standard,
      texts: scanned.classes(slot, size),
    })),
    classTexts: texts.classes.values,
    described,
    assumptions: joinAssumptions(
      ofOthers(marks, conventions),
      assumptionsOf(plan, values, drawnTime, texts.times.values),
      ...described.flatMap(({ places, readings }) =>
        [...new Set(places)].map((place) => readings[place]?.assumptions ?? []),
      ),
    ),
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

/** What rows rest on that have one reading only because of other rows of the file. */
function ofOthers(marks: Uint8Array, { decimal, decimalIsGiven, dates }: Conventions): readonly Assumption[] {
  let seen = 0;
  for (const mark of marks) if (!isLeft(mark)) seen |= mark;
  const assumptions: Assumption[] = [];
  const { order } = dates;
  if ((seen & MARK.byOtherDays) !== 0 && (order === "day-month-year" || order === "month-day-year"))
    assumptions.push(orderOfFile(order));
  if ((seen & MARK.byOtherNumbers) !== 0 && !decimalIsGiven && (decimal === "." || decimal === ","))
    assumptions.push(markOfFile(decimal));
  return assumptions;
}
