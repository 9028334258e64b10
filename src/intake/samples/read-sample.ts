import { grouped } from "../../numeric/index.js";
import { type Assumption, frozen } from "../../provenance/index.js";
import { isReadable, readClock, type Sample } from "../../samples/index.js";
import { isNotReported } from "../cells/cells.js";
import { EXPECTED_DAY, orderOfFile, readDate } from "../cells/dates.js";
import { gatherResults } from "../cells/results.js";
import type { IssueCode } from "../checks/issue.js";
import { plainName } from "../layout/column-map.js";
import type { Conventions } from "../layout/conventions.js";
import type { Identity } from "../layout/identity.js";
import { type Naming, NEEDED_NAMING } from "../layout/meaning.js";
import { namesNoSample } from "../layout/title-words.js";
import { remembering } from "../rows/remembering.js";
import { textOf } from "../rows/row.js";
import { gatherTexts } from "../words/report-texts.js";
import {
  type Entry,
  OF_THE_MAP,
  ONCE,
  type PlacedCell,
  type RefusedResult,
  type ReportedResult,
  type RowFault,
} from "./entry.js";

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
const DAYS = Object.keys(DAY_FIELDS) as (keyof typeof DAY_FIELDS)[];
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

/** What became of the name of a sample, a cart, a circuit or a fluid. */
interface NameReading {
  readonly name?: string;
  readonly fault?: { readonly code: IssueCode; readonly expected: string };
  readonly assumption?: Assumption;
}

const NAMES = ["sample", "cart", "circuit", "fluid"] as const;
/** A name of letters, figures and signs that everybody can type, with single blanks: nothing of it needs a closer look. */
const PLAIN_NAME = /^[!-~]+(?: [!-~]+)*$/;

function readName(kind: (typeof NAMES)[number], written: string, { names }: Conventions): NameReading {
  const isPlain = PLAIN_NAME.test(written);
  const text = isPlain ? written : written.normalize("NFC").replace(/\s+/g, " ");
  const known = kind === "sample" ? undefined : names[kind].get(plainName(text));
  if (kind === "fluid" && known === undefined && namesNoFluid(text)) return {};
  if (text === "") return { fault: { code: "cell-missing", expected: SAYS[kind] } };
  const expected =
    kind === "sample" && namesNoSample(text)
      ? NUMBER_OF_SAMPLE
      : isPlain || isReadable(text)
        ? undefined
        : `${SAYS[kind]} in readable characters`;
  const fault = expected === undefined ? undefined : ({ code: "cell-not-read", expected } as const);
  // Characters that are not seen hide no letter: whose the row may be can be asked all the same.
  if (!isPlain && !isReadable(text.replace(/\p{Cf}/gu, ""))) return fault ? { fault } : {};
  const isOther = known !== undefined && known !== text;
  return {
    name: known ?? text,
    ...(fault && { fault }),
    ...(isOther && { assumption: readByMap(kind, text, known) }),
  };
}

/** "n/a" and dashes; that a fluid is unknown is said of it, and settled by a person. */
export function namesNoFluid(text: string): boolean {
  return isNotReported(text) && !/^un/i.test(text);
}

/**
 * Makes a reader of who an entry is about. What is missing or cannot be read is a fault of its row.
 *
 * @param conventions - how the days and names of the table are written
 */
