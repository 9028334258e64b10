import type { CircuitEvent } from "../../samples/index.js";

/** Which way words run from their line. */
export const ANCHORS = ["start", "middle", "end"] as const;

/** What happened to a circuit on one day, as a picture says it. */
export interface EventWords {
  readonly on: Date;
  readonly words: string;
  /** Those of neighbours run away from each other. */
  readonly anchor: (typeof ANCHORS)[number];
}

/** Words nearer to each other than this share of the time that is shown would meet. */
const NEAR = 0.17;

/**
 * Puts the events of one day together, and lets the words of two that lie close together run away from each other.
 *
 * @param events - what happened, with the words for it, in any order
 * @param span - the time that the picture shows, in milliseconds
 */
export function placeEvents(events: readonly { on: string; words: string }[], span: number): EventWords[] {
  const days = [...new Set(events.map(({ on }) => on))].sort();
  return days.map((day, index) => {
    const isNear = (other: string | undefined) =>
      other !== undefined && Math.abs(Date.parse(other) - Date.parse(day)) < NEAR * span;
    const [before, after] = [isNear(days[index - 1]), isNear(days[index + 1])];
    const words = events.flatMap((event) => (event.on === day ? [event.words] : []));
    return {
      on: new Date(day),
      words: [...new Set(words)].join(", "),
      anchor: before === after ? "middle" : before ? "start" : "end",
    };
  });
}

/** A kind of event in words. */
export function describeEventKind(kind: CircuitEvent["kind"]): string {
  return kind.replace("-", " ");
}
