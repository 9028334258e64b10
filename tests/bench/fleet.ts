// Row "fleet": every circuit of a book judged, for two sizes of fleet, and again on the next morning.
import { createHash } from "node:crypto";
import { copyFileSync } from "node:fs";
import { join } from "node:path";
import type * as BookRoom from "../../src/book/index.js";
import type * as Judging from "../../src/book/judging/fleet-of-book.js";
import type * as Fitness from "../../src/fitness/index.js";
import type * as Intake from "../../src/intake/index.js";
import { JUDGED_ON, makeBook, NEXT_MORNING, newsOf, SAMPLES_OF_A_CIRCUIT } from "./fleet-book.js";
import { type Answered, type BenchRow, Clock, ratioLine, type SideResult, timeLine } from "./row.js";

const dist = (module: string) => new URL(`../../dist/${module}/index.js`, import.meta.url).href;
const { Book, judgeBook, readFleetOfBook, readFleetOutline }: typeof BookRoom = await import(dist("book"));
const { bytesInMemory }: typeof Intake = await import(dist("intake"));
const { judgeCarts, judgeCircuit, unreadOfFleet }: typeof Fitness = await import(dist("fitness"));
const { cartReader }: typeof Judging = await import(
  new URL("../../dist/book/judging/fleet-of-book.js", import.meta.url).href
);

interface Job {
  readonly few: Fleet;
  readonly many: Fleet;
  /** The larger fleet after it was judged, with results of one cart in ten that came since. */
  readonly next: Fleet;
}

interface Fleet {
  readonly book: string;
  readonly carts: number;
}

async function prepare(folder: string, quick: boolean): Promise<Job> {
  const fleet = (carts: number): Fleet => ({ book: join(folder, `${carts}.siltbook`), carts });
  const [few, many] = [fleet(quick ? 50 : 1000), fleet(quick ? 200 : 5000)];
  for (const { book, carts } of [few, many]) makeBook(book, carts);
  return { few, many, next: await afterADay(many) };
}

async function afterADay({ book: path, carts }: Fleet): Promise<Fleet> {
  const next = `${path}.next`;
  copyFileSync(path, next);
  for await (const _ of judgeBook(next, readFleetOutline(next), JUDGED_ON));
  const book = Book.open(next);
  await book.takeIn(bytesInMemory("news.csv", new TextEncoder().encode(newsOf(carts))), { today: JUDGED_ON });
  book.close();
  return { book: next, carts };
}

/** Makes one check sum of all verdicts. There is no first run to be left out: the book is read once. */
async function judged(
  verdicts: (add: (verdict: Fitness.Verdict) => void) => void | Promise<void>,
): Promise<Answered> {
  const sum = createHash("sha256");
  const tally: Record<string, number> = {};
  const clock = new Clock();
  await verdicts((verdict) => {
    sum.update(`${verdict.cart} ${verdict.circuit} ${verdict.verdict} ${verdict.outlook?.nextSampleBy}\n`);
    tally[verdict.verdict] = (tally[verdict.verdict] ?? 0) + 1;
  });
  const { seconds, processor } = clock.read();
  return { seconds: [seconds], processor: [processor], answer: { sum: sum.digest("hex"), tally } };
}

/** As `siltbook fleet` does: by a thread for each processor, and every verdict is kept with its record. */
function keptInBook({ book }: Fleet, on = JUDGED_ON, isInFull = false): Promise<Answered> {
  // A verdict that is in the book already is not kept again, so each run has a book of its own.
  const copy = `${book}.copy`;
  copyFileSync(book, copy);
  return judged(async (add) => {
    const { lastChange, ...outline } = readFleetOutline(copy);
    const known = isInFull || lastChange === undefined ? outline : { ...outline, lastChange };
    for await (const circuits of judgeBook(copy, known, on)) {
      for (const { verdict } of circuits) add(verdict);
    }
  });
}

