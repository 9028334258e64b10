import { isDeepStrictEqual } from "node:util";
import type { Assumption } from "../../provenance/index.js";
import { isReadable, readClock, type Sample } from "../../samples/index.js";
import { type DateReading, EXPECTED_DAY, orderOfFile, readDate } from "../cells/dates.js";
import { gatherResults } from "../cells/results.js";
import type { IssueCode } from "../checks/issue.js";
import { plainName } from "../layout/column-map.js";
import type { Conventions } from "../layout/conventions.js";
import { type Naming, NEEDED_NAMING } from "../layout/meaning.js";
import { namesNoSample } from "../layout/title-words.js";
import { textOf } from "../rows/row.js";
import { gatherTexts } from "../words/report-texts.js";
import { type Entry, OF_THE_MAP, type PlacedCell, type RowFault } from "./entry.js";

/** Who a sample is, as far as it could be read. */
export type Identity = Partial<
  Pick<
    Sample,
    | "sample"
    | "cart"
    | "circuit"
    | "fluid"
    | "drawnOn"
    | "drawnTime"
    | "receivedOn"
    | "reportedOn"
    | "calibrationDueOn"
  >
>;

/** An entry after its naming cells have been read. */
export interface NamedEntry {
  readonly entry: Entry;
  readonly identity: Identity;
  readonly faults: readonly RowFault[];
  readonly assumptions: readonly Assumption[];
}

const DAY_FIELDS = {
  drawn: "drawnOn",
  received: "receivedOn",
  reported: "reportedOn",
  "calibration-due": "calibrationDueOn",
} as const;
const SAYS: Record<Naming, string> = {
  sample: "the sample",
  cart: "the cart",
  circuit: "the circuit",
  fluid: "the fluid",
  drawn: "the day the sample was drawn",
  "drawn-time": "a time such as 09:30 or 09:30+02:00",
  received: "the day the bottle was received",
  reported: "the day of the report",
  "calibration-due": "the day on which the calibration of the counter ends",
};

const NUMBER_OF_SAMPLE =
  "the number of a sample of the circuit, and no mean, limit, blank or control; discard the row, or give it its number";

/** Reads who an entry is about. What is missing or cannot be read is a fault of its row. */
export function nameEntry(entry: Entry, conventions: Conventions): NamedEntry {
  const faults: RowFault[] = [...entry.faults];
  const assumptions: Assumption[] = [];
  const identity: { -readonly [K in keyof Identity]: Identity[K] } = {};
  if (entry.faults.length > 0 && Object.values(entry.naming).every(({ row }) => row === OF_THE_MAP)) {
    // Of a row that could not be split, only what the column map says of every row is known.
    for (const kind of ["cart", "circuit"] as const) {
      const placed = entry.naming[kind];
      if (placed !== undefined) identity[kind] = textOf(placed.cell);
    }
    return { entry, identity, faults, assumptions };
  }
  const refuse = (code: IssueCode, { cell, row, column }: PlacedCell, expected: string) => {
    faults.push({ code, row: row || firstRow(entry), column, value: textOf(cell), expected });
  };
  const missing = (kind: Naming): PlacedCell =>
    entry.naming[kind] ?? { cell: "", row: firstRow(entry), column: kind };

  for (const kind of ["sample", "cart", "circuit", "fluid"] as const) {
    const placed = missing(kind);
    const text = textOf(placed.cell).normalize("NFC").replace(/\s+/g, " ");
    if (text === "" && kind !== "fluid") refuse("cell-missing", placed, SAYS[kind]);
    else if (kind === "sample" && namesNoSample(text)) refuse("cell-not-read", placed, NUMBER_OF_SAMPLE);
    else if (!isReadable(text)) refuse("cell-not-read", placed, `${SAYS[kind]} in readable characters`);
    // Characters that are not seen hide no letter: whose row it may be is still a fair question.
    if (text === "" || !isReadable(text.replace(/\p{Cf}/gu, ""))) continue;
    const name = kind === "sample" ? undefined : conventions.names[kind].get(plainName(text));
    if (name !== undefined && name !== text) assumptions.push(readByMap(kind, text, name));
    identity[kind] = name ?? text;
  }
  for (const kind of ["drawn", "received", "reported", "calibration-due"] as const) {
    const placed = missing(kind);
    const reading = readDay(placed, conventions, refuse);
    if (reading === undefined) continue;
    if (reading !== "blank") {
      const { moment, byOthers } = reading;
      if (byOthers !== undefined) assumptions.push(orderOfFile(byOthers));
      identity[DAY_FIELDS[kind]] = moment.day;
      if (kind === "drawn" && moment.time !== undefined) identity.drawnTime = zoned(moment.time, conventions);
    } else if (kind === "drawn") refuse("cell-missing", placed, SAYS.drawn);
  }
  readTime(missing("drawn-time"), identity, conventions, refuse);
  return { entry, identity, faults, assumptions };
}

function readByMap(kind: Naming, written: string, name: string): Assumption {
  return {
    code: "name-by-column-map",
    message: `the ${kind} "${written}" was read as ${name}, as the column map says`,
  };
}

