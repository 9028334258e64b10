// MANN-KENDALL-FORM: Wisconsin administrative form of the Mann-Kendall test (county document scan): five results with S = −5, which is the
// critical score at a chance of 0.2 for n = 5.
import { expect, test } from "vitest";
import { trendTest } from "../../src/trend/index.js";

test("100, 50, 85, 75, 50 have S = -5, and a tie that the exact distribution does not serve", () => {
  const result = trendTest([100, 50, 85, 75, 50].map((y, x) => ({ x, y })));
  expect(result).toMatchObject({ n: 5, score: -5, method: "normal" });
  expect(result.pValue / 2).toBeLessThan(0.2);
});
