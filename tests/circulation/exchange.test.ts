import fc from "fast-check";
import { expect, test } from "vitest";
import { isWithinReach, needsFluid, planDrying, planExchange } from "../../src/circulation/index.js";
import { solveOde } from "../support/ode.js";

const demo = { volumeL: 60, present: 900, limit: 500, fresh: 100, drainFraction: 0.4 };

test("one drain by hand: half the difference is left after half the circuit", () => {
  const { once } = planExchange({ ...demo, drainFraction: 0.8 });
  expect(once).toEqual({ kind: "litres", litres: 30, leaves: 500 });
});

test("drains of 40 % leave 60 % of the difference each: 900, 580, 388", () => {
  const { repeated } = planExchange(demo);
  expect(repeated).toEqual({ kind: "litres", times: 2, litres: 48, leaves: expect.closeTo(388, 9) });
});

test("a limit that whole drains meet exactly needs no drain more", () => {
  expect(planExchange({ ...demo, limit: 388, fresh: 100 }).repeated).toMatchObject({ times: 2 });
  expect(
    planExchange({ ...demo, present: 800, fresh: 0, limit: 100, drainFraction: 0.5 }).repeated,
  ).toMatchObject({ times: 3 });
  expect(
    planExchange({ ...demo, present: 800, fresh: 0, limit: 99, drainFraction: 0.5 }).repeated,
  ).toMatchObject({ times: 4 });
});

// What is left after whole drains, as a person writes it down: nothing more may be needed to get there.
test.each([
  [1000, 0, 0.3, 1, 700],
  [350, 0, 0.1, 3, 255.15],
  [900, 100, 0.1, 6, 525.1528],
  [500, 50, 0.95, 2, 51.125],
  [900, 100, 1, 1, 100.5],
])("%d to what %d leaves after drains of %f: %d to get to %d, and one more for a little less", (...row) => {
  const [present, fresh, drainFraction, times, limit] = row;
  const to = (aim: number) => planExchange({ volumeL: 60, present, fresh, drainFraction, limit: aim });
  expect(to(limit).repeated).toMatchObject({ times, litres: expect.closeTo(times * drainFraction * 60, 9) });
  const isOne = times === 1;
  expect(to(limit).once.kind).toBe(isOne ? "litres" : "out-of-reach");
  if (drainFraction === 1) return;
  const less = to(limit - 1e-3);
  expect([less.repeated, less.once.kind]).toMatchObject([{ times: times + 1 }, "out-of-reach"]);
});

test("feed and bleed agrees with a general ODE solver", () => {
  const { feedAndBleed } = planExchange(demo);
  const litres = feedAndBleed.kind === "litres" ? feedAndBleed.litres : 0;
  expect(solveOde((_litre, [c = 0]) => [(100 - c) / 60], [900], litres)[0]).toBeCloseTo(500, 8);
});

test("drying agrees with a general ODE solver, and stops at the driest level", () => {
  const drying = planDrying({ present: 900, limit: 300, ratePerHour: 0.3, driest: 120 });
  const hours = drying.kind === "hours" ? drying.hours : 0;
  expect(solveOde((_hour, [c = 0]) => [-0.3 * (c - 120)], [900], hours)[0]).toBeCloseTo(300, 8);
  expect(planDrying({ present: 900, limit: 120, ratePerHour: 0.3, driest: 120 })).toMatchObject({
    kind: "out-of-reach",
  });
  for (const driest of [0, 120])
    for (const present of [100, 120])
      expect(planDrying({ present, limit: 120, ratePerHour: 0.3, driest })).toEqual({
        kind: "hours",
        hours: 0,
      });
});

test("fresh fluid that is not below the limit never gets there, whatever the way", () => {
  const plan = planExchange({ ...demo, fresh: 500 });
  for (const way of [plan.once, plan.repeated, plan.feedAndBleed]) expect(way.kind).toBe("out-of-reach");
});

test("what is inside already needs nothing", () => {
  expect(planExchange({ ...demo, present: 500 }).once).toEqual({ kind: "litres", litres: 0, leaves: 500 });
});

test("one drain never needs more fluid than feeding and bleeding, and whole drains leave no more than the limit", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 2, max: 1000 }),
      fc.integer({ min: 1, max: 99 }),
      fc.integer({ min: 0, max: 99 }),
      fc.integer({ min: 5, max: 95 }),
      (present, limitPart, freshPart, drainPart) => {
        const limit = (present * limitPart) / 100;
        const fresh = (limit * freshPart) / 100;
        const plan = planExchange({ volumeL: 60, present, limit, fresh, drainFraction: drainPart / 100 });
        if (plan.repeated.kind !== "litres" || plan.feedAndBleed.kind !== "litres")
          throw new Error("expected litres");
        expect(plan.repeated.leaves).toBeLessThanOrEqual(limit * (1 + 1e-12));
        if (plan.once.kind === "litres")
          expect(plan.once.litres).toBeLessThanOrEqual(plan.feedAndBleed.litres + 1e-9);
        const oneLess =
          fresh + (present - fresh) * (1 - drainPart / 100) ** ((plan.repeated.times as number) - 1);
        expect(oneLess).toBeGreaterThan(limit * (1 - 1e-12));
      },
    ),
    { numRuns: 500, seed: 2 },
  );
});

test("what cannot be is refused by name", () => {
  expect(() => planExchange({ ...demo, drainFraction: 0 })).toThrow(
    "drainFraction must be more than 0 and at most 1, not 0",
  );
  expect(() => planExchange({ ...demo, drainFraction: "0.4" as never })).toThrow("drainFraction");
  expect(() => planExchange({ ...demo, fresh: Number.NaN })).toThrow("fresh must be 0 or more, not NaN");
  expect(() => planDrying({ present: 1, limit: 0.5, ratePerHour: 0 })).toThrow(
    "ratePerHour must be more than 0, not 0",
  );
});

test.each([
  [
    "the whole circuit is drained, and that is said, where no fraction is given",
    undefined,
    1,
    ["drains-completely"],
  ],
  ["a given fraction is taken as it is", 0.8, 0.8, []],
] as const)("%s", (_, given, taken, said) => {
  const { drainFraction: _known, ...rest } = demo;
  const plan = planExchange({ ...rest, ...(given !== undefined && { drainFraction: given }) });
  const same = planExchange({ ...rest, drainFraction: taken });
  expect({ ...plan, assumptions: [] }).toEqual({ ...same, assumptions: [] });
  expect(plan.assumptions.map(({ code }) => code)).toEqual([...said, "exchange-mixed"]);
});

test("an exchange is within reach where fluid or drying gets there, and needs fluid where it is above its limit", () => {
  const reached = planExchange(demo);
  const never = planExchange({ ...demo, fresh: 600 });
  const inside = planExchange({ ...demo, present: 500 });
  expect([reached, never, inside].map((plan) => isWithinReach(plan))).toEqual([true, false, true]);
  expect([reached, never, inside].map(needsFluid)).toEqual([true, false, false]);
  expect(isWithinReach(never, { kind: "hours", hours: 3 })).toBe(true);
  expect(isWithinReach(never, { kind: "out-of-reach", why: "too wet" })).toBe(false);
});
