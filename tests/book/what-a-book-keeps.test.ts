import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const book = Book.open(join(temporaryFolder(), "a.siltbook"), { create: true });

/** What the driver ended the whole program on, or read as the names of all values. */
const NO_VALUES = [true, new Date(0), {}, [new Date(0)], new Uint8Array(2), null, Symbol("x")];

describe("a value that a book cannot hold is an error, and the program and the book go on:", () => {
  test.each(NO_VALUES)("%s", (value) => {
    const calls: (() => unknown)[] = [
      () => book.recompute(value as never),
      () => book.history(value as never, "fore"),
      () => [...book.samples({ cart: value as never })],
      () => book.verdicts({ cart: value as never }),
      () => book.overrideUnjudged(value as never, "fore", { decision: "fit", person: "A", reason: "b" }),
    ];
    for (const call of calls) {
      try {
        // A null is a value, of which there is nothing.
        expect([undefined, 0]).toContain((call() as unknown[] | undefined)?.length);
      } catch (error) {
        expect(String(error)).toMatch(/not |has no |expected/);
      }
    }
    expect(book.check()).toEqual([]);
  });
});
