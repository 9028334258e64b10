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
 *
 * @param under - the file that the line above names; its name is not repeated
 */
export function describeKinds(rows: readonly QuarantinedRow[], under?: string): string {
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
  const said = inOrder.slice(0, MAX_KINDS).map((kind) => withoutFile(describeKind(kind), under));
  const more = inOrder.slice(MAX_KINDS).flat().length;
  return indented([...said, ...(more > 0 ? [`and ${formatHowMany(more, "row")} of other kinds`] : [])]);
}

function withoutFile(said: string, file: string | undefined): string {
  return file !== undefined && said.startsWith(`${file} row`) ? said.slice(file.length + 1) : said;
}

function describeKind(issues: readonly IntakeIssue[]): string {
  const [first, ...like] = issues as [IntakeIssue, ...IntakeIssue[]];
  if (like.length === 0) return describeIssue(first);
  const named = describePlaces(like.slice(0, MAX_LIKE).map(({ row }) => row)).replace("row ", "rows ");
  const more = like.length > MAX_LIKE ? ` and ${like.length - MAX_LIKE} more` : "";
  return `${describeIssue(first)}; the same in ${like.length === 1 ? describePlaces([(like[0] as IntakeIssue).row]) : named}${more}`;
}

/** Lines below a sentence, as wide as a terminal at most. */
export function indented(lines: readonly string[], by = 0): string {
  return drawList(lines.map((line) => [" ".repeat(by), [line]]));
}

/** "1 row waits for a person", "2 rows of the book wait for a person". */
export function describeWaiting(rows: number, of = ""): string {
  const what = `${formatHowMany(rows, "row")}${of === "" ? "" : ` ${of}`}`;
  return `${what} ${rows === 1 ? "waits" : "wait"} for a person`;
}

/** The command that shows the rows that wait, and how to settle them. */
export function howToSettle(book: string): string {
  return `To settle: siltbook quarantine --book ${asShellWord(book)}\n`;
}
