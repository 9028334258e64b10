import * as Plot from "@observablehq/plot";
import { parseHTML } from "linkedom";

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
}

/**
 * Draws a plot as a stand-alone SVG picture. Title and name of the vertical axis stand above the frame, one below the
 * other, where they cannot meet the marks.
 *
 * @param options - options of Observable Plot
 * @param words - title and name of the vertical axis
 * @returns SVG text that can be saved as a file or put into a page
 */
export function drawSvg(options: Plot.PlotOptions, words: Words): string {
  const { document } = parseHTML("<!doctype html><html><body></body></html>");
  const above = (text: string, dy: number, fontSize: number, fontWeight: number) =>
    Plot.text([text], { frameAnchor: "top-left", facet: "super", dx: 12 - left, dy, fontSize, fontWeight });
  const left = options.marginLeft ?? 40;
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
      above(words.title, -54, 15, 600),
      ...(words.yAxis === undefined ? [] : [above(words.yAxis, -28, 12, 400)]),
    ],
  });
  picture.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  picture.setAttribute("role", "img");
  // The writer of attributes leaves these as they are, and a file with them is no XML.
  picture.setAttribute("aria-label", words.title.replaceAll("&", "&amp;").replaceAll("<", "&lt;"));
  // The picture has a name; its parts are named by what they are drawn with, which would only be noise.
  for (const part of Array.from(picture.querySelectorAll("[aria-label]"))) part.removeAttribute("aria-label");
  return picture.toString().replace(NOT_IN_XML, "\ufffd");
}