export function entryNamer(conventions: Conventions): (entry: Entry) => NamedEntry {
  const readDay = remembering((text) => readDate(text, () => conventions.dates));
  const readers = {
    // No two samples have the same number.
    sample: (text: string) => readName("sample", text, conventions),
    cart: remembering((text) => readName("cart", text, conventions)),
    circuit: remembering((text) => readName("circuit", text, conventions)),
    fluid: remembering((text) => readName("fluid", text, conventions)),
  };
  return (entry) => {
    const faults: RowFault[] = [...entry.faults];
    const assumptions: Assumption[] = [];
    const identity: { -readonly [K in keyof Identity]: Identity[K] } = {};
    if (faults.length > 0 && Object.values(entry.naming).every(({ row }) => row === OF_THE_MAP)) {
      // Of a row that could not be split, only what the column map says of every row is known.
      for (const kind of ["cart", "circuit"] as const) {
        const placed = entry.naming[kind];
        if (placed !== undefined) identity[kind] = textOf(placed.cell);
      }
      return { entry, identity, faults, assumptions };
    }
    const refuse = (code: IssueCode, kind: Naming, expected: string) => {
      const { cell, row, column } = entry.naming[kind] ?? { cell: "", row: 0, column: kind };
      faults.push({ code, row: row || firstRow(entry), column, value: textOf(cell), expected });
    };

    for (const kind of NAMES) {
      const { name, fault, assumption } = readers[kind](textOf(entry.naming[kind]?.cell));
      if (fault !== undefined) refuse(fault.code, kind, fault.expected);
      if (assumption !== undefined) assumptions.push(assumption);
      if (name !== undefined) identity[kind] = name;
    }
    for (const kind of DAYS) {
      const cell = entry.naming[kind]?.cell ?? "";
      if (typeof cell === "number" && !/^\d{8}$/.test(String(cell))) {
        refuse("cell-not-read", kind, `${EXPECTED_DAY}; a bare number is not a day`);
        continue;
      }
      const text = textOf(cell);
      if (text === "") {
        if (kind === "drawn") refuse("cell-missing", kind, SAYS.drawn);
        continue;
      }
      const reading = readDay(text);
      if (reading.kind !== "read") {
        refuse(reading.kind === "ambiguous" ? "cell-ambiguous" : "cell-not-read", kind, reading.expected);
        continue;
      }
      const { moment, byOthers } = reading;
      if (byOthers !== undefined) assumptions.push(orderOfFile(byOthers));
      identity[DAY_FIELDS[kind]] = moment.day;
      if (kind === "drawn" && moment.time !== undefined) identity.drawnTime = zoned(moment.time, conventions);
    }
    const time = textOf(entry.naming["drawn-time"]?.cell);
    const clock = time === "" ? undefined : readClock(time);
    if (clock !== undefined) identity.drawnTime = zoned(clock, conventions);
    else if (time !== "") refuse("cell-not-read", "drawn-time", SAYS["drawn-time"]);
    return { entry, identity, faults, assumptions };
  };
}

function readByMap(kind: Naming, written: string, name: string): Assumption {
  return {
    code: "name-by-column-map",
    message: `the ${kind} "${written}" was read as ${name}, as the column map says`,
  };
}

function firstRow(entry: Entry): number {
  return entry.rows[0]?.row ?? 1;
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
    sound.map(({ entry }) => entry.results),
    conventions,
  );
  const refused = byResult(gathered.refused);
  const twice = saidTwice(sound);
  const faultsOf = (named: NamedEntry): readonly RowFault[] =>
    gathered.refused.length === 0 && twice.size === 0
      ? named.faults
      : [...named.faults, ...faultsIn(named.entry, refused), ...(twice.get(named) ?? [])];
  const setAside: { named: NamedEntry; faults: readonly RowFault[] }[] = [];
  const kept: NamedEntry[] = [];
  for (const { named, faults } of runsTogether(group.map((one) => ({ named: one, faults: faultsOf(one) })))) {
    if (faults.length === 0) kept.push(named);
    else setAside.push({ named, faults });
  }
  const identity = identityOf(kept);
  const { sample, cart, circuit, drawnOn } = identity;
  if (sample === undefined || cart === undefined || circuit === undefined || drawnOn === undefined) {
    return { kept: [], setAside, assumptions: [] };
  }
  const ofEntries = ofAll(kept, ({ entry }) => entry.texts);
  const texts = gatherTexts(
    gathered.flagged.length === 0 ? ofEntries : [...ofEntries, ...gathered.flagged],
    conventions.blanks,
  );
  const rows = ofAll(kept, ({ entry }) => entry.rows).map(({ row }) => row);
  const names = { sample, cart, circuit, drawnOn };
  const parts: Partial<Sample> = Object.assign(names, identity, gathered.results, texts.results);
  const looks = [...(gathered.results.appearance ?? []), ...texts.seen].filter(
    (look) => look !== "nothing-seen",
  );
  const others = gathered.results.otherTexts;
  return {
    sample: Object.assign(
      parts,
      texts.seen.length > 0 && looks.length > 0 && { appearance: [...new Set(looks)] },
      others !== undefined && { otherTexts: [...others, ...(texts.results.otherTexts ?? [])] },
      { origin: [place.sheet === undefined ? { file: place.file, rows } : { ...place, rows }] },
    ) as Sample,
    kept,
    setAside,
    assumptions: [
      ...ofAll(kept, ({ assumptions }) => assumptions),
      ...gathered.assumptions,
      ...texts.assumptions,
      ...timeAssumption(identity.drawnTime),
    ],
  };
}

