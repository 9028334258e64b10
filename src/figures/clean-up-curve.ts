import * as Plot from "@observablehq/plot";
import { type CirculationPlan, concentrationAfter, sayMinutes } from "../circulation/index.js";
import type { Circuit } from "../samples/index.js";
import { decadesOf } from "./decades.js";
import { drawSvg, INK } from "./svg.js";

const STEPS = 80;

/**
 * Draws how the particle counts fall while a circuit circulates, with the limit of each channel.
 *
 * @param plan - a circulation plan
 * @param circuit - the circuit's volume and flow, which turn passes into minutes
 * @param name - cart and circuit, for the title
 * @returns SVG text
 */
export function drawCleanUpCurve(
  plan: CirculationPlan,
  circuit: Pick<Circuit, "volumeL" | "flowLpm">,
  name: string,
): string {
  const passesShown = plan.reachable ? Math.max(plan.passes * 1.3, 1) : 10;
  const minutesPerPass = circuit.volumeL / circuit.flowLpm;
  const channels = plan.channels.map((channel) => ({ ...channel, words: `${channel.sizeUmC} µm(c)` }));
  const curves = channels.flatMap((channel) =>
    Array.from({ length: STEPS + 1 }, (_, step) => {
      const passes = (passesShown * step) / STEPS;
      return {
        words: channel.words,
        minutes: passes * minutesPerPass,
        perMl: concentrationAfter(channel, passes),
      };
    }),
  );
  const ends = channels.map((channel) => ({
    words: channel.words,
    minutes: passesShown * minutesPerPass,
    perMl: concentrationAfter(channel, passesShown),
  }));
  const clean = plan.reachable ? [plan.minutes] : [];
  const levels = [...curves.map((point) => point.perMl), ...channels.map((channel) => channel.limit)];
  const decades = decadesOf(levels);
  return drawSvg(
    {
      width: 760,
      height: 300,
      marginLeft: 64,
      marginRight: 160,
      x: { label: "minutes of circulation", grid: true },
      y: {
        type: "log",
        grid: true,
        // From the lowest tick, which would otherwise hang below the frame among the names of the other axis.
        domain: [Math.min(...decades), Math.max(...levels)],
        ticks: decades,
        tickFormat: (level: number) => String(level),
      },
      marks: [
        Plot.ruleX(clean, { stroke: INK.event, strokeDasharray: "2,3" }),
        Plot.text(clean, {
          x: (minutes: number) => minutes,
          text: () => "all limits met",
          frameAnchor: "top",
          dy: -14,
        }),
        Plot.ruleY(channels, { y: "limit", stroke: INK.limit, strokeDasharray: "6,3" }),
        Plot.text(channels, {
          y: "limit",
          text: (channel: { words: string }) => `limit at ${channel.words}`,
          // Beside the names of the curves: inside the frame, one curve or another would fall across the words.
          frameAnchor: "right",
          textAnchor: "start",
          dx: 66,
          fontSize: 11,
        }),
        Plot.lineY(curves, { x: "minutes", y: "perMl", z: "words", stroke: INK.line, strokeWidth: 1.8 }),
        Plot.text(ends, { x: "minutes", y: "perMl", text: "words", textAnchor: "start", dx: 6 }),
      ],
    },
    { title: titleOf(plan, name), yAxis: "particles per mL larger than the size" },
  );
}

function titleOf(plan: CirculationPlan, name: string): string {
  if (!plan.reachable) return `${name}: circulating cannot reach the limit`;
  return `${name}: clean after ${sayMinutes(plan.minutes)} (${plan.passes.toFixed(1)} passes)`;
}
