import { formatPercent } from "../../units/index.js";
import type { Finding } from "../assessed.js";
import { type Reason, reason } from "../reasons.js";
import { MEASURE_KINDS } from "../trends/measures.js";
import type { Outlook, Overdue } from "../trends/outlook.js";
import type { Suggestion } from "../trends/patterns.js";

/**
 * What the trends say against a hookup: fluid may pass from one circuit of the cart to the other, a sample was due by now, or
 * a limit was crossed since the last one.
 */
export function checkOutlook(outlook: Outlook | undefined): Finding {
  if (outlook === undefined) return { reasons: [] };
  const mixing = outlook.suggestions.filter(({ code }) => code === "cross-mixing-of-circuits");
  return {
    reasons: [...mixing.map(describeMixing), ...outlook.overdue.map(describeOverdue)],
    ...(outlook.assumptions && { assumptions: outlook.assumptions }),
  };
}

function describeMixing({ reading, because }: Suggestion): Reason {
  return reason("circuits-may-mix", `${reading} (${because.join("; ")})`);
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