type Refuse = (code: IssueCode, placed: PlacedCell, expected: string) => void;

function firstRow(entry: Entry): number {
  return entry.rows[0]?.row ?? 1;
}

function readDay(
  placed: PlacedCell,
  conventions: Conventions,
  refuse: Refuse,
): Extract<DateReading, { kind: "read" }> | "blank" | undefined {
  if (typeof placed.cell === "number" && !/^\d{8}$/.test(String(placed.cell))) {
    refuse("cell-not-read", placed, `${EXPECTED_DAY}; a bare number is not a day`);
    return undefined;
  }
  const text = textOf(placed.cell);
  if (text === "") return "blank";
  const reading = readDate(text, conventions.dates);
  if (reading.kind === "read") return reading;
  refuse(reading.kind === "ambiguous" ? "cell-ambiguous" : "cell-not-read", placed, reading.expected);
  return undefined;
}

function readTime(
  placed: PlacedCell,
  identity: { -readonly [K in keyof Identity]: Identity[K] },
  conventions: Conventions,
  refuse: Refuse,
): void {
  const text = textOf(placed.cell);
  if (text === "") return;
  const clock = readClock(text);
  if (clock === undefined) refuse("cell-not-read", placed, SAYS["drawn-time"]);
  else identity.drawnTime = zoned(clock, conventions);
}

function zoned(time: string, { zone }: Conventions): string {
  return zone === undefined || /(Z|[+-]\d{2}:\d{2})$/.test(time) ? time : `${time}${zone}`;
}

/** A sample with what it rests on, or nothing; and the faults of the rows that are set aside. */
export interface ReadSample {
  readonly sample?: Sample;
  /** The entries that the sample was taken from. */
  readonly kept: readonly NamedEntry[];
  readonly setAside: readonly { readonly named: NamedEntry; readonly faults: readonly RowFault[] }[];
  readonly assumptions: readonly Assumption[];
}

/**
 * Puts one sample together from the entries that name it.
 *
 * Rows of one measurand each are set aside one by one; a row or block that is a whole sample is taken or set aside whole.
 *
 * @param place - file and sheet, for the origin
 */
export function readSample(
  place: { readonly file: string; readonly sheet?: string },
  group: readonly NamedEntry[],
  conventions: Conventions,
): ReadSample {
  const sound = group.filter(({ faults }) => faults.length === 0);
  const gathered = gatherResults(
    sound.flatMap(({ entry }) => entry.results),
    conventions,
  );
  const faultsOf = (named: NamedEntry): RowFault[] => [
    ...named.faults,
    ...gathered.refused
      .filter(({ result }) => named.entry.results.includes(result))
      .map(({ result, at = result, code, expected }) => ({
        code,
        row: at.row,
        column: at.column,
        value: textOf(at.cell),
        expected,
      }))
      .filter((fault, index, all) => index === all.findIndex((other) => isDeepStrictEqual(other, fault))),
  ];
  const judged = group.map((named) => ({ named, faults: faultsOf(named) }));
  const setAside = judged.filter(({ faults }) => faults.length > 0);
  const kept = judged.filter(({ faults }) => faults.length === 0).map(({ named }) => named);
  const { sample, cart, circuit, drawnOn, ...rest } = kept[0]?.identity ?? {};
  if (sample === undefined || cart === undefined || circuit === undefined || drawnOn === undefined) {
    return { kept: [], setAside, assumptions: [] };
  }
  const texts = gatherTexts(
    [...kept.flatMap(({ entry }) => entry.texts ?? []), ...gathered.flagged],
    conventions.blanks,
  );
  const looks = [...(gathered.results.appearance ?? []), ...texts.seen];
  const appearance = [...new Set(looks.filter((look) => look !== "nothing-seen" || texts.seen.length === 0))];
  const otherTexts = [...(gathered.results.otherTexts ?? []), ...(texts.results.otherTexts ?? [])];
  const origin = [{ ...place, rows: kept.flatMap(({ entry }) => entry.rows.map(({ row }) => row)) }];
  return {
    sample: {
      ...{ sample, cart, circuit, drawnOn, ...rest, ...gathered.results, ...texts.results },
      ...(appearance.length > 0 && { appearance }),
      ...(otherTexts.length > 0 && { otherTexts }),
      origin,
    },
    kept,
    setAside,
    assumptions: [
      ...kept.flatMap(({ assumptions }) => assumptions),
      ...gathered.assumptions,
      ...texts.assumptions,
      ...timeAssumption(rest.drawnTime),
    ],
  };
}

/** What a time without a zone leaves open. */
export const TIMES_ARE_LOCAL: Assumption = {
  code: "times-are-local",
  message: "times without a zone are local times of the place where the sample was drawn",
};

function timeAssumption(time: string | undefined): Assumption[] {
  return time !== undefined && /^[\d:]+$/.test(time) ? [TIMES_ARE_LOCAL] : [];
}

/** Whether every naming part that a sample needs was read. */
export function isNamed({ identity }: NamedEntry): boolean {
  return NEEDED_NAMING.every((kind) => identity[kind === "drawn" ? "drawnOn" : kind] !== undefined);
}
