import * as Plot from "@observablehq/plot";
import { parseHTML } from "linkedom";

/**
 * Colours that people with colour-blindness can tell apart (Okabe and Ito, Color universal design, 2008). They are
 * readable on white and on near-black. No meaning rests on colour alone.
 */
export const INK = { line: "#0072B2", limit: "#D55E00", event: "#767676" } as const;

/**
 * Draws a plot as a stand-alone SVG picture.
 *
 * @param options - options of Observable Plot
 * @param title - the finding in one sentence; it stands in the picture and is read out by screen readers
 * @returns SVG text that can be saved as a file or put into a page
 */
export function drawSvg(options: Plot.PlotOptions, title: string): string {
  const { document } = parseHTML("<!doctype html><html><body></body></html>");
  const picture = Plot.plot({
    ...options,
    document,
    marginTop: 44,
    // At the top the label of the y axis would run into the title.
    ...(options.y && { y: { labelAnchor: "center", ...options.y } }),
    style: { fontSize: "12px", background: "none" },
    ariaLabel: title,
    marks: [
      ...(options.marks ?? []),
      Plot.text([title], {
        frameAnchor: "top-left",
        facet: "super",
        dy: -34,
        fontSize: 14,
        fontWeight: 600,
      }),
    ],
  });
  picture.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  picture.setAttribute("role", "img");
  return picture.toString();
}
