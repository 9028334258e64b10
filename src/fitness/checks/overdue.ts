import type { Finding } from "../assessed.js";
import { type Reason, reason } from "../reasons.js";
import { formatPercent } from "../text.js";
import { MEASURE_KINDS } from "../trends/measures.js";
import type { Outlook, Overdue } from "../trends/outlook.js";

/** Did the trend of the circuit call for a sample since the last one, or even place a crossing between that and today? */
export function checkOverdue(outlook: Outlook | undefined): Finding {
  return { reasons: (outlook?.overdue ?? []).map(describeOverdue) };
}

function describeOverdue({ measure, drawnOn, dueOn, chance, crossedBy }: Overdue): Reason {
  const { name } = MEASURE_KINDS[measure];
  if (crossedBy !== undefined) {
    const message =
      `by its trend ${name} crossed the limit by ${crossedBy} at the latest, after the last sample of ${drawnOn}; ` +
      "draw a new one";
    return reason("trend-past-limit", message);
  }
  const already =
    dueOn === drawnOn ? ", the day of the last sample" : `, and the last sample is of ${drawnOn}`;
  const message =
    `by its trend the chance that ${name} is beyond the limit was ${formatPercent(chance)} on ${dueOn}${already}; ` +
    "a new sample is overdue";
  return reason("sample-overdue-by-trend", message);
}
