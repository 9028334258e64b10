import type { UnreadResult } from "../../fitness/index.js";
import { type NamedSample, unreadResults } from "../../intake/index.js";
import { describeOrigin } from "../../provenance/index.js";
import { type Cart, type Origin, wasKnownBy } from "../../samples/index.js";
import type { Book } from "../book.js";
import type { KeptQuarantinedRow, RowDecision, SettledRow } from "../taking-in/open-rows.js";
import type { Withdrawal } from "../taking-in/standing-withdrawals.js";
import { dayOf, quarantineAsOf } from "./known-by.js";

/**
 * What of a book was not read as a sample of some carts, and may be one.
 *
 * @param otherCarts - names of carts of other bases, whose rows are none of these carts
 * @param asOf - only what was known on this day
 */
export function unreadInBook(
  book: Book,
  carts: readonly Cart[],
  otherCarts: readonly string[],
  asOf: string | undefined,
): { readonly quarantine: readonly KeptQuarantinedRow[]; readonly unread: readonly UnreadResult[] } {
  const rows = { open: book.quarantine(), settled: book.settledRows() };
  const { open, settled } = asOf === undefined ? rows : quarantineAsOf(asOf, rows.open, rows.settled);
  // Another carts file may have another list.
  const hidden = settled.filter(({ ofOtherBase }) => ofOtherBase);
  const quarantine = [...open, ...hidden].filter(({ cart = "" }) => !otherCarts.includes(cart));
  const named = book.namedSamples([...quarantine, ...settled]);
  return {
    quarantine,
    unread: [
      ...unreadResults(quarantine, named),
      ...settled.flatMap((row) => decidedResult(row, named)),
      ...book.withdrawals().flatMap((withdrawal) => withdrawnResults(withdrawal, asOf)),
      ...book.samplesOfNoCircuit(carts).filter(({ drawnOn = "" }) => drawnOn <= (asOf ?? drawnOn)),
    ],
  };
}

/** A row that a person decided about; none where a later file took its place. */
function decidedResult({ decided, ...row }: SettledRow, named: readonly NamedSample[]): UnreadResult[] {
  if (decided === undefined) return [];
  return unreadResults([row], named).map((unread) => ({ ...unread, decided: describeDecision(decided) }));
}

/**
 * Samples of a file that was taken back. They block a circuit while another file reports them that has to be imported again,
 * and as of a day before they were taken back: they were known then, and are not read any more.
 */
function withdrawnResults(
  { at, importedAt, reports, ...by }: Withdrawal,
  asOf: string | undefined,
): UnreadResult[] {
  const decided = describeDecision({ decision: "withdrawn", at, ...by });
  const isLater = asOf !== undefined && dayOf(at) > asOf;
  return reports
    .filter(({ sample }) => asOf === undefined || wasKnownBy(asOf, { sample, importedOn: dayOf(importedAt) }))
    .map(({ sample: { cart, circuit, sample, drawnOn, origin }, awaited }) => {
      const [first] = origin as [Origin];
      const where = describeOrigin({ ...first, rows: first.rows.slice(0, 1) });
      const settles = isLater
        ? "it was known on that day: judge as of a later one"
        : awaited && `${awaited} reports it too: import that file again`;
      return {
        ...{ cart, circuit, sample, drawnOn, where },
        ...(settles === undefined ? { decided } : { withdrawn: settles }),
      };
    });
}

function describeDecision({ decision, person, at, reason }: RowDecision): string {
  return `${decision} by ${person} on ${dayOf(at)}: ${reason}`;
}
