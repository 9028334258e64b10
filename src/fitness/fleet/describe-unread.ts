import { grouped } from "../../numeric/index.js";
import type { Assumption } from "../../provenance/index.js";
import type { Sample } from "../../samples/index.js";
import type { Actor } from "../actors.js";
import type { UnreadResult } from "../case.js";
import { describeRemarksToRead } from "../checks/laboratory-says.js";

/** What a person decided about a row that may hold a result. */
const DECIDED_BY_A_PERSON = "row-decided-by-a-person";

/**
 * What people decided about rows, which no longer block a circuit: once for all that they decided together.
 *
 * @param result - what a row may hold, such as "a newer result of this circuit"
 */
export function decidedByPeople(rows: readonly UnreadResult[], result: string): Assumption[] {
  const settled = rows.filter(({ decided }) => decided !== undefined);
  return [...grouped(settled, ({ decided = "" }) => decided).values()].map((group) => ({
    code: DECIDED_BY_A_PERSON,
    message: `${formatPlaces(group)} may hold ${result} and ${group.length === 1 ? "was" : "were"} ${group[0].decided}`,
  }));
}

/** Whether a result that could not be read may be newer than a sample, or of the same day. */
export function mayBeNewer({ drawnOn }: UnreadResult, sample: Sample | undefined): boolean {
  return sample === undefined || drawnOn === undefined || drawnOn >= sample.drawnOn;
}

/** The circuit that is judged, by name. */
interface Own {
  readonly cart: string;
  readonly circuit: string;
}

/** Why a result that could not be read keeps a circuit from being fit, and who can settle it. */
interface UnreadReason {
  readonly message: string;
  readonly actor: Actor;
}

/** Results that bear the same names, and where they stand. */
interface Group {
  readonly rows: readonly [UnreadResult, ...UnreadResult[]];
  readonly places: string;
  /** Whether any of them has the number of a known sample. */
  readonly hasNumbers: boolean;
}

/**
 * Says why results that could not be read keep a circuit from being fit, and what settles them: once for all that bear the
 * same names. A cell is for the laboratory; names that the carts file does not have are for the engineer.
 *
 * @param unread - of them those count that nobody has decided about
 * @param oldest - the oldest sample that the verdict rests on: what is older blocks nothing
 */
export function describeUnread(unread: readonly UnreadResult[], own: Own, oldest?: Sample): UnreadReason[] {
  return newerThan(oldest, unread)
    .open.flatMap((group) => apartByOwn(group, own))
    .map((group) => {
      const [{ cart, circuit, sample }] = group.rows;
      const isOtherName =
        (cart !== undefined && cart !== own.cart) || (circuit !== undefined && circuit !== own.circuit);
      const actor = isOtherName || sample !== undefined ? "engineer" : "laboratory";
      return { message: describeGroup(group, own), actor };
    });
}

/** The results that may be newer than what a verdict rests on. */
interface Newer {
  readonly open: readonly Group[];
  readonly decided: readonly UnreadResult[];
}

/** By list and day, where a list cannot change: rows without a cart may block every circuit of a fleet. */
const FOUND = new WeakMap<readonly UnreadResult[], Map<string, Newer>>();

function newerThan(oldest: Sample | undefined, unread: readonly UnreadResult[]): Newer {
  const ofDays = FOUND.get(unread) ?? new Map<string, Newer>();
  const day = oldest?.drawnOn ?? "";
  const newer = ofDays.get(day) ?? newerAmong(unread.filter((result) => mayBeNewer(result, oldest)));
  if (Object.isFrozen(unread)) FOUND.set(unread, ofDays.set(day, newer));
  return newer;
}

function newerAmong(results: readonly UnreadResult[]): Newer {
  return {
    open: groupsIn(results.filter(({ decided }) => decided === undefined)),
    decided: results.filter(({ decided }) => decided !== undefined),
  };
}

