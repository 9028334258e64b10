import {
  historyTexts,
  judgeCase,
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

/** Judges one cart after the other from an open book; nothing is written. */
export function cartJudge(
  book: Book,
  outline: CaseOutline,
  on: string,
): (cart: Cart, unread: Pick<UnreadOfFleet, "of">) => CartAnswer {
  const casesOfOne = cartReader(book, outline, on);
  return (cart, unread) => {
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
