// A sample or report that its laboratory has taken back shows nothing; the report that replaces it does.
import { describe, expect, test } from "vitest";
import { oneCircuit, wideFile } from "../support/one-circuit.js";

const one = oneCircuit();
const verdictWith = async (title: string, text: string) =>
  (await one.judge(wideFile({ [title]: text }))).verdict;

describe("a sample that was taken back holds its circuit", () => {
  test.each([
    ["Remarks", "withdrawn"],
    ["Remarks", "Report withdrawn by the laboratory on 2026-03-09"],
    ["Remarks", "sample cancelled"],
    ["Remarks", "canceled"],
    ["Remarks", "result retracted"],
    ["Remarks", "superseded by S-2"],
    ["Remarks", "please disregard"],
    ["Remarks", "no longer valid"],
    ["Remarks", "withdrawn by the laboratory"],
    ["Remarks", "this report was superseded"],
    // What a replacing report says of itself still counts.
    ["Remarks", "Replaces report 12, water too high"],
    ["Remarks", "supersedes S-0 and is contaminated"],
    ["Remarks", "Annule et remplace le rapport 12, fluide contaminé"],
    ["Remarks", "received without a label"],
    ["Remarks", "Befund zurückgezogen"],
    ["Remarks", "storniert"],
    ["Remarks", "résultat annulé"],
    ["Remarks", "muestra anulada"],
    ["Remarks", "rapporto annullato"],
    ["Remarks", "ingetrokken"],
    ["Remarks", "amostra cancelada"],
    ["Remarks", "作废"],
    // Under titles that nobody listed.
    ["Version", "cancelled"],
    ["Void", "yes"],
    ["Void", "1"],
    ["Withdrawn", "x"],
    ["Cancelled on", "2026-03-09"],
    ["Superseded by", "S-2"],
    ["Valid", "no"],
    ["Passed", "0"],
  ])("%s: %s", async (title, text) => {
    expect(await verdictWith(title, text)).not.toBe("fit");
  });
});

describe("a sample that stands is fit, whatever it replaces", () => {
  test.each([
    ["Remarks", "This report replaces report 4710, which is hereby withdrawn"],
    ["Remarks", "supersedes report 12"],
    ["Remarks", "corrected report, please disregard the previous report"],
    ["Remarks", "Anula y sustituye al informe 12"],
    ["Remarks", "Annule et remplace le rapport 12"],
    ["Remarks", "Dieser Bericht ersetzt den ungültigen Bericht 12"],
    ["Remarks", "Sample withdrawn from the return line while circulating"],
    ["Remarks", "Results valid for the sample as received"],
    // A bottle is withdrawn from a port, and boilerplate says what a report needs.
    ["Remarks", "withdrawn by syringe"],
    ["Remarks", "sample was withdrawn after 10 min of circulation"],
    ["Remarks", "this report is not valid without signature"],
    ["Remarks", "report is void if altered"],
    ["Remarks", "Ungültig ohne Unterschrift"],
    // Something else was taken back.
    ["Remarks", "report 12 is cancelled and replaced by this one"],
    ["Remarks", "previous report superseded"],
    ["Remarks", "invoice cancelled"],
    ["Void volume (mL)", "1"],
    ["Void", "no"],
    ["Void", "0"],
    ["Void", "FALSE"],
    ["Cancelled on", ""],
    ["Superseded by", "-"],
    ["Supersedes", "S-0"],
    ["Date withdrawn", "2026-03-04"],
    ["Withdrawn by", "A. Person"],
    ["Approved on", "2026-03-09"],
    ["Valid", "yes"],
    ["Valid until", "2026-06-01"],
    ["Passed", "1"],
    ["Limits exceeded", "0"],
  ])("%s: %s", async (title, text) => {
    expect(await verdictWith(title, text)).toBe("fit");
  });
});
