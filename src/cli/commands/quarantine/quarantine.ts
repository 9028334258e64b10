import { Book, type KeptQuarantinedRow, type SettledRow } from "../../../book/index.js";
import { describeIssue, isTableInDoubt } from "../../../intake/index.js";
import { describeOrigin } from "../../../provenance/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { asInBook } from "../../named-circuit.js";
import { formatHowMany } from "../../text.js";
import { describeWaiting, indented } from "../../waiting-rows.js";
import { whoDoesIt } from "../../who.js";

/** Options of `siltbook quarantine`. */
export interface QuarantineOptions {
  readonly book: string;
  readonly cart?: string;
  readonly circuit?: string;
  readonly all?: boolean;
  readonly settle?: readonly string[];
  readonly discard?: readonly string[];
  readonly reopen?: readonly string[];
  readonly reason?: string;
  readonly by?: string;
  readonly json?: boolean;
}

/** Lists the rows of the book that wait for a person, or keeps what a person decided about some of them. */
export function runQuarantine(options: QuarantineOptions, io: Io): ExitCode {
  const book = Book.open(options.book);
  try {
    const decided = decide(book, options);
    const named = asInBook(book, options);
    const open = book.quarantine(named);
    const settled = options.all ? book.settledRows(named) : [];
    if (options.json)
      printJson(
        io,
        answerOf("quarantine", {
          open: open.map(asJson),
          settled: settled.map(asJson),
          decided: decided.map(({ id }) => id),
        }),
      );
    else {
      io.out(
        [
          ...decided.map((row) => `Kept for ${row.id}, ${describeOrigin({ ...row, rows: [row.row] })}.\n`),
          `${open.length === 0 ? "No row waits for a person" : describeWaiting(open.length)}.\n`,
          ...open.map(formatRow),
          ...(settled.length === 0
            ? []
            : [
                `${formatHowMany(settled.length, "row")} ${settled.length === 1 ? "waits" : "wait"} no longer:\n`,
              ]),
          ...settled.map(formatRow),
          ...(open.length === 0 ? [] : [HOW_TO_SETTLE]),
        ].join(""),
      );
    }
    return open.length === 0 ? 0 : 1;
  } finally {
    book.close();
  }
}

const HOW_TO_SETTLE = `Correct a row in the laboratory's file and import that again, or write it out
with import --quarantine, correct it there and feed it back. A row that needs no
correction is settled, and one that is no result is discarded, by name and with
a reason; verdicts that it may concern say so:
  siltbook quarantine --book FILE --settle ID --by "A. Person" --reason "why"
  siltbook quarantine --book FILE --discard ID --by "A. Person" --reason "why"
`;

const DECISIONS = { settle: "settled", discard: "discarded", reopen: "reopened" } as const;

function decide(book: Book, options: QuarantineOptions): KeptQuarantinedRow[] {
  const chosen = (Object.keys(DECISIONS) as (keyof typeof DECISIONS)[]).filter(
    (name) => options[name] !== undefined,
  );
  const [name, another] = chosen;
  const { reason } = options;
  if (name === undefined) {
    if (options.by === undefined && reason === undefined) return [];
    throw new UsageError("--by, --reason: expected --settle, --discard or --reopen with the name of a row");
  }
  if (another !== undefined) throw new UsageError(`--${name}, --${another}: expected one of them at a time`);
  const by = whoDoesIt(options.by);
  if (by === undefined) throw new UsageError(`--${name}: expected who decides (--by)`);
  if (reason === undefined) throw new UsageError(`--${name}: expected why (--reason)`);
  return book.decideRows(options[name] ?? [], { decision: DECISIONS[name], person: by, reason });
}

function asJson<R extends KeptQuarantinedRow>({
  reported: _reported,
  cameFrom: _cameFrom,
  issues,
  ...row
}: R) {
  return { ...row, issues: issues.map((issue) => ({ ...issue, message: describeIssue(issue) })) };
}

/** So much of the text of a row is shown. */
const MAX_TEXT = 72;

function formatRow(row: KeptQuarantinedRow | SettledRow): string {
  const { id, cart, circuit, sample, drawnOn, text, issues } = row;
  const whose = [
    ["cart", cart],
    ["circuit", circuit],
    ["sample", sample],
    ["drawn", drawnOn],
  ] as const;
  const known = whose.flatMap(([what, name]) => (name === undefined ? [] : [`${what} ${name}`])).join(", ");
  const none = isTableInDoubt(row)
    ? "it concerns every circuit that has a sample in its table"
    : "it does not tell whose it is";
  return [
    indented([`${id}  ${describeOrigin({ ...row, rows: [row.row] })}: ${known || none}`]),
    indented(
      [
        ...issues.map(describeIssue),
        text.length > MAX_TEXT ? `${text.slice(0, MAX_TEXT)}…` : text,
        ...describeWhySettled(row),
      ],
      4,
    ),
  ].join("");
}

function describeWhySettled(row: KeptQuarantinedRow | SettledRow): string[] {
  const { decided, replacedBy, ofOtherBase, importedAt, settledAt } = row as SettledRow;
  if (decided !== undefined)
    return [`${decided.decision} by ${decided.person} on ${decided.at.slice(0, 10)}: ${decided.reason}`];
  if (ofOtherBase) return ["of a cart of another base, by the carts file"];
  if (replacedBy === undefined) return [];
  // A file that came in before has the same row, with its fate.
  const isRepeated = settledAt !== undefined && settledAt < importedAt;
  return [isRepeated ? `the same row came first in ${replacedBy}` : `replaced by ${replacedBy}`];
}
