import {
  type CirculationPlan,
  describeGoBy,
  describeGoByThenDraw,
  describeInstead,
  describeMinutesDone,
  describeStatedTime,
  describeWhyThatTime,
  formatMinutes,
  isOnlyBottleLeft,
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
 * minutes that were run, and what was taken of an element without a stated β.
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
    const first = goBy.instead ? describeInstead(goBy.instead) : "find what holds the level up";
    return [
      describeGoBy(goBy),
      `${first}, or state ingress, volume, flow and slow zone as they are; ${describeStatedTime(circulation)}`,
      ...taken,
    ];
  }
  return [
    isOnlyBottleLeft(goBy)
      ? describeGoByThenDraw(goBy, "a verifying sample")
      : `${describeGoBy(goBy)}; channel ${circulation.governing} decides`,
    `${describeWhyThatTime(goBy)}; ${describeStatedTime(circulation)}`,
    ...describeMinutesDone(goBy.assumptions),
    ...taken,
  ];
}

/** The minutes to go by for a cell of a table. */
export function circulationCell({ circulation, goBy }: Circulating): string | undefined {
  if (goBy?.kind === "minutes") return formatMinutes(goBy.minutes);
  if (goBy !== undefined) return "no time is long enough";
  return circulation && "out of reach";
}
