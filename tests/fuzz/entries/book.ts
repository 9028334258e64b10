import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import {
  Book,
  type KeptVerdict,
  readFleetOfBook,
  readFleetOutline,
  samplesAsCsv,
} from "../../../src/book/index.js";
import { bytesInMemory, readLabFile } from "../../../src/intake/index.js";
import type { Sample } from "../../../src/samples/index.js";
import { attempt, attemptLater, mustBeForPeople, mustEqual } from "../claims.js";
import { CARTS, LAB_TEXT, REQUIREMENTS } from "../documents.js";
import { editedText, oddName } from "../edits.js";
import { entry } from "../fuzzing.js";
import { editedJson } from "../json-edits.js";
import { scratchFolder } from "../scratch.js";

const TODAY = "2026-12-31";
const encode = (text: string) => new TextEncoder().encode(text);

/** A book in memory with the laboratory file in it, the carts and the requirements. */
async function filledBook(path = ":memory:"): Promise<Book> {
  const book = Book.open(path, { create: true });
  book.keepCarts("carts.json", JSON.stringify(CARTS));
  book.keepRequirements("requirement.json", JSON.stringify(REQUIREMENTS));
  await book.takeIn(bytesInMemory("lab.csv", encode(LAB_TEXT)), { today: TODAY });
  return book;
}

const shared = await filledBook();
const SHA256 = shared.files()[0]?.sha256 ?? "";
const hexadecimal = editedText([SHA256, SHA256.slice(0, 12)]);
const day = fc.option(editedText(["2026-03-04", "2026-02-30"]), { nil: undefined });
const query = fc.record(
  { cart: oddName, circuit: oddName, from: day, to: day },
  { requiredKeys: [] },
) as fc.Arbitrary<{
  cart?: string;
}>;

/** What can be seen in a CSV export. */
const shown = ({
  sample,
  cart,
  circuit,
  drawnOn,
  fluid,
  waterPpm,
  acidMgKohPerG,
  viscosity40Mm2PerS,
  counts,
}: Sample) => ({
  ...{ sample, cart, circuit, drawnOn, fluid, waterPpm, acidMgKohPerG, viscosity40Mm2PerS },
  counts: counts?.counts.map(({ sizeUm, count }) => [sizeUm, count]),
});

const KEPT: KeptVerdict = {
  ...{ id: 1, cart: "C-1", circuit: "fore", on: "2026-03-14", verdict: "fit", at: "2026-03-14T09:30:00Z" },
  ...{ document: "d", revision: "1", version: "0", resultSha256: "", inputs: [], overrides: [] },
};

