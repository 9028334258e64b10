import type { FleetAnswer, FleetPart } from "../../../book/index.js";
import {
  describeAllHolds,
  describeDecisions,
  describeStands,
  FLEET_COLUMNS,
  type FleetRow,
  isChanged,
  VERDICT_WORDS,
} from "../../../fitness/index.js";
import { CART_CAUTIONS } from "../../../provenance/index.js";
import { answerOf } from "../../answer.js";
import { describeDays } from "../../day.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
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
  /** One part of the fleet alone, such as "2/4". */
  readonly shard?: string;
  /** Where the answer of a shard goes. */
  readonly out?: string;
}

/** Prints every circuit of the book, what needs doing first at the top. */
export async function runFleet(options: FleetOptions, io: Io): Promise<ExitCode> {
  const { shard, out } = options;
  if (shard !== undefined) return (await import("./shard.js")).runShard({ ...options, shard }, io);
  if (out !== undefined) throw new UsageError("--out: is where a shard goes; expected --shard with it");
  return printFleet(await judgeFleet(options), options, io);
}

/** Prints a fleet, whichever way it was judged. */
export async function printFleet(
  fleet: FleetAnswer,
  { json, explain }: Pick<JudgeOptions, "json" | "explain">,
  io: Io,
): Promise<ExitCode> {
  const { isFleetFit } = await import("../../../book/index.js");
  if (json) printJson(io, answerOf("fleet", fleetAsJson(fleet)));
  else io.out(explain ? describeFleet(fleet) : describeFleetInBrief(fleet));
  return isFleetFit(fleet) ? 0 : 1;
}

/** Judges cart by cart, and keeps of each no more than is shown. */
async function judgeFleet(options: FleetOptions): Promise<FleetAnswer> {
  const { on, asOf, since } = readDays(options);
  const { fleetAnswer, fleetFrame, judgeBook, partOfCart, readFleetOutline } = await import(
    "../../../book/index.js"
  );
  const outline = readFleetOutline(options.book, {
    ...pathsIn(options),
    on,
    ...(asOf !== undefined && { asOf }),
  });
  const carts = cartsAskedFor(outline, options.cart);
  const parts: FleetPart[] = [];
  for await (const circuits of judgeBook(options.book, { ...outline, carts }, on, since)) {
    parts.push(partOfCart(circuits, outline.document.systems));
  }
  return fleetAnswer(fleetFrame(outline, carts, { on, isWhole: isWhole(options) }), parts);
}

function fleetAsJson(fleet: FleetAnswer) {
  const { on, asOf, requirement, rows, carts, rowsInQuarantine, heldElsewhere, rowsOfNoCart, assumptions } =
    fleet;
  return {
    on,
    asOf: asOf ?? null,
    requirement: { document: requirement.document, revision: requirement.revision },
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
    rowsInQuarantine,
    rowsOfNoCart: rowsOfNoCartAsJson(rowsOfNoCart),
    assumptions,
    cautions: CART_CAUTIONS,
  };
}

/** The fleet in a list, what needs doing first at the top, and what changed. */
function describeFleetInBrief(fleet: FleetAnswer): string {
  const { requirement, rows, rowsInQuarantine, heldElsewhere, rowsOfNoCart, assumptions } = fleet;
  const fit = rows.filter(({ stands }) => stands === "fit").length;
  return [
    describeHeld(describeAllHolds(rows, heldElsewhere)),
    describeRowsOfNoCart(rowsOfNoCart),
    drawLines([
      `${fit} of ${formatHowMany(rows.length, "circuit")} fit to connect on ${describeDays(fleet)}, by "${requirement.document}", ` +
        `revision ${requirement.revision}.`,
      ...(requirement.note === undefined ? [] : [requirement.note]),
      ...(rowsInQuarantine === 0 ? [] : [`${formatHowMany(rowsInQuarantine, "row")} in quarantine.`]),
    ]),
    "\n",
    drawList(rows.map((row) => [`${row.cart} ${row.circuit}`, briefLines(row)])),
    rows.some(({ beforeOn }) => beforeOn !== undefined)
      ? describeWhetherChanged(rows, rows.filter(isChanged)).replace(/:\n$/, ".\n")
      : "",
    "\n",
    describeMore("days, crossings, elements, every reason, changes", assumptions),
  ].join("");
}

function briefLines(row: FleetRow): string[] {
  const { action, why } = row.brief;
  const changed = isChanged(row) ? [`was ${describeBefore(row)}`] : [];
  return [action, ...changed, ...why];
}

function describeFleet(fleet: FleetAnswer): string {
  const { on, requirement, rows, rowsInQuarantine, heldElsewhere, rowsOfNoCart, assumptions } = fleet;
  const fit = rows.filter(({ stands }) => stands === "fit").length;
  const changed = rows.filter(isChanged);
  return [
    describeHeld(describeAllHolds(rows, heldElsewhere)),
    `${fit} of ${rows.length} circuits are fit to connect on ${describeDays(fleet)}, by "${requirement.document}", ` +
      `revision ${requirement.revision}.\n`,
    describeRowsOfNoCart(rowsOfNoCart),
    requirement.note === undefined ? "" : `${requirement.note}\n`,
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
    rowsInQuarantine === 0 ? "" : `\nRows in quarantine: ${rowsInQuarantine}.\n`,
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
