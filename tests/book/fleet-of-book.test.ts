import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { Book, BookError, readFleetOfBook, readFleetOutline } from "../../src/book/index.js";
import { cartReader } from "../../src/book/judging/fleet-of-book.js";
import { casesOf, unreadOfFleet } from "../../src/fitness/index.js";
import { bytesInMemory } from "../../src/intake/index.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const DEMO = join(import.meta.dirname, "..", "..", "datasets", "demo");
const demo = (name: string) => readFileSync(join(DEMO, name), "utf8");
const folder = temporaryFolder();
const ON = "2026-11-10";

async function demoBook(name: string, tidy = demo("lab-tidy.csv")): Promise<string> {
  const path = join(folder, name);
  const book = Book.open(path, { create: true });
  book.keepCarts("carts.json", demo("carts.json"));
  book.keepRequirements("requirement.json", demo("requirement.json"));
  for (const [file, text] of [
    ["lab-tidy.csv", tidy],
    ["lab-damaged.csv", demo("lab-damaged.csv")],
  ] as const) {
    await book.takeIn(bytesInMemory(file, new TextEncoder().encode(text)), { today: "2026-12-31" });
  }
  book.close();
  return path;
}

test("cart by cart a book gives the cases that it gives at once, with rows nobody has read and earlier origins", async () => {
  const path = await demoBook("cases.siltbook");
  const changed = demo("lab-tidy.csv").replace(/^(24-0002(?:,[^,\n]*){10}),\d+/m, "$1,77");
  expect(changed).not.toBe(demo("lab-tidy.csv"));
  // The file has no days of reports, so a person says that the change is right.
  const corrected = changed
    .trimEnd()
    .split("\n")
    .map((line, index) => `${line},${index === 0 ? "quarantine accepted" : "differs-from-book"}`)
    .join("\n");
  const book = Book.open(path);
  await book.takeIn(bytesInMemory("corrected.csv", new TextEncoder().encode(corrected)), {
    today: "2026-12-31",
  });

  const outline = readFleetOutline(path);
  const read = cartReader(book, outline, ON);
  const unread = unreadOfFleet(outline.unread, outline.carts, outline.knownCarts);
  const oneByOne = outline.carts.map((cart) => read(cart, unread));
  book.close();
  const atOnce = casesOf({ ...readFleetOfBook(path), on: ON });
  expect(oneByOne.flat()).toEqual(atOnce);
  expect(oneByOne.length).toBeGreaterThan(3);
  expect(atOnce.some(({ unread }) => unread.length > 0)).toBe(true);
  expect(atOnce.some(({ samples }) => samples.some(({ origin }) => origin.length > 1))).toBe(true);
});

test("a book that is not there is refused", () => {
  expect(() => readFleetOfBook(join(folder, "none.siltbook"))).toThrow(BookError);
});
