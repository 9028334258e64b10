import * as Plot from "@observablehq/plot";
import type { CircuitEvent } from "../../samples/index.js";
import { INK } from "./ink.js";
import { type Letters, widthOf } from "./wrap.js";

/** Which way words run from their line. */
const ANCHORS = ["start", "middle", "end"] as const;

/** What happened to a circuit on one day, as a picture says it. */
interface EventWords {
  readonly on: Date;
  readonly words: string;
  readonly anchor: (typeof ANCHORS)[number];
  /** 0 next to the frame; words that would meet are in rows above each other. */
  readonly row: number;
}

/** The time that a picture shows, and how wide that is. */
export interface TimeAxis {
  readonly from: Date;
  readonly to: Date;
  readonly pixels: number;
}

/** How the words are written, the pixels from row to row, and those that are free between neighbours. */
const LETTERS: Letters = { fontSize: 12 };
const ROW = 14;
const APART = 8;

/**
 * Puts the events of one day together, and finds a place for the words of each in which they meet no others and stay
 * inside the frame.
 *
 * @param events - what happened, with the words for it, in any order
 */
export function placeEvents(
  events: readonly { on: string; words: string }[],
  { from, to, pixels }: TimeAxis,
): EventWords[] {
  const days = [...new Set(events.map(({ on }) => on))].sort();
  const span = Math.max(1, to.getTime() - from.getTime());
  const ends: number[] = [];
  return days.map((day) => {
    const words = [...new Set(events.flatMap((event) => (event.on === day ? [event.words] : [])))].join(", ");
    const width = widthOf(words, LETTERS);
    const at = ((Date.parse(day) - from.getTime()) / span) * pixels;
    const anchor = at < width / 2 ? "start" : at > pixels - width / 2 ? "end" : "middle";
    const left = at - { start: 0, middle: width / 2, end: width }[anchor];
    const free = ends.findIndex((end) => end + APART <= left);
    const row = free === -1 ? ends.length : free;
    ends[row] = left + width;
    return { on: new Date(day), words, anchor, row };
  });
}

/** Pixels that the rows of words take beyond the first. */
export function eventsHeadroom(placed: readonly EventWords[]): number {
  return ROW * Math.max(0, ...placed.map(({ row }) => row));
}

/**
 * The lines of events, and their words above the frame.
 *
 * @param dy - from the top of the frame to the first row
 * @param panel - the first of several panels, which the words are written above
 */
export function eventMarks(placed: readonly EventWords[], dy: number, panel?: string): Plot.Markish[] {
  const rows = [...new Set(placed.map(({ row }) => row))];
  return [
    Plot.ruleX(placed, { x: "on", stroke: INK.event, strokeDasharray: "2,3" }),
    ...rows.flatMap((row) =>
      ANCHORS.map((textAnchor) =>
        Plot.text(
          placed.filter((event) => event.anchor === textAnchor && event.row === row),
          {
            x: "on",
            ...(panel !== undefined && { fy: () => panel }),
            text: "words",
            frameAnchor: "top",
            dy: dy - ROW * row,
            textAnchor,
            fontSize: LETTERS.fontSize,
          },
        ),
      ),
    ),
  ];
}

/** A kind of event in words. */
export function describeEventKind(kind: CircuitEvent["kind"]): string {
  return kind.replace("-", " ");
}
