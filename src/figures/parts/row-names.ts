import { widthOf, wrapped } from "./wrap.js";

const LETTERS = { fontSize: 12 } as const;
const LINE = 14;
/** The names of rows take no more than this of a picture; longer ones are broken into lines. */
const MAX_MARGIN = 220;
/** Pixels between a name and the frame, and between the edge and a name. */
const AROUND = 20;

/**
 * Makes room for the names of rows, left of the frame.
 *
 * @param names - as they are
 * @param margin - pixels left of the frame, at least
 * @param height - pixels of a row, at least
 */
export function rowNames(names: readonly string[], margin: number, height: number) {
  const widest = Math.max(0, ...names.map((name) => widthOf(name, LETTERS)));
  const room = Math.min(MAX_MARGIN, Math.max(margin, Math.ceil(widest) + AROUND));
  const linesOf = (name: string) => wrapped(name, room - AROUND, LETTERS);
  const lines = Math.max(1, ...names.map((name) => linesOf(name).length));
  return {
    margin: room,
    height: Math.max(height, lines * LINE + LINE / 2),
    format: (name: string) => linesOf(name).join("\n"),
  };
}
