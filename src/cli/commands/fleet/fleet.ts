import {
  type CircuitDecision,
  cartsTogether,
  compareFleetRows,
  describeAllHolds,
  describeDecisions,
  describeStands,
  FLEET_COLUMNS,
  type FleetRow,
  holdsElsewhere,
  isAllFit,
  isChanged,
  type JudgedCart,
  type UnreadResult,
  unreadOfFleet,
  VERDICT_WORDS,
} from "../../../fitness/index.js";
import { type Assumption, CART_CAUTIONS } from "../../../provenance/index.js";
import type { RequirementsFile } from "../../../samples/index.js";
import { answerOf } from "../../answer.js";
import { describeDays } from "../../day.js";
import { type ExitCode, type Io, printJson } from "../../io.js";
import {
  describeAssumptions,
  describeCautions,
  describeMore,
  drawLines,
  drawList,
  drawTable,
  formatHowMany,
} from "../../text.js";
import { circuitDecisionAsJson, decisionsAsJson, describeHeld } from "../judge/decisions.js";
import { cartsAskedFor, isWhole, type JudgeOptions, pathsIn, readDays } from "../judge/judgement.js";
import { describeRowsOfNoCart, rowsOfNoCartAsJson } from "../judge/rows-of-no-cart.js";

/** Options of `siltbook fleet`. */
export interface FleetOptions extends JudgeOptions {
  readonly book: string;
}

/** What a fleet was judged to be. */
interface FleetJudgement {
  readonly on: string;
  /** The day whose knowledge was judged with; absent where it is all that is known. */
  readonly asOf?: string;
  readonly requirements: RequirementsFile;
  /** What needs doing first at the top. */
  readonly rows: readonly FleetRow[];
  readonly carts: readonly Omit<JudgedCart, "circuits">[];
  readonly quarantine: readonly unknown[];
  /** What holds circuits that were not judged. */
  readonly heldElsewhere: readonly CircuitDecision[];
  readonly rowsOfNoCart: readonly UnreadResult[];
  /** How files that take the place of what the book holds differ from it. */
  readonly assumptions: readonly Assumption[];
}

/** Prints every circuit of the book, what needs doing first at the top. */
export async function runFleet(options: FleetOptions, io: Io): Promise<ExitCode> {
  const fleet = await judgeFleet(options);
  if (options.json) printJson(io, answerOf("fleet", fleetAsJson(fleet)));
  else io.out(options.explain ? describeFleet(fleet) : describeFleetInBrief(fleet));
  const stands = fleet.rows.map((row) => row.stands);
  return isAllFit(stands, fleet.quarantine, fleet.heldElsewhere, fleet.rowsOfNoCart) ? 0 : 1;
}

/** Judges cart by cart, and keeps of each no more than is shown. */
async function judgeFleet(options: FleetOptions): Promise<FleetJudgement> {
  const { on, asOf, since } = readDays(options);
  const { fleetRowsOf, judgeBook, readFleetOutline } = await import("../../../book/index.js");
  const outline = readFleetOutline(options.book, {
    ...pathsIn(options),
    on,
    ...(asOf !== undefined && { asOf }),
  });
  const rows: FleetRow[] = [];
  const carts: Omit<JudgedCart, "circuits">[] = [];
  for await (const circuits of judgeBook(
    options.book,
    { ...outline, carts: cartsAskedFor(outline, options.cart) },
    on,
    since,
  )) {
    rows.push(...fleetRowsOf(circuits));
    for (const { circuits: _circuits, ...cart } of cartsTogether(circuits, outline.document.systems)) {
      carts.push(cart);
    }
  }
  rows.sort(compareFleetRows);
  const { document: requirements, quarantine, decisions, assumptions } = outline;
  const heldElsewhere = holdsElsewhere(decisions, rows, isWhole(options));
  const { ofNoCart } = unreadOfFleet(outline.unread, outline.carts, outline.knownCarts);
  return {
    on,
    ...(asOf !== undefined && { asOf }),
    requirements,
    rows,
    carts,
    quarantine,
    heldElsewhere,
    rowsOfNoCart: ofNoCart,
    assumptions,
  };
}

function fleetAsJson(fleet: FleetJudgement) {
  const { on, asOf, requirements, rows, carts, quarantine, heldElsewhere, rowsOfNoCart, assumptions } = fleet;
  return {
    on,
    asOf: asOf ?? null,
    requirement: { document: requirements.document, revision: requirements.revision },
    circuits: rows.map(({ standing, brief: _brief, ...row }) => ({
      ...row,
      ...decisionsAsJson(standing),
      nextSampleBy: row.nextSampleBy ?? null,
      daysToSample: row.daysToSample ?? null,
      elementUsed: row.elementUsed ?? null,
      before: row.before ?? null,
      beforeOn: row.beforeOn ?? null,
      changed: isChanged(row),
    })),
    carts: carts.map(({ cart, verdict, pairings, neverMeet }) => ({ cart, verdict, pairings, neverMeet })),
    heldElsewhere: heldElsewhere.map(circuitDecisionAsJson),
    rowsInQuarantine: quarantine.length,
    rowsOfNoCart: rowsOfNoCartAsJson(rowsOfNoCart),
    assumptions,
    cautions: CART_CAUTIONS,
  };
}

