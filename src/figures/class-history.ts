import * as Plot from "@observablehq/plot";
import {
  classifyIso4406,
  formatIso4406,
  ISO_4406_LAST,
  ISO_4406_SIZES_UM,
  type Iso4406Code,
  type ScaleNumber,
} from "../cleanliness/index.js";
import type { JudgedCircuit } from "../fitness/index.js";
import { drawSvg, INK } from "./svg.js";

/**
 * Draws how the ISO 4406 scale numbers of a circuit went over time, a panel for each size, with the limit and the
 * events.
 *
 * @param judged - a judged circuit with its history
 * @returns SVG text; samples without counts at 4, 6 and 14 µm(c) are not in the picture
 */
export function drawClassHistory(judged: JudgedCircuit): string {
  const coded = judged.history.flatMap((sample) => {
    const code = sample.counts && classifyIso4406(sample.counts);
    return code === undefined ? [] : [{ drawn: new Date(sample.drawnOn), code }];
  });
  const panels = ISO_4406_SIZES_UM.map((sizeUm) => `${sizeUm} µm(c)`);
  const points = coded.flatMap(({ drawn, code }) =>
    panels.map((panel, index) => ({ panel, drawn, scaleNumber: heightOf(code[index] as ScaleNumber) })),
  );
  const limit = isoLimitOf(judged);
  const limits = panels.flatMap((panel, index) => {
    const place = limit?.[index];
    return place?.kind === "number" ? [{ panel, scaleNumber: place.scaleNumber }] : [];
  });
  const first = coded[0]?.drawn ?? new Date(judged.verdict.on);
  const events = judged.circuit.events
    .map((event) => ({
      panel: panels[0] as string,
      on: new Date(event.on),
      words: event.kind.replace("-", " "),
    }))
    .filter((event) => event.on >= first);
  return drawSvg(
    {
      width: 760,
      height: 460,
      marginLeft: 48,
      marginRight: 64,
      insetTop: 8,
      insetBottom: 8,
      x: { label: "day drawn", type: "utc" },
      y: { grid: true, ticks: 4, tickFormat: "d" },
      fy: { axis: null, domain: panels, padding: 0.28 },
      marks: [
        Plot.frame({ stroke: "currentColor", strokeOpacity: 0.25 }),
        Plot.ruleX(events, { x: "on", stroke: INK.event, strokeDasharray: "2,3" }),
        Plot.text(events, { x: "on", fy: "panel", text: "words", frameAnchor: "top", dy: -30, fontSize: 11 }),
        Plot.text(panels, {
          fy: (panel) => panel,
          text: (panel) => `ISO 4406 scale number at ${panel}`,
          frameAnchor: "top-left",
          dx: -34,
          dy: -16,
        }),
        Plot.ruleY(limits, { fy: "panel", y: "scaleNumber", stroke: INK.limit, strokeDasharray: "6,3" }),
        Plot.text(limits, {
          fy: "panel",
          y: "scaleNumber",
          text: (entry: { scaleNumber: number }) => `limit ${entry.scaleNumber}`,
          frameAnchor: "right",
          textAnchor: "start",
          dx: 5,
        }),
        Plot.lineY(points, { fy: "panel", x: "drawn", y: "scaleNumber", stroke: INK.line }),
        Plot.dot(points, { fy: "panel", x: "drawn", y: "scaleNumber", fill: INK.line, r: 2.5 }),
      ],
    },
    { title: titleOf(judged, coded.at(-1)?.code, limit) },
  );
}

function isoLimitOf(judged: JudgedCircuit): Iso4406Code | undefined {
  const target = judged.requirement?.cleanliness.find((entry) => entry.standard === "ISO 4406");
  return target?.standard === "ISO 4406" ? target.code : undefined;
}

/** Height in the picture; beyond the last scale number is drawn one above it. */
function heightOf(place: ScaleNumber): number | undefined {
  if (place.kind === "number") return place.scaleNumber;
  return place.kind === "beyond" ? ISO_4406_LAST + 1 : undefined;
}

function titleOf(
  judged: JudgedCircuit,
  code: Iso4406Code | undefined,
  limit: Iso4406Code | undefined,
): string {
  const { cart, circuit } = judged.verdict;
  const name = `${cart}, circuit ${circuit}`;
  if (code === undefined) return `${name}: no sample with an ISO 4406 code`;
  const asked = limit === undefined ? "no ISO 4406 limit" : `limit ${formatIso4406(limit)}`;
  return `${name}: now ${formatIso4406(code)}, ${asked}`;
}
