import { FAR_BEYOND, FOREIGN_ELEMENTS, type ForeignElement } from "../../fluids/index.js";
import { compareWithRange, formatMeasured, type Requirement, type Sample } from "../../samples/index.js";
import type { Finding } from "../assessed.js";
import type { Evidence } from "../evidence/evidence.js";
import { reason } from "../reasons.js";

/** Every reported element counts, required or not: one far above what fluid in service contains points to another fluid. */
export function checkForeignElements(requirement: Requirement, evidence: Evidence): Finding[] {
  const { identity, metalsPpmMax = {}, chlorinePpmMax } = requirement;
  return FOREIGN_ELEMENTS.flatMap((foreign) => {
    const isChlorine = foreign.element === "chlorine";
    const limit = isChlorine ? (chlorinePpmMax ?? identity?.chlorinePpmMax) : metalsPpmMax[foreign.element];
    // A limit of the document says what is too much.
    if (limit !== undefined) return [];
    return evidence.of(foreign.element).map((sample) => checkForeign(foreign, sample));
  });
}

function checkForeign({ element, inServicePpm, pointsTo, source }: ForeignElement, sample: Sample): Finding {
  const measured = element === "chlorine" ? sample.chlorinePpm : sample.metalsPpm?.[element];
  if (measured === undefined) return { reasons: [] };
  if (compareWithRange(measured, { max: inServicePpm }) !== "outside") return { reasons: [] };
  const numbers = `${formatMeasured(measured)} ppm by mass, recalled at most ${inServicePpm} in service`;
  if (compareWithRange(measured, { max: FAR_BEYOND * inServicePpm }) === "outside") {
    const message = `${element} is far beyond what this fluid holds: ${numbers}; it points to ${pointsTo}`;
    return { reasons: [reason("identity-in-doubt", message)] };
  }
  const message = `${element} is more than recalled, and the requirement sets no limit: ${numbers}; it may come from ${pointsTo}`;
  return { reasons: [], assumptions: [{ code: "result-beyond-recalled", message, source }] };
}