/** The fleet in a list, what needs doing first at the top, and what changed. */
function describeFleetInBrief(fleet: FleetJudgement): string {
  const { requirements, rows, quarantine, heldElsewhere, rowsOfNoCart, assumptions } = fleet;
  const fit = rows.filter(({ stands }) => stands === "fit").length;
  return [
    describeHeld(describeAllHolds(rows, heldElsewhere)),
    describeRowsOfNoCart(rowsOfNoCart),
    drawLines([
      `${fit} of ${formatHowMany(rows.length, "circuit")} fit to connect on ${describeDays(fleet)}, by "${requirements.document}", ` +
        `revision ${requirements.revision}.`,
      ...(requirements.note === undefined ? [] : [requirements.note]),
      ...(quarantine.length === 0 ? [] : [`${formatHowMany(quarantine.length, "row")} in quarantine.`]),
    ]),
    "\n",
    drawList(rows.map((row) => [`${row.cart} ${row.circuit}`, briefLines(row)])),
    rows.some(({ beforeOn }) => beforeOn !== undefined)
      ? describeWhetherChanged(rows, rows.filter(isChanged)).replace(/:\n$/, ".\n")
      : "",
    "\n",
    describeMore("days, crossings, elements, every reason, and what changed", assumptions),
  ].join("");
}

function briefLines(row: FleetRow): string[] {
  const { action, why } = row.brief;
  const changed = isChanged(row) ? [`was ${describeBefore(row)}`] : [];
  return [action, ...changed, ...why];
}

function describeFleet(fleet: FleetJudgement): string {
  const { on, requirements, rows, quarantine, heldElsewhere, rowsOfNoCart, assumptions } = fleet;
  const fit = rows.filter(({ stands }) => stands === "fit").length;
  const changed = rows.filter(isChanged);
  return [
    describeHeld(describeAllHolds(rows, heldElsewhere)),
    `${fit} of ${rows.length} circuits are fit to connect on ${describeDays(fleet)}, by "${requirements.document}", ` +
      `revision ${requirements.revision}.\n`,
    describeRowsOfNoCart(rowsOfNoCart),
    requirements.note === undefined ? "" : `${requirements.note}\n`,
    drawTable(
      FLEET_COLUMNS.map(({ title }) => title),
      rows.map((row) => FLEET_COLUMNS.map(({ of }) => of(row, on))),
      2,
    ),
    rows.some(({ stands }) => stands !== "fit") ? "\nWhat needs doing first, and why:\n" : "",
    ...rows
      .filter(({ stands }) => stands !== "fit")
      .map(
        (row) =>
          `  ${row.cart}, circuit ${row.circuit}: ${describeStands(row.stands, row.held)}: ${row.because.join("; ")}\n`,
      ),
    rows.some(({ standing }) => describeDecisions(standing).length > 0) ? "\nDecided by people:\n" : "",
    ...rows.flatMap(({ cart, circuit, standing }) =>
      describeDecisions(standing).map((decision) => `  ${cart}, circuit ${circuit}: ${decision}\n`),
    ),
    describeWhetherChanged(rows, changed),
    ...changed.map(
      (row) => `  ${row.cart}, circuit ${row.circuit}: ${describeBefore(row)}, now ${describeNow(row)}\n`,
    ),
    quarantine.length === 0 ? "" : `\nRows in quarantine: ${quarantine.length}.\n`,
    describeAssumptions(assumptions),
    describeCautions(CART_CAUTIONS),
  ].join("");
}

/** Says with the verdicts of which days these are compared. */
function describeWhetherChanged(rows: readonly FleetRow[], changed: readonly FleetRow[]): string {
  const days = [...new Set(rows.flatMap(({ beforeOn }) => beforeOn ?? []))].sort();
  const [first, last] = [days[0], days.at(-1)];
  if (first === undefined) return "\nThere is no earlier report by this requirement to compare with.\n";
  const since = first === last ? `since ${first}` : `since the verdicts of ${first} to ${last}`;
  return changed.length === 0 ? `\nNo verdict changed ${since}.\n` : `\nChanged ${since}:\n`;
}

function describeBefore({ before, beforeOn }: FleetRow): string {
  return `"${before && VERDICT_WORDS[before]}" on ${beforeOn}`;
}

function describeNow({ verdict, held }: FleetRow): string {
  return `"${VERDICT_WORDS[verdict]}"${held ? " as computed, but held by a person" : ""}`;
}
