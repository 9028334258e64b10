// What a line of text around a table says of its samples, in the words of laboratories (common practice, no source).
import { describe, expect, test } from "vitest";
import { doubtsSamples, readStatement, saysPlainly } from "../../src/samples/index.js";

/** Each with its neighbours that say nothing of the kind. */
const LINES: Record<string, { readonly holds: readonly string[]; readonly free: readonly string[] }> = {
  "a report that is not final": {
    holds: [
      ...["Preliminary results only", "Draft – not checked", "Report status: DRAFT", "Interim report"],
      ...["Results not yet validated", "Unverified results", "Results pending review", "Not for release"],
      ...["Results are subject to change", "Final report follows", "Order A-4711: preliminary results"],
      ...["Vorläufiges Ergebnis", "Entwurf – nicht geprüft", "Ergebnisse noch nicht freigegeben"],
      ...["Résultats provisoires", "Rapport non validé", "Brouillon", "Résultats sous réserve de validation"],
      ...["Resultados provisionales", "Borrador", "Resultados no validados"],
      ...["Risultati provvisori", "Bozza", "Analisi non validata"],
      ...["Voorlopige resultaten", "Concept", "Resultaten niet gevalideerd"],
      ...["Resultados preliminares", "Rascunho", "Resultados não validados"],
    ],
    free: [
      ...["Final report", "Report status: final", "All results reviewed and released by A. Person"],
      ...["Ship draft 5 m", "Draught 5 m", "Preliminary flushing 5 min", "Prices subject to change"],
      ...["Replaces the preliminary report of 2026-03-02", "Preliminary results are available on request"],
      ...["The preliminary report of 2026-03-02 is superseded by this report", "Limits for information only"],
      ...["Ersetzt den vorläufigen Bericht vom 02.03.2026", "Rapport définitif", "Informe final"],
      ...["Dieser Bericht ist ohne Unterschrift gültig", "Only the signed original is valid"],
      ...["Information provided by the customer is not verified", "P: preliminary"],
    ],
  },
  "a report that was taken back": {
    holds: [
      "Results withdrawn",
      "Report R-12 is withdrawn",
      "Please disregard this report",
      "VOID",
      "résultats non valides",
    ],
    free: [
      "Report void if altered",
      "Previous report superseded",
      "This report supersedes all earlier reports",
    ],
  },
  "a bottle that was spoiled": {
    holds: [
      ...[
        "Sample bottles leaked in transit",
        "Bottles not ultra clean",
        "Bottles arrived broken",
        "S-1: bottle leaked",
      ],
      ...["Bottles were received half empty", "Labels were illegible", "Samples may have been mixed up"],
      ...[
        "Insufficient sample volume for all tests",
        "Las botellas se rompieron durante el transporte",
        "Samples taken from the drain",
        "Samples 1, 2 and 3 leaked",
      ],
      ...[
        "Flaschen nicht gereinigt",
        "Proben vertauscht",
        "Flacons cassés à la réception",
        "Flacons non propres",
      ],
      ...["Botellas rotas", "Frascos no limpios", "Bottiglie non pulite", "Campioni scambiati"],
      ...["Flessen lekten", "Flessen niet schoon", "Frascos não limpos", "Amostras trocadas"],
    ],
    free: [
      ...["All bottles received intact", "Bottles were clean and undamaged", "No bottles were damaged"],
      ...["Broken bottles are replaced free of charge", "Samples in unsuitable bottles are rejected"],
      ...[
        "If bottles arrive damaged, the customer is informed",
        "Do not use damaged bottles",
        "Empty bottles can be ordered",
      ],
      ...["Sample bottles: ultra clean, ISO 3722", "Samples were mixed for 15 min before counting"],
      ...[
        "Échantillons reçus en bon état",
        "Muestras recibidas en buen estado",
        "Monsters ontvangen in goede staat",
      ],
    ],
  },
  "a counter that was not in order": {
    holds: [
      ...[
        "Counter was out of calibration",
        "Counter failed its daily check",
        "Counter coincidence limit exceeded",
      ],
      ...[
        "Quality control failed",
        "Zähler nicht kalibriert",
        "Compteur non étalonné",
        "Contador sin calibrar",
      ],
      ...[
        "Results are approximate",
        "Results cannot be relied upon",
        "Please ignore these results",
        "Air bubbles in all samples falsified the counts",
        "Messung fehlerhaft",
      ],
    ],
    free: [
      ...["Counter calibrated to ISO 11171", "Calibration valid until 2027-05-31", "QC sample within limits"],
      ...["Measurement error 5 %", "Results below 20 ppm are uncertain", "Results in brackets are estimated"],
      ...["Air bubbles were removed under vacuum", "No liability for incorrect results"],
    ],
  },
  "samples that are bad": {
    holds: [
      ...[
        "All samples rejected",
        "Both samples abnormal",
        "REJECTED",
        "Evaluation: not acceptable",
        "FAIL: water 250",
      ],
      ...[
        "No sample passed",
        "Cart C-1: do not use",
        "Carts must not be connected",
        "bottles 1 to 3: cloudy",
      ],
      ...[
        "Free water in all bottles",
        "Alle Proben verworfen",
        "Ne pas utiliser",
        "Niet gebruiken",
        "Gesamtergebnis: auffällig",
      ],
      ...["FAILED: water too high in both samples", "All results reviewed. Both samples failed."],
    ],
    free: [
      ...["All abnormal samples were counted twice", "Samples that failed were retested (passed)"],
      ...["Particle contamination – all carts", "Contamination report", "Verschmutzungsgrad nach ISO 4406"],
      ...["Abnormal results are reported by telephone", "Auffällige Werte werden telefonisch mitgeteilt"],
      ...[
        "Legend: A = abnormal, C = critical",
        "A: abnormal",
        "FAIL: a result is above its limit",
        "** abnormal",
      ],
      ...["Alarm limits: water 200 ppm", "Number of failed samples: 0", "Deviations from the method: none"],
      ...["None of the samples was contaminated", "All samples passed", "Previous results: abnormal"],
      ...["Samples are kept for 30 days and then discarded", "Proben werden nach 3 Monaten entsorgt"],
      ...[
        "This report shall not be reproduced except in full",
        "Ce rapport ne doit pas être reproduit partiellement",
      ],
      ...["Results relate only to the items tested", "Outliers were rejected by Grubbs' test"],
      ...[
        "Caution: phosphate ester is irritating to the skin",
        "Sampling is not within the scope of accreditation",
      ],
    ],
  },
  "a sample that is asked for again": {
    holds: [
      "Please send new samples",
      "Repeat sampling required",
      "Bitte neue Proben einsenden",
      "Nouveau prélèvement nécessaire",
    ],
    free: [
      "Next sample due 2026-04-01",
      "New samples required every 90 days",
      "Failed tests are repeated once",
    ],
  },
};

