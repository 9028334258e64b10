// A line below the table that its titles contradict is read by a person, as such a line above the table is.
import { describe, expect, test } from "vitest";
import { unreadResults } from "../../src/intake/index.js";
import { blockFile, CLEAN, oneCircuit, wideFile } from "../support/one-circuit.js";

const one = oneCircuit();
const rows = wideFile({})
  .trim()
  .split("\n")
  .map((row) => row.split(","));
const across = `${rows[0]?.map((title, at) => [title, rows[1]?.[at], at < 1 ? "S-2" : rows[1]?.[at]].join(",")).join("\n")}\n`;
const asObject = Object.fromEntries(rows[0]?.map((title, at) => [title, rows[1]?.[at]]) ?? []);
const below = (line: string, blank = "") => one.judge(`${wideFile({})}${blank}${line}\n`);

describe("a line below the table that contradicts its titles waits, and holds what stands in the table", () => {
  test.each([
    ["All particle counts are per 100 mL"],
    ["* particle counts per 100 mL"],
    ["Particle sizes according to ISO 4402"],
    ["Counts × 1000"],
    ["Water in per cent"],
    ["Samples were diluted 1:10; counts not corrected"],
    ["Proben verdünnt"],
    ["Counts are differential"],
    ["Particle counts: differential"],
  ])("%s", async (line) => {
    for (const blank of ["", "\n"]) {
      const { code, quarantine, verdict, codes } = await below(line, blank);
      expect(quarantine.map(({ text }: { text: string }) => text)).toEqual([line]);
      expect([code, verdict, codes]).toEqual([1, "resample", ["result-in-quarantine"]]);
    }
  });
});

describe("a line below the table that agrees with it, or says nothing of it, is no result", () => {
  test.each([
    ["All particle counts are per mL"],
    ["Particle counting by ISO 11500, sizes by ISO 11171"],
    ["Limits of NAS 1638 are per 100 mL"],
    ["Water by ASTM D6304, in ppm"],
    ["n.d. = not determined; KF = Karl Fischer"],
    ["Counts are corrected for dilution"],
    ["Dilution applied"],
    ["Results relate only to the samples as received"],
    ["Counts are cumulative"],
    ["Counts are cumulative, not differential"],
    ["Results at a differential pressure of 2 bar"],
  ])("%s", async (line) => {
    for (const blank of ["", "\n"]) {
      const { verdict, code, quarantine } = await below(line, blank);
      expect(quarantine).toEqual([]);
      expect([verdict, code]).toEqual(["fit", 0]);
    }
  });
});

describe("a line that explains how results are marked, or what is done in general, holds no circuit", () => {
  test.each([
    ["* results exceeding the limit are marked with an asterisk"],
    ["Values above the limit are printed in bold"],
    ["All results in red exceed the limits of the customer"],
    ["Statistically invalid counts are marked with #"],
    ["Die Proben werden 4 Wochen aufbewahrt und danach entsorgt"],
    ["If a sample fails, the customer is informed by phone"],
    ["Contaminated bottles are rejected at receipt"],
    ["Failed tests are repeated once"],
    ["Diluted samples are marked D"],
    ["Dilution factor 1 for all samples"],
  ])("%s", async (line) => {
    for (const text of [`${wideFile({})}"${line}"\n`, `"${line}"\n${wideFile({})}`])
      expect((await one.judge(text)).verdict).toBe("fit");
  });
});

