import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  fluidCarried,
  getsThrough,
  type Hookup,
  levelCarried,
  levelsAfter,
} from "../../src/circulation/index.js";
import { evenly } from "../support/circuits.js";

describe("two volumes that exchange flow", () => {
  test("worked by hand: 60 L of 300 ppm and 30 L of 0 ppm at 20 L/min approach 200 ppm by 1/e in a minute", () => {
    const volumes = { circuitL: 60, aircraftL: 30, flowLpm: 20, circuitLevel: 300, aircraftLevel: 0 };
    // k = 20 (1/60 + 1/30) = 1 per minute; C∞ = 60 · 300 / 90 = 200.
    const { circuit, aircraft } = levelsAfter(volumes, 1);
    expect(aircraft).toBeCloseTo(200 * (1 - Math.exp(-1)), 10);
    expect(circuit).toBeCloseTo(200 + 100 * Math.exp(-1), 10);
  });

  test("worked by hand: filters that let half through each way, two volumes of 10 L at 10 L/min", () => {
    const volumes = { circuitL: 10, aircraftL: 10, flowLpm: 10, circuitLevel: 100, aircraftLevel: 0 };
    // The rates are 1 ± 0.5 per minute: C_a = 50 (e^−0.5 − e^−1.5).
    const { aircraft } = levelsAfter({ ...volumes, toAircraft: 0.5, back: 0.5 }, 1);
    expect(aircraft).toBeCloseTo(50 * (Math.exp(-0.5) - Math.exp(-1.5)), 10);
  });

  test("a filter that lets nothing through keeps the aircraft clean, and equal volumes do not divide by zero", () => {
    const volumes = { circuitL: 10, aircraftL: 10, flowLpm: 10, circuitLevel: 100, aircraftLevel: 0 };
    expect(levelsAfter({ ...volumes, toAircraft: 0 }, 3)).toEqual({
      circuit: 100 * Math.exp(-3),
      aircraft: 0,
    });
    expect(levelsAfter({ ...volumes, back: 0 }, 1).aircraft).toBeCloseTo(100 * Math.exp(-1), 10);
  });

  test("no flow and no minutes change nothing", () => {
    const volumes = { circuitL: 60, aircraftL: 30, flowLpm: 0, circuitLevel: 300, aircraftLevel: 20 };
    expect(levelsAfter(volumes, 100)).toEqual({ circuit: 300, aircraft: 20 });
    expect(levelsAfter({ ...volumes, flowLpm: 20 }, 0)).toEqual({ circuit: 300, aircraft: 20 });
  });

  test.each([
    [{ circuitL: 0 }, "circuitL must be above 0, not 0"],
    [{ aircraftL: Number.NaN }, "aircraftL must be above 0, not NaN"],
    [{ flowLpm: -1 }, "flowLpm must be 0 or more, not -1"],
    [{ circuitLevel: Number.POSITIVE_INFINITY }, "circuitLevel must be 0 or more, not Infinity"],
    [{ toAircraft: 1.1 }, "toAircraft must be a share from 0 to 1, not 1.1"],
    [{ back: Number.NaN }, "back must be a share from 0 to 1, not NaN"],
  ])("refuses %o", (change, message) => {
    const volumes = { circuitL: 60, aircraftL: 30, flowLpm: 20, circuitLevel: 300, aircraftLevel: 0 };
    expect(() => levelsAfter({ ...volumes, ...change }, 1)).toThrow(message);
  });

  const volumes = fc.record({
    circuitL: evenly(1, 300),
    aircraftL: evenly(1, 300),
    flowLpm: evenly(0.1, 200),
    circuitLevel: evenly(0, 1e6),
    aircraftLevel: evenly(0, 1e6),
  });
  const total = (v: { circuitL: number; aircraftL: number }, l: { circuit: number; aircraft: number }) =>
    v.circuitL * l.circuit + v.aircraftL * l.aircraft;

  test("without filters the total is kept, with them it never grows, and no level leaves the range of the two at the start", () => {
    fc.assert(
      fc.property(volumes, evenly(0, 60), evenly(0, 1), (v, minutes, through) => {
        const start = { circuit: v.circuitLevel, aircraft: v.aircraftLevel };
        const whole = total(v, start);
        expect(Math.abs(total(v, levelsAfter(v, minutes)) - whole)).toBeLessThanOrEqual(1e-9 * (whole + 1));
        const filtered = levelsAfter({ ...v, toAircraft: through, back: through }, minutes);
        expect(total(v, filtered)).toBeLessThanOrEqual(whole * (1 + 1e-9) + 1e-9);
        const most = Math.max(v.circuitLevel, v.aircraftLevel) * (1 + 1e-9);
        const { circuit, aircraft } = levelsAfter(v, minutes);
        expect(Math.max(circuit, aircraft, filtered.circuit, filtered.aircraft)).toBeLessThanOrEqual(most);
        const least = Math.min(v.circuitLevel, v.aircraftLevel) * (1 - 1e-9);
        expect(Math.min(circuit, aircraft)).toBeGreaterThanOrEqual(least);
      }),
      { seed: 1 },
    );
  });

  test("a clean aircraft holds more with every minute, and in the end the mean by volume", () => {
    fc.assert(
      fc.property(volumes, evenly(0, 30), evenly(0, 30), (v, minutes, more) => {
        const clean = { ...v, aircraftLevel: 0 };
        const [early, late] = [levelsAfter(clean, minutes), levelsAfter(clean, minutes + more)];
        expect(late.aircraft).toBeGreaterThanOrEqual(early.aircraft * (1 - 1e-12));
        const end = levelsAfter(clean, 1e7).aircraft;
        const mean = (v.circuitL * v.circuitLevel) / (v.circuitL + v.aircraftL);
        expect(Math.abs(end - mean)).toBeLessThanOrEqual(1e-6 * (mean + 1));
        expect(late.aircraft).toBeLessThanOrEqual(mean * (1 + 1e-9));
      }),
      { seed: 2 },
    );
  });
});

