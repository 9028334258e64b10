import type { SourceKey } from "../provenance/index.js";
import { CONDITION_LIMITS } from "./condition-limits.js";

/** An element that fluid in service holds little of, and what much of it points to. */
export interface ForeignElement {
  readonly element: "chlorine" | "calcium" | "magnesium" | "potassium" | "sodium" | "zinc";
  /** The most that is recalled of fluid in service, in ppm by mass. */
  readonly inServicePpm: number;
  readonly pointsTo: string;
  readonly source: SourceKey;
}

function ofTheSet(
  element: "chlorine" | "calcium" | "potassium" | "sodium",
  pointsTo: string,
): ForeignElement[] {
  return CONDITION_LIMITS.flatMap(({ measure, maximum, source }) =>
    measure === element && maximum !== undefined
      ? [{ element, inServicePpm: maximum, pointsTo, source }]
      : [],
  );
}

/**
 * Elements that tell another fluid, by the in-service set of phosphate ester.
 *
 * Nothing was found for hydrocarbons, so the same numbers are used for them. Magnesium and zinc are not in the set: no
 * fluid known here is made with them, so they are taken as the other metals (from memory).
 *
 * @source PHOSPHATE-ESTER-IN-SERVICE-SET
 * @source FOREIGN-ELEMENTS
 */
export const FOREIGN_ELEMENTS: readonly ForeignElement[] = [
  ...ofTheSet("chlorine", "a chlorinated solvent"),
  ...ofTheSet("calcium", "engine oil or a preservative fluid"),
  ...ofTheSet("potassium", "a coolant or a cleaning agent"),
  ...ofTheSet("sodium", "salt water, a coolant or a cleaning agent"),
  {
    element: "magnesium",
    inServicePpm: 50,
    pointsTo: "engine oil or salt water",
    source: "FOREIGN-ELEMENTS",
  },
  {
    element: "zinc",
    inServicePpm: 50,
    pointsTo: "engine oil or an industrial hydraulic oil",
    source: "FOREIGN-ELEMENTS",
  },
];

/** So many times the recalled value name another fluid (common practice, no source). */
export const FAR_BEYOND = 5;
