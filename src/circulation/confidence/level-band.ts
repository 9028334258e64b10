import { checkNumbers, lowerQuantile, type RandomSource } from "../../numeric/index.js";
import { type CirculationInput, readyCircuit } from "../model/circuit.js";
import { CircuitSolver } from "../model/solver.js";
import { CaseDrawer, checkUncertainty, type Uncertainty } from "./uncertainty.js";

/** The middle and the edges of where a level lies at one moment, in particles per mL. */
export interface BandPoint {
  readonly minutes: number;
  readonly low: number;
  readonly median: number;
  readonly high: number;
}

/** The band of one channel. */
export interface LevelBand {
  readonly channel: string;
  readonly points: readonly BandPoint[];
}

/**
 * Where the levels of all channels lie while circulating, with the 5, 50 and 95 % points of drawn cases.
 *
 * @param input - see {@link CirculationInput}
 * @param uncertainty - how well the stated values are known
 * @param random - a source of random numbers
 * @param minutes - moments, each 0 or more
 * @param draws - number of cases; 2000 when absent
 * @source JCGM-101
 */
export function levelBands(
  input: CirculationInput,
  uncertainty: Uncertainty,
  random: RandomSource,
  minutes: readonly number[],
  draws = 2000,
): LevelBand[] {
  checkUncertainty(uncertainty);
  checkNumbers("positive", { draws });
  for (const moment of minutes) checkNumbers("notNegative", { minutes: moment });
  const circuit = readyCircuit(input);
  const solver = new CircuitSolver(circuit);
  const drawer = new CaseDrawer(circuit, uncertainty, random);
  const bands = circuit.limited.map(({ name }) => ({
    name,
    moments: minutes.map((moment) => ({ minutes: moment, drawn: new Float64Array(draws) })),
  }));
  for (let draw = 0; draw < draws; draw += 1) {
    solver.set(drawer.draw());
    bands.forEach(({ moments }, channel) => {
      for (const moment of moments) {
        moment.drawn[draw] = solver.levelAfter(channel, moment.minutes / solver.minutesPerPass);
      }
    });
  }
  return bands.map(({ name, moments }) => ({
    channel: name,
    points: moments.map((moment) => {
      const sorted = moment.drawn.sort();
      const at = (fraction: number) => lowerQuantile(sorted, fraction);
      return { minutes: moment.minutes, low: at(0.05), median: at(0.5), high: at(0.95) };
    }),
  }));
}
