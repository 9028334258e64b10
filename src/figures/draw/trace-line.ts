import * as Plot from "@observablehq/plot";
import { aircraftOf, type CircuitTrace, type QuantityTrace } from "../../fitness/index.js";
import { isSameAircraft } from "../../samples/index.js";
import { formatOnGauge } from "../../units/index.js";
import { INK, PAPER } from "../parts/ink.js";
import { rowNames } from "../parts/row-names.js";
import { drawSvg } from "../parts/svg.js";

/** Share of the shown time that is left free on each side. */
const AIR = 0.05;

/** The row of the samples, above those of the aircraft. */
const SAMPLES = "samples";

/** What is shown at a sample. */
const SIGNS = {
  good: { symbol: "circle", fill: INK.line, words: "good" },
  bad: { symbol: "times", fill: INK.limit, words: "bad" },
  open: { symbol: "circle", fill: PAPER, words: "" },
} as const;

interface Mark {
  readonly on: Date;
  readonly row: string;
  readonly words: string;
  readonly fill: string;
}

/**
 * Draws what a circuit touched over time: its samples, good, bad or neither, and a row for each aircraft with the most litres of the
 * circuit's fluid that can be in it. The time since the last good sample is shaded, darker until the bad one.
 *
 * @param trace - the trace of a circuit
 * @param quantity - what is looked at, such as "particles"
 * @returns SVG text; undefined when the quantity is not traced
 */
export function drawTrace(trace: CircuitTrace, quantity: QuantityTrace["quantity"]): string | undefined {
  const found = trace.quantities.find((one) => one.quantity === quantity);
  if (found === undefined) return undefined;
  const { now } = found;
  const hookups = hookupsOf(trace, found);
  const samples = trace.samples.map(({ drawnOn, shows }) => ({
    ...SIGNS[shows[quantity] ?? "open"],
    on: new Date(drawnOn),
    row: SAMPLES,
  }));
  const days = [...hookups, ...samples].map(({ on }) => on.getTime());
  const until = Date.parse(trace.on);
  const since = now.lastGood === undefined ? Math.min(until, ...days) : Date.parse(now.lastGood.drawnOn);
  // One sample and what was served before the last good one say where the time began.
  const from = Math.min(since, ...days.filter((day) => day >= since - (until - since)));
  const air = Math.max(86_400_000, AIR * (until - from));
  const isShown = ({ on }: { readonly on: Date }) => on.getTime() >= from;
  const rows = [SAMPLES, ...new Set(hookups.filter(isShown).map(({ row }) => row))];
  const names = rowNames(rows, 110, 32);
  const bad = now.firstBad && Date.parse(now.firstBad.drawnOn);
  return drawSvg(
    {
      width: 760,
      height: 118 + names.height * rows.length,
      marginLeft: names.margin,
      marginRight: 20,
      x: { type: "utc", label: "day", domain: [new Date(from - air), new Date(until + air)] },
      y: { type: "point", domain: rows, padding: 0.6, tickFormat: names.format },
      marks: [
        Plot.rectX([...(bad === undefined ? [] : [bad]), until], {
          x1: () => new Date(since),
          x2: (to: number) => new Date(to),
          fill: INK.limit,
          fillOpacity: 0.1,
        }),
        Plot.ruleY(rows, { y: (row: string) => row, stroke: "currentColor", strokeOpacity: 0.15 }),
        Plot.dot(samples.filter(isShown), {
          x: "on",
          y: "row",
          symbol: "symbol",
          fill: "fill",
          stroke: ({ fill }: Mark) => (fill === PAPER ? INK.event : fill),
          r: 5,
        }),
        Plot.text(samples.filter(isShown), { x: "on", y: "row", text: "words", dy: -13, fontSize: 11 }),
        Plot.dot(hookups.filter(isShown), { x: "on", y: "row", fill: "fill", stroke: INK.line, r: 4.5 }),
        Plot.text(hookups.filter(isShown), {
          x: "on",
          y: "row",
          text: "words",
          dy: -11,
          fontSize: 11,
        }),
      ],
    },
    {
      title: titleOf(trace, found),
      yAxis:
        "aircraft and the most of the circuit's fluid that can be in them · shaded: since the last good sample",
    },
  );
}

/** Every hookup of the circuit: filled and with its litres where it falls into the time that is not known to be good. */
function hookupsOf(trace: CircuitTrace, { now }: QuantityTrace): Mark[] {
  const aircraft = aircraftOf(trace.hookups);
  return trace.hookups.map(({ event }) => {
    const { aircraft: register } = event;
    const traced = now.hookups.find((one) => one.event === event);
    return {
      on: new Date(event.on),
      row: (register && aircraft.find((one) => isSameAircraft(one, register))) ?? "not named",
      words:
        traced === undefined
          ? ""
          : formatOnGauge("volume", traced.carried.litres, "up", traced.carried.shownIn),
      fill: traced === undefined ? PAPER : INK.line,
    };
  });
}

function titleOf({ cart, circuit }: CircuitTrace, { quantity, now }: QuantityTrace): string {
  const { lastGood, firstBad, hookups } = now;
  const since = lastGood?.drawnOn ?? "the log begins";
  const bad = firstBad === undefined ? "" : `bad on ${firstBad.drawnOn}; `;
  return `${cart} ${circuit}, ${quantity}: ${bad}${aircraftOf(hookups).length} aircraft served since ${since}`;
}
