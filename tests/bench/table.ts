import CliTable from "cli-table3";
import type { MeasuredRow } from "./measure.js";
import type { Line, SideResult } from "./row.js";

/** What the figures were measured on. */
export interface Machine {
  readonly cores: number;
  readonly processor: string;
  readonly node: string;
  readonly python: string | null;
  readonly day: string;
  readonly size: string;
  /** Programs that ran or waited to run, on average of a minute, before and after. */
  readonly load: readonly [number, number];
}

/** The table as text. */
export function drawRows(machine: Machine, measured: readonly MeasuredRow[]): string {
  const table = new CliTable({
    head: ["row", "siltbook", "alternative", "value", "target", "met", "peak MB: siltbook", "alternative"],
    style: { head: [], border: [] },
  });
  for (const row of measured) {
    if (row.kind === "measured") for (const line of row.lines) table.push([...cellsOf(line)]);
    else table.push([row.row, { colSpan: 7, content: describeWhyNot(row) }]);
  }
  return (
    `${machine.day}, ${machine.size} size, ${machine.cores} cores (${machine.processor}), Node ${machine.node}, ` +
    `${machine.python ?? "no Python"}, load ${machine.load.map((load) => load.toFixed(1)).join(" before and ")} after. ` +
    `Times are medians, with the fastest and the slowest run.\n${table.toString()}\n`
  );
}

/** The table as Markdown, as docs/making/performance.md has it: times by the clock, without their scatter. */
export function asMarkdown(measured: readonly MeasuredRow[]): string {
  const rows = measured.flatMap((row) =>
    row.kind === "measured"
      ? row.lines.map(({ what, ours, other, value, unit, atMost }) => [
          what,
          describeMedian(ours),
          other === undefined ? "" : `${other.side}: ${describeMedian(other)}`,
          `${describeFigure(value)} ${unit}`,
          atMost === undefined ? "none" : `at most ${atMost} ${unit}`,
          atMost === undefined ? "–" : value <= atMost ? "yes" : "**no**",
          [ours, ...(other ? [other] : [])].map(({ peakMb }) => peakMb.toFixed(0)).join(", "),
        ])
      : [[row.row, "", "", describeWhyNot(row), "", "", ""]],
  );
  const head = ["what", "siltbook", "alternative", "value", "target", "met", "peak MB"];
  return [head, head.map(() => "---"), ...rows].map((cells) => `| ${cells.join(" | ")} |\n`).join("");
}

function describeMedian({ median }: SideResult): string {
  return median < 0.1 ? `${describeFigure(median * 1000)} ms` : `${describeFigure(median)} s`;
}

function cellsOf({ what, ours, other, value, unit, atMost }: Line): readonly string[] {
  return [
    what,
    describeTime(ours),
    other === undefined ? "" : `${describeTime(other)}\n${other.side}`,
    `${describeFigure(value)} ${unit}`,
    atMost === undefined ? "" : `at most ${atMost} ${unit}`,
    atMost === undefined ? "" : value <= atMost ? "yes" : "NO",
    ours.peakMb.toFixed(0),
    other === undefined ? "" : other.peakMb.toFixed(0),
  ];
}

function describeTime({ median, seconds, processor }: SideResult): string {
  const [unit, factor] = median < 0.1 ? ["ms", 1000] : ["s", 1];
  const [fastest, slowest] = [seconds[0] as number, seconds.at(-1) as number];
  const say = (value: number) => describeFigure(value * (factor as number));
  return (
    `${say(median)} ${unit} (${say(fastest)} to ${say(slowest)}, n = ${seconds.length})\n` +
    `processor ${say(processor)} ${unit}`
  );
}

function describeFigure(value: number): string {
  return Number(value.toPrecision(3)).toString();
}

function describeWhyNot(row: Exclude<MeasuredRow, { kind: "measured" }>): string {
  return row.kind === "not-measured" ? "not measured" : `THE SIDES DISAGREE: ${row.differences.join("; ")}`;
}

/** A row as plain data, without the answers. */
export function asJson(row: MeasuredRow): object {
  if (row.kind !== "measured") return row;
  const side = ({ answer: _answer, ...rest }: SideResult) => rest;
  return {
    ...row,
    lines: row.lines.map(({ ours, other, ...line }) => ({
      ...line,
      met: line.atMost === undefined ? null : line.value <= line.atMost,
      ours: side(ours),
      other: other === undefined ? null : side(other),
    })),
  };
}
