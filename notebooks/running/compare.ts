import { type CodeCell, codeCells, type Notebook, type Output } from "./notebook-file.js";

/**
 * Compares the outputs that a notebook was committed with to fresh ones.
 *
 * Only the outputs are compared: execution counts, ids and metadata say nothing about the result.
 *
 * @param committed - the notebook as read
 * @param fresh - the same notebook after running it
 * @returns a readable difference for each cell that shows something else; empty when all are equal
 */
export function compareOutputs(committed: Notebook, fresh: Notebook): string[] {
  const freshCells = codeCells(fresh);
  return codeCells(committed).flatMap((cell, index) => {
    const difference = firstDifference(linesShown(cell), linesShown(freshCells[index]));
    return difference === undefined ? [] : [`${formatCell(cell)}: ${difference}`];
  });
}

/** Names a cell as a person finds it: by its id and its first line. */
export function formatCell(cell: CodeCell): string {
  return `cell "${cell.id}" (${cell.source.split("\n", 1)[0]})`;
}

function linesShown(cell: CodeCell | undefined): string[] {
  return (cell?.outputs ?? []).flatMap(describeOutput).flatMap((text) => text.split("\n"));
}

function describeOutput(output: Output): string[] {
  if (output.output_type === "stream") return [`[${output.name}]`, output.text];
  return Object.entries(output.data).flatMap(([type, text]) => [`[${type}]`, text]);
}

const SHOWN = 160;

function firstDifference(committed: readonly string[], fresh: readonly string[]): string | undefined {
  const length = Math.max(committed.length, fresh.length);
  const line = Array.from({ length }, (_, at) => at).find((at) => committed[at] !== fresh[at]);
  if (line === undefined) return undefined;
  const [before = "", after = ""] = [committed[line], fresh[line]];
  // Long lines, such as pictures, are shown from shortly before the place where they part.
  const parting = [...before].findIndex((_, at) => before[at] !== after[at]);
  const from = Math.max(0, (parting === -1 ? before.length : parting) - 40);
  const part = (text: string | undefined) =>
    text === undefined ? "(nothing)" : `${from > 0 ? "…" : ""}${text.slice(from, from + SHOWN)}`;
  return `output line ${line + 1} differs\n  committed: ${part(committed[line])}\n  fresh:     ${part(fresh[line])}`;
}
