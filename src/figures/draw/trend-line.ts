import * as Plot from "@observablehq/plot";
import { MEASURE_KINDS, type MeasureTrend, sideOf, yearsBetween } from "../../fitness/index.js";
import { studentQuantile } from "../../numeric/index.js";
import { levelAt } from "../../trend/index.js";
import { describeEventKind, eventMarks, eventsHeadroom, placeEvents } from "../parts/events.js";
import { INK } from "../parts/ink.js";
import { type ShownOn, WIDTHS } from "../parts/shown-on.js";
import { drawSvg } from "../parts/svg.js";

const STEPS = 60;
const MARGIN_SIDES = { page: { left: 64, right: 84 }, phone: { left: 48, right: 58 } } as const;
const LEVEL = 0.9;
/** The picture shows no more of the future than this share of the past, unless the crossing lies there. */
const FUTURE_SHARE = 0.25;

/**
 * Draws where a measure is heading: results, the line between steps with the interval of its level, limits, events, and the
 * window in which a limit is crossed.
 *
 * @param trend - a trend of `measureTrend`
 * @param name - cart and circuit, for the title
 * @param shownOn - how wide the picture is
 * @returns SVG text
 */
export function drawTrend(trend: MeasureTrend, name: string, shownOn: ShownOn = "page"): string {
  const width = WIDTHS[shownOn];
  const margin = MARGIN_SIDES[shownOn];
  const readings = trend.segments.flatMap((segment) => segment.readings);
  const flagged = new Set(trend.outliers.map(({ sample }) => sample));
  const dots = readings
    .filter((reading) => reading.limit === undefined)
    .map((reading) => ({ ...dated(reading), odd: flagged.has(reading.sample) }));
  const limited = readings.flatMap((reading) =>
    reading.limit === undefined ? [] : [{ ...dated(reading), side: sideOf(reading.limit) }],
  );
  const end = endOf(trend);
  const first = new Date(readings[0]?.drawnOn ?? trend.on);
  const events = placeEvents(eventsOf(trend), {
    from: first,
    to: end,
    pixels: width - margin.left - margin.right,
  });
  const limits = trend.bounds.map(({ limit, towards }) => ({
    limit,
    words: towards === "above" ? "at most" : "at least",
  }));
  const window = windowOf(trend, end);
  const lines = trend.lines.flatMap(({ from, to, startsAt, endsAt }, index) => [
    { index, on: new Date(from), value: startsAt },
    { index, on: new Date(to), value: endsAt },
  ]);
  const band = bandOf(trend, end);
  return drawSvg(
    {
      width,
      height: 380,
      marginLeft: margin.left,
      marginRight: margin.right,
      insetTop: 14,
      x: { label: "day drawn", type: "utc", domain: [first, end] },
      y: { grid: true, nice: true, tickFormat: (level: number) => String(level) },
      marks: [
        Plot.frame({ stroke: "currentColor", strokeOpacity: 0.25 }),
        Plot.rectX(window, { x1: "from", x2: "to", fill: INK.limit, fillOpacity: 0.12 }),
        ...window.map(({ from, to, words }) => {
          const late = from.getTime() > (first.getTime() + end.getTime()) / 2;
          return Plot.text([words], {
            x: () => (late ? to : from),
            frameAnchor: "bottom",
            textAnchor: late ? "end" : "start",
            dx: late ? -4 : 4,
            dy: -6,
            fontSize: 11,
          });
        }),
        Plot.areaY(band, { x: "on", y1: "low", y2: "high", fill: INK.line, fillOpacity: 0.16 }),
        ...eventMarks(events, -14),
        Plot.ruleY(limits, { y: "limit", stroke: INK.limit, strokeDasharray: "6,3" }),
        Plot.text(limits, {
          y: "limit",
          text: ({ words, limit }: { words: string; limit: number }) =>
            `${words}\n${Number(limit.toPrecision(4))}`,
          frameAnchor: "right",
          textAnchor: "start",
          dx: 5,
        }),
        Plot.lineY(lines, { x: "on", y: "value", z: "index", stroke: INK.line, strokeWidth: 1.8 }),
        Plot.lineY(band, { x: "on", y: "level", stroke: INK.line, strokeWidth: 1.8, strokeDasharray: "5,3" }),
        Plot.dot(dots, { x: "on", y: "value", r: 3, fill: INK.line }),
        Plot.dot(
          dots.filter(({ odd }) => odd),
          { x: "on", y: "value", r: 7, stroke: "currentColor" },
        ),
        // A limit value points to the side on which the true one lies.
        Plot.dot(limited, {
          x: "on",
          y: "value",
          symbol: "triangle",
          rotate: ({ side }: { side: string }) => (side === "below" ? 180 : 0),
          r: 4,
          stroke: INK.line,
        }),
      ],
    },
    {
      title: titleOf(trend, name),
      yAxis: `${MEASURE_KINDS[trend.measure].name}, ${trend.unit}`,
      headroom: eventsHeadroom(events),
    },
  );
}

