import { describeIssue, type IntakeIssue, type QuarantinedRow } from "../intake/index.js";
import { describePlaces } from "../provenance/index.js";
import { asShellWord } from "./plain-text.js";
import { drawList, formatHowMany } from "./text.js";

/** Most kinds of fault that a short answer shows. */
const MAX_KINDS = 5;

/** Most further rows that are named of one kind. */
const MAX_LIKE = 6;

/**
 * What is wrong with the rows that wait, the commonest first: each kind once, by the first of its rows, with the others.
 *
 * A row is of the kind of its first fault, so that the numbers add up to the rows.
 */
export function describeKinds(rows: readonly QuarantinedRow[]): string {
  const kinds = new Map<string, IntakeIssue[]>();
  for (const { issues } of rows) {
    const [issue] = issues;
    if (issue === undefined) continue;
    const { file, sheet, code, column } = issue;
    const key = JSON.stringify([file, sheet, code, column]);
    const like = kinds.get(key);
    if (like === undefined) kinds.set(key, [issue]);
    else like.push(issue);
  }
  const inOrder = [...kinds.values()].sort((one, other) => other.length - one.length);
  const said = inOrder.slice(0, MAX_KINDS).map(describeKind);
  const more = inOrder.slice(MAX_KINDS).flat().length;
  return indented([...said, ...(more > 0 ? [`and ${formatHowMany(more, "row")} of other kinds`] : [])]);
}

function describeKind(issues: readonly IntakeIssue[]): string {
  const [first, ...like] = issues as [IntakeIssue, ...IntakeIssue[]];
  if (like.length === 0) return describeIssue(first);
  const named = describePlaces(like.slice(0, MAX_LIKE).map(({ row }) => row)).replace("row ", "rows ");
  const more = like.length > MAX_LIKE ? ` and ${like.length - MAX_LIKE} more` : "";
  return `${describeIssue(first)}; likewise ${like.length === 1 ? describePlaces([(like[0] as IntakeIssue).row]) : named}${more}`;
}

/** Lines below a sentence, as wide as a terminal at most. */
export function indented(lines: readonly string[], by = 0): string {
  return drawList(lines.map((line) => [" ".repeat(by), [line]]));
}

/** "1 row waits for a person", "2 rows wait for a person". */
export function describeWaiting(rows: number): string {
  return `${formatHowMany(rows, "row")} ${rows === 1 ? "waits" : "wait"} for a person`;
}

/** How to see and settle the rows that wait. */
export function howToSettle(book: string): string {
  return `to see and settle:\n  siltbook quarantine --book ${asShellWord(book)}\n`;
}
