import { beforeAll, describe, expect, test } from "vitest";
import { AS_DELIVERED, HABITS, type Tally, tallyOf, textsOf } from "../support/fit/habits.js";

/** Every four weeks; npm run habits judges every week. */
const EVERY_DAYS = 28;
/** Share of fit that a habit may cost. */
const LOST_MAX = 0.05;

describe("a base that does everything right by other habits is not sent away", () => {
  let base: Tally;
  beforeAll(async () => {
    base = await tallyOf(textsOf(AS_DELIVERED), EVERY_DAYS);
  });

  test("the demo as delivered is mostly fit", () => {
    expect(base.fit / base.judged).toBeGreaterThan(0.85);
  });

  test.each(HABITS.map((habit) => [habit.name, habit] as const))("%s", async (_name, habit) => {
    const { judged, fit, falselyFit } = await tallyOf(textsOf(habit), EVERY_DAYS);
    expect(judged).toBe(base.judged);
    expect(fit / judged).toBeGreaterThanOrEqual(base.fit / base.judged - LOST_MAX);
    const moreOften = [...falselyFit].filter(
      ([circuit, count]) => count > (base.falselyFit.get(circuit) ?? 0),
    );
    expect(moreOften).toEqual([]);
  });
});
