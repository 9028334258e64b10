import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { judgeCase } from "../support/one-cart.js";

const folder = mkdtempSync(join(tmpdir(), "siltbook-two-laboratories-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
let next = 0;

const header =
  "sample,cart,circuit,drawn on,fluid,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid number (mg KOH/g),date received,report date,remarks";
const NAMES = "S-1,C-1,main,2026-03-04,MIL-PRF-83282";
/** What a report gives of one bottle, with the days of receipt and of the report, and a remark. */
const counts = (...words: string[]) => [NAMES, "600,150,20,,", ...words].join();
const water = (...words: string[]) => [NAMES, ",,,120,0.05", ...words].join();
const all = (...words: string[]) => [NAMES, "600,150,20,120,0.05", ...words].join();

describe("each of two reports of a bottle keeps its own words", () => {
  test.each<[string, string, string, "fit" | "do-not-connect" | "resample"]>([
    ["two remarks of nothing", counts("", "", "normal"), water("", "", "within limits"), "fit"],
    ["two days of receipt", counts("2026-03-06", "", ""), water("2026-03-07", "", ""), "fit"],
    [
      "one laboratory rejects, and another that measured water later does not take it back",
      counts("", "2026-03-08", "rejected"),
      water("", "2026-03-10", "normal"),
      "do-not-connect",
    ],
    [
      "one laboratory rejects, and the other has no day",
      counts("", "", "rejected"),
      water("", "", "normal"),
      "do-not-connect",
    ],
    [
      "the second laboratory rejects",
      counts("", "2026-03-08", "normal"),
      water("", "2026-03-10", "rejected"),
      "do-not-connect",
    ],
    [
      "a later report that gives everything again corrects the words as well",
      all("", "2026-03-08", "rejected by mistake"),
      all("", "2026-03-10", "normal"),
      "fit",
    ],
    [
      "two whole reports without days contradict each other",
      all("", "", "rejected"),
      all("", "", "normal"),
      "resample",
    ],
    ["and in their days of receipt", all("2026-03-06", "", ""), all("2026-03-07", "", ""), "resample"],
  ])("%s", async (_, one, other, verdict) => {
    const judge = (way: "files" | "book", files: string[][]) =>
      judgeCase(join(folder, String(++next)), way, { header, files, on: "2026-03-14" });
    expect((await judge("files", [[one], [other]])).verdict).toBe(verdict);
    expect((await judge("files", [[other], [one]])).verdict).toBe(verdict);
    // A book keeps the first of two reports that contradict each other, and asks about the second.
    if (verdict !== "resample") {
      expect((await judge("book", [[one], [other]])).verdict).toBe(verdict);
      expect((await judge("book", [[other], [one]])).verdict).toBe(verdict);
    }
  });
});
