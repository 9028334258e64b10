import fc from "fast-check";
import { expect, test } from "vitest";
import type { BinRating } from "../../src/circulation/equipment/elements.js";
import {
  type CirculationInput,
  channelLevel,
  levelAfter,
  type PlannedChannel,
  planCirculation,
  removalAt,
  retainedAfter,
} from "../../src/circulation/index.js";
import {
  type CircuitOfBins,
  type LimitedChannel,
  readyCircuit,
} from "../../src/circulation/model/circuit.js";
import { firstInside, firstOutside } from "../../src/circulation/model/crossing.js";
import { ModeTable } from "../../src/circulation/model/modes.js";
import { CircuitSolver, type Factors } from "../../src/circulation/model/solver.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { circuits, decades, evenly, SIZES, twoZones } from "../support/circuits.js";

/** Minutes of a plan for comparing; a target that is out of reach is later than any time. */
function minutesOf(input: CirculationInput): number {
  const plan = planCirculation(input);
  return plan.reachable ? plan.minutes : Number.POSITIVE_INFINITY;
}

/** The same time or a later one, but for rounding. */
function notBefore(later: number, earlier: number): boolean {
  return later >= earlier * (1 - 1e-11);
}

const all = { numRuns: 400, seed: 11 };

/** One limit alone, so that a plan that one channel decides does not hide the others. */
function oneLimit(input: CirculationInput, index: number): CirculationInput {
  return {
    ...input,
    limits: [input.limits[index % SIZES.length] as CirculationInput["limits"][number]],
  };
}

const anyMixing = fc.oneof(
  fc.constant({ kind: "well-mixed" as const }),
  fc.constant({ kind: "plug" as const }),
  twoZones,
);

test("more flow never lengthens the time", () => {
  let moved = 0;
  fc.assert(
    fc.property(circuits({ mixing: anyMixing }), fc.nat(5), evenly(1, 4), (input, index, times) => {
      const before = oneLimit(input, index);
      const [slow, fast] = [minutesOf(before), minutesOf({ ...before, flowLpm: before.flowLpm * times })];
      if (fast < slow) moved += 1;
      expect(notBefore(slow, fast)).toBe(true);
    }),
    all,
  );
  expect(moved).toBeGreaterThan(100);
});

test("an element that is better at every size never lengthens the time", () => {
  let moved = 0;
  fc.assert(
    fc.property(circuits({ mixing: anyMixing }), fc.nat(5), decades(1, 100), (input, index, times) => {
      const before = oneLimit(input, index);
      // β at one size alone would say that more of the smaller particles get through.
      const betas = before.betas.map(({ sizeUmC, beta }) => ({ sizeUmC, beta: 1 + (beta - 1) * times }));
      const [low, high] = [minutesOf(before), minutesOf({ ...before, betas })];
      if (high < low) moved += 1;
      expect(notBefore(low, high)).toBe(true);
    }),
    all,
  );
  expect(moved).toBeGreaterThan(40);
});

test("the first pass holds back of all particles above a size what the rating says there", () => {
  let held = 0;
  fc.assert(
    fc.property(circuits({}), fc.nat(5), ({ start, betas, volumeL, flowLpm, limits }, index) => {
      const plan = planCirculation({ start, betas, volumeL, flowLpm, limits });
      const above = plan.channels.slice(index);
      // A bin that would have to let more through than it holds says that rating and counts do not go together.
      const through = start.counts.map(
        ({ sizeUm, count }) => count * (1 - removalAt(betas, sizeUm).fraction),
      );
      const isOdd = start.counts.some(
        ({ count }, at) =>
          at >= index &&
          (through[at] as number) - (through[at + 1] ?? 0) > count - (start.counts[at + 1]?.count ?? 0),
      );
      if (isOdd) return;
      held += 1;
      const [channel] = above as [PlannedChannel];
      expect(channel.removal).toBeCloseTo(removalAt(betas, channel.sizeUmC).fraction, 9);
    }),
    all,
  );
  expect(held).toBeGreaterThan(100);
});

