// A fleet that is judged from what changed since its last verdicts is the fleet judged in full: to the last byte of the answer
// and of every record, whatever came into the book between two mornings.
import { mkdtempSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { expect, test } from "vitest";
import { Book, judgeBook, readFleetOutline } from "../../src/book/index.js";
import { dayAfter } from "../../src/fitness/days.js";
import { bytesInMemory } from "../../src/intake/index.js";
import { inFull, judgedFleet, recordsIn } from "../support/book/judged-fleet.js";
import { circuitNamed, HEADER, requirementsWith } from "../support/book/main-system.js";
import { runs } from "../support/runs.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const START = "2026-02-01";
const CARTS = ["C-1", "C-2", "C-12", "D-3"];
const PERSON = { person: "A. Person", reason: "looked at the report" };

/** A row as a laboratory writes it: of a circuit, of a cart that is not known, of none, or with a result that is no number. */
const row = fc.record({
  number: fc.integer({ min: 0, max: 12 }),
  cart: fc.constantFrom(...CARTS, ...CARTS, "c 1", "X-9", ""),
  circuit: fc.constantFrom("fore", "aft"),
  age: fc.integer({ min: 0, max: 12 }),
  count: fc.constantFrom(700, 900, 1300, 2500),
  water: fc.constantFrom("90", "120", "180", "260", "damp"),
});

const step = fc.oneof(
  {
    weight: 5,
    arbitrary: fc.record({
      kind: fc.constant("samples" as const),
      rows: fc.array(row, { minLength: 1, maxLength: 3 }),
    }),
  },
  {
    weight: 7,
    arbitrary: fc.record({
      kind: fc.constant("other" as const),
      what: fc.constantFrom(
        ...([
          "withdraw",
          "import-again",
          "hold",
          "lift",
          "decide-row",
          "requirement",
          "event",
          "state",
        ] as const),
        ...(["cart-gone", "cart-back", "other-base", "judged-alone", "another-book"] as const),
      ),
      pick: fc.nat({ max: 20 }),
    }),
  },
);
type Step = typeof step extends fc.Arbitrary<infer T> ? T : never;

const seasons = fc.array(
  fc.record({ news: fc.array(step, { maxLength: 2 }), days: fc.constantFrom(1, 1, 1, 2, 9, 25, 0, -2) }),
  { minLength: 3, maxLength: 7 },
);

/** A book with what its carts file and its laboratory files say, so that they can be changed. */
class Base {
  readonly path: string;
  readonly #book: Book;
  readonly #files: (readonly [string, string])[] = [];
  readonly #more = new Map<string, object>();
  #gone = 0;
  #others: string[] = [];
  #water = 200;
  #copies = 0;

  constructor(readonly own: string) {
    this.path = join(own, "a.siltbook");
    this.#book = Book.open(this.path, { create: true });
    this.#keepCarts();
    this.#keepRequirement();
  }

  #keepCarts(): void {
    const carts = CARTS.slice(0, CARTS.length - this.#gone).map((cart) => ({
      cart,
      circuits: ["fore", "aft"].map((circuit) => circuitNamed(circuit, this.#more.get(`${cart} ${circuit}`))),
    }));
    this.#book.keepCarts("carts.json", JSON.stringify({ carts, otherCarts: this.#others }));
  }

  #keepRequirement(): void {
    this.#book.keepRequirements(
      "requirement.json",
      JSON.stringify(requirementsWith({ waterPpmMax: this.#water, cartState: { ageDaysMax: 60 } })),
    );
  }

  async do(news: Step, on: string): Promise<void> {
    if (news.kind === "samples") {
      const rows = news.rows.map(
        ({ number, cart, circuit, age, count, water }) =>
          `S-${number},${cart},${circuit},${dayAfter(on, -age)},MIL-PRF-83282,${count},200,30,${water},0.1`,
      );
      this.#files.push([`lab-${this.#files.length}.csv`, [HEADER, ...rows].join("\n")]);
      await this.#takeIn(this.#files.at(-1), on);
      return;
    }
    const { what, pick } = news;
    const [cart, circuit] = [CARTS[pick % CARTS.length] as string, pick % 3 === 0 ? "fore" : "aft"];
    const some = <T>(all: readonly T[]) => all[pick % Math.max(1, all.length)];
    try {
      switch (what) {
        case "withdraw": {
          const file = some(this.#book.files());
          if (file !== undefined) this.#book.withdraw(file, PERSON);
          return;
        }
        case "import-again":
          return await this.#takeIn(some(this.#files), on);
        case "hold": {
          const last = this.#book.verdicts({ cart, circuit }).at(-1);
          if (last !== undefined) this.#book.override(last.id, { ...PERSON, decision: "do-not-connect" });
          return;
        }
        case "lift":
          this.#book.lift(cart, circuit, PERSON);
          return;
        case "decide-row": {
          const waiting = some(this.#book.quarantine());
          if (waiting !== undefined)
            this.#book.decideRows([waiting.id], { ...PERSON, decision: "discarded" });
          return;
        }
        case "requirement":
          this.#water = this.#water === 200 ? 150 : 200;
          return this.#keepRequirement();
        case "event": {
          const kind = some(["element-change", "opening", "fluid-change", "circulation"] as const);
          const event = {
            kind,
            on: dayAfter(on, (pick % 5) - 2),
            ...(kind === "circulation" && { minutes: 20 }),
          };
          this.#more.set(`${cart} ${circuit}`, { events: [event] });
          return this.#keepCarts();
        }
        case "state": {
          const sound = { indicator: "clear", level: "normal", temperature: "normal", seals: "sound" };
          this.#more.set(`${cart} ${circuit}`, { state: { on, ...sound } });
          return this.#keepCarts();
        }
        case "cart-gone":
          this.#gone = 1;
          return this.#keepCarts();
        case "cart-back":
          this.#gone = 0;
          return this.#keepCarts();
        case "other-base":
          this.#others = this.#others.length === 0 ? ["X-9"] : [];
          return this.#keepCarts();
        case "judged-alone": {
          // As a command does that judges one cart: kept, and not by judging the fleet.
          const outline = readFleetOutline(this.path);
          const carts = outline.carts.filter((one) => one.cart === cart);
          for await (const _ of judgeBook(this.path, { ...inFull(outline), carts }, on));
          return;
        }
        case "another-book":
          return await this.#bringIn(cart, on);
      }
    } catch (error) {
      // Some of it cannot be done as the book stands, and then nothing of it is in the book.
      expect((error as Error).name).toMatch(/^(BookError|IntakeError)$/);
    }
  }

  async #takeIn(file: readonly [string, string] | undefined, today: string): Promise<void> {
    if (file !== undefined)
      await this.#book.takeIn(bytesInMemory(file[0], new TextEncoder().encode(file[1])), { today });
  }

  async #bringIn(cart: string, on: string): Promise<void> {
    const path = join(this.own, `other-${this.#files.length}-${on}.siltbook`);
    const other = Book.open(path, { create: true });
    try {
      other.keepCarts("carts.json", JSON.stringify({ carts: [{ cart, circuits: [circuitNamed("fore")] }] }));
      const line = `B-1,${cart},fore,${on},MIL-PRF-83282,2500,200,30,90,0.1`;
      await other.takeIn(bytesInMemory("b.csv", new TextEncoder().encode([HEADER, line].join("\n"))), {
        today: on,
      });
    } finally {
      other.close();
    }
    this.#book.bringIn(path, { sameCarts: "all", today: on });
  }

  /** @returns a copy, to be judged in another way */
  backup(): string {
    this.#copies += 1;
    const copy = join(this.own, `${this.#copies}.siltbook`);
    this.#book.backup(copy);
    return copy;
  }

  close(): void {
    this.#book.close();
  }
}

test("whatever happened between two mornings", async () => {
  let [carts, read] = [0, 0];
  await fc.assert(
    fc.asyncProperty(seasons, async (season) => {
      const base = new Base(mkdtempSync(join(folder, "base-")));
      let on = START;
      try {
        for (const { news, days } of season) {
          on = dayAfter(on, days);
          for (const one of news) await base.do(one, on);
          const copy = base.backup();
          const full = await judgedFleet(copy, on, true);
          const morning = await judgedFleet(base.path, on);
          expect(full.read).toBe(full.carts);
          expect(morning.text).toBe(full.text);
          expect(recordsIn(base.path)).toEqual(recordsIn(copy));
          carts += morning.carts;
          read += morning.read;
        }
        const book = Book.open(base.path);
        expect(book.verify()).toMatchObject({ fits: true, misfits: [] });
        book.close();
      } finally {
        base.close();
      }
    }),
    { numRuns: runs(6) },
  );
  // Many were not judged again, and many had to be.
  expect(read).toBeLessThan(0.7 * carts);
  expect(read).toBeGreaterThan(0.2 * carts);
});
