import type { Circuit } from "../samples/index.js";

/**
 * A circuit with the events that have happened by a day.
 *
 * What is planned cuts no history: a trend goes on until the fluid is really changed.
 */
export function circuitUntil(circuit: Circuit, on: string): Circuit {
  return { ...circuit, events: circuit.events.filter((event) => event.on <= on) };
}