test("less ingress never lengthens the time", () => {
  let moved = 0;
  fc.assert(
    fc.property(circuits({ mixing: anyMixing }), fc.nat(5), evenly(0, 1), (input, index, part) => {
      const before = oneLimit(input, index);
      const ingress = (before.ingress ?? []).map((entry) => ({
        ...entry,
        particlesPerMin: entry.particlesPerMin * part,
      }));
      const [more, less] = [minutesOf(before), minutesOf({ ...before, ingress })];
      if (less < more) moved += 1;
      expect(notBefore(more, less)).toBe(true);
    }),
    all,
  );
  expect(moved).toBeGreaterThan(40);
});

test("particles are conserved: start + ingress = in the fluid + held, to rounding", () => {
  fc.assert(
    fc.property(
      circuits({ mixing: anyMixing }),
      fc.integer({ min: 0, max: 20 }),
      evenly(0, 1),
      (input, whole, part) => {
        const plan = planCirculation(input);
        const passes = whole + part;
        plan.channels.forEach((channel, index) => {
          const perMin = input.ingress?.[index]?.particlesPerMin ?? 0;
          const entered = (perMin * passes * plan.minutesPerPass) / (input.volumeL * 1000);
          const found = channelLevel(plan, channel, passes) + retainedAfter(plan, channel, passes);
          expect(found / (channel.start + entered)).toBeCloseTo(1, 11);
        });
      },
    ),
    all,
  );
});

test("two zones with a slow fraction of 0 are well mixed", () => {
  fc.assert(
    fc.property(
      circuits({ mixing: fc.constant(undefined) }),
      decades(0.001, 10),
      (input, exchangePerPass) => {
        const mixing = { kind: "two-zone", slowFraction: 0, exchangePerPass } as const;
        const [zones, mixed] = [planCirculation({ ...input, mixing }), planCirculation(input)];
        expect(zones.channels).toEqual(mixed.channels);
        expect(zones.reachable && zones.minutes).toBe(mixed.reachable && mixed.minutes);
      },
    ),
    all,
  );
});

test("a slow zone that is nearly nothing is nearly well mixed", () => {
  fc.assert(
    fc.property(circuits({ mixing: fc.constant(undefined) }), evenly(0, 5), (input, passes) => {
      const mixing = { kind: "two-zone", slowFraction: 1e-9, exchangePerPass: 1 } as const;
      const [zones, mixed] = [planCirculation({ ...input, mixing }), planCirculation(input)];
      zones.channels.forEach((channel, index) => {
        const other = mixed.channels[index] as (typeof mixed.channels)[number];
        expect(channelLevel(zones, channel, passes) / channelLevel(mixed, other, passes)).toBeCloseTo(1, 6);
      });
    }),
    all,
  );
});

test("without ingress, after any number of passes, plug ≤ well mixed ≤ two zones", () => {
  let apart = 0;
  fc.assert(
    fc.property(
      circuits({ mixing: fc.constant(undefined), ingress: fc.constant(undefined) }),
      twoZones,
      evenly(0, 15),
      (input, zones, passes) => {
        // A side stream cleans between two whole passes as well, which the straight line of plug flow does not show.
        const at = input.sideStream === undefined ? passes : Math.floor(passes);
        const [plug, mixed, slow] = [{ kind: "plug" } as const, { kind: "well-mixed" } as const, zones].map(
          (mixing) => {
            const plan = planCirculation({ ...input, mixing });
            return plan.channels.map((channel) => channelLevel(plan, channel, at));
          },
        ) as [number[], number[], number[]];
        mixed.forEach((level, index) => {
          if ((plug[index] as number) < 0.9 * level && level < 0.9 * (slow[index] as number)) apart += 1;
          expect((plug[index] as number) <= level * (1 + 1e-12)).toBe(true);
          expect(level <= (slow[index] as number) * (1 + 1e-12)).toBe(true);
        });
      },
    ),
    all,
  );
  expect(apart).toBeGreaterThan(300);
});

test("the port is never dirtier than the circuit when nothing comes in", () => {
  fc.assert(
    fc.property(
      circuits({ mixing: twoZones, ingress: fc.constant(undefined) }),
      evenly(0, 10),
      (input, passes) => {
        const plan = planCirculation(input);
        for (const channel of plan.channels) {
          const port = levelAfter(channel.portModes, passes);
          expect(port).toBeLessThanOrEqual(levelAfter(channel.modes, passes) * (1 + 1e-11));
          expect(port).toBeGreaterThanOrEqual(0);
        }
      },
    ),
    all,
  );
});

