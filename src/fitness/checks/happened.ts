import type { Circuit } from "../../samples/index.js";

/**
 * A circuit with the events that have happened by a day.
 *
 * What is planned cuts no history: a trend goes on until the fluid is really changed.
 */
export function circuitUntil(circuit: Circuit, on: string): Circuit {
  return { ...circuit, events: circuit.events.filter((event) => event.on <= on) };
}

/** A day in the future may be a wrong year as well as a plan, so it blocks the circuit until somebody has looked. */
export function describeToCome(on: string): string {
  return `, which is after the day of judging ${on}; correct the day, or enter the event once it has happened`;
}
