import { type MeasureTrend, sideOf, yearsBetween } from "../../../fitness/index.js";
import { formatNumber } from "../../text.js";

const WIDTH = 60;
const HEIGHT = 14;

/** What each sign of the chart stands for. */
const KEY = "o result  ? far from the line  < > limit value  . line  - limit  | event";

/**
 * Draws a trend as characters: results, the line of the current segment, limits and events.
 *
 * @returns lines of text; a sentence where there is nothing to draw
 */
export function drawChart(trend: MeasureTrend): string {
  const readings = trend.segments.flatMap((segment) => segment.readings);
  const [first, last] = [readings[0]?.drawnOn, readings.at(-1)?.drawnOn];
  if (first === undefined || last === undefined) return "There is no sample to draw.\n";
  const end = [trend.on, last].sort().at(-1) as string;
  const span = Math.max(yearsBetween(first, end), Number.EPSILON);
  const columnOf = (day: string) => Math.round((yearsBetween(first, day) / span) * (WIDTH - 1));

  const heights = [...readings.map(({ value }) => value), ...trend.bounds.map(({ limit }) => limit)];
  const [low, high] = [Math.min(...heights), Math.max(...heights)];
  const room = (high - low || Math.abs(high) || 1) * 0.05;
  const [bottom, top] = [low - room, high + room];
  const rowOf = (value: number) => Math.round(((top - value) / (top - bottom)) * (HEIGHT - 1));

  const cells = Array.from({ length: HEIGHT }, () => new Array<string>(WIDTH).fill(" "));
  const put = (row: number, column: number, sign: string) => {
    if (cells[row]?.[column] !== undefined) (cells[row] as string[])[column] = sign;
  };
  for (const { startedBy } of trend.segments) {
    if (startedBy !== undefined)
      for (let row = 0; row < HEIGHT; row += 1) put(row, columnOf(startedBy.on), "|");
  }
  for (const step of trend.steps) {
    const day = step.kind === "known" ? step.event.on : step.before;
    for (let row = 0; row < HEIGHT; row += 2) put(row, columnOf(day), "|");
  }
  for (const { limit } of trend.bounds)
    for (let column = 0; column < WIDTH; column += 1) put(rowOf(limit), column, "-");
  for (const [index, { from, to, startsAt, endsAt }] of trend.lines.entries()) {
    const slope = (endsAt - startsAt) / Math.max(yearsBetween(from, to), Number.EPSILON);
    const until = index === trend.lines.length - 1 ? WIDTH - 1 : columnOf(to);
    for (let column = columnOf(from); column <= until; column += 1) {
      const years = (column / (WIDTH - 1)) * span - yearsBetween(first, from);
      put(rowOf(startsAt + slope * years), column, ".");
    }
  }
  const flagged = new Set(trend.outliers.map(({ sample }) => sample));
  for (const { sample, drawnOn, value, limit } of readings) {
    const sign =
      limit === undefined ? (flagged.has(sample) ? "?" : "o") : sideOf(limit) === "below" ? "<" : ">";
    put(rowOf(value), columnOf(drawnOn), sign);
  }

  // The axis is read to two digits of what it spans.
  const shown = 10 ** (Math.floor(Math.log10(top - bottom)) - 1);
  const labels = cells.map((_, row) =>
    row === 0 || row === HEIGHT - 1 || row === HEIGHT >> 1
      ? formatNumber(Math.round((top - (row / (HEIGHT - 1)) * (top - bottom)) / shown) * shown)
      : "",
  );
  const margin = Math.max(...labels.map((label) => label.length));
  const lines = cells.map((row, index) => `${(labels[index] as string).padStart(margin)} │${row.join("")}`);
  const foot = `${" ".repeat(margin)} └${"─".repeat(WIDTH)}\n${" ".repeat(margin + 2)}${first}${end.padStart(WIDTH - first.length)}`;
  return `${trend.unit}\n${lines.map((line) => line.trimEnd()).join("\n")}\n${foot}\n${" ".repeat(margin + 2)}${KEY}\n`;
}