function inOneThread({ book: path }: Fleet): Promise<Answered> {
  return judged((add) => {
    const outline = readFleetOutline(path);
    const book = Book.open(path);
    const read = cartReader(book, outline, JUDGED_ON);
    const unread = unreadOfFleet(outline.unread, outline.carts, outline.knownCarts);
    for (const cart of outline.carts) for (const input of read(cart, unread)) add(judgeCircuit(input));
    book.close();
  });
}

function allAtOnce({ book }: Fleet): Promise<Answered> {
  return judged((add) => {
    for (const { verdict } of judgeCarts({ ...readFleetOfBook(book), on: JUDGED_ON })) add(verdict);
  });
}

const FEW = "siltbook, the smaller fleet";
const ONE_THREAD = "siltbook, the smaller fleet in one thread, nothing kept";
const AT_ONCE = "siltbook, the smaller fleet held in memory whole, nothing kept";

const MORNING = "siltbook, the next morning";
const IN_FULL = "siltbook, the next morning, judged in full";

export const fleet: BenchRow<Job> = {
  name: "fleet",
  rounds: 3,
  prepare,
  sides: [
    { name: FEW, run: ({ few }) => keptInBook(few) },
    { name: ONE_THREAD, run: ({ few }) => inOneThread(few) },
    { name: AT_ONCE, run: ({ few }) => allAtOnce(few) },
    { name: MORNING, run: ({ next }) => keptInBook(next, NEXT_MORNING) },
    { name: IN_FULL, run: ({ next }) => keptInBook(next, NEXT_MORNING, true) },
    { name: "siltbook", run: ({ many }) => keptInBook(many) },
  ],
  disagreements(result, { many }) {
    const answer = (side: string) =>
      result(side).answer as { readonly sum: string; readonly tally: Record<string, number> };
    const judgedCircuits = Object.values(answer("siltbook").tally).reduce((sum, count) => sum + count, 0);
    return [
      ...[FEW, ONE_THREAD]
        .filter((side) => answer(side).sum !== answer(AT_ONCE).sum)
        .map((side) => `${side}: judged differently from all at once`),
      ...(answer(MORNING).sum === answer(IN_FULL).sum ? [] : [`${MORNING}: judged differently from in full`]),
      ...(judgedCircuits === 2 * many.carts ? [] : [`${judgedCircuits} circuits were judged`]),
    ];
  },
  lines(result, { few, many }) {
    const perCart = (side: SideResult, { carts }: Fleet): SideResult => ({
      ...side,
      side: `${side.side}, time of ${many.carts} carts at its pace`,
      seconds: side.seconds.map((seconds) => (seconds * many.carts) / carts),
      median: (side.median * many.carts) / carts,
      processor: (side.processor * many.carts) / carts,
    });
    const samples = (2 * many.carts * SAMPLES_OF_A_CIRCUIT) / 1e6;
    const ours = result("siltbook");
    return [
      timeLine(
        `verdicts on ${many.carts} carts, two circuits each, ${samples} million samples, kept in the book`,
        ours,
        "s",
        60,
      ),
      ratioLine(`the same, held against ${few.carts} carts: linear`, ours, perCart(result(FEW), few), 1.2),
      {
        what: `peak memory, held against ${few.carts} carts: bounded`,
        ours,
        other: result(FEW),
        value: ours.peakMb / result(FEW).peakMb,
        unit: "×",
        atMost: 1.5,
      },
      {
        what: `processor time of the next morning, one of ten carts with new results, and of judging all ${many.carts} carts in full`,
        ours: result(MORNING),
        other: result(IN_FULL),
        value: result(MORNING).processor / result(IN_FULL).processor,
        unit: "×",
        atMost: 0.25,
      },
      {
        what: `${few.carts} carts one by one in one thread, and held in memory whole`,
        ours: result(ONE_THREAD),
        other: result(AT_ONCE),
        value: result(ONE_THREAD).median / result(AT_ONCE).median,
        unit: "×",
      },
      {
        what: `${few.carts} carts by all threads with their records kept, and in one thread with nothing kept`,
        ours: result(FEW),
        other: result(ONE_THREAD),
        value: result(FEW).median / result(ONE_THREAD).median,
        unit: "×",
      },
    ];
  },
};
