import { describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { bytesInMemory, collectSamples, describeIssue, readLabFile } from "../../src/intake/index.js";
import type { Cart } from "../../src/samples/index.js";

const HEADER = "sample,cart,circuit,drawn on,4 µm(c) per mL,water (mg/kg),quarantine accepted";
const CARTS = [{ cart: "C-1", circuits: [{ circuit: "1" }] }] as unknown as readonly Cart[];
const row = (water: number, accepted = "") => `S-1,C-1,1,2026-03-04,900,${water},${accepted}`;
const bytes = (...rows: readonly string[]) => new TextEncoder().encode([HEADER, ...rows].join("\n"));

async function together(...rows: readonly string[]) {
  const { samples, quarantine } = collectSamples([await readLabFile("lab.csv", bytes(...rows))], CARTS);
  return {
    water: samples.map(({ waterPpm }) => waterPpm?.value),
    issues: quarantine.flatMap(({ issues }) => issues.map(describeIssue)),
  };
}

describe("two bottles under one number", () => {
  test("are set aside, and the message names both rows and what differs", async () => {
    const { water, issues } = await together(row(90), row(450));
    expect(water).toEqual([]);
    expect(issues).toHaveLength(2);
    for (const issue of issues) {
      expect(issue).toContain("lab.csv row 2 and lab.csv row 3 differ in water (ppm by mass) 90 and 450");
      expect(issue).toContain("differs-from-book");
    }
  });

  test.each([
    ["the second", [row(90), row(450, "differs-from-book")]],
    ["the first", [row(450, "differs-from-book"), row(90)]],
  ])("accepting %s works", async (_, rows) => {
    expect(await together(...rows)).toEqual({ water: [450], issues: [] });
  });

  test("in a book the message names the other row", async () => {
    const book = Book.open(":memory:", { create: true });
    const { quarantine } = await book.takeIn(bytesInMemory("lab.csv", bytes(row(90), row(450))), {
      today: "2026-12-31",
    });
    expect(quarantine.map(({ issues }) => issues[0]?.expected)).toEqual(
      [2, 3].map(() => expect.stringContaining("as in lab.csv row 2")),
    );
    book.close();
  });
});
