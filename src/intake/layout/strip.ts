import { hasDay } from "./layout.js";
import { isMeasurand, NAMING } from "./meaning.js";
import type { Namer } from "./namer.js";

/** What may stand between a label and its value in one line. */
const BETWEEN = /\s*\.{2,}\s*|\s*[:=]\s*|\s+/g;
/** A number with at most a unit after it, or a word with a figure in it. */
const A_VALUE = /^(?:[<>≤≥] ?)?\d[\d.,]*(?:\s*[\p{L}µ/%(][^\s]*(?:\s\S+)?)?$|^\S*\d\S*$/u;

/** The paper of a counter is narrow; looking for marks in a longer line would grow with its square. */
const MAX_STRIP_LINE = 500;

/**
 * Cuts a line of a strip, such as "SAMPLE 12", "4um(c) 1234.5/mL" or "Cart ...... QB-01", into a label and its value.
 *
 * Where one blank parts them the label must be one that is known, and the value must look like one.
 */
export function stripCells(line: string, name: Namer): string[] {
  const text = line.trim();
  if (text.length > MAX_STRIP_LINE) return [text];
  if (/^[\s=_+*.-]*$/.test(text)) return [""];
  const pieces = text.split(/\s*\.{3,}\s*|\s{2,}/);
  if (pieces.length === 1) return pairIn(text, name) ?? [text];
  const pairs = pieces.flatMap((piece) => pairIn(piece, name) ?? []);
  return pairs.length === pieces.length * 2
    ? pairs
    : pieces.map((piece) => piece.replace(/[:=]$/, "").trimEnd());
}

function pairIn(text: string, name: Namer): string[] | undefined {
  const found = [...text.matchAll(BETWEEN)]
    .map(({ index, 0: mark }) => ({
      label: text.slice(0, index),
      value: text.slice(index + mark.length),
      mark: mark.trim(),
    }))
    .filter(({ label, value, mark }) => label !== "" && value !== "" && isPair(label, value, mark, name));
  const best = found.findLast(({ label }) => name(label).recognition.kind === "known") ?? found[0];
  return best && [best.label, best.value];
}

function isPair(label: string, value: string, mark: string, name: Namer): boolean {
  const { recognition } = name(label);
  if (recognition.kind === "unknown") return false;
  if (recognition.kind === "unsure") return A_VALUE.test(value) || hasDay(value);
  const { holds } = recognition.meaning;
  // "RUN 2" heads the counts below it.
  if (holds === "run") return false;
  const isSaid = mark !== "" || A_VALUE.test(value) || hasDay(value);
  if (isMeasurand(recognition.meaning)) return isSaid;
  const isName = NAMING.some((kind) => kind === holds);
  return isName && (isSaid || ((holds === "cart" || holds === "circuit") && !/\s/.test(value)));
}