const anyModes = fc.array(
  fc.record({
    start: fc.oneof(fc.constant(0), decades(0.1, 1000)),
    inflow: fc.oneof(fc.constant(0), decades(0.01, 1000)),
    rate: fc.oneof(fc.constant(0), decades(0.01, 3)),
  }),
  { minLength: 1, maxLength: 6 },
);

function tableOf(modes: readonly { start: number; inflow: number; rate: number }[]): ModeTable {
  const table = new ModeTable(modes.length);
  for (const { start, inflow, rate } of modes) table.add(start, inflow, rate);
  return table;
}

/** Moments that lie closer together where much happens. */
const MOMENTS = Array.from({ length: 2000 }, (_, step) => 400 * (step / 2000) ** 3);

test("no moment of a fine grid is inside before the first crossing that is found, whatever rises and falls", () => {
  let [crossed, never, rising] = [0, 0, 0];
  fc.assert(
    fc.property(anyModes, evenly(0, 1), evenly(0, 3), (modes, part, from) => {
      const table = tableOf(modes);
      const levels = MOMENTS.map((moment) => table.levelAfter(from + moment));
      const limit = Math.min(...levels) * 0.9 + part * (Math.max(...levels) - 0.9 * Math.min(...levels));
      const found = firstInside(table, limit, from);
      const before = levels.filter((_, index) => from + (MOMENTS[index] as number) < found * (1 - 1e-9));
      expect(Math.min(...before, Number.POSITIVE_INFINITY)).toBeGreaterThan(limit * (1 - 1e-9));
      if (Number.isFinite(found)) {
        expect(table.levelAfter(found)).toBeLessThanOrEqual(limit * (1 + 1e-9));
        if (found > from) crossed += 1;
        if (modes.some(({ start, inflow, rate }) => inflow > rate * start)) rising += 1;
      } else never += 1;
    }),
    { numRuns: 600, seed: 5 },
  );
  expect(Math.min(crossed, never, rising)).toBeGreaterThan(50);
});

test("no moment of a fine grid is outside before the first leaving that is found", () => {
  let [left, stayed] = [0, 0];
  fc.assert(
    fc.property(anyModes, evenly(0, 1), (modes, part) => {
      const table = tableOf(modes);
      const levels = MOMENTS.map((moment) => table.levelAfter(moment));
      const limit = (levels[0] as number) + part * (Math.max(...levels) - (levels[0] as number)) * 1.2 + 1e-6;
      const found = firstOutside(table, limit, 0);
      const before = levels.filter((_, index) => (MOMENTS[index] as number) < found * (1 - 1e-9));
      expect(Math.max(...before, 0)).toBeLessThan(limit * (1 + 1e-9));
      if (Number.isFinite(found)) {
        expect(table.levelAfter(found)).toBeGreaterThan(limit * (1 - 1e-9));
        left += 1;
      } else stayed += 1;
    }),
    { numRuns: 600, seed: 6 },
  );
  expect(Math.min(left, stayed)).toBeGreaterThan(50);
});

test("where nothing rises the crossing is found to the last digits that halving finds, however far apart the rates are", () => {
  const falling = fc.array(
    fc.record({ start: decades(0.01, 1e5), inflow: fc.constant(0), rate: decades(1e-3, 3) }),
    { minLength: 1, maxLength: 6 },
  );
  let crossed = 0;
  fc.assert(
    fc.property(falling, decades(1e-6, 1), evenly(0, 5), (modes, part, from) => {
      const table = tableOf(modes);
      const limit = part * table.levelAfter(0);
      const found = firstInside(table, limit, from);
      let [low, high] = [from, from];
      for (let further = 1; table.levelAfter(high) > limit; further *= 2) high += further;
      if (high > low) crossed += 1;
      for (let halved = 0; halved < 200; halved += 1) {
        const middle = (low + high) / 2;
        if (table.levelAfter(middle) > limit) low = middle;
        else high = middle;
      }
      // Rounding of a level near the limit moves the crossing by that over the slope, which no rate is below.
      const rounding = 16 * Number.EPSILON * (1 / Math.min(...modes.map(({ rate }) => rate)) + high);
      expect(Math.abs(found - high)).toBeLessThanOrEqual(rounding);
    }),
    { numRuns: 2000, seed: 17 },
  );
  expect(crossed).toBeGreaterThan(1000);
});

