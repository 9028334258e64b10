import { type CheckedStatement, statementStands } from "../signing/checked-statement.js";
import type { BookVerification } from "./verify.js";

/**
 * Whether nothing speaks against a book: all is as it was written, every verdict is computed again with the same answer, and
 * the book contains what it was compared with.
 *
 * @param hasHead - whether it contains a head that was printed; true where none was given
 */
export function bookStands(
  { fits, verdicts }: Pick<BookVerification, "fits" | "verdicts">,
  hasHead: boolean,
  statement: CheckedStatement | undefined,
): boolean {
  return fits && verdicts.otherwise.length === 0 && hasHead && statementStands(statement);
}
