import { formatMinutes } from "../../circulation/index.js";
import { circulates } from "../../samples/index.js";
import { minutesDue } from "../checks/able-to-speak.js";
import type { VerdictOnCircuit } from "../fleet/fleet.js";
import { JudgingDay } from "../judging-day.js";

/**
 * The circulation that a requirement still asks for after what has happened to a circuit, as a thing to do.
 *
 * @returns for example "circulate 8 min more"; undefined where none is due
 */
export function describeStillDue({ verdict, circuit, requirement }: VerdictOnCircuit): string | undefined {
  if (requirement === undefined) return undefined;
  const minutes = minutesDue({ day: new JudgingDay(verdict.on), circuit }, requirement);
  if (!(minutes > 0)) return undefined;
  return circulates(circuit)
    ? `circulate ${formatMinutes(minutes)} more`
    : `pump ${formatMinutes(minutes)} more into a clean can`;
}
