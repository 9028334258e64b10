// Reference: odex 2.0.4, a port of the Gragg-Bulirsch-Stoer code ODEX of Hairer and Wanner (Solving Ordinary
// Differential Equations I). The balances are written out here from the quantities of the circuit, in minutes and
// without any closed form.
import fc from "fast-check";
import { expect, test } from "vitest";
import {
  type CirculationInput,
  channelLevel,
  planCirculation,
  portLevel,
} from "../../src/circulation/index.js";
import { circuits, evenly, SIZES } from "../support/circuits.js";
import { solveOde } from "../support/ode.js";

interface Zones {
  /** Particles per mL larger than each size, average of the circuit. */
  readonly circuit: readonly number[];
  readonly port: readonly number[];
}

/** β at a size, by the reading that the plan documents. */
function betaFor(betas: CirculationInput["betas"], sizeUm: number): number {
  const upper = betas.findIndex((entry) => entry.sizeUmC >= sizeUm);
  const last = betas.at(-1) as { sizeUmC: number; beta: number };
  if (upper === -1) return last.beta;
  const above = betas[upper] as { sizeUmC: number; beta: number };
  const below = betas[upper - 1] ?? above;
  if (above.sizeUmC === sizeUm) return above.beta;
  const share = (sizeUm - below.sizeUmC) / (above.sizeUmC - below.sizeUmC);
  return below.beta * (above.beta / below.beta) ** share;
}

function integrate(input: CirculationInput, minutes: number): Zones {
  const counts = input.start.counts.map((entry) => entry.count);
  const entering = input.ingress?.map((entry) => entry.particlesPerMin) ?? SIZES.map(() => 0);
  const mixing = input.mixing ?? { kind: "well-mixed" };
  const slow = mixing.kind === "two-zone" ? mixing.slowFraction : 0;
  const trade = mixing.kind === "two-zone" && slow > 0 ? mixing.exchangePerPass * input.flowLpm : 0;
  const volumes = [input.volumeL * (1 - slow), input.volumeL * slow];
  // β is cumulative: what passes of a bin is what passes above its lower size less what passes above its upper size.
  const passing = (betas: CirculationInput["betas"], index: number) => {
    const above = (at: number) =>
      counts[at] === undefined ? 0 : counts[at] / betaFor(betas, SIZES[at] as number);
    const inBin = (counts[index] as number) - (counts[index + 1] ?? 0);
    const own = (above(index) - above(index + 1)) / inBin;
    const smallest = Math.min(
      betaFor(betas, SIZES[index] as number),
      ...betas
        .filter(({ sizeUmC }) => sizeUmC > (SIZES[index] as number) && sizeUmC < (SIZES[index + 1] ?? 1e9))
        .map(({ beta }) => beta),
    );
    return Math.min(1, Math.max(own, 1 / smallest));
  };
  const bins = SIZES.map((_, index) => {
    const letThrough = [input, ...(input.inSeries ?? [])].reduce(
      (product, { betas, bypass = 0 }) => product * (bypass + (1 - bypass) * passing(betas, index)),
      1,
    );
    const side = input.sideStream;
    const sideHeld = side === undefined ? 0 : (1 - (side.bypass ?? 0)) * (1 - passing(side.betas, index));
    const perMinute = input.flowLpm * (1 - letThrough) + (side?.flowLpm ?? 0) * sideHeld;
    const gained = (entering[index] as number) - (entering[index + 1] ?? 0);
    const start = (counts[index] as number) - (counts[index + 1] ?? 0);
    // What lies settled is stirred up by volume, at three times per pass.
    const stirring = (3 * input.flowLpm) / input.volumeL;
    const [swept = 0, still = 0] = solveOde(
      (_minute, [a = 0, b = 0, settled = 0]) => {
        const gain = gained / (input.volumeL * 1000) + stirring * settled;
        const traded = trade * (b - a);
        return [
          gain + (traded - perMinute * a) / (volumes[0] as number),
          slow === 0 ? 0 : gain - traded / (volumes[1] as number),
          -stirring * settled,
        ];
      },
      [start, start, start * (input.settled ?? 0)],
      minutes,
    );
    return { circuit: swept * (1 - slow) + still * slow, port: swept };
  });
  const above = (which: "circuit" | "port") =>
    SIZES.map((_, index) => bins.slice(index).reduce((sum, bin) => sum + bin[which], 0));
  return { circuit: above("circuit"), port: above("port") };
}

test("the level of the circuit and at the port agrees with a general ODE solver to 1e-8 in 1,000 random circuits", () => {
  let cases = 0;
  let worst = 0;
  fc.assert(
    fc.property(fc.noBias(circuits({})), evenly(0.05, 8), (input, passes) => {
      const plan = planCirculation(input);
      const expected = integrate(input, passes * plan.minutesPerPass);
      plan.channels.forEach((channel, index) => {
        const circuit = channelLevel(plan, channel, passes) / (expected.circuit[index] as number) - 1;
        const port = portLevel(plan, channel, passes) / (expected.port[index] as number) - 1;
        worst = Math.max(worst, Math.abs(circuit), Math.abs(port));
      });
      cases += 1;
      expect(worst).toBeLessThan(1e-8);
    }),
    { numRuns: 1000, seed: 20260314, endOnFailure: true },
  );
  expect(cases).toBe(1000);
});

test("with settled dirt it agrees to 1e-8 as well, in the circuit and at both ports, in 300 random circuits", () => {
  let cases = 0;
  fc.assert(
    fc.property(fc.noBias(circuits({})), evenly(0.05, 6), evenly(0.01, 3), (drawn, passes, settled) => {
      const input = { ...drawn, settled };
      const plan = planCirculation(input);
      const expected = integrate(input, passes * plan.minutesPerPass);
      plan.channels.forEach((channel, index) => {
        expect(channelLevel(plan, channel, passes) / (expected.circuit[index] as number)).toBeCloseTo(1, 8);
        expect(portLevel(plan, channel, passes) / (expected.port[index] as number)).toBeCloseTo(1, 8);
      });
      cases += 1;
    }),
    { numRuns: 300, seed: 20261130, endOnFailure: true },
  );
  expect(cases).toBe(300);
});

test("at the minutes of each channel a general ODE solver finds it at its limit to 1e-8", () => {
  let reached = 0;
  fc.assert(
    fc.property(fc.noBias(circuits({})), (input) => {
      const plan = planCirculation(input);
      plan.channels.forEach(({ outcome, limit }, index) => {
        // Beyond a hundred passes the solver has nothing to step on but rounding.
        if (outcome.kind !== "reached" || outcome.passes === 0 || outcome.passes > 100) return;
        const level = integrate(input, outcome.minutes).circuit[index] as number;
        reached += 1;
        expect(level / limit).toBeCloseTo(1, 8);
      });
    }),
    { numRuns: 500, seed: 7, endOnFailure: true },
  );
  expect(reached).toBeGreaterThan(500);
});
