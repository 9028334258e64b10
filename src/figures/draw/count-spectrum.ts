import * as Plot from "@observablehq/plot";
import {
  type Channel,
  type CleanlinessTarget,
  classifyByTable,
  compareWithLimits,
  limitsOfTarget,
  mostUsed,
  readChannel,
  type TableCounts,
} from "../../cleanliness/index.js";
import { decadesIn } from "../parts/decades.js";
import { INK } from "../parts/ink.js";
import { drawSvg } from "../parts/svg.js";
import { classNames, type TargetTable, tableOf } from "../parts/target-table.js";

/** Classes shown beyond those that the sample and the limit have. */
const AROUND = 2;
/** Half the width of a bar for "larger than a size", as a factor on the size. */
const HALF_BAR = 1.13;
/** Between the bars of neighbouring ranges, as a factor on the size. */
const GAP = 1.02;
/** The last range of a differential table has no upper end; its bar ends at this multiple of its lower one. */
const OPEN_RANGE = 1.7;

/** Names on either side of their bars, those of limits in bold. */
const SIDES = (["left", "right"] as const).flatMap((side) => [false, true].map((limit) => ({ side, limit })));

/**
 * Draws the counts of a sample over size against the limits of the classes of a standard, both axes logarithmic.
 *
 * A bar stands for each limit: at a size for cumulative counts, over a range for differential ones. Counts and limits of
 * zero have no place on a logarithmic scale and are left out.
 *
 * @param counts - counts of one sample
 * @param target - the standard, and the class that is allowed
 * @param name - what the sample is called in the title
 * @returns SVG text
 */
export function drawCountSpectrum(counts: TableCounts, target: CleanlinessTarget, name: string): string {
  const drawn = tableOf(target);
  const { table, allowed } = drawn;
  const shown = classesShown(counts, drawn);
  const cumulative = table.channels.every((channel) => channel.toUm === undefined);
  const bars = table.channels.flatMap((channel, index) =>
    table.rows.flatMap(([own, row]) => {
      const limit = row[index];
      if (!shown.has(own) || limit === undefined || limit === 0) return [];
      return [{ ...placeOf(channel, cumulative), channel: channel.name, own, perMl: limit / table.volumeMl }];
    }),
  );
  const isLimit = (bar: { channel: string; own: string }) => allowed.get(bar.channel) === bar.own;
  const dots = table.channels.flatMap((channel) => {
    const reading = readChannel(counts, channel.fromUm, channel.toUm);
    if (reading === undefined || reading.count === 0) return [];
    const { from, to } = placeOf(channel, cumulative);
    const perMl = reading.count / counts.volumeMl;
    return [{ channel: channel.name, sizeUm: Math.sqrt(from * to), perMl }];
  });
  const isAboveDot = (bar: { channel: string; perMl: number }) =>
    bar.perMl > (dots.find(({ channel }) => channel === bar.channel)?.perMl ?? 0);
  const levels = [...bars, ...dots].map(({ perMl }) => perMl);
  const domain = [Math.min(...levels) / 1.3, Math.max(...levels) * 1.5] as const;
  return drawSvg(
    {
      width: 760,
      height: 460,
      marginLeft: 64,
      marginRight: 28,
      x: {
        type: "log",
        domain: [
          Math.min(...bars.map(({ from }) => from)) / (cumulative ? 1.35 : 1.05),
          Math.max(...bars.map(({ to }) => to)) * 1.15,
        ],
        axis: null,
      },
      y: {
        type: "log",
        grid: true,
        domain,
        ticks: decadesIn(domain),
        tickFormat: (level: number) => String(level),
      },
      marks: [
        // The numbers as text: the scale itself would leave some of them out.
        Plot.axisX(
          table.channels.map(({ fromUm }) => fromUm),
          { text: (size: number) => String(size), label: "size, µm(c)", labelOffset: 40 },
        ),
        Plot.ruleY(
          bars.filter((bar) => !isLimit(bar)),
          { x1: "from", x2: "to", y: "perMl", stroke: INK.event, strokeWidth: 1.2 },
        ),
        Plot.ruleY(bars.filter(isLimit), {
          x1: "from",
          x2: "to",
          y: "perMl",
          stroke: INK.limit,
          strokeWidth: 2.6,
          strokeDasharray: "7,3",
        }),
        // Counts fall with size: left of a dot the line is above it, right of it below. The names keep out of its way.
        ...SIDES.map(({ side, limit }) =>
          Plot.text(
            bars.filter((bar) => (isAboveDot(bar) ? "right" : "left") === side && isLimit(bar) === limit),
            {
              x: side === "left" ? "from" : "to",
              y: "perMl",
              text: "own",
              fontWeight: limit ? 700 : 400,
              textAnchor: (side === "left") === cumulative ? "end" : "start",
              dx: cumulative ? (side === "left" ? -3 : 3) : 0,
              dy: cumulative ? 0 : -6,
              fontSize: 10,
            },
          ),
        ),
        Plot.line(dots, { x: "sizeUm", y: "perMl", stroke: INK.line, strokeWidth: 1.8 }),
        Plot.dot(dots, { x: "sizeUm", y: "perMl", fill: INK.line, r: 4.5 }),
      ],
    },
    {
      title: titleOf(counts, target, name),
      yAxis: `particles per mL ${cumulative ? "larger than the size" : "in the size range"}; bars: ${table.standard} ${drawn.noun}, at most; dashed: the limit`,
    },
  );
}

/** Where the bar of a channel stands: around its size in a cumulative table, over its range in a differential one. */
function placeOf({ fromUm, toUm }: Channel<string>, cumulative: boolean): { from: number; to: number } {
  if (cumulative) return { from: fromUm / HALF_BAR, to: fromUm * HALF_BAR };
  return { from: fromUm * GAP, to: (toUm ?? fromUm * OPEN_RANGE) / GAP };
}

/** The classes that the sample and the limit have in any channel, and some on either side. */
function classesShown(counts: TableCounts, { table, allowed }: TargetTable): ReadonlySet<string> {
  const names = classNames(table);
  const ranks = [
    ...allowed.values(),
    ...(classifyByTable(table, counts)?.channels ?? []).map((channel) => channel.class),
  ].map((name) => names.indexOf(name));
  return new Set(names.slice(Math.max(0, Math.min(...ranks) - AROUND), Math.max(...ranks) + AROUND + 1));
}

function titleOf(counts: TableCounts, target: CleanlinessTarget, name: string): string {
  const held = compareWithLimits(counts, limitsOfTarget(target));
  const worst = mostUsed(held.filter((entry) => entry.outcome !== "not-measured"));
  if (worst === undefined) return `${name}: no channel of ${target.standard} was counted`;
  const { channel } = worst.limit;
  const share = worst.share < 10 ? worst.share.toPrecision(2) : worst.share.toFixed(0);
  return worst.outcome === "outside"
    ? `${name}: outside ${target.standard}, channel ${channel} at ${share} times its limit`
    : `${name}: inside ${target.standard}, channel ${channel} closest at ${share} of its limit`;
}
