// Reference: odex 2.0.4, a port of the Gragg-Bulirsch-Stoer code ODEX of Hairer and Wanner (Solving Ordinary
// Differential Equations I). The balances are written out here in litres and minutes, without any closed form.
import fc from "fast-check";
import { expect, test } from "vitest";
import { fluidCarried, levelsAfter } from "../../src/circulation/index.js";
import { evenly } from "../support/circuits.js";
import { solveOde } from "../support/ode.js";

const hookups = fc.record({
  circuitL: evenly(20, 250),
  aircraftL: evenly(10, 400),
  flowLpm: evenly(1, 250),
  minutes: evenly(0, 30),
});

test("both levels agree with a general ODE solver to 1e-9 in 1,000 random hookups, with and without filters", () => {
  let [cases, withFilters] = [0, 0];
  const shares = fc.oneof(fc.constant(1), evenly(0, 1));
  fc.assert(
    fc.property(
      fc.noBias(hookups),
      evenly(0, 50_000),
      evenly(0, 50_000),
      shares,
      shares,
      ({ circuitL, aircraftL, flowLpm, minutes }, circuitLevel, aircraftLevel, toAircraft, back) => {
        const found = levelsAfter(
          { circuitL, aircraftL, flowLpm, circuitLevel, aircraftLevel, toAircraft, back },
          minutes,
        );
        const [circuit, aircraft] = solveOde(
          (_minute, [c = 0, a = 0]) => [
            (flowLpm * (back * a - c)) / circuitL,
            (flowLpm * (toAircraft * c - a)) / aircraftL,
          ],
          [circuitLevel, aircraftLevel],
          minutes,
        ) as [number, number];
        const scale = Math.max(circuitLevel, aircraftLevel, 1e-300);
        expect(Math.abs(found.circuit - circuit) / scale).toBeLessThan(1e-9);
        expect(Math.abs(found.aircraft - aircraft) / scale).toBeLessThan(1e-9);
        cases += 1;
        if (toAircraft < 1 && back < 1) withFilters += 1;
      },
    ),
    { numRuns: 1000, seed: 20261130, endOnFailure: true },
  );
  expect(cases).toBe(1000);
  expect(withFilters).toBeGreaterThan(100);
});

/**
 * Litres of the circuit's fluid in the aircraft, by the solver: each volume is a row of mixed cells that the fluid passes one after
 * the other. One cell is a well-mixed volume, many cells come close to fluid that moves as a plug.
 */
function carriedThrough(
  cells: readonly [circuit: number, aircraft: number],
  { circuitL, aircraftL, flowLpm, minutes }: Record<"circuitL" | "aircraftL" | "flowLpm" | "minutes", number>,
): number {
  const [inCircuit, inAircraft] = cells;
  const volumes = [
    ...Array<number>(inCircuit).fill(circuitL / inCircuit),
    ...Array<number>(inAircraft).fill(aircraftL / inAircraft),
  ];
  const levels = solveOde(
    (_minute, shares) =>
      shares.map(
        (share, cell) => (flowLpm * ((shares.at(cell - 1) ?? 0) - share)) / (volumes[cell] as number),
      ),
    volumes.map((_, cell) => (cell < inCircuit ? 1 : 0)),
    minutes,
  );
  return levels.reduce(
    (sum, share, cell) => (cell < inCircuit ? sum : sum + share * (volumes[cell] as number)),
    0,
  );
}

test("no mixing and no flow up to the stated one carries over more than the bound: 150 rows of cells by the solver", () => {
  let [cases, close] = [0, 0];
  fc.assert(
    fc.property(
      fc.noBias(hookups),
      evenly(0.02, 1),
      fc.tuple(fc.integer({ min: 1, max: 25 }), fc.integer({ min: 1, max: 25 })),
      (hookup, part, cells) => {
        const short = { ...hookup, minutes: Math.min(hookup.minutes, 8) };
        const bound = fluidCarried({ ...short, returns: true }).litres;
        const carried = carriedThrough(cells, { ...short, flowLpm: short.flowLpm * part });
        expect(carried).toBeLessThanOrEqual(bound * (1 + 1e-9));
        cases += 1;
        if (carried > 0.9 * bound) close += 1;
      },
    ),
    { numRuns: 150, seed: 7, endOnFailure: true },
  );
  expect(cases).toBe(150);
  expect(close).toBeGreaterThan(8);
});

test("fluid that moves nearly as a plug comes within a tenth of the bound, so a smaller one would be wrong", () => {
  const hookup = { circuitL: 60, aircraftL: 60, flowLpm: 20, minutes: 2.4 };
  const bound = fluidCarried({ ...hookup, returns: true }).litres;
  expect(bound).toBe(48);
  expect(carriedThrough([60, 60], hookup)).toBeGreaterThan(0.9 * bound);
  expect(carriedThrough([1, 1], hookup)).toBeLessThan(0.6 * bound);
});
