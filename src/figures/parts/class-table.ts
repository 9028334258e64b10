import * as Plot from "@observablehq/plot";
import type { ClassTable, TableCounts } from "../../cleanliness/index.js";
import { readChannel } from "../../cleanliness/index.js";
import { bringToVolume } from "../../counts/index.js";
import { decadesIn } from "./decades.js";
import { INK } from "./ink.js";
import { drawSvg } from "./svg.js";

/** A sample to be drawn into a table of classes. */
export interface DrawnSample {
  readonly counts: TableCounts;
  /** What the sample is called in the picture. */
  readonly words: string;
}

/**
 * Draws the limits of every class of a table, a line for each class, with a sample on top.
 *
 * Counts of zero and limits of zero have no place on a logarithmic scale and are left out of the picture; the table itself
 * has them.
 *
 * @param table - a printed table
 * @param title - the finding in one sentence
 * @param sample - counts to be drawn as dots
 * @returns SVG text
 */
export function drawClassTable<C extends string, N extends string>(
  table: ClassTable<C, N>,
  title: string,
  sample?: DrawnSample,
): string {
  const limits = table.rows.flatMap(([name, row]) =>
    table.channels.flatMap((channel, index) => {
      const limit = row[index];
      return limit === undefined || limit === 0 ? [] : [{ name, channel: channel.name, limit }];
    }),
  );
  const firsts = table.rows.flatMap(([name]) => limits.find((entry) => entry.name === name) ?? []);
  const dots = table.channels.flatMap(({ name, fromUm, toUm }) => {
    const reading = sample && readChannel(sample.counts, fromUm, toUm);
    if (sample === undefined || reading === undefined || reading.count === 0) return [];
    return [{ channel: name, count: bringToVolume(reading.count, sample.counts.volumeMl, table.volumeMl) }];
  });
  const counted = [...limits.map(({ limit }) => limit), ...dots.map(({ count }) => count)];
  const levels = [Math.min(...counted) / 1.2, Math.max(...counted) * 1.2] as const;
  const place = (channel: C) => {
    const { fromUm, toUm } = table.channels.find((entry) => entry.name === channel) ?? {};
    const size = toUm === undefined ? `>${fromUm}` : `${fromUm}-${toUm}`;
    return channel === size ? `${size} µm(c)` : `${channel}\n${size} µm(c)`;
  };
  return drawSvg(
    {
      width: 760,
      height: 520,
      marginLeft: 72,
      marginRight: 72,
      marginBottom: 44,
      x: {
        type: "point",
        domain: table.channels.map((channel) => channel.name),
        label: null,
        tickFormat: place,
      },
      y: {
        type: "log",
        grid: true,
        domain: levels,
        ticks: decadesIn(levels),
        tickFormat: (level: number) => String(level),
      },
      marks: [
        Plot.lineY(limits, { x: "channel", y: "limit", z: "name", stroke: INK.event, strokeWidth: 1 }),
        Plot.text(firsts, {
          x: "channel",
          y: "limit",
          text: "name",
          textAnchor: "end",
          dx: -6,
          fontSize: 11,
        }),
        Plot.dot(dots, { x: "channel", y: "count", fill: INK.line, r: 4.5 }),
        Plot.lineY(dots, { x: "channel", y: "count", stroke: INK.line, strokeWidth: 1.8 }),
      ],
    },
    {
      title,
      yAxis: `particles per ${table.volumeMl} mL; lines: ${table.standard} classes, at most${sample === undefined ? "" : `; dots: ${sample.words}`}`,
    },
  );
}
