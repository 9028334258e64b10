import { type Crossing, type FleetRow, fleetRows, sayPercent } from "../fitness/index.js";
import { CART_CAUTIONS } from "../provenance/index.js";
import { type ExitCode, type Io, printJson } from "./io.js";
import { exitCodeOf, type Judgement, type JudgeOptions, readAndJudge } from "./judgement.js";
import { drawTable, sayCautions } from "./text.js";

/** Options of `siltbook fleet`. */
export interface FleetOptions extends JudgeOptions {
  readonly book: string;
}

/** Prints every circuit of the book, what needs doing first at the top. */
export async function runFleet(options: FleetOptions, io: Io): Promise<ExitCode> {
  const judgement = await readAndJudge([], options);
  const rows = rowsOf(judgement);
  if (options.json) printJson(io, fleetAsJson(judgement, rows));
  else io.out(sayFleet(judgement, rows));
  return exitCodeOf(judgement);
}

function rowsOf({ circuits, kept }: Judgement): FleetRow[] {
  const keyOf = (cart: string, circuit: string) => JSON.stringify([cart, circuit]);
  const before = new Map(
    kept.map(({ verdict, before }) => [keyOf(verdict.cart, verdict.circuit), before?.verdict]),
  );
  return fleetRows(circuits, (cart, circuit) => before.get(keyOf(cart, circuit)));
}

function fleetAsJson({ on, requirements, collection, carts }: Judgement, rows: readonly FleetRow[]) {
  return {
    on,
    requirement: { document: requirements.document, revision: requirements.revision },
    circuits: rows.map((row) => ({
      ...row,
      nextSampleBy: row.nextSampleBy ?? null,
      daysToSample: row.daysToSample ?? null,
      elementUsed: row.elementUsed ?? null,
      before: row.before ?? null,
      changed: row.before !== undefined && row.before !== row.verdict,
    })),
    carts: carts.map(({ cart, verdict, pairings, neverMeet }) => ({ cart, verdict, pairings, neverMeet })),
    rowsInQuarantine: collection.quarantine.length,
    cautions: CART_CAUTIONS,
  };
}

function sayFleet({ on, requirements, collection }: Judgement, rows: readonly FleetRow[]): string {
  const fit = rows.filter(({ verdict }) => verdict === "fit").length;
  const changed = rows.filter(({ before, verdict }) => before !== undefined && before !== verdict);
  return [
    `${fit} of ${rows.length} circuits are fit to connect on ${on}, by "${requirements.document}", ` +
      `revision ${requirements.revision}.\n`,
    requirements.note === undefined ? "" : `${requirements.note}\n`,
    drawTable(
      ["cart", "circuit", "verdict", "before", "sample due", "crossing", "element"],
      rows.map((row) => [
        row.cart,
        row.circuit,
        row.verdict,
        row.before ?? "",
        sayDue(row),
        row.crossings.map((crossing) => sayCrossing(crossing, on)).join("\n"),
        sayElement(row),
      ]),
    ),
    rows.some(({ verdict }) => verdict !== "fit") ? "\nWhat needs doing first, and why:\n" : "",
    ...rows
      .filter(({ verdict }) => verdict !== "fit")
      .map((row) => `  ${row.cart}, circuit ${row.circuit}: ${row.verdict}: ${row.because.join("; ")}\n`),
    changed.length === 0
      ? "\nNo verdict changed since the report before.\n"
      : "\nChanged since the report before:\n",
    ...changed.map((row) => `  ${row.cart}, circuit ${row.circuit}: ${row.before}, now ${row.verdict}\n`),
    collection.quarantine.length === 0 ? "" : `\nRows in quarantine: ${collection.quarantine.length}.\n`,
    sayCautions(CART_CAUTIONS),
  ].join("");
}

function sayCrossing({ measure, on: day, beforeNextSample }: Crossing, judgedOn: string): string {
  return day <= judgedOn ? `${measure} crossed ${day}` : `${measure} ${beforeNextSample} ${day}`;
}

function sayDue({ nextSampleBy, daysToSample }: FleetRow): string {
  if (nextSampleBy === undefined || daysToSample === undefined) return "now";
  return daysToSample < 0 ? `${nextSampleBy}, overdue` : nextSampleBy;
}

function sayElement({ elementUsed, elementNearCapacity }: FleetRow): string {
  if (elementUsed === undefined) return "";
  return `${sayPercent(elementUsed)} used${elementNearCapacity ? ", change soon" : ""}`;
}
