import type { OnlineAnswer } from "./answer.js";

/** Minutes across, and lines from the highest level to the lowest. */
const MINUTES = 66;
const LINES = 11;
const AXIS = 8;
/** Marks of the channels, in their order; where two meet, a star. */
const MARKS = "abcdefghijkl";

/**
 * Draws the levels of the channels over the last minutes as plain text of at most 80 columns: shares of each limit on a
 * logarithmic scale, with the limit as a line.
 *
 * @param answers - in the order of time
 * @returns lines; none before anything was counted
 */
export function drawOnlineChart(answers: readonly OnlineAnswer[]): string[] {
  const last = answers.at(-1)?.minute.minute ?? 0;
  const points = answers.flatMap(({ minute: { minute }, channels }) =>
    channels.flatMap(({ perMl, limitPerMl }, channel) =>
      perMl === undefined || !(perMl > 0) || limitPerMl === 0 || last - minute >= MINUTES
        ? []
        : [{ column: MINUTES - 1 - (last - minute), channel, level: Math.log2(perMl / limitPerMl) }],
    ),
  );
  if (points.length === 0) return [];
  const levels = points.map(({ level }) => level);
  // Half and twice the limit are always seen.
  const [low, high] = [Math.floor(Math.min(-1, ...levels)), Math.ceil(Math.max(1, ...levels))];
  const lineOf = (level: number) => Math.round(((high - level) / (high - low)) * (LINES - 1));
  const limitLine = lineOf(0);
  const grid = Array.from({ length: LINES }, (_, line) =>
    Array.from({ length: MINUTES }, () => (line === limitLine ? "-" : " ")),
  );
  for (const { column, channel, level } of points) {
    const row = grid[lineOf(level)] as string[];
    const mark = MARKS[channel % MARKS.length] as string;
    row[column] = row[column] === " " || row[column] === "-" || row[column] === mark ? mark : "*";
  }
  const label = (line: number) =>
    line === 0 ? times(high) : line === limitLine ? "limit" : line === LINES - 1 ? times(low) : "";
  const first = Math.max(0, MINUTES - 1 - (last - (answers[0]?.minute.minute ?? last)));
  return [
    ...grid.map((row, line) => `${label(line).padStart(AXIS - 2)} |${row.join("")}`.trimEnd()),
    `${" ".repeat(AXIS - 1)}+${"-".repeat(MINUTES)}`,
    timeLine(first, last),
    legendOf(answers.at(-1)),
  ];
}

/** A power of two of the limit. */
function times(exponent: number): string {
  return exponent >= 0 ? `${2 ** exponent} x` : `1/${2 ** -exponent} x`;
}

function timeLine(first: number, last: number): string {
  const clock = (minute: number) => new Date(minute * 60_000).toISOString().slice(11, 16);
  const width = MINUTES - first;
  const start = clock(last - width + 1);
  const end = clock(last);
  // Two times need room next to each other.
  const between = width - start.length - end.length;
  const from = AXIS + first;
  return between > 0
    ? `${" ".repeat(from)}${start}${" ".repeat(between)}${end}`
    : `${" ".repeat(AXIS + MINUTES - end.length)}${end}`;
}

function legendOf(answer: OnlineAnswer | undefined): string {
  const channels = answer?.channels ?? [];
  const named = channels.map(({ channel }, index) => `${MARKS[index % MARKS.length]} ${channel}`);
  return `${" ".repeat(AXIS)}${named.join("   ")}   (share of each limit, UTC)`.slice(0, AXIS + MINUTES);
}
