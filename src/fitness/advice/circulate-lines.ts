import {
  type CirculationPlan,
  describeGoBy,
  describeStatedTime,
  describeWhyThatTime,
  formatMinutes,
  type TimeToGoBy,
} from "../../circulation/index.js";
import { describeElementTaken } from "../../cleanliness/index.js";
import type { Circuit } from "../../samples/index.js";

/** What is known of the circulation of a circuit. */
export interface Circulating {
  readonly circulation?: CirculationPlan;
  readonly goBy?: TimeToGoBy;
}

/**
 * How long to circulate, and why that long: the minutes to go by come first, those of the stated values alone after them, then
 * what was taken of an element without a stated β.
 *
 * @returns no line where no circulation gets there, which a reason of the verdict says
 */
export function circulationLines(
  { circulation, goBy }: Circulating,
  { element }: Pick<Circuit, "element">,
): string[] {
  if (goBy === undefined || circulation?.reachable !== true) return [];
  const taken = describeElementTaken(element.assumptions ?? []);
  if (goBy.kind === "no-time") {
    return [
      describeGoBy(goBy),
      `${describeStatedTime(circulation)}; find what holds the level up, or state ingress, volume, flow and slow zone as they are`,
      ...taken,
    ];
  }
  return [
    `${describeGoBy(goBy)}; channel ${circulation.governing} decides`,
    `${describeWhyThatTime(goBy)}; ${describeStatedTime(circulation)}`,
    ...taken,
  ];
}

/** The minutes to go by for a cell of a table. */
export function circulationCell({ circulation, goBy }: Circulating): string | undefined {
  if (goBy?.kind === "minutes") return formatMinutes(goBy.minutes);
  if (goBy !== undefined) return "no time is long enough";
  return circulation && "out of reach";
}
