// Rule of seven of a hydraulics columnist (SOURCES "RULE-OF-SEVEN"), and a handbook's one pass before hookup (SOURCES
// "NAVEDTRA-14018-CIRCULATION"), beside the textbook dilution of a well-mixed tank with an ideal filter.
import { expect, test } from "vitest";
import {
  channelLevel,
  type PlannedChannel,
  planCirculation,
  rulesOfThumb,
} from "../../src/circulation/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { tryParseQuantity } from "../../src/units/index.js";

const kept = (text: string, kind: "volume" | "flow") => {
  const reading = tryParseQuantity(text, kind);
  return reading.kind === "refused" ? Number.NaN : reading.value;
};

const plan = planCirculation({
  volumeL: kept("50 US gal", "volume"),
  flowLpm: kept("5 US gpm", "flow"),
  betas: [{ sizeUmC: 4, beta: 1e15 }],
  start: cumulativeCounts([{ sizeUm: 4, count: 1000 }], 1),
  limits: [{ channel: "4", fromUm: 4, limit: 0.5, volumeMl: 1 }],
});

test("50 gal at 5 gpm: seven volumes take 70 minutes", () => {
  const seven = rulesOfThumb(plan).find((rule) => rule.source === "RULE-OF-SEVEN");
  expect(seven?.minutes).toBeCloseTo(70, 10);
  // The column doubles it for two passes.
  expect(2 * (seven?.minutes ?? 0)).toBeCloseTo(140, 10);
});

test("one reservoir volume through the filters takes V/Q", () => {
  expect(rulesOfThumb(plan).find((rule) => rule.passes === 1)?.minutes).toBeCloseTo(10, 10);
});

test.each([
  [1, 0.36788, 5],
  [2, 0.13534, 5],
  [3, 0.04979, 5],
  [5, 0.00674, 5],
  [7, 0.00091, 5],
  [10, 0.00005, 5],
])("after %d turnovers of an ideally filtered, mixed tank %d is left", (passes, left, digits) => {
  expect(channelLevel(plan, plan.channels[0] as PlannedChannel, passes) / 1000).toBeCloseTo(left, digits);
});