/** The sample book: whatever is asked or brought in, it stays sound, and what was refused left nothing behind. */
export const BOOK_ENTRIES = [
  entry({
    functions: ["siltbook/book Book.takeIn"],
    inputs: fc.tuple(fc.constantFrom("lab.csv", "lab.txt", "l.json"), editedText([LAB_TEXT])),
    check: async ([file, text]) => {
      const book = await filledBook();
      const before = [...book.jsonLines()].join("");
      const taken = await attemptLater(() =>
        book.takeIn(bytesInMemory(file, encode(text)), { today: TODAY }),
      );
      if ("error" in taken) {
        mustBeForPeople(taken.error.message, text);
        mustEqual([...book.jsonLines()].join(""), before, "the book after a refused file");
      } else {
        const { rows, taken: fresh, known, amended, quarantined, notSamples } = taken.value;
        mustEqual(fresh + known + amended + quarantined + notSamples, rows, "the rows add up");
        mustEqual([...book.rows(taken.value.sha256)].length, rows, "rows that can be asked for");
        const samples = [...book.samples()];
        mustEqual([...book.jsonLines()].join("").split("\n").length - 1, samples.length, "lines of JSON");
      }
      mustEqual(book.check(), [], "the book is sound");
      book.close();
      return "value" in taken;
    },
    runs: 50,
  }),
  entry({
    functions: [
      "siltbook/book BookContents.csv",
      "siltbook/book BookContents.jsonLines",
      "src/book samplesAsCsv",
    ],
    inputs: editedText([LAB_TEXT]),
    check: async (text) => {
      const read = await attemptLater(() => readLabFile("lab.csv", encode(text)));
      const samples = "value" in read ? read.value.samples : [];
      if (samples.length === 0) return false;
      const csv = [...samplesAsCsv(() => samples)].join("");
      const back = await attemptLater(() => readLabFile("e.csv", encode(csv)));
      if ("error" in back) throw new Error(`cannot be read back: ${back.error.message}`);
      const { samples: again, quarantine } = back.value;
      const lost = quarantine.flatMap(({ issues }) => issues.map(({ code }) => code));
      if (lost.length > 0) throw new Error(`does not come back: ${JSON.stringify(quarantine)}`);
      mustEqual(again.map(shown), samples.map(shown), "read back");
      return true;
    },
    runs: 60,
  }),
  entry({
    functions: ["siltbook/book Book.keepCarts", "siltbook/book Book.keepRequirements"],
    inputs: fc.tuple(editedJson([CARTS]), editedJson([REQUIREMENTS])),
    check: async ([carts, requirements]) => {
      const book = await filledBook();
      const [cartsBefore, requirementsBefore] = [book.carts(), book.requirements()];
      const kept = attempt(() => book.keepCarts("c.json", carts));
      if ("error" in kept) mustEqual(book.carts(), cartsBefore, "carts after a refusal");
      const required = attempt(() => book.keepRequirements("r.json", requirements));
      if ("error" in required)
        mustEqual(book.requirements(), requirementsBefore, "requirements after a refusal");
      attempt(() => book.circuits());
      mustEqual(book.check(), [], "the book is sound");
      book.close();
      return "value" in kept || "value" in required;
    },
    runs: 40,
  }),
  entry({
    functions: [
      ...["history", "rows", "rowText", "samples", "verdicts", "verdictBefore"].map(
        (method) => `siltbook/book BookContents.${method}`,
      ),
      ...["override", "overrideUnjudged", "lift"].map((method) => `siltbook/book Book.${method}`),
    ],
    inputs: fc.tuple(oddName, oddName, query, hexadecimal, fc.double(), oddName),
    check: ([cart, circuit, wanted, sha256, number, text]) => {
      const before = shared.sampleCount;
      attempt(() => shared.history(cart, circuit));
      attempt(() => [...shared.rows(sha256)]);
      attempt(() => shared.rowText(sha256, number, text));
      attempt(() => [...shared.samples(wanted)]);
      attempt(() => [...shared.csv(wanted)]);
      attempt(() => shared.verdicts({ ...wanted, on: text }));
      attempt(() => shared.override(number, { decision: text as "fit", person: text, reason: text }));
      attempt(() =>
        shared.overrideUnjudged(cart, circuit, { decision: text as "fit", person: text, reason: text }),
      );
      attempt(() => shared.lift(cart, circuit, { person: text, reason: text, number }));
      attempt(() => shared.recompute(number));
      const kept = { ...KEPT, cart, circuit, on: text, id: number };
      attempt(() => shared.verdictBefore(kept));
      mustEqual(shared.sampleCount, before, "samples after questions");
      return true;
    },
    runs: 150,
  }),
  entry({
    functions: [
      ...["siltbook/book Book.open", "siltbook/book Book.backup"],
      ...["siltbook/book readFleetOfBook", "siltbook/book readFleetOutline"],
    ],
    inputs: fc.tuple(fc.nat(7), oddName, editedText([LAB_TEXT]), day),
    check: async ([kind, name, text, on]) => {
      const folder = join(scratchFolder(), "books");
      rmSync(folder, { recursive: true, force: true });
      mkdirSync(folder);
      const path = join(folder, `b${name.replaceAll(/[\0/]/g, "").slice(0, 40)}`);
      const near = [folder, join(folder, "none", name), path, `${path}\0`, "", path][kind];
      if (kind === 2) writeFileSync(path, text);
      if (kind === 5) writeFileSync(path, "");
      if (near !== undefined) {
        const bytes = kind === 2 || kind === 5 ? readFileSync(path) : undefined;
        attempt(() => Book.open(near, { waitMs: 0 }).close());
        attempt(() => readFleetOfBook(near));
        attempt(() => readFleetOutline(near, { on: on ?? TODAY }));
        if (bytes !== undefined) mustEqual(readFileSync(path), bytes, "a file that is no book");
        return false;
      }
      const outcome = await attemptLater(() => filledBook(path));
      if ("error" in outcome) return false;
      attempt(() => outcome.value.backup(join(folder, text.slice(0, 20).replaceAll("\0", ""))));
      attempt(() => outcome.value.backup(path));
      outcome.value.close();
      attempt(() => readFleetOutline(path, { on: on ?? TODAY }));
      attempt(() => readFleetOfBook(path, { carts: name, requirement: path }));
      return true;
    },
    runs: 30,
  }),
];