function dated<T extends { readonly drawnOn: string }>(reading: T): T & { readonly on: Date } {
  return { ...reading, on: new Date(reading.drawnOn) };
}

/** The last day of the picture: after today and the crossing's interval, as far as that is not too far away. */
function endOf(trend: MeasureTrend): Date {
  const first = trend.segments[0]?.readings[0]?.drawnOn ?? trend.on;
  const today = Date.parse(trend.on);
  const past = today - Date.parse(first);
  const { forecast } = trend;
  const wanted =
    forecast.kind === "crosses" ? Date.parse(forecast.latest ?? forecast.on) : today + FUTURE_SHARE * past;
  return new Date(Math.max(today + 0.05 * past, Math.min(wanted + 0.08 * past, today + 2 * past)));
}

function eventsOf(trend: MeasureTrend): { on: string; words: string }[] {
  const started = trend.segments.flatMap(({ startedBy }) => (startedBy === undefined ? [] : [startedBy]));
  const known = trend.steps.flatMap((step) => (step.kind === "known" ? [step.event] : []));
  const found = trend.steps.flatMap((step) =>
    step.kind === "found" ? [{ on: step.before, words: "unexplained step" }] : [],
  );
  return [
    ...[...started, ...known].map(({ on, kind }) => ({ on, words: describeEventKind(kind) })),
    ...found,
  ];
}

function windowOf({ forecast, on }: MeasureTrend, end: Date): { from: Date; to: Date; words: string }[] {
  if (forecast.kind !== "crosses") return [];
  const to = forecast.latest === undefined ? end : new Date(forecast.latest);
  const words = `${forecast.on <= on ? "crossed" : "crosses"} the limit here`;
  return [{ from: new Date(forecast.earliest), to, words }];
}

/** The level with its interval from the last block's first day to the end of the picture. */
function bandOf(trend: MeasureTrend, end: Date): { on: Date; level: number; low: number; high: number }[] {
  const { line } = trend;
  const first = trend.segments.at(-1)?.readings[0]?.drawnOn;
  const from = trend.lines.at(-1)?.from;
  if (line === undefined || first === undefined || from === undefined) return [];
  const t = studentQuantile((1 + LEVEL) / 2, line.degreesOfFreedom);
  return Array.from({ length: STEPS + 1 }, (_, step) => {
    const time = Date.parse(from) + ((end.getTime() - Date.parse(from)) * step) / STEPS;
    const on = new Date(time);
    const { value, error } = levelAt(line, yearsBetween(first, on.toISOString().slice(0, 10)));
    return { on, level: value, low: value - t * error, high: value + t * error };
  });
}

function titleOf({ forecast, measure, on }: MeasureTrend, name: string): string {
  const what = `${name}, ${MEASURE_KINDS[measure].name}`;
  switch (forecast.kind) {
    case "crosses":
      return `${what}: ${forecast.on <= on ? "limit crossed" : "crosses its limit"} about ${forecast.on}`;
    case "no-trend":
      return `${what}: no trend`;
    case "beyond-horizon":
      return `${what}: does not reach its limit in the time looked ahead`;
    case "cannot-tell":
      return forecast.why === "no-limit" ? what : `${what}: cannot tell from ${forecast.n} samples`;
  }
}
