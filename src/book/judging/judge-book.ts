import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import {
  standingAdder,
  type UnreadOfFleet,
  type UnreadResult,
  unreadOfFleet,
  type VerdictOnCircuit,
} from "../../fitness/index.js";
import type { Cart } from "../../samples/index.js";
import { Book } from "../book.js";
import { BookError } from "../storage/database.js";
import { type CartAnswer, cartJudge } from "./cart-judge.js";
import type { FleetOutline } from "./fleet-of-book.js";
import type { ThreadAnswer, ThreadJob, ThreadTask } from "./judging-thread.js";
import type { KeptInput, PackedRecord } from "./pack-record.js";
import type { SamplesWritten } from "./samples-written.js";
import type { ComparedVerdict, KeptVerdict } from "./verdicts.js";

/** A verdict with how it was kept, and that of the report before. */
export interface JudgedInBook extends VerdictOnCircuit {
  /** Absent for a what-if; see `FleetOutline`. */
  readonly kept?: KeptVerdict;
  readonly before?: KeptVerdict;
}

/** The verdicts of this many carts are written together, because every write waits for the disk. */
export const KEPT_TOGETHER = 32;
/** Fewer carts are judged before threads have begun. */
const MIN_FOR_THREADS = 64;
const MAX_THREADS = 8;
/** Space for what lives no longer than the judging of a cart or two: with the usual half of it more is looked through in vain. */
const YOUNG_MB = 96;
/** So many carts wait at each thread, so that it never waits for them. */
const CARTS_WAITING = 4;

/**
 * Judges every circuit of a book and keeps the verdicts in it, cart by cart: memory does not grow with the fleet.
 *
 * A large fleet is judged by several threads, one for each processor. When it is stopped, the verdicts of whole carts are in
 * the book, and judging again goes on from there.
 *
 * @param path - the book
 * @param outline - carts and requirements to judge by; see `readFleetOutline`
 * @param on - the day of judging, as ISO 8601 calendar day
 * @param since - a day to compare with: the last verdict judged for it or before; otherwise the report before
 * @returns the verdicts cart by cart, in the order of the carts
 * @throws BookError when the book cannot be read or written
 * @throws RangeError naming a sample of the book that cannot be read
 */
export async function* judgeBook(
  path: string,
  outline: FleetOutline,
  on: string,
  since?: string,
): AsyncGenerator<readonly JudgedInBook[]> {
  const book = Book.open(path);
  try {
    const addStanding = standingAdder(outline.decisions);
    const keep = (answers: readonly CartAnswer[]) => kept(book, answers, addStanding, outline, since);
    let waiting: CartAnswer[] = [];
    for await (const answer of answersOf(book, outline, on)) {
      waiting.push(answer);
      if (waiting.length < KEPT_TOGETHER) continue;
      yield* keep(waiting);
      waiting = [];
    }
    yield* keep(waiting);
  } finally {
    book.close();
  }
}

/** The circuits of one cart with the records of their verdicts, which are not in the book yet. */
export interface CartToKeep {
  readonly cart: string;
  readonly circuits: readonly JudgedInBook[];
  readonly records: readonly PackedRecord[];
}

/**
 * Judges some carts of a fleet as {@link judgeBook} does, and writes nothing: the caller keeps the records.
 *
 * @param book - open for reading
 * @param outline - of the whole fleet, by which rows that could not be read are given to carts
 * @param carts - those to judge
 * @param since - see {@link judgeBook}
 * @returns the carts in their order, each compared with the verdict that it will be compared with once it is kept
 */
export async function* judgeWithoutKeeping(
  book: Book,
  outline: FleetOutline,
  carts: readonly Cart[],
  { on, since }: { readonly on: string; readonly since?: string | undefined },
): AsyncGenerator<CartToKeep> {
  const addStanding = standingAdder(outline.decisions);
  for await (const { cart, circuits, records } of answersOf(book, outline, on, carts)) {
    const before = records.map((record) => {
      const id = outline.isKept ? book.verdictNumber(record) : undefined;
      return book.verdictBefore({ ...compared(record), ...(id !== undefined && { id }) }, since);
    });
    yield {
      cart,
      circuits: circuits.map((circuit, place) => ({
        ...addStanding(circuit),
        ...(before[place] && { before: before[place] }),
      })),
      records: outline.isKept ? records : [],
    };
  }
}

function compared({ inputs, ...record }: PackedRecord): ComparedVerdict {
  return { ...record, inputs: JSON.parse(inputs) as KeptInput[] };
}

function kept(
  book: Book,
  answers: readonly CartAnswer[],
  addStanding: ReturnType<typeof standingAdder>,
  outline: FleetOutline,
  since: string | undefined,
): JudgedInBook[][] {
  const records = keptRecords(
    book,
    answers.flatMap(({ records }) => records),
    { isKept: outline.isKept, since, judgedFrom: judgedFromOf(outline) },
  );
  let place = 0;
  return answers.map(({ circuits }) =>
    circuits.map((circuit) => ({ ...addStanding(circuit), ...records[place++] })),
  );
}