/** Rows of their own by which a bottle was received on two days: neither is chosen. */
function saidTwice(group: readonly NamedEntry[]): ReadonlyMap<NamedEntry, RowFault[]> {
  const own = group.filter(({ entry, identity }) => entry.results.length === 0 && identity.receivedOn);
  if (new Set(own.map(({ identity }) => identity.receivedOn)).size < 2) return new Map();
  return new Map(
    own.map((named) => {
      const { cell, row, column } = named.entry.naming.received as PlacedCell;
      return [named, [{ code: "repeated-measurand", row, column, value: textOf(cell), expected: ONCE }]];
    }),
  );
}

/** Who a sample is by its rows, of which the first that says something counts: of a calibration the day that ends first, of reports the last. */
function identityOf(kept: readonly NamedEntry[]): Identity {
  const [first, ...others] = kept.map(({ identity }) => identity);
  if (others.length === 0) return first ?? {};
  const all = [first, ...others];
  const days = (field: "calibrationDueOn" | "reportedOn") => all.flatMap((one) => one?.[field] ?? []).sort();
  const [calibrationDueOn, reportedOn] = [days("calibrationDueOn")[0], days("reportedOn").at(-1)];
  return Object.assign(
    {},
    ...all.reverse(),
    calibrationDueOn !== undefined && { calibrationDueOn },
    reportedOn !== undefined && { reportedOn },
  );
}

/** What some entries hold, one after another; most samples have one entry. */
function ofAll<T>(named: readonly NamedEntry[], pick: (named: NamedEntry) => readonly T[]): readonly T[] {
  return named.length === 1 ? pick(named[0] as NamedEntry) : named.flatMap(pick);
}

/** The faults of an entry's results, each once, in the order in which they were found. */
function faultsIn({ results }: Entry, refused: ReadonlyMap<ReportedResult, Refusals>): RowFault[] {
  const own = results.flatMap((result) => refused.get(result) ?? []).sort((a, b) => a.place - b.place);
  const faults = own.map(({ refusal: { result, at = result, code, expected } }): RowFault => {
    const { row, column, cell } = at;
    return { code, row, column, value: textOf(cell), expected };
  });
  const said = new Map(faults.map((fault) => [JSON.stringify(Object.values(fault)), fault]));
  return [...said.values()];
}

/** The refusals of one result, each with its place among all of its sample. */
type Refusals = readonly { readonly place: number; readonly refusal: RefusedResult }[];

function byResult(refused: readonly RefusedResult[]): ReadonlyMap<ReportedResult, Refusals> {
  return grouped(
    refused.map((refusal, place) => ({ place, refusal })),
    ({ refusal }) => refusal.result,
  );
}

/** A bottle whose runs cannot all be read is set aside whole: the run that is left out may be the one that shows the dirt. */
function runsTogether(
  judged: readonly { readonly named: NamedEntry; readonly faults: readonly RowFault[] }[],
): typeof judged {
  if (!judged.some(({ faults }) => faults.length > 0)) return judged;
  return judged.map(({ named, faults }) => {
    const run = named.entry.results.find(({ measurand }) => measurand.holds === "run");
    if (faults.length > 0 || run === undefined) return { named, faults };
    const { row, column, cell } = run;
    return {
      named,
      faults: [{ code: "cell-not-read", row, column, value: textOf(cell), expected: ALL_RUNS } as const],
    };
  });
}

const ALL_RUNS = "all runs of the sample; another row of them cannot be read";

/** What a time without a zone leaves open. */
const TIMES_ARE_LOCAL: Assumption = frozen({
  code: "times-are-local",
  message: "times without a zone are local times of the place where the sample was drawn",
});

function timeAssumption(time: string | undefined): Assumption[] {
  return time !== undefined && /^[\d:]+$/.test(time) ? [TIMES_ARE_LOCAL] : [];
}

/** Whether every naming part that a sample needs was read. */
export function isNamed({ identity }: NamedEntry): boolean {
  return NEEDED_NAMING.every((kind) => identity[kind === "drawn" ? "drawnOn" : kind] !== undefined);
}
