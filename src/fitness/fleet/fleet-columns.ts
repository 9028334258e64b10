import { formatPercent } from "../../units/index.js";
import { describeStands } from "../decisions/describe-decision.js";
import { VERDICT_WORDS } from "../reasons.js";
import type { Crossing } from "../trends/outlook.js";
import type { FleetRow } from "./fleet-rows.js";
import { VERDICT_COLUMNS } from "./verdict-columns.js";

/** A column of the fleet table: its title, and what is in it for a row that was judged on a day. */
export interface FleetColumn {
  readonly title: string;
  readonly of: (row: FleetRow, judgedOn: string) => string;
}

/** The fleet table. */
export const FLEET_COLUMNS: readonly FleetColumn[] = [
  { title: VERDICT_COLUMNS.cart.title, of: ({ cart }) => cart },
  { title: VERDICT_COLUMNS.circuit.title, of: ({ circuit }) => circuit },
  { title: VERDICT_COLUMNS.verdict.title, of: ({ stands, held }) => describeStands(stands, held) },
  { title: "before", of: ({ before }) => (before === undefined ? "" : VERDICT_WORDS[before]) },
  { title: "sample due", of: describeDue },
  {
    title: "crossing",
    of: ({ crossings }, judgedOn) =>
      crossings.map((crossing) => describeCrossingShort(crossing, judgedOn)).join("\n"),
  },
  { title: "element", of: describeElement },
];

function describeDue({ nextSampleBy, daysToSample }: FleetRow): string {
  if (nextSampleBy === undefined || daysToSample === undefined) return "now";
  return daysToSample < 0 ? `${nextSampleBy}, overdue` : nextSampleBy;
}

function describeCrossingShort({ measure, on, beforeNextSample }: Crossing, judgedOn: string): string {
  return on <= judgedOn ? `${measure} crossed ${on}` : `${measure} ${beforeNextSample} ${on}`;
}

function describeElement({ elementUsed, elementNearCapacity }: FleetRow): string {
  if (elementUsed === undefined) return "";
  return `${formatPercent(elementUsed)} used${elementNearCapacity ? ", change soon" : ""}`;
}
