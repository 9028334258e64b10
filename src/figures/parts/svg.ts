import * as Plot from "@observablehq/plot";
import { parseHTML } from "linkedom";
import { wrapped } from "./wrap.js";

/** Pixels above the frame, for title and name of the axis, and below it, where a picture does not ask for others. */
export const MARGIN = { top: 62, bottom: 46 } as const;

/** Characters that no XML may hold, not even written as references: controls, and halves of characters. */
const NOT_IN_XML = /[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu;

/** What the words of a picture say. */
export interface Words {
  /** The finding in one sentence; it is in the picture and is read out by screen readers. */
  readonly title: string;
  /** What the vertical axis shows, with its unit; absent where the panels name it themselves. */
  readonly yAxis?: string;
  /** Pixels that words above the frame need beyond the usual. */
  readonly headroom?: number;
}

/** How title and name of the axis are written, with the pixels from line to line. */
const TITLE = { fontSize: 15, bold: true, line: 18 } as const;
const AXIS = { fontSize: 12, bold: false, line: 15 } as const;
/** Pixels left free on each side of a title. */
const EDGE = 12;

/**
 * Draws a plot as a stand-alone SVG picture. Title and name of the vertical axis stand above the frame, one below the
 * other, where they cannot meet the marks. They are broken into as many lines as they need, and the picture grows upwards.
 *
 * @param options - options of Observable Plot, with the width
 * @param words - title and name of the vertical axis
 * @returns SVG text that can be saved as a file or put into a page
 */
export function drawSvg(
  options: Plot.PlotOptions & { readonly width: number; readonly height: number },
  words: Words,
): string {
  const { document } = parseHTML("<!doctype html><html><body></body></html>");
  const { width, height, marginLeft = 40 } = options;
  const above = (
    lines: readonly string[],
    dy: number,
    { fontSize, bold, line }: typeof TITLE | typeof AXIS,
  ) =>
    Plot.text([lines.join("\n")], {
      frameAnchor: "top-left",
      facet: "super",
      dx: EDGE - marginLeft,
      dy: dy - line * (lines.length - 1),
      fontSize,
      fontWeight: bold ? 600 : 400,
      lineHeight: line / fontSize,
    });
  const linesOf = (text: string, letters: typeof TITLE | typeof AXIS) =>
    wrapped(text, width - 2 * EDGE, letters);
  const title = linesOf(words.title, TITLE);
  const yAxis = words.yAxis === undefined ? undefined : linesOf(words.yAxis, AXIS);
  const belowTitle = (words.headroom ?? 0) + AXIS.line * ((yAxis?.length ?? 1) - 1);
  const grown = belowTitle + TITLE.line * (title.length - 1);
  const picture = Plot.plot({
    marginBottom: MARGIN.bottom,
    ...options,
    document,
    marginTop: MARGIN.top,
    style: { fontSize: "12px", background: "none" },
    ariaLabel: words.title,
    x: { labelOffset: 40, ...options.x },
    y: { ...options.y, label: null },
    marks: [
      ...(options.marks ?? []),
      above(title, -54 - belowTitle, TITLE),
      ...(yAxis === undefined ? [] : [above(yAxis, -28 - (words.headroom ?? 0), AXIS)]),
    ],
  });
  if (grown > 0) {
    picture.setAttribute("height", String(height + grown));
    picture.setAttribute("viewBox", `0 ${-grown} ${width} ${height + grown}`);
  }
  picture.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  picture.setAttribute("role", "img");
  // The writer of attributes leaves these as they are, and a file with them is no XML.
  picture.setAttribute("aria-label", words.title.replaceAll("&", "&amp;").replaceAll("<", "&lt;"));
  // The picture has a name; its parts are named by what they are drawn with, which would only be noise.
  for (const part of Array.from(picture.querySelectorAll("[aria-label]"))) part.removeAttribute("aria-label");
  return picture.toString().replace(NOT_IN_XML, "\ufffd");
}