const factor = decades(0.3, 3);
/** What a drawn case multiplies the stated values by, and the counts of the start. */
const drawnCase = fc.record({
  volume: factor,
  flow: factor,
  beta: factor,
  ingress: factor,
  slowZone: factor,
  leakage: fc.double({ min: 0, max: 0.5, noNaN: true }),
  dirt: factor,
});

test("case after case, all channels are inside together when the last one is that is asked alone", () => {
  const cases = fc.array(drawnCase, { minLength: 3, maxLength: 3 });
  // Dirt that enters may be given at few sizes, so that channels differ in it, and a limit may end at the next size.
  const some = fc.array(fc.boolean(), { minLength: SIZES.length, maxLength: SIZES.length });
  const last = new Set<number>();
  let never = 0;
  fc.assert(
    fc.property(circuits({}), some, some, fc.boolean(), cases, (whole, given, ending, isNear, drawn) => {
      const input: CirculationInput = {
        ...whole,
        ...(whole.ingress && { ingress: whole.ingress.filter((_, size) => size === 0 || given[size]) }),
        limits: whole.limits.map((limit, size) => {
          const toUm = SIZES[size + 1];
          return {
            ...limit,
            // Some are reached within a pass.
            ...(isNear && { limit: limit.limit ** 0.1 * (whole.start.counts[size]?.count as number) ** 0.9 }),
            ...(ending[size] && toUm !== undefined && { toUm }),
          };
        }),
      };
      const circuit = readyCircuit(input);
      const solver = new CircuitSolver(circuit);
      for (const { dirt, ...factors } of drawn) {
        const startPerMl = Float64Array.from(circuit.bins, (bin) => bin.startPerMl * dirt);
        const limitPerMl = Float64Array.from(circuit.limited, ({ limit }) => limit);
        solver.set({ ...factors, startPerMl, limitPerMl });
        const together = solver.passesToAll(false);
        const alone = new CircuitSolver(circuit);
        alone.set({ ...factors, startPerMl, limitPerMl });
        const each = circuit.limited.map((_, channel) => alone.passesToLimit(channel, false));
        const latest = Math.max(...each);
        if (latest === Number.POSITIVE_INFINITY) {
          never += 1;
          expect(together).toBe(latest);
        } else if (each.every((passes, channel) => alone.passesToLeave(channel, passes) > latest)) {
          last.add(each.indexOf(latest));
          expect(Math.abs(together - latest)).toBeLessThanOrEqual(1e-11 * latest);
        }
      }
    }),
    { numRuns: 800, seed: 23 },
  );
  // Every size has been the last one.
  expect(last.size).toBe(SIZES.length);
  expect(never).toBeGreaterThan(20);
});

/** A circuit whose stated values are those of a case, for holding what the case multiplies against. */
function statedSo(
  circuit: CircuitOfBins,
  { volume, flow, beta, ingress, slowZone, leakage, startPerMl, limitPerMl }: Factors,
) {
  // What leaks past a seal goes around the element as what is bypassed does.
  const leaking = (bypass: number) => 1 - (1 - bypass) * (1 - leakage);
  const better = (rated: number) => 1 + (rated - 1) * beta;
  const improved = (rating: BinRating): BinRating => ({
    lower: better(rating.lower),
    least: better(rating.least),
    upper: better(rating.upper),
    above: rating.above,
  });
  const { mixing } = circuit;
  const odds =
    mixing.kind === "two-zone" ? (slowZone * mixing.slowFraction) / (1 - mixing.slowFraction) : Number.NaN;
  return {
    ...circuit,
    volumeL: circuit.volumeL * volume,
    flowLpm: circuit.flowLpm * flow,
    mainBypasses: circuit.mainBypasses.map(leaking),
    sideBypasses: circuit.sideBypasses.map(leaking),
    mixing: mixing.kind === "two-zone" ? { ...mixing, slowFraction: odds / (1 + odds) } : mixing,
    bins: circuit.bins.map((bin, index) => ({
      ...bin,
      startPerMl: startPerMl[index] as number,
      main: bin.main.map(improved),
      ...(bin.side !== undefined && { side: improved(bin.side) }),
    })),
    limited: circuit.limited.map((channel, index) => ({
      ...channel,
      limit: limitPerMl[index] as number,
      ingressPerMin: channel.ingressPerMin.map((entering) => entering * ingress),
    })),
  };
}

