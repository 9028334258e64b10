// A thread that judges carts of a book for judgeBook, which hands them to it one by one.
import { type MessagePort, parentPort, workerData } from "node:worker_threads";
import type { UnreadResult } from "../../fitness/index.js";
import { frozen } from "../../provenance/index.js";
import type { Cart } from "../../samples/index.js";
import { Book } from "../book.js";
import { type CartAnswer, cartJudge } from "./cart-judge.js";
import type { CaseOutline } from "./fleet-of-book.js";

/** What a thread is begun with; the carts come one by one, so that not every thread holds all of them. */
export interface ThreadJob extends CaseOutline {
  readonly path: string;
  readonly on: string;
}

/** A cart to judge, with its place among all carts. */
export interface ThreadTask {
  readonly place: number;
  readonly cart: Cart;
  /**
   * What may be a result of each of its circuits, by name: all carts have to be known to tell. A name is left out where it
   * is the same as for the circuit of this name that the thread had last: rows without a cart are one list for a whole fleet.
   */
  readonly unread: ReadonlyMap<string, readonly UnreadResult[]>;
  /** The last entry that wrote a sample of the cart; undefined where it is to be judged in full. */
  readonly samplesWritten: number | undefined;
}

/** What a thread says of the cart with this place. */
export type ThreadAnswer =
  | { readonly place: number; readonly answer: CartAnswer }
  | { readonly place: number; readonly failed: { readonly name: string; readonly message: string } };

if (parentPort !== null) judgeFor(parentPort, workerData as ThreadJob);

function judgeFor(port: MessagePort, job: ThreadJob): void {
  let book: Book | undefined;
  let judge: ReturnType<typeof cartJudge> | undefined;
  const unreadOf = new Map<string, readonly UnreadResult[]>();
  port.on("message", (task: ThreadTask | "end") => {
    if (task === "end") {
      book?.close();
      port.close();
      return;
    }
    // On the way to another thread a list is copied, and its copy can be changed.
    for (const [circuit, results] of task.unread) unreadOf.set(circuit, frozen(results));
    port.postMessage(
      answerOf(task.place, () => {
        book ??= Book.open(job.path, { isChecked: true });
        judge ??= cartJudge(book, job, job.on);
        return judge(task.cart, { of: (_cart, circuit) => unreadOf.get(circuit) ?? [] }, task.samplesWritten);
      }),
    );
  });
}

function answerOf(place: number, judge: () => CartAnswer): ThreadAnswer {
  try {
    return { place, answer: judge() };
  } catch (error) {
    // The kind of an error is lost on the way to another thread.
    const { name, message } = error as Error;
    return { place, failed: { name, message } };
  }
}
