import type { Finding } from "../assessed.js";
import { reason } from "../reasons.js";
import type { Outlook } from "../trends/outlook.js";

/** Do the trends of the two circuits of a cart suggest that fluid passes from one to the other? */
export function checkMixing(outlook: Outlook | undefined): Finding {
  const suggested = (outlook?.suggestions ?? []).filter(({ code }) => code === "cross-mixing-of-circuits");
  return {
    reasons: suggested.map(({ reading, because }) =>
      reason("circuits-may-mix", `${reading} (${because.join("; ")})`),
    ),
  };
}
