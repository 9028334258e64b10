import * as Plot from "@observablehq/plot";
import { MARGIN } from "./svg.js";
import { wrapped } from "./wrap.js";

/** A name for what ends at the right edge of a picture. */
export interface MarginLabel {
  readonly words: string;
  /** Where it ends, on the vertical axis. */
  readonly at: number;
}

/** The part of a picture that labels are placed by. */
interface Frame {
  readonly height: number;
  readonly y: { readonly type: "linear" | "log"; readonly domain: readonly [number, number] };
  /** The right end of the horizontal axis, and how much of it a pixel is. */
  readonly end: number;
  readonly perPixel: number;
  /** Pixels right of the frame. */
  readonly margin: number;
}

/** Pixels from one label to the next, and from the frame to a label. */
const LABEL_GAP = 13;
const LEADER = 14;
const BETWEEN = 4;
const FONT_SIZE = 11;

/** The labels, each broken into lines that fit into the margin, and the pixels that one of them needs at most. */
export function labelsIn(
  margin: number,
  labels: readonly MarginLabel[],
): { readonly lines: readonly string[]; readonly gap: number } {
  const room = margin - LEADER - BETWEEN;
  const each = labels.map(({ words }) => wrapped(words, room, { fontSize: FONT_SIZE }));
  return {
    lines: each.map((lines) => lines.join("\n")),
    gap: LABEL_GAP * Math.max(1, ...each.map((lines) => lines.length)),
  };
}

/**
 * Writes names into the right margin, next to what they name. Where two would touch, they are moved apart, each with a
 * thin line to where it belongs, so that no name covers another or is crossed by a curve.
 *
 * @param labels - in any order
 * @param frame - height, vertical axis and right end of the picture
 * @returns marks of Observable Plot
 */
export function marginLabels(labels: readonly MarginLabel[], frame: Frame): Plot.Markish[] {
  const { y, end, perPixel, margin } = frame;
  const { lines, gap } = labelsIn(margin, labels);
  const range: [number, number] = [frame.height - MARGIN.bottom, MARGIN.top];
  const scale = Plot.scale({ y: { type: y.type, domain: [...y.domain], range } });
  const places = labels.map(({ at }) => Number(scale.apply(at)));
  const spread = spreadApart(places, gap, [range[1], range[0]]);
  const placed = labels.map(({ at }, index) => ({
    words: lines[index],
    at,
    label: Number(scale.invert?.(spread[index] ?? 0)),
  }));
  const labelStart = end + LEADER * perPixel;
  return [
    Plot.link(placed, {
      x1: end + 2 * perPixel,
      x2: labelStart,
      y1: "at",
      y2: "label",
      stroke: "currentColor",
      strokeOpacity: 0.45,
    }),
    Plot.text(placed, {
      x: () => labelStart,
      y: "label",
      text: "words",
      textAnchor: "start",
      dx: BETWEEN,
      fontSize: FONT_SIZE,
      lineHeight: LABEL_GAP / FONT_SIZE,
    }),
  ];
}

/**
 * Moves places on a line apart until each is at least a gap from the next, as little as possible in all.
 *
 * @param places - pixels, in any order
 * @param gap - pixels between neighbours
 * @param range - the first and the last pixel that may be used
 * @returns the new places in the order given; their order along the line is kept
 */
export function spreadApart(
  places: readonly number[],
  gap: number,
  [low, high]: readonly [number, number],
): number[] {
  const order = places.map((_, index) => index).sort((a, b) => (places[a] ?? 0) - (places[b] ?? 0));
  // Less a gap for each label before it, a place may never be below the one before: neighbours that are share their mean.
  const runs: { sum: number; size: number }[] = [];
  for (const [rank, index] of order.entries()) {
    let run = { sum: (places[index] ?? 0) - rank * gap, size: 1 };
    for (let last = runs.at(-1); last && last.sum / last.size > run.sum / run.size; last = runs.at(-1)) {
      runs.pop();
      run = { sum: run.sum + last.sum, size: run.size + last.size };
    }
    runs.push(run);
  }
  const top = high - (places.length - 1) * gap;
  const even = runs.flatMap(({ sum, size }) => Array<number>(size).fill(sum / size));
  const moved = even.map((place, rank) => Math.max(low, Math.min(top, place)) + rank * gap);
  return places.map((_, index) => moved[order.indexOf(index)] ?? 0);
}