test("a drawn case is the circuit with the values drawn, in every quantity that is multiplied", () => {
  const near = (own: number, other: number) =>
    expect(Math.abs(own - other)).toBeLessThanOrEqual(1e-9 * Math.abs(other));
  let reached = 0;
  fc.assert(
    fc.property(circuits({ mixing: anyMixing }), drawnCase, (input, { dirt, ...shared }) => {
      const circuit = readyCircuit(input);
      const factors = {
        ...shared,
        startPerMl: Float64Array.from(circuit.bins, (bin, index) => bin.startPerMl * dirt * (1 + index / 8)),
        limitPerMl: Float64Array.from(circuit.limited, ({ limit }, index) => limit * (1 + index / 16)),
      };
      const drawn = new CircuitSolver(circuit);
      drawn.set(factors);
      const stated = statedSo(circuit, factors);
      const built = new CircuitSolver(stated);
      near(drawn.minutesPerPass, stated.volumeL / stated.flowLpm);
      near(drawn.minutesPerPass, built.minutesPerPass);
      circuit.bins.forEach((_, bin) => {
        near(drawn.removalOfBin(bin), built.removalOfBin(bin));
      });
      for (const seenFrom of ["circuit", "upstream", "downstream"] as const) {
        circuit.limited.forEach((channel, index) => {
          const [own, other] = [channel, stated.limited[index] as LimitedChannel].map((limited, which) =>
            (which === 0 ? drawn : built).modesOf(limited, seenFrom),
          ) as [ModeTable, ModeTable];
          for (const passes of [0, 0.7, 6]) near(own.levelAfter(passes), other.levelAfter(passes));
        });
      }
      const passes = built.passesToAll(false);
      if (passes === Number.POSITIVE_INFINITY || passes > 1e6) return;
      reached += 1;
      circuit.limited.forEach((_, channel) => {
        near(drawn.levelAfter(channel, passes), built.levelAfter(channel, passes));
      });
      expect(Math.abs(drawn.passesToAll(false) - passes)).toBeLessThanOrEqual(1e-6 * passes);
    }),
    { numRuns: 300, seed: 29 },
  );
  expect(reached).toBeGreaterThan(50);
});

test("bins that one of several elements takes out otherwise are not taken for the same", () => {
  const beta = (below: number, from: number, above: number) => [
    { sizeUmC: 4, beta: below },
    { sizeUmC: from - 0.1, beta: below },
    { sizeUmC: from, beta: above },
  ];
  const circuit = readyCircuit({
    volumeL: 60,
    flowLpm: 40,
    betas: [{ sizeUmC: 4, beta: 20 }],
    inSeries: [{ betas: beta(2, 14, 50), bypass: 0.1 }],
    sideStream: { betas: beta(3, 38, 100), flowLpm: 10 },
    start: cumulativeCounts(
      SIZES.map((sizeUm, index) => ({ sizeUm, count: 20_000 / 4 ** index })),
      1,
    ),
    limits: [{ channel: "4", fromUm: 4, limit: 1000, volumeMl: 1 }],
  });
  const solver = new CircuitSolver(circuit);
  SIZES.forEach((size, bin) => {
    const next = SIZES[bin + 1] ?? Number.POSITIVE_INFINITY;
    // A third as many particles are above each bin as are in it, because counts fall by a factor of four.
    const above = (ratio: (sizeUm: number) => number) =>
      next === Number.POSITIVE_INFINITY || ratio(size) === ratio(next)
        ? 1 / ratio(size)
        : Math.min(1, 4 / 3 / ratio(size) - 1 / 3 / ratio(next));
    const lets = (through: number, bypass = 0) => bypass + (1 - bypass) * through;
    const main =
      1 -
      lets(1 / 20) *
        lets(
          above((at) => (at < 14 ? 2 : 50)),
          0.1,
        );
    const side = 1 - lets(above((at) => (at < 38 ? 3 : 100)));
    expect(solver.removalOfBin(bin)).toBeCloseTo(main + (10 / 40) * side, 12);
  });
});
