import { expect, test } from "vitest";
import { Book } from "../../../src/book/index.js";
import { bytesInMemory } from "../../../src/intake/index.js";
import { CARTS } from "../../support/one-circuit.js";
import { temporaryFolder } from "../../support/temporary-folder.js";

const folder = temporaryFolder();
const HEADER = "sample,cart,circuit,drawn on,reported on,4 µm(c) per mL,water (mg/kg)";
const row = (sample: string, reported: string, water: string, cart = "C-1") =>
  `${sample},${cart},1,2026-03-04,${reported},900,${water}`;
const by = { person: "A. Person", reason: "seen" };

test("each step adds one entry of all that it wrote, changed or took out, and one that changes nothing adds none", async () => {
  const book = Book.open(`${folder}/${Math.random()}.siltbook`, { create: true });
  const take = (name: string, ...rows: string[]) =>
    book.takeIn(bytesInMemory(name, new TextEncoder().encode([HEADER, ...rows].join("\n"))), {
      today: "2026-12-31",
    });
  const idOf = (sample: string) =>
    [...book.quarantine(), ...book.settledRows()].find((one) => one.sample === sample)?.id ?? "";
  const file = (name: string) => {
    const found = book.files().find((one) => one.file === name);
    return found as NonNullable<typeof found>;
  };
  const march = [
    row("S-1", "2026-03-06", "90"),
    row("S-2", "2026-03-06", "1O"),
    row("S-3", "2026-03-06", "80", "C-9"),
  ];
  const steps: [string, string, () => unknown][] = [
    ["reading", "samples, a row that waits and one of no cart", () => take("march.csv", ...march)],
    // S-3 is taken out of the samples, and the next sample is kept under its number in the table.
    ["carts", "the carts come", () => book.keepCarts("carts.json", JSON.stringify(CARTS))],
    ["", "the same carts again", () => book.keepCarts("carts.json", JSON.stringify(CARTS))],
    [
      "reading",
      "new samples",
      () => take("april.csv", row("S-4", "2026-04-06", "70"), row("S-5", "2026-04-06", "60")),
    ],
    [
      "reading",
      "a report of a later day",
      () => take("may.csv", row("S-1", "2026-05-06", "95"), row("S-4", "2026-03-06", "75")),
    ],
    ["quarantine", "a row is settled", () => book.decideRows([idOf("S-2")], { decision: "settled", ...by })],
    ["quarantine", "and reopened", () => book.decideRows([idOf("S-2")], { decision: "reopened", ...by })],
    [
      "",
      "a decision about no row",
      () => expect(() => book.decideRows(["x"], { decision: "settled", ...by })).toThrow(),
    ],
    ["reading", "the row comes back", () => take("june.csv", row("S-2", "2026-06-06", "10"))],
    ["withdrawal", "a file is withdrawn", () => book.withdraw(file("may.csv"), by)],
    ["withdrawal", "another, whose samples other files have not", () => book.withdraw(file("april.csv"), by)],
    [
      "reading",
      "and imported again",
      () => take("april.csv", row("S-4", "2026-04-06", "70"), row("S-5", "2026-04-06", "60")),
    ],
    [
      "reading",
      "a file that contradicts itself",
      () =>
        take(
          "july.csv",
          row("S-6", "2026-07-06", "50"),
          row("S-7", "2026-07-06", "40"),
          row("S-6", "2026-07-06", "51"),
        ),
    ],
  ];
  try {
    expect(book.verify()).toMatchObject({
      fits: true,
      entries: 1,
      head: { kind: "begin", subject: "an empty book" },
    });
    for (const [kind, what, act] of steps) {
      const before = book.head();
      await act();
      const { fits, misfits, damage, entries, head } = book.verify();
      expect([fits, misfits, damage], what).toEqual([true, [], []]);
      if (kind === "") expect(head, what).toEqual(before);
      else
        expect([entries, head?.kind, head?.previous], what).toEqual([before.number + 1, kind, before.hash]);
    }
  } finally {
    book.close();
  }
});
