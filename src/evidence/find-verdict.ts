import { type Book, BookError, type KeptVerdict } from "../book/index.js";
import { findNamed } from "../samples/index.js";

/** Which verdict of a book is meant: by its number, or the last one on a circuit, of a day where one is named. */
export interface VerdictMeant {
  readonly number?: number;
  readonly cart?: string;
  readonly circuit?: string;
  /** The day it was judged for. */
  readonly on?: string;
}

/**
 * The verdict that a person means.
 *
 * @throws BookError when the book has no such verdict, or several circuits may be meant
 */
export function findVerdict(book: Book, { number, cart, circuit, on }: VerdictMeant): KeptVerdict {
  if (number !== undefined) {
    const [verdict] = book.verdicts({ number });
    if (verdict === undefined) throw new BookError(`the book has no verdict number ${number}`);
    return verdict;
  }
  const circuits = book.circuits();
  const name = findNamed([...new Set(circuits.map((one) => one.cart))], (one) => one, cart ?? "");
  if (name === undefined) throw new BookError(`the book has no cart "${cart ?? ""}"`);
  const verdicts = book.verdicts({ cart: name });
  const judged = [...new Set(verdicts.map((one) => one.circuit))];
  const meant = circuit === undefined ? onlyOf(judged) : findNamed(judged, (one) => one, circuit);
  if (meant === undefined) {
    const known = judged.join(", ") || "none";
    throw new BookError(
      circuit === undefined && judged.length > 0
        ? `cart ${name} has verdicts on several circuits; name one: ${known}`
        : `the book has no verdict on cart ${name}${circuit === undefined ? "" : `, circuit "${circuit}"`}; circuits with verdicts: ${known}`,
    );
  }
  const own = verdicts.filter((one) => one.circuit === meant);
  const last = own.findLast((one) => on === undefined || one.on === on);
  if (last !== undefined) return last;
  const days = [...new Set(own.map((one) => one.on))].slice(-MAX_DAYS).join(", ");
  throw new BookError(
    `no verdict on cart ${name}, circuit ${meant}, was judged for ${on}; the last were for ${days}`,
  );
}

const MAX_DAYS = 5;

function onlyOf(names: readonly string[]): string | undefined {
  return names.length === 1 ? names[0] : undefined;
}
