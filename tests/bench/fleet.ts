// Row "fleet": every circuit of a book judged, for two sizes of fleet.
import { createHash } from "node:crypto";
import { join } from "node:path";
import type * as BookRoom from "../../src/book/index.js";
import type * as Fitness from "../../src/fitness/index.js";
import { JUDGED_ON, makeBook, SAMPLES_OF_A_CIRCUIT } from "./fleet-book.js";
import { type Answered, type BenchRow, Clock, ratioLine, type SideResult, timeLine } from "./row.js";

const dist = (room: string) => new URL(`../../dist/${room}/index.js`, import.meta.url).href;
const { casesOfBook, readFleetOfBook }: typeof BookRoom = await import(dist("book"));
const { judgeCarts, judgeCircuit }: typeof Fitness = await import(dist("fitness"));

interface Job {
  readonly few: Fleet;
  readonly many: Fleet;
}

interface Fleet {
  readonly book: string;
  readonly carts: number;
}

function prepare(folder: string, quick: boolean): Job {
  const fleet = (carts: number): Fleet => ({ book: join(folder, `${carts}.siltbook`), carts });
  const job = { few: fleet(quick ? 50 : 1000), many: fleet(quick ? 200 : 5000) };
  for (const { book, carts } of [job.few, job.many]) makeBook(book, carts);
  return job;
}

/** Judges and makes one check sum of all verdicts. There is no first run to be left out: the book is read once. */
function judged(verdicts: (add: (verdict: Fitness.Verdict) => void) => void): Answered {
  const sum = createHash("sha256");
  const tally: Record<string, number> = {};
  const clock = new Clock();
  verdicts((verdict) => {
    sum.update(`${verdict.cart} ${verdict.circuit} ${verdict.verdict} ${verdict.outlook?.nextSampleBy}\n`);
    tally[verdict.verdict] = (tally[verdict.verdict] ?? 0) + 1;
  });
  const { seconds, processor } = clock.read();
  return { seconds: [seconds], processor: [processor], answer: { sum: sum.digest("hex"), tally } };
}

function cartByCart({ book }: Fleet): Answered {
  return judged((add) => {
    for (const cases of casesOfBook(book, JUDGED_ON)) for (const input of cases) add(judgeCircuit(input));
  });
}

function allAtOnce({ book }: Fleet): Answered {
  return judged((add) => {
    for (const { verdict } of judgeCarts({ ...readFleetOfBook(book), on: JUDGED_ON })) add(verdict);
  });
}

const FEW = "siltbook, the smaller fleet";
const AT_ONCE = "siltbook, the smaller fleet held in memory whole";

export const fleet: BenchRow<Job> = {
  name: "fleet",
  rounds: 3,
  prepare,
  sides: [
    { name: FEW, run: ({ few }) => cartByCart(few) },
    { name: AT_ONCE, run: ({ few }) => allAtOnce(few) },
    { name: "siltbook", run: ({ many }) => cartByCart(many) },
  ],
  disagreements(result, { many }) {
    const answer = (side: string) =>
      result(side).answer as { readonly sum: string; readonly tally: Record<string, number> };
    const judgedCircuits = Object.values(answer("siltbook").tally).reduce((sum, count) => sum + count, 0);
    return [
      ...(answer(FEW).sum === answer(AT_ONCE).sum ? [] : ["cart by cart and all at once judge differently"]),
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
        `verdicts on ${many.carts} carts, two circuits each, ${samples} million samples`,
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
        what: `${few.carts} carts one by one, and held in memory whole`,
        ours: result(FEW),
        other: result(AT_ONCE),
        value: result(FEW).median / result(AT_ONCE).median,
        unit: "×",
      },
    ];
  },
};
