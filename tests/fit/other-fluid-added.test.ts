import { describe, expect, test } from "vitest";
import { judgeCircuit } from "../../src/fitness/index.js";
import { caseOf, events } from "../support/fitness/bases.js";

const topUp = (note: string, on = "2026-03-02") => ({ on, kind: "top-up", addedL: 2, note }) as const;

// The clean bottle of MIL-PRF-83282 was drawn on 2026-03-04: a little of another oil shows in none of its numbers.
describe("a top-up by another fluid is not forgotten with the next clean bottle", () => {
  test.each<[Parameters<typeof events>, boolean]>([
    [[topUp("MIL-PRF-5606 added by mistake")], true],
    [[topUp("MIL-H-5606 instead of MIL-PRF-83282")], true],
    [[topUp("2 L AS1241 Type IV", "2026-03-08")], true],
    [[topUp("phosphate ester from the wrong can")], true],
    [[topUp("MIL-PRF-5606"), { on: "2026-03-03", kind: "fluid-change" }], false],
    [[topUp("MIL-PRF-83282, batch 12")], false],
    [[topUp("MIL-H-83282 from a sealed can")], false],
    [[topUp("synthetic hydrocarbon")], false],
    [[topUp("23 L of new fluid")], false],
    [[topUp("no MIL-PRF-5606 was used")], false],
    [[{ on: "2026-03-02", kind: "hookup", note: "aircraft holds MIL-PRF-5606" }], false],
  ])("%j: %s", (logged, isInDoubt) => {
    const { verdict, reasons } = judgeCircuit(caseOf(events(...logged)));
    const doubts = reasons.filter(({ code }) => code === "identity-in-doubt");
    expect([verdict, doubts.map(({ actor }) => actor)]).toEqual(
      isInDoubt ? ["resample", ["engineer"]] : ["fit", []],
    );
  });
});
