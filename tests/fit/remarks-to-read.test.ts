// What a laboratory wrote that no rule understands is read by a person: it goes with the verdict "fit", and holds nothing.
import { describe, expect, test } from "vitest";
import { describeBesideFit, judgeCircuit } from "../../src/fitness/index.js";
import { leavesWords } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, REQUIREMENT } from "../support/fitness/bases.js";

const judged = (...texts: string[]) => {
  const laboratorySays = texts.map((text) => ({ column: "Remarks", text }));
  const sample = { ...CLEAN, ...(texts.length > 0 && { laboratorySays }) };
  const circuit = { ...CIRCUIT, events: [] };
  return judgeCircuit({
    ...{ cart: "C-1", circuit, requirement: REQUIREMENT, samples: [sample], unread: [], on: "2026-03-14" },
  });
};

test.each([
  "bottles stored in the sun",
  "values copied from cart C-9",
  "Second opinion needed",
  "Results of the sister cart",
  "normal; drawn by another crew",
  "weitere Überwachung",
  "see attached letter",
  "試料を再確認",
])("%s is left for a person to read", (text) => {
  expect(leavesWords("Remarks", text)).toBe(true);
  const verdict = judged(text);
  expect(verdict.verdict).toBe("fit");
  expect(describeBesideFit(verdict, [])).toEqual([
    `read what the laboratory wrote of sample ${CLEAN.sample}: "${text}"`,
  ]);
});

test.each([
  "Results normal.",
  "All parameters within limits",
  "no abnormal findings",
  "Fluid satisfactory, continue normal sampling",
  "Probe in Ordnung",
  "Résultats conformes",
  "report final",
  "resample in 30 days",
  "n/a",
  "26-114",
])("%s is understood, and nothing more is said", (text) => {
  expect(leavesWords("Remarks", text)).toBe(false);
  expect(describeBesideFit(judged(text), [])).toEqual([]);
});

describe("several remarks", () => {
  test("two are quoted, each with its beginning, and the others counted", () => {
    const long = `copied ${"from the sister cart ".repeat(20)}`;
    expect(describeBesideFit(judged(long, "second", "third", "fourth"), [])).toEqual([
      `read what the laboratory wrote of sample ${CLEAN.sample}: "${long.slice(0, 120)}…", "second" and 2 more`,
    ]);
  });
});
