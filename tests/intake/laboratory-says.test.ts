import { describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { bytesInMemory, mapToEdit, readLabFile, understand } from "../../src/intake/index.js";
import { readStatement, saysPlainly } from "../../src/samples/index.js";
import { blockFile, CLEAN, DIRTY, longFile, oneCircuit, wideFile } from "../support/one-circuit.js";
import { inOneLine } from "../support/run-cli.js";

const one = oneCircuit();
const bytes = (text: string) => new TextEncoder().encode(text);
const read = (text: string) => readLabFile("lab.csv", bytes(text));

describe("a text that turns the sample away", () => {
  test.each([
    ["Status", "FAIL"],
    ["Status", "Failed."],
    ["Evaluation", "Rejected"],
    ["Disposition", "CONDEMN"],
    ["Remarks", "Do not use!"],
    ["Remarks", "not acceptable"],
    ["Remarks", "Unacceptable - see limits"],
    ["Remarks", "Unsatisfactory"],
    ["Remarks", "does not meet the requirement"],
    ["Remarks", "doesn't conform"],
    ["Remarks", "fails to comply"],
    ["Remarks", "not OK"],
    ["Remarks", "N.O.K."],
    ["Remarks", "non-conforming"],
    ["Remarks", "No good"],
    ["Remarks", "not fit for use"],
    ["Remarks", "Sample should not be used"],
    ["Remarks", "Do not put into service"],
    ["Pass/Fail", "F"],
    ["Pass/Fail", "X"],
    ["Pass/Fail", "no"],
    ["P/F", "f"],
    ["Accepted", "N"],
    ["Within limits", "No"],
    ["Rejected", "yes"],
    ["Fail", "x"],
    ["Bewertung", "nicht bestanden"],
    ["Befund", "n.i.O."],
    ["Remarques", "non conforme"],
    ["Remarques", "Refusé"],
    ["Observaciones", "rechazado"],
    ["Observaciones", "no apto"],
    ["Remarks", "scrap"],
    ["Remarks", "Do not hook up"],
    ["Remarks", "not airworthy"],
    ["Remarks", "tagged out"],
    // Under any title, in each language that is known: turned away, not to be used, not conforming.
    ["Remarks", "Ausschuss"],
    ["Remarks", "nicht verwenden"],
    ["Remarks", "entspricht nicht den Vorgaben"],
    ["Remarks", "Bestanden: nein"],
    ["Remarks", "à rejeter"],
    ["Remarks", "mise au rebut"],
    ["Remarks", "ne pas utiliser"],
    ["Remarks", "n'est pas conforme"],
    ["Remarks", "desechar"],
    ["Remarks", "no usar"],
    ["Remarks", "no cumple"],
    ["Remarks", "da scartare"],
    ["Remarks", "non utilizzare"],
    ["Remarks", "non idoneo"],
    ["Remarks", "afgekeurd"],
    ["Remarks", "niet gebruiken"],
    ["Remarks", "voldoet niet"],
    ["Remarks", "reprovado"],
    ["Remarks", "não usar"],
    ["Remarks", "não conforme"],
    ["Status", "underkänd"],
    ["Status", "odrzucono"],
    ["Status", "брак"],
    ["Status", "不合格"],
  ])("%s: %j", (column, text) => {
    expect(readStatement(column, text)).toBe("rejects");
  });
});

describe("a text that says that something is wrong, or that may say so", () => {
  test.each([
    ["Remarks", "ABNORMAL"],
    ["Remarks", "Water exceeds limit"],
    ["Remarks", "limits exceeded"],
    ["Remarks", "out of limits"],
    ["Remarks", "contaminated"],
    ["Severity", "critical"],
    ["Severity", "Red"],
    ["Status", "Caution"],
    ["Status", "alarm"],
    ["Status", "marginal"],
    ["Status", "⚠️"],
    ["Comments", "please resample"],
    ["Comments", "Result pending"],
    ["Comments", "conditional pass"],
    ["Exceeds limit", "yes"],
    ["Reject reason", "water content"],
    ["Bemerkung", "auffällig"],
    ["Bemerkung", "Grenzwert überschritten"],
    ["Remarques", "anomalie"],
    ["Observaciones", "fuera de límites"],
    ["Remarks", "außerhalb der Spezifikation"],
    ["Remarks", "ausser Toleranz"],
    ["Remarks", "Probe verschmutzt"],
    ["Remarks", "Ueberschreitung der Grenzwerte"],
    ["Remarks", "erhöhter Wassergehalt"],
    ["Remarks", "Öl wechseln"],
    ["Remarks", "Nachprobe erforderlich"],
    ["Remarks", "Wasser sichtbar"],
    ["Remarks", "huile polluée"],
    ["Remarks", "seuil dépassé"],
    ["Remarks", "à vidanger"],
    ["Remarks", "présence d'eau"],
    ["Remarks", "supera el límite"],
    ["Remarks", "cambiar el aceite"],
    ["Remarks", "muestra contaminada"],
    ["Remarks", "fuori specifica"],
    ["Remarks", "da sostituire"],
    ["Remarks", "buiten limiet"],
    ["Remarks", "vervuild"],
    ["Remarks", "fora dos limites"],
    ["Remarks", "results unreliable"],
    ["Remarks", "counter out of calibration"],
    ["Remarks", "needs flushing"],
    ["Remarks", "call us before use"],
    ["Remarks", "do not sign for this cart"],
    ["Remarks", "burnt smell"],
    // What the laboratory advises to do, in whichever order.
    ["Remarks", "Oil change recommended"],
    ["Remarks", "Filter replacement is strongly advised"],
    ["Remarks", "flushing required"],
    ["Remarks", "We recommend an oil change"],
    ["Remarks", "recommend that the fluid be changed; suggest to replace element"],
    // Counts that may still have to be multiplied, or were not counted.
    ["Remarks", "diluted 1:10"],
    ["Remarks", "dilution 10x"],
    ["Remarks", "diluted 1:10, dilution factor has not been applied"],
    ["Bemerkung", "1:10 verdünnt"],
    ["Remarques", "échantillon dilué 10 fois"],
    ["Remarks", "particle counts estimated"],
    ["Remarks", "estimated values"],
    ["Bemerkung", "Werte geschätzt"],
    // Nobody knows whose bottle it was.
    ["Remarks", "label illegible; cart assumed C-7"],
    ["Remarks", "bottle label reads C-8"],
    ["Remarks", "samples mixed up?"],
    ["Remarks", "mislabeled"],
    ["Remarks", "label missing"],
    // A verdict in a word that is not known, where nothing but a verdict stands.
    ["Disposition", "return to vendor"],
    ["Disposition", "purify"],
    ["Status", "elutasítva"],
    ["Patch test", "black"],
    ["Evaluation", "dubieus"],
    // Bad and sound words in one text: a person has to read which of them holds.
    ["Remarks", "pass (previous: fail)"],
    ["Remarks", "Particles normal, water too high"],
    ["Remarks", "Pass - but see water"],
    ["Remarks", "not rejected, but abnormal"],
  ])("%s: %j", (column, text) => {
    expect(readStatement(column, text)).toBe("doubts");
  });
});

describe("a text with nothing bad in it", () => {
  test.each([
    ["Status", "PASS"],
    ["Status", "OK"],
    ["Remarks", "Normal"],
    ["Remarks", "no abnormal findings"],
    ["Remarks", "No abnormal or critical findings."],
    ["Remarks", "not rejected"],
    ["Remarks", "does not exceed the limits"],
    ["Remarks", "no limits exceeded"],
    ["Remarks", "nothing unusual"],
    ["Remarks", "alarms: none"],
    ["Remarks", "no failures"],
    ["Remarks", "All results within limits"],
    ["Remarks", "Normal. Continue to monitor at regular interval."],
    ["Remarks", "No corrective action required. Resample at normal interval."],
    ["Remarks", "retest of 24-001 OK"],
    ["Pass/Fail", "P"],
    ["Rejected", "no"],
    ["Pass", "x"],
    ["Bewertung", "unauffällig"],
    ["Bewertung", "i.O."],
    ["Remarques", "conforme"],
    ["Remarques", "sans anomalie"],
    ["Remarks", "resample of S-12"],
    ["Remarks", "sampled at 40 °C after filter change"],
    ["Remarks", "red fluid"],
    ["Remarks", "sampled with inline monitor"],
    ["Remarks", "No"],
    ["Remarks", "high-pressure port"],
    ["Remarks", "keine Auffälligkeiten"],
    ["Remarks", "Grenzwert nicht überschritten"],
    ["Remarks", "Grenzwerte eingehalten"],
    ["Remarks", "kein freies Wasser"],
    ["Remarks", "o.B."],
    ["Remarks", "pas d'anomalie"],
    ["Remarks", "aucune pollution"],
    ["Remarks", "rien à signaler"],
    ["Remarks", "dentro de límites"],
    ["Remarks", "sin anomalías"],
    ["Remarks", "nulla da segnalare"],
    ["Remarks", "nessuna anomalia"],
    ["Remarks", "binnen limiet"],
    ["Remarks", "geen bijzonderheden"],
    ["Remarks", "sem anomalias"],
    ["Remarks", "urgent courier"],
    ["Remarks", "Resample in 30 days"],
    ["Remarks", "leak check ok"],
    ["Remarks", "drawn by J. Smith, night shift"],
    ["Remarks", "no oil change required"],
    ["Remarks", "not diluted"],
    ["Remarks", "undiluted"],
    ["Remarks", "counts corrected for dilution"],
    ["Remarks", "diluted 1:10, dilution applied"],
    ["Remarks", "dilution factor already applied"],
    ["Remarks", "required cleanliness 17/15/12"],
    ["Remarks", "cleanliness required: NAS 7"],
    ["Remarks", "label attached, cart confirmed"],
    ["Remarks", "measurement uncertainty 10 %"],
    ["Remarks", "drawn after filter change as recommended"],
    ["Status", "Complete"],
    ["Status", "Final report"],
    ["Status", "In service"],
    ["Status", "Abgeschlossen"],
    ["Evaluation", "trend stable"],
    ["Evaluation", "no concerns"],
    ["Evaluation", "all values are similar to those of the last sample"],
    ["Evaluation", "17/15/12"],
    ["Disposition", "use as is"],
    ["Disposition", "return to service"],
    ["Patch test", "light grey"],
  ])("%s: %j", (column, text) => {
    expect(["sound", "nothing"]).toContain(readStatement(column, text));
  });
});

describe("under any other title only plain words count", () => {
  test.each([
    ["Lab opinion", "REJECTED", true],
    ["Column 7", "fail", true],
    ["Suitable for use", "no", true],
    ["Assessor", "not acceptable", true],
    ["Note of the desk", "contaminated", true],
    ["", "Counter calibration expired 2026-03-01", true],
    ["", "calibration has expired", true],
    ["", "Calibration expires 2027-03-01", false],
    ["", "calibration not overdue", false],
    ["Criticality of the aircraft", "critical", false],
    ["Analyst", "J. Doe", false],
    ["Fail limit", "300", false],
    ["Alarm limit", "fail above 300", false],
    // Why a bottle was drawn, and what an earlier one came to, is not said of this one.
    ["Reason for sample", "last sample failed", false],
    ["Previous status", "FAIL", false],
    ["Trigger", "rejected before", false],
  ])("%s: %j", (column, text, plain) => {
    expect(saysPlainly(column, text)).toBe(plain);
  });
});

describe("what the laboratory says holds the circuit and is quoted", () => {
  const shapes = [
    ["a row for each sample", wideFile],
    ["a row for each measurand", longFile],
    ["a block", blockFile],
  ] as const;
  const said = [
    ["Status", "FAIL", "do-not-connect", "laboratory-rejects"],
    ["Result", "Not acceptable", "do-not-connect", "laboratory-rejects"],
    ["Remarks", "Abnormal wear, see letter", "resample", "laboratory-doubts"],
    ["Patch test", "contaminated", "resample", "laboratory-doubts"],
    ["Condition code", "C - Caution", "resample", "laboratory-doubts"],
    ["Chemist's comment", "borderline", "resample", "laboratory-doubts"],
  ] as const;

  test.each(said.flatMap((each) => shapes.map((shape) => [...each, ...shape] as const)))(
    "%s %j: %s by %s, %s",
    async (title, text, verdict, code, _shape, file) => {
      const judged = await one.judge(file({ [title]: text }));
      expect(judged).toMatchObject({ verdict, codes: [code], quarantine: [] });
      const [reason] = judged.reasons;
      expect(reason.message).toContain(`of sample S-1 the laboratory says "${text}" in column "${title}"`);
    },
  );

  test.each([
    ["wide", wideFile({ "Opinion of the desk": "REJECTED" })],
    ["block", blockFile({ "Opinion of the desk": "REJECTED" })],
    ["wide without a title", wideFile({ "": "REJECTED", Analyst: "J. Doe" })],
  ])("a plain rejection under a title that is not known, %s", async (_, text) => {
    expect(await one.judge(text)).toMatchObject({ verdict: "do-not-connect", codes: ["laboratory-rejects"] });
  });

  test("a status beside each result of a long file: one that fails is enough", async () => {
    const [titles = "", ...rows] = longFile({}).trimEnd().split("\n");
    const text = [
      `${titles},status`,
      ...rows.map((row) => `${row},${row.includes("water") ? "FAIL" : "PASS"}`),
    ].join("\n");
    expect(await one.judge(text)).toMatchObject({ verdict: "do-not-connect", codes: ["laboratory-rejects"] });
    expect(await one.judge(text.replace("FAIL", "PASS"))).toMatchObject({ verdict: "fit" });
  });

  test.each([
    [{ Status: "PASS", Remarks: "no abnormal findings" }],
    [{ Result: "OK" }],
    [{ "Pass/Fail": "P" }],
    [{ Remarks: "-" }],
    [{ Remarks: "sampled at 40 °C" }],
    [{ "Reason for sampling": "last sample failed" }],
  ])("%j sends nobody away", async (more) => {
    expect(await one.judge(wideFile(more))).toMatchObject({ verdict: "fit", codes: [] });
  });

  test("that a laboratory is content never makes a dirty circuit fit", async () => {
    const judged = await one.judge(wideFile({ Status: "PASS", Remarks: "all within limits" }, DIRTY));
    expect(judged.verdict).toBe("circulate");
  });
});

describe("what stands outside of the columns that are read", () => {
  test("a line below or above the table that says that samples failed waits for a person", async () => {
    const line = "Remarks: S-1 FAILED the patch test";
    for (const text of [`${wideFile({})}${line}\n`, `${line}\n${wideFile({})}`]) {
      const { samples, quarantine } = await read(text);
      expect(samples).toHaveLength(1);
      expect(quarantine).toMatchObject([{ issues: [{ code: "table-in-doubt", value: line }] }]);
    }
  });

  test.each([
    "Legend: F = fail, P = pass",
    "Remarks: all samples passed",
    "Notes: results refer to the bottles received",
  ])("%j is a line below the table like any other", async (line) => {
    const { quarantine, notSamples } = await read(`${wideFile({})}${line}\n`);
    expect(quarantine).toEqual([]);
    expect(notSamples.map(({ why }) => why)).toContain("footer");
  });

  test("a line of a block without a label", async () => {
    expect(await one.judge(`${blockFile({})}SAMPLE REJECTED\n`)).toMatchObject({
      codes: ["laboratory-rejects"],
    });
    expect(await one.judge(`${blockFile({})}Laboratory of the harbour\n`)).toMatchObject({ verdict: "fit" });
  });

  test.each([
    ["120 (alarm)", ["laboratory-doubts"]],
    ["120 high", ["laboratory-doubts"]],
    ["120 (repeat)", []],
    ["120 *", []],
  ])("a note with a number: %j", async (cell, codes) => {
    const sample = CLEAN.map((plain, index) => (index === 8 ? cell : plain));
    expect(await one.judge(wideFile({}, sample))).toMatchObject({ codes, quarantine: [] });
  });

  // What is wrong to the eye counts under any title; words that are not all known are only shown.
  test.each([
    ["Remarks", "cloudy, water at bottom", ["cloudy-seen", "free-water-seen"]],
    ["Remarks", "sample arrived cloudy", ["cloudy-seen"]],
    ["Remarks", "not cloudy when it arrived", []],
    ["Free water", "yes", ["free-water-seen"]],
    ["Sediment", "present", ["particles-seen"]],
    ["Visual inspection", "two layers", ["two-layers-seen"]],
    ["Free water", "none", []],
    ["Sediment", "negative", []],
    ["Remarks", "water within limits; particles normal", []],
    ["Container", "metal can", []],
  ])("%s: %j", async (title, text, codes) => {
    const judged = await one.judge(wideFile({ [title]: text }));
    expect([...judged.codes].sort()).toEqual(codes);
  });

  test("two columns about the look of one bottle are put together", async () => {
    const { samples, quarantine } = await read(
      wideFile({ Appearance: "clear and bright", "Visual inspection": "a few specks" }),
    );
    expect(quarantine).toEqual([]);
    expect(samples[0]?.appearance).toEqual(["clear", "particles-seen"]);
  });
});

describe("where results are outside, a laboratory that says no more than that agrees", () => {
  test.each([
    ["FAIL", "circulate", "laboratory-agrees"],
    ["Fail - particle count too high", "circulate", "laboratory-agrees"],
    ["Abnormal: ISO code", "circulate", "laboratory-agrees"],
    ["Partikelzahl zu hoch, nicht bestanden", "circulate", "laboratory-agrees"],
    ["hors limites : particules", "circulate", "laboratory-agrees"],
    // These say something that particles do not explain.
    ["FAIL - water", "do-not-connect", "laboratory-rejects"],
    ["REJECTED: wrong fluid", "do-not-connect", "laboratory-rejects"],
    ["CONDEMNED", "do-not-connect", "laboratory-rejects"],
    ["Ausschuss", "do-not-connect", "laboratory-rejects"],
    ["Abnormal smell", "resample", "laboratory-doubts"],
  ])("%j: %s", async (text, verdict, code) => {
    const judged = await one.judge(wideFile({ Status: text }, DIRTY));
    expect(judged.verdict).toBe(verdict);
    expect(judged.codes).toContain(code);
    expect(judged.circulation).not.toBeNull();
  });
});

describe("texts that decide nothing are shown with the verdict", () => {
  const file = wideFile({ Analyst: "J. Doe", Remarks: "sampled at 40 °C", "Serial of form": "42" });

  test("in words, once, without numbers", async () => {
    expect(inOneLine(await one.judgeInWords(file))).toContain(
      'the report of sample S-1 also says: Remarks "sampled at 40 °C"; Analyst "J. Doe" ',
    );
  });

  test("in JSON, with the sample", async () => {
    const { sample } = await one.judge(file);
    expect(sample.otherTexts).toEqual([{ column: "Analyst", text: "J. Doe" }]);
    expect(sample.laboratorySays).toEqual([{ column: "Remarks", text: "sampled at 40 °C" }]);
  });

  test("in the report", async () => {
    const out = one.at("report.html");
    await one.run(
      ...["report", "--carts", one.at("carts.json"), "--requirement", one.at("requirement.json")],
      ...["--on", "2026-03-14", "--out", out, one.write("shown.csv", file)],
    );
    const { readFileSync } = await import("node:fs");
    expect(readFileSync(out, "utf8")).toContain(
      "The report of the sample also says: Remarks &quot;sampled at 40 °C&quot;; Analyst &quot;J. Doe&quot;.",
    );
  });

  test("beside a verdict that is not fit as well", async () => {
    expect(await one.judgeInWords(wideFile({ Analyst: "J. Doe" }, DIRTY))).toContain(
      'also says: Analyst "J. Doe"',
    );
  });

  test("a long text is cut, to the part that says that something is wrong", async () => {
    const long = (middle: string) => `${"lorem ipsum ".repeat(200)}${middle} ${"dolor sit ".repeat(200)}`;
    const { samples } = await read(wideFile({ Letter: long("this sample was REJECTED") }));
    expect(samples[0]?.laboratorySays?.[0]?.text).toContain("this sample was REJECTED");
    const plain = await read(wideFile({ Letter: long("") }));
    expect(plain.samples[0]?.otherTexts?.[0]?.text.length).toBeLessThan(1010);
  });

  test("a map that siltbook writes keeps unknown columns in sight", async () => {
    const text = wideFile({ "Opinion of the desk": "REJECTED" });
    const map = mapToEdit("lab", await understand(bytesInMemory("lab.csv", bytes(text))));
    expect(map).toMatchObject({ columns: { "Opinion of the desk": { holds: "text" } } });
    const judged = await one.judge(text, "--map", one.write("written.map.json", JSON.stringify(map)));
    expect(judged.codes).toEqual(["laboratory-rejects"]);
  });
});

describe("in a book", () => {
  test("a statement stays until a report of a later day says something else under the same title", async () => {
    const first = await one.judgeBook(
      "says.siltbook",
      wideFile({ Status: "FAIL", "Report date": "2026-03-05" }),
    );
    expect(first.codes).toEqual(["laboratory-rejects"]);
    const silent = await one.judgeBook("says.siltbook", wideFile({}));
    expect(silent.codes).toEqual(["laboratory-rejects"]);
    const then = await one.judgeBook(
      "says.siltbook",
      wideFile({ Status: "PASS", "Report date": "2026-03-06" }),
    );
    expect(then).toMatchObject({ verdict: "fit", codes: [] });
  });

  test("a text that decides nothing is no contradiction between two reports", async () => {
    const book = Book.open(":memory:", { create: true });
    const take = (name: string, text: string) =>
      book.takeIn(bytesInMemory(name, bytes(text)), { today: "2026-03-14" });
    await take("a.csv", wideFile({ Printed: "by A. Person" }));
    expect(await take("b.csv", wideFile({ Printed: "by B. Person" }))).toMatchObject({
      known: 1,
      amended: 0,
      quarantined: 0,
    });
  });

  test("an export carries what the laboratory says, under its title", async () => {
    const book = Book.open(":memory:", { create: true });
    const text = wideFile({ Status: "FAIL", "Opinion of the desk": "=REJECTED" });
    await book.takeIn(bytesInMemory("lab.csv", bytes(text)), { today: "2026-03-14" });
    const [sample] = [...book.samples()];
    const back = await readLabFile("export.csv", bytes([...book.csv()].join("")));
    expect(sample?.laboratorySays).toHaveLength(2);
    expect(back.samples[0]?.laboratorySays).toEqual(sample?.laboratorySays);
  });
});

test("the sample that this file is about is fit without any of these words", async () => {
  expect(await one.judge(wideFile({}, CLEAN))).toMatchObject({ verdict: "fit", codes: [] });
});

describe("a line by which the counter was not calibrated waits for a person, wherever it stands", () => {
  const [titles = "", row = ""] = wideFile({}).trim().split("\n");
  test.each([
    ["Counter calibration expired 2026-03-01", 1],
    ["Particle counter out of calibration", 1],
    ["Counter calibration valid until 2027-03-01", 0],
    ["Calibration not overdue", 0],
    ["Calibration certificate 12 of 2026", 0],
  ])("%s", async (line, waiting) => {
    for (const lines of [
      [line, titles, row],
      [titles, row, line],
    ]) {
      const { samples, quarantine } = await read(lines.join("\n"));
      expect([samples.length, quarantine.length]).toEqual([1, waiting]);
    }
  });
});
