// Reference: odex 2.0.4, a port of the Gragg-Bulirsch-Stoer code ODEX of Hairer and Wanner (Solving Ordinary
// Differential Equations I). A continuous size distribution in 400 narrow classes, each with its own transmission; the
// cumulative β at the counted sizes is worked out from them, as a rating is, and handed to the plan.
import { expect, test } from "vitest";
import { planCirculation } from "../../src/circulation/index.js";
import { limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { solveOde } from "../support/ode.js";

const [VOLUME_L, FLOW_LPM] = [60, 15];
const SIZES = [4, 6, 14, 21];
const CLASSES = 400;

interface Narrow {
  readonly fromUm: number;
  readonly count: number;
  readonly through: number;
}

/** Counts fall with a power of the size; what gets through falls with size, from `at4` on. */
function narrowClasses(power: number, at4: number, steep: number): Narrow[] {
  const edge = (index: number) => 4 * 20 ** (index / CLASSES);
  const above = (sizeUm: number) => 20_000 * (sizeUm / 4) ** -power;
  return Array.from({ length: CLASSES }, (_, index) => {
    const [fromUm, toUm] = [edge(index), edge(index + 1)];
    const middle = Math.sqrt(fromUm * toUm);
    return {
      fromUm,
      count: above(fromUm) - (index === CLASSES - 1 ? 0 : above(toUm)),
      through: at4 * Math.exp(-steep * (middle - 4)),
    };
  });
}

const sumFrom = (classes: readonly Narrow[], sizeUm: number, of: (one: Narrow) => number) =>
  classes.filter(({ fromUm }) => fromUm >= sizeUm * (1 - 1e-12)).reduce((sum, one) => sum + of(one), 0);

/** The sizes of the classes nearest to the counted ones, so that a class lies on one side of each. */
function countedSizes(classes: readonly Narrow[]): number[] {
  return SIZES.map((size) =>
    classes.reduce(
      (best, { fromUm }) => (Math.abs(fromUm - size) < Math.abs(best - size) ? fromUm : best),
      4,
    ),
  );
}

const worlds = [
  { name: "a very open mesh", power: 1.5, at4: 0.95, steep: 0.3, atMost: 1.4 },
  { name: "an open mesh", power: 2, at4: 0.7, steep: 0.1, atMost: 1.03 },
  { name: "a fine element", power: 2.5, at4: 0.2, steep: 0.4, atMost: 1.01 },
  { name: "a very fine element", power: 3, at4: 0.05, steep: 0.5, atMost: 1.01 },
];

test.each(worlds)(
  "$name: at the start the circuit cleans as fast as a continuous distribution does",
  ({ power, at4, steep }) => {
    const { plan, classes, sizes } = planFor(power, at4, steep);
    plan.channels.forEach(({ removal, sizeUmC }) => {
      const all = sumFrom(classes, sizeUmC, ({ count }) => count);
      const heldBack = sumFrom(classes, sizeUmC, ({ count, through }) => count * (1 - through));
      expect([sizes.includes(sizeUmC), removal]).toEqual([true, expect.closeTo(heldBack / all, 9)]);
    });
  },
);

test.each(worlds)(
  "$name: later the finest of each bin stay longest; the true time is at most $atMost of the planned one",
  ({ power, at4, steep, atMost }) => {
    const { plan, classes } = planFor(power, at4, steep);
    if (!plan.reachable) throw new Error(plan.obstacle);
    const levelsAt = (minutes: number) =>
      classes.map(({ count, through }) => {
        const [level = 0] = solveOde(
          (_, [own = 0]) => [(-FLOW_LPM / VOLUME_L) * (1 - through) * own],
          [count],
          minutes,
        );
        return level;
      });
    const insideAt = (minutes: number) => {
      const levels = levelsAt(minutes);
      const left = classes.map((one, index) => ({ ...one, count: levels[index] as number }));
      return plan.channels.every(
        ({ sizeUmC, limit }) => sumFrom(left, sizeUmC, ({ count }) => count) <= limit,
      );
    };
    let [early, late] = [0, 10 * plan.minutes];
    while (late - early > 1e-3 * plan.minutes) {
      const middle = (early + late) / 2;
      if (insideAt(middle)) late = middle;
      else early = middle;
    }
    // What one number for a bin leaves out; it matters where most of a bin gets through.
    expect(late / plan.minutes).toBeGreaterThan(0.998);
    expect(late / plan.minutes).toBeLessThan(atMost);
  },
);

function planFor(power: number, at4: number, steep: number) {
  const classes = narrowClasses(power, at4, steep);
  const sizes = countedSizes(classes);
  const above = (sizeUm: number) => sumFrom(classes, sizeUm, ({ count }) => count);
  const plan = planCirculation({
    volumeL: VOLUME_L,
    flowLpm: FLOW_LPM,
    betas: sizes.map((sizeUmC) => ({
      sizeUmC,
      beta: above(sizeUmC) / sumFrom(classes, sizeUmC, ({ count, through }) => count * through),
    })),
    start: cumulativeCounts(
      sizes.map((sizeUm) => ({ sizeUm, count: above(sizeUm) })),
      1,
    ),
    limits: limitsOfTarget(parseTarget("17/15/12")).map((limit, index) => ({
      ...limit,
      fromUm: sizes[index] as number,
    })),
  });
  return { plan, classes, sizes };
}
