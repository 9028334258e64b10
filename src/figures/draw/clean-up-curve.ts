import * as Plot from "@observablehq/plot";
import {
  type CirculationPlan,
  channelLevel,
  formatMinutes,
  formatPasses,
  type InterimSample,
  type LevelBand,
  minutesSinceStart,
  type PlannedChannel,
  type TimeToGoBy,
} from "../../circulation/index.js";
import type { OnlineMinute } from "../../online/index.js";
import { compareWithMaximum } from "../../samples/index.js";
import { decadesIn } from "../parts/decades.js";
import { INK, PAPER } from "../parts/ink.js";
import { labelsIn, marginLabels } from "../parts/margin-labels.js";
import { type ShownOn, WIDTHS } from "../parts/shown-on.js";
import { drawSvg, MARGIN } from "../parts/svg.js";

const STEPS = 160;
const HEIGHT = 320;
/** Pixels from one row of words above the frame to the next. */
const MOMENT_ROW = 14;
const MARGIN_SIDES = { page: { left: 64, right: 144 }, phone: { left: 52, right: 108 } } as const;

/** What may be drawn with the curve of a plan. */
export interface CleanUpExtras {
  /** Where the levels lie within the stated uncertainties. */
  readonly bands?: readonly LevelBand[];
  /** Samples drawn while circulating; a limit value is drawn as a triangle that points to where the count lies. */
  readonly samples?: readonly InterimSample[];
  /** Minutes of a counter in the line, as small points; the circulation began with the first of them. */
  readonly counter?: readonly OnlineMinute[];
  /** The time to go by. */
  readonly goBy?: TimeToGoBy;
  /** How wide the picture is; as on a page when absent. */
  readonly shownOn?: ShownOn;
}

interface ShownChannel extends PlannedChannel {
  readonly words: string;
}

/**
 * Draws how the particle counts fall while a circuit circulates: the limit and the floor of each channel, the band of
 * the uncertainties, the samples, and the minutes of a counter in the line.
 *
 * @param plan - a circulation plan
 * @param name - cart and circuit, for the title
 * @param extras - band, samples and the time to go by; see {@link CleanUpExtras}
 * @returns SVG text
 */
