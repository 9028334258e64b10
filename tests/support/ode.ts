import { createRequire } from "node:module";

interface OdexSolver {
  absoluteTolerance: number;
  relativeTolerance: number;
  maxSteps: number;
  solve(
    slopes: (x: number, y: number[]) => number[],
    x0: number,
    y0: readonly number[],
    x1: number,
  ): { readonly y: number[]; readonly outcome: number };
}

// The package's entry resolves to TypeScript that does not compile under strict rules; the script beside it is meant.
const { Solver } = createRequire(import.meta.url)("odex/src/odex.js") as {
  Solver: new (dimension: number) => OdexSolver;
};

/**
 * Solves a system of ordinary differential equations with odex 2.0.4.
 *
 * @param slopes - dy/dx
 * @param start - y at x = 0
 * @param until - x to stop at
 * @returns y there
 */
export function solveOde(
  slopes: (x: number, y: number[]) => number[],
  start: readonly number[],
  until: number,
): number[] {
  const solver = new Solver(start.length);
  solver.relativeTolerance = 1e-12;
  solver.absoluteTolerance = 1e-280;
  solver.maxSteps = 1_000_000;
  const { y, outcome } = solver.solve(slopes, 0, start, until);
  if (outcome !== 0) throw new Error(`odex gave up: outcome ${outcome}`);
  return y;
}
