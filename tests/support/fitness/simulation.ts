import { randomLogNormal, randomNormal, randomPoisson } from "d3-random";
import { cumulativeCounts } from "../../../src/counts/index.js";
import { judgeCircuit, type VerdictName } from "../../../src/fitness/index.js";
import { seededRandom } from "../../../src/numeric/index.js";
import type { Requirement, Sample } from "../../../src/samples/index.js";
import { caseOf, REQUIREMENT } from "./bases.js";

/** What was called what, over circuits whose truth is known. */
export interface Tally {
  readonly circuits: number;
  /** Circuits whose true particles, water and acid are all inside. */
  readonly trulyInside: number;
  readonly fit: number;
  /** Called fit and truly outside. */
  readonly falselyFit: number;
  /** Truly inside and sent to resample, or to circulate on, for doubt. */
  readonly needlesslyResampled: number;
  /** Truly inside and called outside. */
  readonly falselyOutside: number;
}

/** How the laboratory of the simulation scatters. */
export const LABORATORY = {
  /** Relative standard deviation of counter and laboratory, the same in all channels of a sample. */
  countsRsd: 0.15,
  waterSdPpm: 10,
  acidSdMgKohPerG: 0.01,
  countedMl: 10,
} as const;

/** Asks for 95 % and knows how its laboratory scatters. */
export const SURE_REQUIREMENT: Requirement = {
  ...REQUIREMENT,
  confidence: {
    probability: 0.95,
    counts: { reproducibility: { kind: "relative", rsd: LABORATORY.countsRsd } },
    water: { sd: LABORATORY.waterSdPpm },
    acid: { sd: LABORATORY.acidSdMgKohPerG },
  },
};

/** Limits of 17/15/12 per mL above 4, 6 and 14 µm(c). */
const LIMITS_PER_ML = [1300, 320, 40] as const;

/** Where the truth lies: the middle of true levels as a share of each limit, and their spread as a factor's logarithm. */
export interface Population {
  readonly middle: number;
  readonly logSd: number;
}

/** Many circuits near a limit, most of them inside. */
export const MIXED: Population = { middle: 0.6, logSd: 0.4 };
/** Nearly all circuits at a limit: the hardest fleet to judge. */
export const CROWDED: Population = { middle: 0.9, logSd: 0.15 };

/**
 * Judges circuits whose truth is drawn about the limits, each measured once.
 *
 * @param circuits - how many
 * @param seed - the same seed gives the same circuits
 */
export function simulate(
  circuits: number,
  seed: number,
  requirement: Requirement,
  population: Population = MIXED,
): Tally {
  const draw = drawerOf(seed, population);
  const tally = { trulyInside: 0, fit: 0, falselyFit: 0, needlesslyResampled: 0, falselyOutside: 0 };
  for (let index = 0; index < circuits; index += 1) {
    const { sample, inside } = draw();
    const { verdict, reasons } = judgeCircuit(caseOf({ requirement, samples: [sample] }));
    const isDoubt = reasons
      .filter(({ callsFor }) => callsFor !== "fit")
      .every(({ code }) => code.endsWith("-not-sure") || code === "particles-too-close");
    count(tally, isDoubt && verdict !== "fit" ? "resample" : verdict, inside);
  }
  return { circuits, ...tally };
}

function count(
  tally: { -readonly [K in keyof Omit<Tally, "circuits">]: number },
  verdict: VerdictName,
  inside: boolean,
): void {
  if (inside) tally.trulyInside += 1;
  if (verdict === "fit") tally.fit += 1;
  if (verdict === "fit" && !inside) tally.falselyFit += 1;
  if (inside && verdict === "resample") tally.needlesslyResampled += 1;
  if (inside && verdict !== "resample" && verdict !== "fit") tally.falselyOutside += 1;
}

function drawerOf(
  seed: number,
  { middle, logSd: spread }: Population,
): () => { sample: Sample; inside: boolean } {
  const random = seededRandom(seed);
  const aboutLimit = randomLogNormal.source(random)(Math.log(middle), spread);
  const dirt = randomLogNormal.source(random)(Math.log(middle), spread);
  const ownDirt = randomLogNormal.source(random)(0, spread / 2);
  const logSd = Math.sqrt(Math.log1p(LABORATORY.countsRsd ** 2));
  const laboratory = randomLogNormal.source(random)(0, logSd);
  const normal = randomNormal.source(random)(0, 1);
  const poisson = randomPoisson.source(random);
  return () => {
    const together = dirt();
    const levels = LIMITS_PER_ML.map((limit) => limit * together * ownDirt());
    const [at4, at6, at14] = levels.map((_level, size) => Math.max(...levels.slice(size))) as [
      number,
      number,
      number,
    ];
    const water = 200 * aboutLimit();
    const acid = 0.2 * aboutLimit();
    const seen = LABORATORY.countedMl * laboratory();
    const large = poisson(at14 * seen)();
    const medium = large + poisson((at6 - at14) * seen)();
    const all = medium + poisson((at4 - at6) * seen)();
    const waterPpm = Math.max(0, Math.round(water + LABORATORY.waterSdPpm * normal()));
    const acidMgKohPerG = Math.max(0, Number((acid + LABORATORY.acidSdMgKohPerG * normal()).toFixed(3)));
    const counts = cumulativeCounts(
      [all, medium, large].map((raw, index) => ({
        sizeUm: [4, 6, 14][index] as number,
        count: raw / LABORATORY.countedMl,
      })),
      1,
      "um(c)",
      { countedMl: LABORATORY.countedMl },
    );
    return {
      sample: {
        sample: "S-1",
        cart: "C-1",
        circuit: "1",
        drawnOn: "2026-03-04",
        fluid: "MIL-PRF-83282",
        counts,
        waterPpm: { value: waterPpm },
        acidMgKohPerG: { value: acidMgKohPerG },
        origin: [{ file: "simulated", rows: [1] }],
      },
      inside:
        [at4, at6, at14].every((level, index) => level <= (LIMITS_PER_ML[index] as number)) &&
        water <= 200 &&
        acid <= 0.2,
    };
  };
}