export function drawCleanUpCurve(plan: CirculationPlan, name: string, extras: CleanUpExtras = {}): string {
  const end = minutesShown(plan, extras);
  const { shownOn = "page" } = extras;
  const width = WIDTHS[shownOn];
  const margin = MARGIN_SIDES[shownOn];
  const channels = plan.channels.map((channel) => ({ ...channel, words: formatChannel(channel) }));
  const levelAt = (channel: ShownChannel, minutes: number) =>
    channelLevel(plan, channel, minutes / plan.minutesPerPass);
  const lowest = Math.min(...channels.map((channel) => channel.limit)) / 20;
  const curves = channels.flatMap((channel) =>
    Array.from({ length: STEPS + 1 }, (_, step) => {
      const minutes = (end * step) / STEPS;
      return { words: channel.words, minutes, perMl: levelAt(channel, minutes) };
    }),
  );
  const floors = channels.flatMap(({ floor, words }) =>
    floor !== undefined && floor > lowest ? [{ floor, words }] : [],
  );
  const clean = plan.reachable ? [{ minutes: plan.minutes, words: "by the stated values" }] : [];
  const decided =
    extras.goBy?.kind === "minutes"
      ? [{ minutes: minutesSinceStart(extras.goBy), words: "time to go by" }]
      : [];
  const levels = domainOf(curves, lowest);
  const names = [
    ...channels.map((channel) => ({
      words: channel.words,
      at: Math.max(lowest, levelAt(channel, end)),
    })),
    ...channels.map(({ limit, words }) => ({ words: `limit at ${words}`, at: limit })),
    ...floors.map(({ floor, words }) => ({ words: `floor at ${words}`, at: floor })),
  ];
  const height = Math.max(
    HEIGHT,
    MARGIN.top + MARGIN.bottom + labelsIn(margin.right, names).gap * names.length,
  );
  return drawSvg(
    {
      width,
      height,
      marginLeft: margin.left,
      marginRight: margin.right,
      x: { label: "minutes of circulation", grid: true, domain: [0, end] },
      y: {
        type: "log",
        grid: true,
        ticks: decadesIn(levels),
        tickFormat: (level: number) => String(level),
        clamp: true,
        domain: levels,
      },
      marks: [
        Plot.areaY(bandsOf(extras.bands ?? [], end, lowest), {
          x: "minutes",
          y1: "low",
          y2: "high",
          z: "channel",
          fill: INK.line,
          fillOpacity: 0.16,
        }),
        Plot.ruleX([...clean, ...decided], { x: "minutes", stroke: INK.event, strokeDasharray: "2,3" }),
        ...[clean, decided].flatMap((moment, row) =>
          moment.map(({ minutes, words }) => {
            const side = minutes > 0.7 * end ? "end" : "start";
            return Plot.text([words], {
              x: () => minutes,
              frameAnchor: "top",
              dx: side === "end" ? 4 : -4,
              dy: -10 - MOMENT_ROW * row,
              textAnchor: side,
              fontSize: 11,
            });
          }),
        ),
        Plot.ruleY(channels, { y: "limit", stroke: INK.limit, strokeDasharray: "6,3" }),
        Plot.ruleY(floors, { y: "floor", stroke: INK.line, strokeDasharray: "1,4" }),
        Plot.lineY(curves, {
          x: "minutes",
          y: "perMl",
          z: "words",
          stroke: INK.line,
          strokeWidth: 1.8,
          clip: true,
        }),
        Plot.dot(counterPoints(channels, extras.counter ?? []), {
          x: "minutes",
          y: "perMl",
          r: 1.5,
          fill: INK.limit,
          stroke: "none",
        }),
        ...sampleMarks(channels, extras.samples ?? []),
        ...marginLabels(names, {
          height,
          y: { type: "log", domain: levels },
          end,
          perPixel: end / (width - margin.left - margin.right),
          margin: margin.right,
        }),
      ],
    },
    {
      title: titleOf(plan, name, extras),
      yAxis: "particles per mL, sizes in µm(c)",
      headroom: MOMENT_ROW * Math.max(0, clean.length + decided.length - 1),
    },
  );
}

/** A name that is the size itself gets its unit, a letter its size; "6-14" and ">70" say theirs. */
function formatChannel({ channel, sizeUmC, toUmC }: PlannedChannel): string {
  if (channel === String(sizeUmC) && toUmC === undefined) return `${channel} µm(c)`;
  return /\d/.test(channel) ? channel : `${channel} (>${sizeUmC})`;
}

function minutesShown(plan: CirculationPlan, { samples = [], counter = [], goBy }: CleanUpExtras): number {
  const planned = plan.reachable ? plan.passes * 1.3 : 8;
  return Math.max(
    Math.max(planned, 1) * plan.minutesPerPass,
    goBy?.kind === "minutes" ? 1.1 * minutesSinceStart(goBy) : 0,
    ...samples.map((sample) => 1.1 * sample.minutes),
    1.1 * sinceFirst(counter, counter.at(-1)),
  );
}

/** From a twentieth of the lowest limit to the highest level, so that clean channels do not squeeze the rest. */
function domainOf(curves: readonly { readonly perMl: number }[], lowest: number): [number, number] {
  return [lowest, 1.5 * Math.max(lowest * 2, ...curves.map((point) => point.perMl))];
}

function bandsOf(bands: readonly LevelBand[], end: number, lowest: number) {
  return bands.flatMap(({ channel, points }) =>
    points
      .filter((point) => point.minutes <= end)
      .map((point) => ({
        channel,
        minutes: point.minutes,
        low: Math.max(lowest, point.low),
        high: Math.max(lowest, point.high),
      })),
  );
}