/** Keeps verdicts, unless they are a what-if, and finds for each the earlier one that it is compared with. */
export function keptRecords(
  book: Book,
  records: readonly PackedRecord[],
  {
    isKept,
    since,
    judgedFrom,
  }: {
    readonly isKept: boolean;
    readonly since?: string | undefined;
    /** See `Book.keepPacked`. */
    readonly judgedFrom?: number | undefined;
  },
): { readonly kept?: KeptVerdict; readonly before?: KeptVerdict }[] {
  const verdicts: readonly ComparedVerdict[] = isKept
    ? book.keepPacked(records, judgedFrom)
    : records.map(compared);
  return verdicts.map((verdict) => {
    const before = book.verdictBefore(verdict, since);
    return { ...(isKept && { kept: verdict as KeptVerdict }), ...(before && { before }) };
  });
}

function answersOf(
  book: Book,
  outline: FleetOutline,
  on: string,
  carts: readonly Cart[] = outline.carts,
): Iterable<CartAnswer> | AsyncIterable<CartAnswer> {
  const { document, unread, knownCarts, asOf } = outline;
  const unreadOf = unreadOfFleet(unread, outline.carts, knownCarts);
  const writtenOf = judgedFromOf(outline) === undefined ? undefined : book.samplesWritten();
  const given: GivenToCart = { unreadOf, writtenOf };
  const threads = Math.min(availableParallelism(), MAX_THREADS);
  if (threads < 2 || carts.length < MIN_FOR_THREADS) return inThisThread(book, outline, carts, given, on);
  return inThreads(
    carts,
    given,
    { document, ...(asOf !== undefined && { asOf }), path: book.path, on },
    threads,
  );
}

/** The last entry that verdicts are judged from; undefined as of a day, where they rest on less. */
function judgedFromOf({ asOf, lastChange }: FleetOutline): number | undefined {
  return asOf === undefined ? lastChange : undefined;
}

/** What all carts have to be known for, or the whole chain. */
interface GivenToCart {
  readonly unreadOf: UnreadOfFleet;
  /** When samples of a cart were written last; undefined where every cart is to be judged in full. */
  readonly writtenOf: SamplesWritten | undefined;
}

function* inThisThread(
  book: Book,
  outline: FleetOutline,
  carts: readonly Cart[],
  { unreadOf, writtenOf }: GivenToCart,
  on: string,
): Generator<CartAnswer> {
  const judge = cartJudge(book, outline, on);
  for (const cart of carts) yield judge(cart, unreadOf, writtenOf?.(cart.cart));
}

/** Hands carts out to threads and gives the answers in the order of the carts. */
async function* inThreads(
  carts: readonly Cart[],
  { unreadOf, writtenOf }: GivenToCart,
  job: ThreadJob,
  threads: number,
): AsyncGenerator<CartAnswer> {
  const answers = new Map<number, { readonly said: ThreadAnswer; readonly by: Worker }>();
  let failure: Error | undefined;
  let wake = () => {};
  let handed = 0;
  const sentTo = new Map<Worker, Map<string, readonly UnreadResult[]>>();
  const handTo = (worker: Worker) => {
    const cart = carts[handed];
    if (cart === undefined) return;
    const sent = sentTo.get(worker) ?? new Map<string, readonly UnreadResult[]>();
    const unread = new Map(
      cart.circuits
        .map(({ circuit }) => [circuit, unreadOf.of(cart.cart, circuit)] as const)
        .filter(([circuit, results]) => sent.get(circuit) !== results),
    );
    for (const [circuit, results] of unread) sent.set(circuit, results);
    sentTo.set(worker, sent);
    const samplesWritten = writtenOf?.(cart.cart);
    worker.postMessage({ place: handed++, cart, unread, samplesWritten } satisfies ThreadTask);
  };
  const workers = Array.from({ length: threads }, () => {
    const worker = new Worker(new URL("./judging-thread.js", import.meta.url), {
      workerData: job,
      resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MB },
    });
    worker.on("message", (said: ThreadAnswer) => {
      answers.set(said.place, { said, by: worker });
      wake();
    });
    worker.on("error", (error) => {
      failure ??= error as Error;
    });
    // Also after an error, and where a thread ends of itself while it is waited for.
    const exit = new Promise<void>((resolve) => {
      worker.once("exit", () => {
        failure ??= new Error("a thread that judges carts ended before its work was done");
        wake();
        resolve();
      });
    });
    return { worker, exit };
  });
  try {
    for (let round = 0; round < CARTS_WAITING; round += 1) for (const { worker } of workers) handTo(worker);
    for (let place = 0; place < carts.length; place += 1) {
      let next = answers.get(place);
      for (; next === undefined; next = answers.get(place)) {
        if (failure !== undefined) throw failure;
        await new Promise<void>((resolve) => {
          wake = resolve;
        });
      }
      const { said, by } = next;
      // What stands before it in the order of the carts has been handed on, whichever thread was quicker.
      if ("failed" in said) throw errorOf(said.failed);
      answers.delete(place);
      // A thread gets its next cart when an answer of its own has been used, so that no more than a few wait.
      handTo(by);
      yield said.answer;
    }
  } finally {
    // Each thread closes the book before it ends.
    for (const { worker } of workers) worker.postMessage("end");
    await Promise.all(workers.map(({ exit }) => exit));
  }
}

/** What a thread could not do, as the kind of error that it was there; any other kind is a fault of siltbook. */
function errorOf({ name, message }: { readonly name: string; readonly message: string }): Error {
  if (name === "BookError") return new BookError(message);
  return name === "RangeError" ? new RangeError(message) : new Error(message);
}
