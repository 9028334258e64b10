import { describe, expect, test } from "vitest";
import { briefOf, judgeCase } from "../../src/fitness/index.js";
import { asking, caseOf, sample } from "../support/fitness/bases.js";

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

  const row = { cart: "C-1", circuit: "1", drawnOn: "2026-03-10", where: "lab.csv row 2" };
  test.each<[string, Parameters<typeof caseOf>[0], string]>([
    ["the only row is in quarantine", { samples: [], unread: [row] }, "the laboratory can settle it"],
    [
      "the only row has a name that the carts file does not have",
      { samples: [], unread: [{ ...row, cart: "C1" }] },
      "the engineer can settle it",
    ],
    [
      "the sample is too old, and a newer row is in quarantine",
      { ...sample({ drawnOn: "2026-01-04" }), unread: [row] },
      "the laboratory can settle it",
    ],
    ["no row at all", { samples: [] }, "draw a new sample"],
    [
      "a row in quarantine, and a bottle from a drain",
      { ...sample({ samplePoint: "drain" }), unread: [row] },
      "draw a new sample",
    ],
  ])("nobody is sent for a bottle that a row may already answer: %s", (_, change, action) => {
    expect(briefFor(change).action).toBe(`do not connect yet: ${action}`);
  });
});
