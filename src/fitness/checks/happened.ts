import type { Circuit } from "../../samples/index.js";
import type { JudgingDay } from "../judging-day.js";

/**
 * A circuit with the events that have happened by a day.
 *
 * What is planned cuts no history: a trend goes on until the fluid is really changed.
 */
export function circuitUntil(circuit: Circuit, day: JudgingDay): Circuit {
  return { ...circuit, events: circuit.events.filter((event) => day.hasCome(event.on)) };
}

/** A day in the future may be a wrong year as well as a plan, so it blocks the circuit until somebody has looked. */
export const STILL_TO_COME =
  ", which is after the day of judging; correct the day, or enter the event once it has happened";
