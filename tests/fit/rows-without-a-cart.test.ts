import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { Book, readFleetOfBook } from "../../src/book/index.js";
import { briefOf, judgeCarts } from "../../src/fitness/index.js";
import { readFleetFiles } from "../../src/intake/index.js";
import { CARTS, CLEAN, REQUIREMENT } from "../support/one-circuit.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const TITLES =
  "sample,cart,circuit,drawn on,fluid,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid number (mg KOH/g)";
const OTHER = CLEAN.map((cell, index) => ({ 0: "S-2", 2: "2" })[index] ?? cell);
const TWO = {
  carts: [
    {
      cart: "C-1",
      circuits: CARTS.carts[0]?.circuits.flatMap((circuit) => [circuit, { ...circuit, circuit: "2" }]),
    },
  ],
};

const ON = "2026-03-14";

function filesWith(...lines: string[]) {
  const folder = temporaryFolder();
  const write = (name: string, text: string) => {
    writeFileSync(join(folder, name), text);
    return join(folder, name);
  };
  return {
    carts: write("carts.json", JSON.stringify(TWO)),
    requirement: write("requirement.json", JSON.stringify(REQUIREMENT)),
    samples: [write("lab.csv", [TITLES, CLEAN.join(","), OTHER.join(","), ...lines].join("\n"))],
    book: join(folder, "base.siltbook"),
  };
}

async function judgedFromFiles(...lines: string[]) {
  const fleet = await readFleetFiles(filesWith(...lines));
  return judgeCarts({ ...fleet, on: ON });
}

describe("a row that names no cart concerns the circuit of the sample whose number it bears", () => {
  test.each<[string, string, string[]]>([
    ["wet, without cart and circuit", "S-1,,,2026-03-04,MIL-PRF-83282,,,,310,", ["resample", "fit"]],
    ["a note below the table", "Note: sample S-1 failed the patch test", ["resample", "fit"]],
    ["a note about both", "Samples S-1 and S-2 were contaminated", ["resample", "resample"]],
    ["a sample that nobody knows", "S-9,,,2026-03-04,MIL-PRF-83282,,,,310,", ["fit", "fit"]],
    ["a note with a number that only begins like it", "Note: sample S-11 failed", ["fit", "fit"]],
    ["a note that only belongs to a report", "End of report 1 of 1", ["fit", "fit"]],
  ])("%s", async (_, line, verdicts) => {
    const judged = await judgedFromFiles(line);
    expect(judged.map(({ verdict }) => verdict.verdict)).toEqual(verdicts);
  });

  test("the reason says how the row got there, and who can correct it", async () => {
    const [judged] = await judgedFromFiles("S-1,,,2026-03-04,MIL-PRF-83282,,,,310,");
    expect(judged && briefOf(judged)).toMatchObject({
      action: "do not connect yet: the laboratory can settle it",
      why: [
        "lab.csv row 4 is in quarantine with no cart, but with the number of a sample of this circuit: it may hold a newer result of this circuit",
      ],
    });
  });

  test("a book says the same, until a person discards the row", async () => {
    const { carts, requirement, samples, book: path } = filesWith("S-1,,,2026-03-04,MIL-PRF-83282,,,,310,");
    const book = Book.open(path, { create: true });
    await book.takeIn(samples[0] as string);
    book.close();
    const verdicts = () =>
      judgeCarts({ ...readFleetOfBook(path, { carts, requirement, on: ON }), on: ON }).map(
        ({ verdict }) => verdict.verdict,
      );
    expect(verdicts()).toEqual(["resample", "fit"]);
    const again = Book.open(path);
    const ids = again.quarantine().flatMap(({ id }) => id ?? []);
    again.decideRows(ids, { decision: "discarded", person: "A. Person", reason: "a slip" });
    again.close();
    expect(verdicts()).toEqual(["fit", "fit"]);
  });
});
