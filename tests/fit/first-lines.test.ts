import { describe, expect, test } from "vitest";
import { briefOf, judgeCase } from "../../src/fitness/index.js";
import { asking, caseOf } from "../support/fitness/bases.js";

const briefFor = (change: Parameters<typeof caseOf>[0]) => briefOf(judgeCase(caseOf(change)));

describe("the first lines of an answer are true on the day of judging", () => {
  // The clean bottle was drawn on 2026-03-04, ten days before the day of judging.
  test.each([
    [7, "fit to connect; the next sample was due on 2026-03-11"],
    [10, "fit to connect; next sample by 2026-03-14"],
    [14, "fit to connect; next sample by 2026-03-18"],
  ])("sampled every %s days", (sampleEveryDays, action) => {
    expect(briefFor(asking({ sampleEveryDays })).action).toBe(action);
  });
});
