import { parseHTML } from "linkedom";
import { expect, test } from "vitest";
import { judgeCarts } from "../../src/fitness/index.js";
import { renderReport } from "../../src/report/index.js";
import type { Sample } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, REQUIREMENT, without } from "../support/fitness/bases.js";

/** What the cart's sheet and the history of a circuit say. */
function pagesOf(sample: Sample, requirement = REQUIREMENT) {
  const on = "2026-03-14";
  const circuits = judgeCarts({
    carts: [{ cart: "C-1", circuits: [CIRCUIT] }],
    requirements: [requirement],
    samples: [sample],
    unread: [],
    on,
  });
  const requirements = { document: "limits", revision: "1", sources: [], systems: [requirement] };
  const { document } = parseHTML(renderReport({ on, requirements, circuits, quarantine: [] }));
  const wordsAt = (id: string) => (document.getElementById(id)?.textContent ?? "").replace(/\s+/g, " ");
  return { sheet: wordsAt("C-1-1"), history: wordsAt("history-C-1-1") };
}

test.each<[string, Sample, RegExp, RegExp]>([
  ["laboratory", without(CLEAN, "waterPpm"), /water was not measured/, /One reason is for the laboratory/],
  ["engineer", { ...CLEAN, fluid: "hydraulic stuff" }, /hydraulic stuff/, /One reason is for the engineer/],
])(
  "what the %s settles is listed with the history, and only counted on the cart's sheet",
  (_, sample, says, counted) => {
    const { sheet, history } = pagesOf(sample);
    const [why = ""] = /Why.*What to do/.exec(sheet) ?? [];
    expect(why).not.toMatch(says);
    expect(why).toMatch(counted);
    expect(history).toMatch(says);
  },
);

test("what the crew does, and what forbids the hookup whoever settles it, stay on the sheet", () => {
  const drained = pagesOf({ ...CLEAN, samplePoint: "drain" });
  expect(drained.sheet).toContain("drawn at drain");
  const rejected = pagesOf({ ...CLEAN, laboratorySays: [{ column: "Status", text: "REJECTED" }] });
  expect(rejected.sheet).toContain("REJECTED");
});