describe("a line that puts a table in doubt holds the circuits that have a sample there, and no others", () => {
  const LINE = "All particle counts are per 100 mL";
  const later = CLEAN.map((cell, index) => ({ 0: "S-2", 3: "2026-03-09" })[index] ?? cell);

  test("in a book as in files, and it says so", async () => {
    const held = await one.judgeBook("held.siltbook", `${wideFile({})}${LINE}\n`);
    expect([held.verdict, held.codes]).toEqual(["resample", ["result-in-quarantine"]]);
    expect(held.reasons[0].message).toMatch(
      /^lab-\d+\.csv row 3 is in quarantine and puts the results of its table in doubt, this circuit's among them; settle it with the laboratory/,
    );
    const { out } = await one.run("quarantine", "--book", one.at("held.siltbook"));
    expect(out.replace(/\s+/g, " ")).toContain(
      "row 3: it concerns every circuit that has a sample in its table",
    );
  });

  test("not a circuit whose verdict rests on a later report without such a line", async () => {
    const texts = [`${wideFile({})}${LINE}\n`, wideFile({}, later)];
    expect((await one.judgeBook("later.siltbook", ...texts)).verdict).toBe("fit");
  });

  test("nor one of a later table, where the line is in an earlier file", async () => {
    const texts = [wideFile({}, later), `${wideFile({})}${LINE}\n`];
    expect((await one.judgeBook("earlier.siltbook", ...texts)).verdict).toBe("fit");
  });

  test("nor one of a later file of the same name: a laboratory may call every delivery results.csv", async () => {
    await one.judgeBook("same-name.siltbook", wideFile({}, CLEAN.with(0, "S-0").with(3, "2026-03-01")));
    const deliver = (text: string) =>
      one.run("import", "--book", one.at("same-name.siltbook"), one.write("results.csv", text));
    await deliver(`${wideFile({})}${LINE}\n`);
    expect((await one.judgeBook("same-name.siltbook")).verdict).toBe("resample");
    await deliver(wideFile({}, later));
    expect((await one.judgeBook("same-name.siltbook")).verdict).toBe("fit");
  });

  test.each<[string, string, string | undefined, string[]]>([
    [
      "each of its circuits, on the day of its last sample there",
      LINE,
      undefined,
      ["C-1 1 2026-03-09", "C-9 1 2026-03-04"],
    ],
    ["those of a cart that it names", "C-9: counts per 100 mL", undefined, ["C-9 1 2026-03-04"]],
    // A sheet of text is about its whole file.
    [
      "all of the file, where its sheet has no samples",
      LINE,
      "page 2",
      ["C-1 1 2026-03-09", "C-9 1 2026-03-04"],
    ],
    ["that of a sample that it names", "S-9: bottle leaked", undefined, []],
    ["none, where it names a sample that is in no table", "S-12: bottle leaked", undefined, []],
    [
      "all, where it names one of all samples",
      "All samples leaked, S-9 most",
      undefined,
      ["C-1 1 2026-03-09", "C-9 1 2026-03-04"],
    ],
    [
      "all, where it names an order",
      "Order A-4711: preliminary results",
      undefined,
      ["C-1 1 2026-03-09", "C-9 1 2026-03-04"],
    ],
    [
      "all, where it names a standard",
      "Counts to ISO-11171 are preliminary",
      undefined,
      ["C-1 1 2026-03-09", "C-9 1 2026-03-04"],
    ],
  ])("%s", (_, text, sheet, concerned) => {
    const place = { file: "lab.csv", row: 5, ...(sheet !== undefined && { sheet }) };
    const issue = { ...place, code: "table-in-doubt", column: "(row)", value: text, expected: "" } as const;
    const sampleOf = (sample: string, cart: string, drawnOn: string, file = "lab.csv") => ({
      ...{ sample, cart, circuit: "1", drawnOn },
      origin: [{ file, rows: [2] }],
    });
    const samples = [
      sampleOf("S-1", "C-1", "2026-03-04"),
      sampleOf("S-2", "C-1", "2026-03-09"),
      sampleOf("S-3", "C-1", "2026-03-12", "other.csv"),
      sampleOf("S-9", "C-9", "2026-03-04"),
    ];
    const unread = unreadResults([{ ...place, text, issues: [issue] }], samples);
    const ofTable = unread.filter((row) => row.ofTable);
    expect(ofTable.map(({ cart, circuit, drawnOn }) => `${cart} ${circuit} ${drawnOn}`)).toEqual(concerned);
    expect(unread).toHaveLength(Math.max(1, concerned.length));
  });

  test.each<[string, readonly ("above" | "below")[]]>([
    ["Preliminary results only", ["above", "below"]],
    ["Sample bottles leaked in transit", ["above", "below"]],
    ["Vorläufiges Ergebnis", ["above", "below"]],
    ["all samples failed", ["above", "below"]],
    ["Counter calibration expired 2026-03-01", ["above", "below"]],
    ["Free water in all bottles", ["below"]],
    ["The samples were contaminated", ["above", "below"]],
    ["Free water was found in all bottles", ["above", "below"]],
    ["All samples diluted 1:10; counts not corrected", ["above", "below"]],
    ["Samples diluted 1:10; the factor must be applied", ["above", "below"]],
    ["Échantillons dilués 1:10", ["above", "below"]],
    ["Alle Proben verworfen", ["above", "below"]],
    ["Todas las muestras contaminadas", ["above", "below"]],
    // Of everything that the table reports.
    ["Results invalid", ["above", "below"]],
    ["Do not use these results", ["above", "below"]],
    ["This report is superseded", ["above", "below"]],
    ["Ergebnisse ungültig", ["above", "below"]],
    ["Particle counter out of calibration", ["above", "below"]],
    ["The counter's calibration expired in May", ["above", "below"]],
    ["Kalibrierung abgelaufen", ["above", "below"]],
    ["Étalonnage expiré", ["above", "below"]],
    ["Calibración vencida", ["above", "below"]],
    ["Taratura scaduta", ["above", "below"]],
    ["Kalibratie verlopen", ["above", "below"]],
    ["Calibração vencida", ["above", "below"]],
  ])("a line that says that something is wrong: %s, %s", async (line, places) => {
    for (const place of places) {
      const text = place === "above" ? `${line}\n${wideFile({})}` : `${wideFile({})}${line}\n`;
      const { verdict, codes } = await one.judge(text);
      expect([verdict, codes]).toEqual(["resample", ["result-in-quarantine"]]);
    }
  });

  test.each<[string, string]>([
    ["below samples that stand across", `${across}\nPreliminary results only\n`],
    ["above samples that stand across", `Preliminary results only\n\n${across}`],
    ["in the sheet of one sample", `${blockFile({})}Sample bottle not ultra clean\n`],
    ["around the list of a document", JSON.stringify({ status: "preliminary", samples: [asObject] })],
    ["as a label with its value", `Report status,DRAFT\n${wideFile({})}`],
    ["as a label with no", `Report released,no\n${wideFile({})}`],
  ])("a line that says that results are not to be relied on, %s", async (_, text) => {
    expect((await one.judge(text)).verdict).not.toBe("fit");
  });

  test.each<[string, string]>([
    [
      "below samples that stand across",
      `${across}\n"Water by Karl Fischer, particles by automatic counter"\n`,
    ],
    ["in the sheet of one sample", `${blockFile({})}Abnormal results are reported by telephone\n`],
    ["around the list of a document", JSON.stringify({ status: "final", samples: [asObject] })],
    ["as a label with yes", `Report released,yes\n${wideFile({})}`],
  ])("a line that says nothing of these samples, %s", async (_, text) => {
    expect((await one.judge(text)).verdict).toBe("fit");
  });

  test.each([
    ["All abnormal samples were counted twice"],
    ["Samples that failed were retested (passed)"],
    ["Particle contamination – all carts"],
  ])("a line below a table that holds nothing: %s", async (line) => {
    expect(await below(line)).toMatchObject({ verdict: "fit", code: 0, quarantine: [] });
  });

  test.each([
    // Titles.
    ...[
      "Contamination report",
      "Particle contamination - all carts",
      "Rapport de contamination: tous les chariots",
    ],
    ...["Failed samples report 2026", "Replaces the report of 2026-02-14"],
    // Of what is sound, of a condition, of what was done.
    ...[
      "No sample was contaminated",
      "All samples were received in good condition",
      "All bottles were clean",
    ],
    ...["Results are invalid unless signed", "This report is void without a signature"],
    ...["Samples may have to be rejected", "Calibration valid until 2027-05-31"],
    ...[
      "All samples were diluted; counts are corrected for dilution",
      "Proben verdünnt; Verdünnung berücksichtigt",
    ],
  ])("a line above a table that holds nothing: %s", async (line) => {
    expect((await one.judge(`${line}\n${wideFile({})}`)).verdict).toBe("fit");
  });
});
