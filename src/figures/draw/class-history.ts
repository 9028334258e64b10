import * as Plot from "@observablehq/plot";
import { type CleanlinessTarget, classifyByTable } from "../../cleanliness/index.js";
import type { JudgedCircuit } from "../../fitness/index.js";
import type { CircuitEvent } from "../../samples/index.js";
import { describeEventKind, eventMarks, eventsHeadroom, placeEvents } from "../parts/events.js";
import { INK } from "../parts/ink.js";
import { type ShownOn, WIDTHS } from "../parts/shown-on.js";
import { drawSvg } from "../parts/svg.js";
import { classNames, formatChannel, type TargetTable, tableOf } from "../parts/target-table.js";

/** Room for the words above the first panel and below the last, and for each panel, in pixels. */
const OUTSIDE = 116;
const PANEL = { few: 118, many: 88 } as const;
const MARGIN_SIDES = { page: { left: 48, right: 84 }, phone: { left: 48, right: 58 } } as const;

/**
 * Draws how the classes of a circuit went over time, a panel for each channel, with the limit and the events.
 *
 * The classes are those of the standard that the requirement is written in; where there is no requirement, ISO 4406.
 *
 * @param judged - a judged circuit with its history
 * @param target - which of several targets of the requirement to draw; the first when absent
 * @param shownOn - how wide the picture is
 * @returns SVG text; a sample is not in the panel of a channel that it did not count
 */
export function drawClassHistory(
  judged: JudgedCircuit,
  target?: CleanlinessTarget,
  shownOn: ShownOn = "page",
): string {
  const width = WIDTHS[shownOn];
  const margin = MARGIN_SIDES[shownOn];
  const drawn = tableOf(target ?? judged.requirement?.cleanliness[0]);
  const { table, allowed, noun } = drawn;
  const names = classNames(table);
  const rankOf = (name: string) => names.indexOf(name);
  const points = judged.history.flatMap(({ counts, drawnOn }) =>
    ((counts && classifyByTable(table, counts)?.channels) ?? []).map((channel) => ({
      panel: channel.channel,
      drawn: new Date(drawnOn),
      rank: rankOf(channel.class),
    })),
  );
  const panels = table.channels
    .map(({ name }) => name)
    .filter((name) => allowed.has(name) || points.some((point) => point.panel === name));
  const limits = [...allowed].map(([panel, name]) => ({ panel, rank: rankOf(name), name }));
  const ranks = [...points, ...limits].map(({ rank }) => rank);
  const first = points[0]?.drawn ?? new Date(judged.verdict.on);
  const last = points.at(-1)?.drawn ?? first;
  const happened = judged.circuit.events
    .filter((event) => new Date(event.on) >= first && !isOrdinaryHookup(event))
    .map(({ on, kind }) => ({ on, words: describeEventKind(kind) }));
  const events = placeEvents(happened, {
    from: first,
    to: new Date(Math.max(last.getTime(), ...happened.map(({ on }) => Date.parse(on)))),
    pixels: width - margin.left - margin.right,
  });
  return drawSvg(
    {
      width,
      height: OUTSIDE + panels.length * (panels.length > 3 ? PANEL.many : PANEL.few),
      marginLeft: margin.left,
      marginRight: margin.right,
      insetTop: 6,
      insetBottom: 6,
      x: { label: "day drawn", type: "utc" },
      y: {
        grid: true,
        domain: [Math.min(...ranks, rankOf(table.beyond)), Math.max(...ranks, 0)],
        ticks: ticksOf(ranks),
        tickFormat: (rank: number) => names[rank] ?? "",
      },
      fy: { axis: null, domain: panels, padding: 0.34 },
      marks: [
        Plot.frame({ stroke: "currentColor", strokeOpacity: 0.25 }),
        ...eventMarks(events, -34, panels[0]),
        Plot.text(panels, {
          fy: (panel) => panel,
          text: (panel) => `${table.standard} ${noun} of ${formatChannel(table, panel)}`,
          frameAnchor: "top-left",
          dx: -34,
          dy: -20,
        }),
        Plot.ruleY(limits, { fy: "panel", y: "rank", stroke: INK.limit, strokeDasharray: "6,3" }),
        Plot.text(limits, {
          fy: "panel",
          y: "rank",
          text: ({ name }: { name: string }) => `limit ${name}`,
          frameAnchor: "right",
          textAnchor: "start",
          dx: 5,
        }),
        Plot.lineY(points, { fy: "panel", x: "drawn", y: "rank", stroke: INK.line }),
        Plot.dot(points, { fy: "panel", x: "drawn", y: "rank", fill: INK.line, r: 2.5 }),
      ],
    },
    { title: titleOf(judged, drawn), headroom: eventsHeadroom(events) },
  );
}

/** A log may hold a hookup for every day; only one that can change the fluid is worth a line. */
function isOrdinaryHookup({ kind, aircraftFound }: CircuitEvent): boolean {
  return kind === "hookup" && aircraftFound !== "dirty";
}

/** No more than four whole classes, evenly spaced. */
function ticksOf(ranks: readonly number[]): number[] {
  if (ranks.length === 0) return [];
  const [low, high] = [Math.min(...ranks), Math.max(...ranks)];
  const step = Math.max(1, Math.ceil((high - low) / 3));
  return [0, 1, 2, 3].map((place) => low + place * step).filter((rank) => rank <= high);
}

function titleOf(judged: JudgedCircuit, { table, allowed, noun }: TargetTable): string {
  const { cart, circuit } = judged.verdict;
  const name = `${cart}, circuit ${circuit}`;
  const counts = judged.history.findLast((sample) => sample.counts !== undefined)?.counts;
  const latest = counts && classifyByTable(table, counts);
  if (latest === undefined) return `${name}: no sample with an ${table.standard} ${noun}`;
  const names = classNames(table);
  const outside = latest.channels.filter((channel) => {
    const limit = allowed.get(channel.channel);
    return limit !== undefined && names.indexOf(channel.class) > names.indexOf(limit);
  });
  const now = `now ${table.standard} ${latest.channels.map((channel) => channel.class).join("/")}`;
  if (allowed.size === 0) return `${name}: ${now}, no limit`;
  if (outside.length === 0) return `${name}: ${now}, inside in every channel counted`;
  if (outside.length === latest.channels.length) return `${name}: ${now}, outside in every channel`;
  return `${name}: ${now}, outside in ${outside.length} of ${latest.channels.length} channels`;
}
