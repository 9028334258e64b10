import { describeOfNoCart, type UnreadResult } from "../../../fitness/index.js";
import { drawLines } from "../../text.js";

/** What stands at the head of every list of verdicts: rows that can be given to no cart. */
export function describeRowsOfNoCart(rows: readonly UnreadResult[]): string {
  return drawLines(describeOfNoCart(rows).map((sentence) => `Not settled: ${sentence}.`));
}

/** The same as the command line prints it in JSON; what is not known is null. */
export function rowsOfNoCartAsJson(rows: readonly UnreadResult[]) {
  return rows.map(({ where, cart, circuit, drawnOn }) => ({
    where,
    cart: cart ?? null,
    circuit: circuit ?? null,
    drawnOn: drawnOn ?? null,
  }));
}