/** Those that a person has decided about and that may be newer than the oldest sample that a verdict rests on. */
export function decidedNewer(
  unread: readonly UnreadResult[],
  oldest: Sample | undefined,
): readonly UnreadResult[] {
  return newerThan(oldest, unread).decided;
}

function groupsIn(rows: readonly UnreadResult[]): Group[] {
  const byNames = grouped(rows, ({ cart, circuit, sample, withdrawn, ofTable }) =>
    // Names come from cells, which hold anything: their lengths keep two keys apart.
    [cart?.length, circuit?.length, cart, circuit, sample !== undefined, withdrawn, ofTable].join("\n"),
  );
  return [...byNames.values()].map(groupOf);
}

function groupOf(rows: Group["rows"]): Group {
  const hasNumbers = rows.some(({ ofSamples }) => ofSamples !== undefined);
  return { rows, places: formatPlaces(rows), hasNumbers };
}

/** Rows that concern a circuit by the number of one of its samples are said by themselves. */
function apartByOwn(group: Group, own: Own): readonly Group[] {
  if (!group.hasNumbers) return [group];
  return [...grouped(group.rows, (row) => isOfOwnSample(row, own)).values()].map(groupOf);
}

/** Whether a row concerns a circuit by the number of one of its samples. */
function isOfOwnSample({ ofSamples = [] }: UnreadResult, own: Own): boolean {
  return ofSamples.some(({ cart, circuit }) => cart === own.cart && circuit === own.circuit);
}

function describeGroup({ rows, places }: Group, own: Own): string {
  const [first] = rows;
  const { cart, circuit, sample, withdrawn } = first;
  const isOne = rows.length === 1;
  const maybe = (verb: string) => `may ${verb} a newer result of this circuit`;
  if (withdrawn !== undefined) {
    const what = isOne ? `sample ${quoted(sample)} (${places}) was` : `the samples of ${places} were`;
    return `${what} withdrawn and ${maybe("be")}; ${withdrawn}`;
  }
  if (sample !== undefined) {
    const what = isOne ? `sample ${quoted(sample)} (${places}) is` : `the samples of ${places} are`;
    return (
      `${what} in the book under ${formatNames({ cart, circuit })}, which the carts file does not have, and ${maybe("be")}; ` +
      "bring the carts file into the book, and settle what is then in quarantine"
    );
  }
  const are = isOne ? "is" : "are";
  if (first.ofTable)
    return `${places} ${are} in quarantine and ${isOne ? "puts" : "put"} the results of ${isOne ? "its" : "their"} table in doubt, this circuit's among them; settle it with the laboratory and judge again`;
  const itself = isOne ? "it" : "them";
  if (cart === own.cart && circuit === own.circuit) {
    return `${places} ${are} in quarantine and ${maybe("hold")}; correct ${itself} and judge again`;
  }
  if (isOfOwnSample(first, own)) {
    return `${places} ${are} in quarantine with no cart, but with the number of a sample of this circuit: ${isOne ? "it" : "they"} ${maybe("hold")}; correct ${itself} and judge again`;
  }
  if (cart === undefined && circuit === undefined) {
    return (
      `${places} ${are} in quarantine with no name that could be read, but cart ${quoted(own.cart)} is in the text: ` +
      `${isOne ? "it" : "they"} ${maybe("hold")}; correct ${itself} and judge again`
    );
  }
  const settled =
    cart === undefined || circuit === undefined
      ? `correct ${itself}`
      : `correct the names, or add the circuit they name to the carts file${cart === own.cart ? "" : " (the cart under otherCarts where it is of another base)"},`;
  return (
    `${places} ${are} in quarantine under ${formatNames({ cart, circuit })} and may hold a newer result of ` +
    `${formatNames(own)}; ${settled} and judge again`
  );
}