const HOOKUP: Hookup = { circuitL: 60, aircraftL: 90, flowLpm: 20, minutes: 2, returns: true };

describe("the most fluid that is carried over", () => {
  test.each<[string, Partial<Hookup>, number, string, readonly string[]]>([
    ["2 minutes at 20 L/min: what was pumped", {}, 40, "pumped", []],
    [
      "3 minutes: what the circuit holds, and pumping as much is the same number",
      { minutes: 3 },
      60,
      "pumped",
      [],
    ],
    ["4 minutes: what the circuit holds", { minutes: 4 }, 60, "circuit", []],
    ["a small aircraft: what it holds", { minutes: 4, aircraftL: 30 }, 30, "aircraft", []],
    ["no minutes: nothing", { minutes: 0 }, 0, "pumped", []],
    ["minutes not stated", { minutes: undefined }, 60, "circuit", ["minutes"]],
    ["flow not stated", { flowLpm: undefined, aircraftL: 45 }, 45, "aircraft", ["flowLpm"]],
    ["volume of the aircraft not stated", { aircraftL: undefined }, 40, "pumped", ["aircraftL"]],
    [
      "nothing stated",
      { aircraftL: undefined, flowLpm: undefined, minutes: undefined },
      60,
      "circuit",
      ["aircraftL", "flowLpm", "minutes"],
    ],
    ["more serviced than the stated flow can pump: the litres serviced", { servicedL: 45 }, 45, "pumped", []],
    ["serviced while connected for long: the circuit", { servicedL: 3, minutes: 30 }, 60, "circuit", []],
    [
      "serviced, minutes not stated: it came back as well",
      { servicedL: 3, minutes: undefined },
      60,
      "circuit",
      ["minutes"],
    ],
    ["delivers only: the litres serviced", { returns: false, servicedL: 3 }, 3, "serviced", []],
    ["delivers only, nothing serviced", { returns: false, servicedL: 0 }, 0, "serviced", []],
    [
      "delivers only, more serviced than the circuit holds: it was filled up in between",
      { returns: false, servicedL: 70 },
      70,
      "serviced",
      [],
    ],
    ["delivers only, litres not stated: what was pumped", { returns: false }, 40, "pumped", ["servicedL"]],
    [
      "delivers only, neither litres nor minutes stated: the circuit",
      { returns: false, minutes: undefined },
      60,
      "circuit",
      ["servicedL", "minutes"],
    ],
  ])("%s", (_title, change, litres, boundBy, missing) => {
    expect(fluidCarried({ ...HOOKUP, ...change })).toMatchObject({ litres, boundBy, missing });
  });

  test("as a share of the aircraft's fluid: 40 of 90 L, never more than all, none where the volume is not known", () => {
    expect(fluidCarried(HOOKUP).share).toBeCloseTo(4 / 9, 12);
    expect(fluidCarried({ ...HOOKUP, returns: false, servicedL: 200 }).share).toBe(1);
    expect(fluidCarried({ ...HOOKUP, aircraftL: undefined })).not.toHaveProperty("share");
  });

  test.each([
    [{ circuitL: 0 }, "circuitL must be above 0, not 0"],
    [{ aircraftL: Number.NaN }, "aircraftL must be above 0, not NaN"],
    [{ minutes: -1 }, "minutes must be 0 or more, not -1"],
    [{ servicedL: Number.POSITIVE_INFINITY }, "servicedL must be 0 or more, not Infinity"],
  ])("refuses %o", (change, message) => {
    expect(() => fluidCarried({ ...HOOKUP, ...change })).toThrow(message);
  });

  test("more minutes, more flow and larger volumes never lower the bound, and leaving a number out never does", () => {
    const given = fc.record({
      circuitL: evenly(1, 300),
      aircraftL: evenly(1, 300),
      flowLpm: evenly(0, 200),
      minutes: evenly(0, 60),
      servicedL: fc.option(evenly(0, 300), { nil: undefined }),
    });
    fc.assert(
      fc.property(
        given,
        fc.constantFrom("circuitL", "aircraftL", "flowLpm", "minutes"),
        evenly(1, 3),
        (one, name, times) => {
          const bound = fluidCarried({ ...one, returns: true }).litres;
          expect(
            fluidCarried({ ...one, [name]: one[name] * times, returns: true }).litres,
          ).toBeGreaterThanOrEqual(bound);
          if (name !== "circuitL")
            expect(fluidCarried({ ...one, [name]: undefined, returns: true }).litres).toBeGreaterThanOrEqual(
              bound,
            );
        },
      ),
      { seed: 3 },
    );
  });
});

