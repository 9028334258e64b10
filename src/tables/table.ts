import { classify, formatIso4406 } from "../cleanliness/index.js";
import {
  type Assessed,
  type DueSample,
  type FleetRow,
  nextSampleBy,
  type VerdictOnCircuit,
} from "../fitness/index.js";
import { sampleColumns, VERDICT_COLUMNS_OF_FRAME } from "../frames/index.js";
import type { LimitRange, Measured, Sample } from "../samples/index.js";

/** A cell; undefined where nothing is known. */
export type Cell = string | number | undefined;

/** A column of a table; the unit is in its name. */
interface TableColumn<T> {
  readonly name: string;
  readonly type: "string" | "number";
  readonly of: (row: T) => Cell;
}

/** A table to be written out. */
export interface Table {
  readonly name: string;
  readonly columns: readonly { readonly name: string; readonly type: "string" | "number" }[];
  readonly rows: readonly (readonly Cell[])[];
}

/** A sample with the number of times that it was corrected in its book. */
export interface KeptSample {
  readonly sample: Sample;
  readonly amendments: number;
}

function tableOf<T>(name: string, columns: readonly TableColumn<T>[], rows: readonly T[]): Table {
  return {
    name,
    columns: columns.map((column) => ({ name: column.name, type: column.type })),
    rows: rows.map((row) => columns.map((column) => column.of(row))),
  };
}

/** Makers of columns for one kind of row. */
function columnsFor<T>() {
  return {
    text: (name: string, of: (row: T) => string | undefined): TableColumn<T> => ({
      name,
      type: "string",
      of,
    }),
    number: (name: string, of: (row: T) => number | undefined): TableColumn<T> => ({
      name,
      type: "number",
      of,
    }),
  };
}

/**
 * Samples with their classes, where each came from, and whether it was corrected.
 *
 * @param like - samples that say which sizes and metals have a column
 */
export function tableOfSamples(
  kept: readonly KeptSample[],
  like: readonly Sample[] = kept.map(({ sample }) => sample),
): Table {
  const { text } = columnsFor<KeptSample>();
  const own = sampleColumns(like).map(
    ({ name, type, of }): TableColumn<KeptSample> => ({ name, type, of: ({ sample }) => of(sample) }),
  );
  const classOf = new Map(kept.map((row) => [row, row.sample.counts && classify(row.sample.counts)]));
  return tableOf(
    "samples",
    [
      ...own,
      text("iso4406", (row) => {
        const code = classOf.get(row)?.iso4406;
        return code && formatIso4406(code);
      }),
      text("as4059Cumulative", (row) => classOf.get(row)?.as4059Cumulative?.class),
      text("as4059Differential", (row) => classOf.get(row)?.as4059Differential?.class),
      text("nas1638", (row) => classOf.get(row)?.nas1638?.class),
      text("originFile", ({ sample: { origin } }) => origin[0]?.file),
      text("originRows", ({ sample: { origin } }) => origin[0]?.rows.join(" ")),
      text("amended", ({ amendments }) => (amendments > 0 ? "yes" : "no")),
    ],
    kept,
  );
}

/** The verdicts. */
export function tableOfVerdicts(judged: readonly VerdictOnCircuit[]): Table {
  const { text } = columnsFor<VerdictOnCircuit>();
  return tableOf(
    "verdicts",
    [
      ...VERDICT_COLUMNS_OF_FRAME,
      text("nextSampleBy", nextSampleBy),
    ] as readonly TableColumn<VerdictOnCircuit>[],
    judged,
  );
}

/** One assessed quantity, or one channel of the particles. */
interface AssessedRow {
  readonly judged: VerdictOnCircuit;
  readonly entry: Assessed;
  readonly channel?: Extract<Assessed, { quantity: "particles" }>["channels"][number];
}

/** The unit of a quantity as the name of a column has it. */
const IN_NAMES: Readonly<Record<string, string>> = {
  "ppm by mass": "ppmByMass",
  "mg KOH/g": "mgKohPerG",
  "mm²/s": "mm2PerS",
};