function formatNames({ cart, circuit }: { readonly [K in keyof Own]: Own[K] | undefined }): string {
  if (cart === undefined) return `circuit ${quoted(circuit)} and no cart`;
  return `cart ${quoted(cart)}${circuit === undefined ? " and no circuit" : `, circuit ${quoted(circuit)}`}`;
}

/** Longer names of a file are said with their beginning. */
const MAX_SAID = 60;

function quoted(name = ""): string {
  return JSON.stringify(name.length > MAX_SAID ? `${name.slice(0, MAX_SAID)}…` : name);
}

/**
 * Says in a sentence each which rows can be given to no cart, to be read together with every "fit".
 *
 * @param rows - see `unreadOfFleet`
 * @returns nothing where there are no such rows
 * @example
 * describeOfNoCart([{ where: "lab.csv row 4" }, { where: "lab.csv row 9" }]); // => ["2 rows could not be read and name no cart: they may belong to any circuit (lab.csv rows 4, 9)"]
 */
export function describeOfNoCart(rows: readonly UnreadResult[]): string[] {
  const nameless = rows.filter(({ cart }) => cart === undefined);
  const strange = rows.filter(({ cart }) => cart !== undefined);
  const names = [...new Set(strange.map(({ cart }) => quoted(cart)))];
  return [
    ...(nameless.length === 0
      ? []
      : [
          nameless.length === 1
            ? `1 row could not be read and names no cart: it may belong to any circuit (${formatPlaces(nameless)})`
            : `${nameless.length} rows could not be read and name no cart: they may belong to any circuit (${formatPlaces(nameless)})`,
        ]),
    ...(strange.length === 0
      ? []
      : [
          `${strange.length === 1 ? "1 row names a cart that is" : `${strange.length} rows name carts that are`} ` +
            `not in the carts file nor like one in it: ${describeFirst(names, (name) => name)} (${formatPlaces(strange)})`,
        ]),
  ];
}

/**
 * Says with the verdict "fit" of a circuit what a person has to look at all the same: remarks that no rule understands, and
 * rows that may hold a newer result of it, which a person took out of the way or which name no cart. A row of a cart that is
 * not known is said once, at the head.
 *
 * @param rows - see `unreadOfFleet`
 */
export function describeBesideFit(
  {
    sample,
    otherSamples = [],
    assumptions,
  }: {
    readonly sample?: Sample;
    readonly otherSamples?: readonly Sample[];
    readonly assumptions: readonly Assumption[];
  },
  rows: readonly UnreadResult[],
): string[] {
  const oldest = otherSamples.at(-1) ?? sample;
  return [
    ...[...(sample === undefined ? [] : [sample]), ...otherSamples].flatMap(describeRemarksToRead),
    ...assumptions.filter(({ code }) => code === DECIDED_BY_A_PERSON).map(({ message }) => message),
    ...describeOfNoCart(rows.filter((row) => row.cart === undefined && mayBeNewer(row, oldest))),
  ];
}

/** Where rows stand, those of one file together. */
export function formatPlaces(rows: readonly UnreadResult[]): string {
  const placed = grouped(
    rows.map(({ where }) => placeIn(where)),
    ({ file }) => file,
  );
  return describeFirst([...placed.values()], (ofFile) => {
    const [{ file, row }] = ofFile;
    if (ofFile.length > 1) return `${file} rows ${describeFirst(ofFile, (one) => one.row)}`;
    return row === "" ? file : `${file} row ${row}`;
  });
}

function placeIn(where: string): { readonly file: string; readonly row: string } {
  const at = where.lastIndexOf(" row ");
  const row = where.slice(at + " row ".length);
  return at >= 0 && /^\d+$/.test(row) ? { file: where.slice(0, at), row } : { file: where, row: "" };
}

const MAX_LISTED = 10;

function describeFirst<T>(all: readonly T[], describe: (one: T) => string): string {
  const more = all.length - MAX_LISTED;
  return all.slice(0, MAX_LISTED).map(describe).join(", ") + (more > 0 ? ` and ${more} more` : "");
}