describe("what is carried over of a level", () => {
  test("worked by hand: 40 L of 450 ppm into 90 L raise it by 200 ppm; well mixed by 117.0", () => {
    const { amount, rise, ifMixed } = levelCarried(HOOKUP, 450);
    expect([amount, rise]).toEqual([18_000, 200]);
    // k t = 20 (1/60 + 1/90) · 2 = 10/9; C∞ = 60 · 450 / 150 = 180.
    expect(ifMixed?.rise).toBeCloseTo(180 * (1 - Math.exp(-10 / 9)), 9);
    expect(ifMixed?.amount).toBeCloseTo(90 * 180 * (1 - Math.exp(-10 / 9)), 6);
  });

  test("an aircraft of unknown volume can rise to the level of the circuit, and no mixed figure is given", () => {
    const carried = levelCarried({ ...HOOKUP, aircraftL: undefined }, 450);
    expect(carried).toEqual({ amount: 18_000, rise: 450 });
  });

  test.each([[-1], [Number.NaN], [1e308]])("a level of %s gives no amount", (level) => {
    expect(() => levelCarried(HOOKUP, level)).toThrow("no amount follows from 40 L of fluid with a level of");
  });

  test("what is filled in is counted once: 3 L of 450 ppm into 90 L", () => {
    const carried = levelCarried({ ...HOOKUP, returns: false, servicedL: 3 }, 450);
    expect(carried).toEqual({ amount: 1350, rise: 15 });
  });

  test("the bound is never below the mixed figure, with and without a filter, at the stated flow and below", () => {
    fc.assert(
      fc.property(
        fc.record({
          circuitL: evenly(1, 300),
          aircraftL: evenly(1, 300),
          flowLpm: evenly(0, 200),
          minutes: evenly(0, 60),
        }),
        evenly(0, 1),
        evenly(0, 1),
        (one, through, part) => {
          const bound = levelCarried({ ...one, returns: true }, 1000, through);
          const less = levelCarried({ ...one, flowLpm: one.flowLpm * part, returns: true }, 1000, through);
          expect(less.ifMixed?.rise).toBeLessThanOrEqual(bound.rise * (1 + 1e-9));
          expect(less.ifMixed?.amount).toBeLessThanOrEqual(bound.amount * (1 + 1e-9));
        },
      ),
      { seed: 4 },
    );
  });
});

describe("what gets through an element on the way", () => {
  const betas = [
    { sizeUmC: 14, beta: 1000 },
    { sizeUmC: 4, beta: 20 },
    { sizeUmC: 6, beta: 100 },
  ];
  test.each([
    ["at a rated size by its rating", 6, 0.01],
    ["between two sizes by the smaller one, without a line", 10, 0.01],
    ["above the largest by the largest", 38, 0.001],
    ["below the smallest everything", 3, 1],
  ])("%s", (_title, sizeUm, share) => {
    expect(getsThrough(betas, sizeUm)).toBeCloseTo(share, 12);
  });

  test("a rating that falls with size counts for all sizes before it", () => {
    expect(getsThrough([...betas, { sizeUmC: 21, beta: 50 }], 14)).toBeCloseTo(0.02, 12);
  });
});