describe.each(Object.entries(LINES))("a line about %s", (_, { holds, free }) => {
  test.each(holds)("doubts the samples: %s", (line) => {
    expect(doubtsSamples(line)).toBe(true);
  });
  test.each(free)("says nothing of them where it is: %s", (line) => {
    expect(doubtsSamples(line)).toBe(false);
  });
});

describe("the same words count in a remark, and in a column that nobody listed", () => {
  const { "samples that are bad": _, "a sample that is asked for again": __, ...ofReports } = LINES;
  const all = Object.values(ofReports).flatMap(({ holds }) => holds);
  test.each(all.filter((line) => !/[:,]/.test(line)))("%s", (line) => {
    expect(readStatement("Remarks", line)).not.toMatch(/sound|nothing/);
    expect(saysPlainly("Place", line)).toBe(true);
  });
});

test.each([
  ["Validated", "no", true],
  ["Validated", "yes", false],
  ["Ultra clean bottle", "no", true],
  ["Ultra clean bottle", "yes", false],
  ["Bottle sealed", "no", true],
  ["Condition on receipt", "leaking", true],
  ["Condition on receipt", "good", false],
  ["Bottle condition", "broken", true],
  ["Preliminary", "yes", true],
  ["Preliminary", "", false],
  ["Preliminary report on", "2026-03-05", false],
  ["Report type", "interim report", true],
  ["Sample type", "resample", false],
  ["Ship draft (m)", "5", false],
])("what a column says of a bottle or a report: %s %s", (column, text, isDoubt) => {
  expect(saysPlainly(column, text)).toBe(isDoubt);
});
