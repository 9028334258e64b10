import { describeIssue, IntakeError, shown } from "../checks/issue.js";
import type { EntryOrSkipped } from "./entry.js";
import type { Fate, Onlooker } from "./fates.js";

/** Rows without a sample after which a file is looked at as a whole. Common practice, no source. */
const MIN_UNREAD = 5000;
/** A table of which a smaller share of the rows is read is no table of samples. Common practice, no source. */
const MIN_READ_SHARE = 0.01;

/**
 * Stops a file of which nearly no row can be read: its titles do not fit its rows, or it is no table of samples. Its cause
 * is said once, where thousands of rows in quarantine would hide it.
 *
 * It is looked for from row to row, so the rows that were read before are not taken either: no part of a file vanishes while
 * another part is judged. Rows of samples that are not complete yet count as read.
 */
export class ReadableShare implements Onlooker {
  #rows = 0;
  #unread = 0;
  #first: Fate | undefined;

  constructor(private readonly file: string) {}

  /** Counts the rows of samples, and the lines of text among them, as they come. */
  see(item: EntryOrSkipped): void {
    if ("entry" in item) this.#rows += item.entry.rows.length;
    else if (item.skipped.why === "footer") this.#rows += 1;
  }

  /**
   * Counts what became of a row.
   *
   * @throws IntakeError when nearly none of the rows so far could be read
   */
  after(fate: Fate): Fate {
    if (fate.kind === "sample" || (fate.kind === "not-a-sample" && fate.row.why !== "footer")) return fate;
    this.#first ??= fate;
    this.#unread += 1;
    const read = this.#rows - this.#unread;
    if (this.#unread < MIN_UNREAD || !(read < MIN_READ_SHARE * this.#rows)) return fate;
    const none =
      read > 0 ? `only ${read} of the first ${this.#rows} rows` : `none of the first ${this.#rows} rows`;
    throw new IntakeError(
      `${this.file}: expected a table of samples, and ${none} could be read as one; nothing was taken. ` +
        `The first that could not: ${describeFirst(this.#first)}. ` +
        "Correct the titles or the rows, or save the rows of samples as a file of their own",
    );
  }
}

function describeFirst(fate: Fate): string {
  if (fate.kind === "quarantined") {
    const [issue] = fate.row.issues;
    if (issue !== undefined) return describeIssue(issue);
  }
  return fate.kind === "sample" ? "" : `row ${fate.row.row} is a line of text, "${shown(fate.row.text)}"`;
}