function sinceFirst([first]: readonly OnlineMinute[], minute: OnlineMinute | undefined): number {
  return first === undefined || minute === undefined ? 0 : minute.minute - first.minute;
}

function counterPoints(channels: readonly ShownChannel[], counter: readonly OnlineMinute[]) {
  return counter.flatMap((one) =>
    channels.flatMap(({ sizeUmC, toUmC }) => {
      const perMl = one.counts.find((count) => count.sizeUmC === sizeUmC)?.perMl ?? 0;
      return toUmC === undefined && perMl > 0 ? [{ minutes: sinceFirst(counter, one), perMl }] : [];
    }),
  );
}

function sampleMarks(channels: readonly ShownChannel[], samples: readonly InterimSample[]): Plot.Markish[] {
  const drawn = samples.flatMap(({ minutes, counts }) =>
    channels.flatMap((channel) => {
      const perMl = counts.find((entry) => entry.sizeUmC === channel.sizeUmC)?.perMl;
      if (perMl === undefined || channel.toUmC !== undefined || !(perMl.value > 0)) return [];
      return [{ minutes, perMl: perMl.value, limit: perMl.limit }];
    }),
  );
  const shapes = [
    [undefined, "circle", 0],
    ["below", "triangle", 180],
    ["above", "triangle", 0],
  ] as const;
  return shapes.map(([limit, symbol, rotate]) =>
    Plot.dot(
      drawn.filter((point) => point.limit === limit),
      { x: "minutes", y: "perMl", symbol, rotate, r: 4, fill: PAPER, stroke: INK.limit, strokeWidth: 1.8 },
    ),
  );
}

/** What was found comes before what was planned. */
function titleOf(plan: CirculationPlan, name: string, { goBy, samples = [] }: CleanUpExtras): string {
  const [last] = samples.filter(({ minutes }) => minutes > 0).sort((a, b) => b.minutes - a.minutes);
  if (last !== undefined) return `${name}: ${describeFound(plan, last)}`;
  if (!plan.reachable) return `${name}: circulating cannot reach the limit`;
  const stated = formatMinutes(plan.minutes);
  if (goBy === undefined)
    return `${name}: by the stated values alone clean after ${stated} (${formatPasses(plan.passes)})`;
  const first =
    goBy.kind === "minutes"
      ? `circulate ${formatMinutes(goBy.minutes)}${goBy.done === undefined ? "" : " more"}`
      : "no time is known to be long enough";
  return `${name}: ${first}; by the stated values ${stated}`;
}

/** How the channels of a sample compare with their limits; a count known only as a limit may leave it open. */
function describeFound({ channels }: CirculationPlan, { minutes, counts }: InterimSample): string {
  const when = `the sample at ${formatMinutes(minutes)}`;
  const compared = channels.flatMap((channel) => {
    const found = counts.find(({ sizeUmC }) => sizeUmC === channel.sizeUmC);
    if (found === undefined || channel.toUmC !== undefined) return [];
    const isAbove = found.moreThanPerMl !== undefined && found.moreThanPerMl >= channel.limit;
    return [{ channel, outcome: isAbove ? "outside" : compareWithMaximum(found.perMl, channel.limit) }];
  });
  const namesOf = (wanted: string) =>
    compared
      .filter(({ outcome }) => outcome === wanted)
      .map(({ channel }) => formatChannel(channel))
      .join(", ");
  const [above, open, within] = [namesOf("outside"), namesOf("not-known"), namesOf("inside")];
  if (above !== "") return `${when} is above the limit at ${above}`;
  if (open !== "") return `${when} does not show whether it is within the limit at ${open}`;
  if (within === "") return `${when} was counted at no size that has a limit`;
  return compared.length === channels.length
    ? `${when} is within every limit`
    : `${when} is within the limit at ${within}; other channels were not counted`;
}
