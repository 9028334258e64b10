import { formatIso4406 } from "../../cleanliness/index.js";
import { circulationCell } from "../advice/circulate-lines.js";
import { describeStands } from "../decisions/describe-decision.js";
import { isHeld, standsAs } from "../decisions/standing.js";
import { formatResult } from "../shown-results.js";
import type { VerdictOnCircuit } from "./fleet.js";

/** A column of the table of verdicts: its title, and what is in it; undefined where nothing is known. */
export interface VerdictColumn {
  readonly title: string;
  readonly of: (judged: VerdictOnCircuit) => string | undefined;
}

/** The columns that a table of verdicts can have. The command line, the report and notebooks each show some of them. */
export const VERDICT_COLUMNS = {
  cart: { title: "cart", of: ({ verdict }) => verdict.cart },
  circuit: { title: "circuit", of: ({ verdict }) => verdict.circuit },
  verdict: { title: "verdict", of: (judged) => describeStands(standsAs(judged), isHeld(judged)) },
  circulate: {
    title: "circulate",
    of: ({ verdict }) => circulationCell(verdict),
  },
  iso4406: {
    title: "ISO 4406",
    of: ({ verdict: { classification } }) => classification?.iso4406 && formatIso4406(classification.iso4406),
  },
  as4059: {
    title: "AS4059 cumulative",
    of: ({ verdict: { classification } }) => classification?.as4059Cumulative?.class,
  },
  nas1638: {
    title: "NAS 1638",
    of: ({ verdict: { classification } }) => classification?.nas1638?.class,
  },
  water: {
    title: "water, ppm",
    of: ({ verdict }) => formatResult(verdict, "water"),
  },
  acid: {
    title: "acid, mg KOH/g",
    of: ({ verdict }) => formatResult(verdict, "acid number"),
  },
  sample: { title: "sample", of: ({ verdict: { sample } }) => sample?.sample ?? "none" },
  drawn: { title: "drawn", of: ({ verdict: { sample } }) => sample?.drawnOn },
  nextSampleBy: { title: "next sample by", of: describeDue },
} as const satisfies Record<string, VerdictColumn>;

/** The name of a column; see {@link VERDICT_COLUMNS}. */
export type VerdictColumnName = keyof typeof VERDICT_COLUMNS;

/** The columns that are named, in that order. */
export function verdictColumns(names: readonly VerdictColumnName[]): VerdictColumn[] {
  return names.map((name) => VERDICT_COLUMNS[name]);
}

/** When the next sample is due. A circuit that is not fit has its next sample after the work that its verdict calls for. */
function describeDue(judged: VerdictOnCircuit): string {
  const { outlook, on } = judged.verdict;
  const stands = standsAs(judged);
  if (stands === "resample" || outlook === undefined) return "now";
  if (stands !== "fit") return "after the work";
  return outlook.nextSampleBy < on ? `${outlook.nextSampleBy}, overdue` : outlook.nextSampleBy;
}