/** Every quantity that was held against a limit; results are in the column of their unit. */
export function tableOfQuantities(judged: readonly VerdictOnCircuit[]): Table {
  const { text, number } = columnsFor<AssessedRow>();
  const rows = judged.flatMap((one) =>
    one.verdict.assessed.flatMap((entry): AssessedRow[] =>
      "channels" in entry && entry.channels.length > 0
        ? entry.channels.map((channel) => ({ judged: one, entry, channel }))
        : [{ judged: one, entry }],
    ),
  );
  const units = [...new Set(rows.flatMap(({ entry }) => ("unit" in entry ? [entry.unit] : [])))].sort();
  return tableOf(
    "quantities",
    [
      text("on", ({ judged: { verdict } }) => verdict.on),
      text("cart", ({ judged: { verdict } }) => verdict.cart),
      text("circuit", ({ judged: { verdict } }) => verdict.circuit),
      text("quantity", ({ entry }) => entry.quantity),
      text("target", ({ channel }) => channel?.target),
      text("channel", ({ channel }) => channel?.channel),
      text("outcome", ({ entry, channel }) => (channel ?? entry).outcome),
      text("sample", ({ entry }) => entry.sample),
      text("drawnOn", ({ entry }) => entry.drawnOn),
      number("particlesPerMl", ({ channel }) => channel?.perMl),
      number("particlesPerMlMax", ({ channel }) => channel?.limitPerMl),
      ...units.flatMap(columnsOfUnit),
      number("shareOfLimit", ({ channel }) => channel?.share),
      number(
        "probabilityOfConforming",
        ({ entry, channel }) => channel?.probability ?? entry.conformance?.probability,
      ),
      number("probabilityRequired", ({ entry }) => entry.conformance?.required),
    ],
    rows,
  );
}

function columnsOfUnit(unit: string): TableColumn<AssessedRow>[] {
  const { text, number } = columnsFor<AssessedRow>();
  const name = IN_NAMES[unit] ?? unit.replace(/[^\p{L}\p{N}]+/gu, "_");
  const inUnit = <T>(of: (entry: { measured?: Measured; limits: LimitRange }) => T) => {
    return ({ entry }: AssessedRow) => ("unit" in entry && entry.unit === unit ? of(entry) : undefined);
  };
  return [
    number(
      name,
      inUnit(({ measured }) => measured?.value),
    ),
    text(
      `${name}IsLimit`,
      inUnit(({ measured }) => measured?.limit),
    ),
    number(
      `${name}Min`,
      inUnit(({ limits }) => limits.min),
    ),
    number(
      `${name}Max`,
      inUnit(({ limits }) => limits.max),
    ),
  ];
}

/** The fleet, what needs doing first at the top. */
export function tableOfFleet(rows: readonly FleetRow[]): Table {
  const { text, number } = columnsFor<FleetRow>();
  return tableOf(
    "fleet",
    [
      text("cart", ({ cart }) => cart),
      text("circuit", ({ circuit }) => circuit),
      text("serves", ({ serves }) => serves),
      text("verdict", ({ verdict }) => verdict),
      text("stands", ({ stands }) => stands),
      text("held", ({ held }) => (held ? "yes" : "no")),
      text("action", ({ brief }) => brief.action),
      text("because", ({ because }) => because.join("; ")),
      text("nextSampleBy", (row) => row.nextSampleBy),
      number("daysToSample", ({ daysToSample }) => daysToSample),
      number("elementUsedFraction", ({ elementUsed }) => elementUsed),
      text("crossing", ({ crossings }) => crossings.map(({ measure, on }) => `${measure} ${on}`).join("; ")),
      text("before", ({ before }) => before),
      text("beforeOn", ({ beforeOn }) => beforeOn),
    ],
    rows,
  );
}

/** The samples that are due. */
export function tableOfDue(due: readonly DueSample[]): Table {
  const { text, number } = columnsFor<DueSample>();
  return tableOf(
    "due",
    [
      text("dueOn", ({ dueOn }) => dueOn),
      number("daysOverdue", ({ daysOverdue }) => daysOverdue),
      text("cart", ({ cart }) => cart),
      text("circuit", ({ circuit }) => circuit),
      text("serves", ({ serves }) => serves),
      text("action", ({ action }) => action),
    ],
    due,
  );
}
