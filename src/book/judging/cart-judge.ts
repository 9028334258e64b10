import {
  type CircuitCase,
  casesOfCart,
  historyTexts,
  judgeCase,
  onCircuit,
  recordOf,
  type UnreadOfFleet,
  type VerdictOnCircuit,
} from "../../fitness/index.js";
import type { Cart, Sample } from "../../samples/index.js";
import type { Book } from "../book.js";
import { type CaseOutline, cartReader } from "./fleet-of-book.js";
import type { PackedRecord } from "./pack-record.js";

/** The verdicts on the circuits of one cart, and their records as they go into the book. */
export interface CartAnswer {
  readonly cart: string;
  readonly circuits: readonly VerdictOnCircuit[];
  readonly records: readonly PackedRecord[];
}

/** Judges a cart of a fleet; see {@link cartJudge}. */
export type CartJudge = (
  cart: Cart,
  unread: Pick<UnreadOfFleet, "of">,
  samplesWritten: number | undefined,
) => CartAnswer;

/**
 * Judges one cart after the other from an open book; nothing is written.
 *
 * Where all verdicts of a cart would only repeat the last ones, they are taken from these; see `unchangedVerdicts`.
 *
 * @returns judges a cart, given the last entry that wrote a sample of it; without that entry in full
 */
export function cartJudge(book: Book, outline: CaseOutline, on: string): CartJudge {
  const casesOfOne = cartReader(book, outline, on);
  const { document } = outline;
  const unchangedOf = book.unchangedVerdicts(document, on);
  const unchanged = (
    cart: Cart,
    unread: Pick<UnreadOfFleet, "of">,
    samplesWritten: number,
  ): CartAnswer | undefined => {
    const cases = casesOfCart(cart, unread, { requirements: document.systems, samples: [], on });
    const found = unchangedOf(cases, samplesWritten);
    return (
      found && {
        cart: cart.cart,
        circuits: found.map(({ verdict }, place) => onCircuit(cases[place] as CircuitCase, verdict)),
        records: found.map(({ record }) => record),
      }
    );
  };
  return (cart, unread, samplesWritten) => {
    const known = samplesWritten === undefined ? undefined : unchanged(cart, unread, samplesWritten);
    if (known !== undefined) return known;
    const cases = casesOfOne(cart, unread);
    const circuits = cases.map(judgeCase);
    const historyOf = rememberedTexts();
    const records = cases.map((input, index) =>
      recordOf(input, (circuits[index] as VerdictOnCircuit).verdict, outline.document, historyOf),
    );
    return { cart: cart.cart, circuits, records: book.packVerdicts(records) };
  };
}

/** Writes a history once, though the record of every circuit of its cart holds it. */
function rememberedTexts(): (samples: readonly Sample[]) => readonly string[] {
  const known = new Map<readonly Sample[], readonly string[]>();
  return (samples) => {
    const texts = known.get(samples) ?? historyTexts(samples);
    known.set(samples, texts);
    return texts;
  };
}
