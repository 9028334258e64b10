import { randomNormal, randomPoisson } from "d3-random";
import { levelAfter, planCirculation } from "../../src/circulation/index.js";
import { limitsOfTarget } from "../../src/cleanliness/index.js";
import { type CountSet, cumulativeCounts } from "../../src/counts/index.js";
import { judgeCircuit } from "../../src/fitness/index.js";
import { type RandomSource, seededRandom } from "../../src/numeric/index.js";
import type { Circuit, Requirement, Sample } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, caseOf, REQUIREMENT } from "./fitness/bases.js";

/** How crews fared that circulated for the time to go by and drew a verifying bottle then. */
export interface CrewTally {
  /** Circuits that were sent to circulate and got minutes. */
  carts: number;
  /** Sent to circulate without minutes. */
  withoutTime: number;
  accepted: number;
  /** Of those accepted, by the true average of the circuit. */
  trulyInside: number;
  /** Time to go by over the time at which the true fluid comes inside. */
  medianRatio: number;
  /** Of those sent to circulate, called fit after one or two rounds of circulating and a verifying bottle. */
  withinTwoRounds: number;
}

const SIZES_UM = [4, 6, 14] as const;
const COUNTED_ML = 20;

/** What a circuit truly is, and what the carts file says of it. */
interface Truth {
  readonly stated: Circuit;
  readonly volumeL: number;
  readonly flowLpm: number;
  readonly betas: Circuit["element"]["betas"];
  readonly bypass: number;
  readonly slowFraction: number;
  readonly exchangePerPass: number;
  /** Dirt that lies settled when the circulation starts, as a multiple of what the first sample shows. */
  readonly settled: number;
  /** Particles per mL larger than each size. */
  readonly levels: readonly number[];
  /** Share of the limits at which ingress would hold the circuit with an ideal element. */
  readonly ingress: number;
  readonly laboratory: number;
}

/**
 * Draws circuits with a known truth that no crew knows: a slow zone of up to a fifth, seals that leak up to a tenth, hoses of up to a
 * fifth left out of the stated volume, up to half as much again settled as the first sample shows, ingress, flow meters 5 % off, elements better or worse than rated, laboratories that
 * scatter by 10 to 20 %. Each is judged, circulated for the time to go by, and judged by its verifying bottle.
 */
export function tallyCrews(carts: number, seed: number, requirement: Requirement = REQUIREMENT): CrewTally {
  const random = seededRandom(seed);
  const limits = requirement.cleanliness.flatMap(limitsOfTarget);
  const tally = { carts: 0, withoutTime: 0, accepted: 0, trulyInside: 0, withinTwoRounds: 0 };
  const ratios: number[] = [];
  while (tally.carts + tally.withoutTime < carts) {
    const truth = drawTruth(
      random,
      limits.map(({ limit, volumeMl }) => limit / volumeMl),
    );
    const judge = (counts: CountSet) =>
      judgeCircuit(caseOf({ circuit: truth.stated, requirement, samples: [sampleWith(counts)] }));
    const first = judge(draw(random, truth, truth.levels));
    if (first.verdict !== "circulate") continue;
    if (first.goBy?.kind !== "minutes") {
      tally.withoutTime += 1;
      continue;
    }
    tally.carts += 1;
    const plan = truePlan(truth, limits);
    const { minutes } = first.goBy;
    if (plan.reachable && plan.minutes > 0) ratios.push(minutes / plan.minutes);
    const passes = minutes / plan.minutesPerPass;
    const seenAfter = (all: number) => plan.channels.map(({ portModes }) => levelAfter(portModes, all));
    const bottle = judge(draw(random, truth, seenAfter(passes)));
    if (bottle.verdict === "fit") {
      tally.accepted += 1;
      tally.withinTwoRounds += 1;
      const inside = plan.channels.every(({ modes, limit }) => levelAfter(modes, passes) <= limit);
      if (inside) tally.trulyInside += 1;
      continue;
    }
    const again = bottle.goBy?.kind === "minutes" ? bottle.goBy.minutes / plan.minutesPerPass : 0;
    if (judge(draw(random, truth, seenAfter(passes + again))).verdict === "fit") tally.withinTwoRounds += 1;
  }
  ratios.sort((a, b) => a - b);
  return { ...tally, medianRatio: ratios[Math.floor(ratios.length / 2)] as number };
}

function drawTruth(random: RandomSource, limits: readonly number[]): Truth {
  const between = (low: number, high: number) => low + (high - low) * random();
  const spread = (relative: number) => logNormal(random, relative);
  const volumeL = between(40, 200);
  const flowLpm = volumeL / between(2, 8);
  const rated = [between(5, 75), between(20, 200), 1000];
  const specimen = spread(0.3);
  // Two to sixty-four times the limit, in a shape that differs from cart to cart.
  const dirt = 2 ** between(1, 6);
  const levels = limits.map((limit) => limit * dirt * 2 ** between(-0.5, 0.5));
  for (let index = levels.length - 2; index >= 0; index -= 1)
    levels[index] = Math.max(levels[index] as number, 1.5 * (levels[index + 1] as number));
  return {
    stated: {
      ...CIRCUIT,
      volumeL,
      flowLpm,
      element: {
        ...CIRCUIT.element,
        betas: SIZES_UM.map((sizeUmC, index) => ({ sizeUmC, beta: rated[index] as number })),
      },
    },
    volumeL: volumeL * between(1, 1.2) * spread(0.05),
    flowLpm: flowLpm * spread(0.05),
    betas: SIZES_UM.map((sizeUmC, index) => ({
      sizeUmC,
      beta: 1 + ((rated[index] as number) - 1) * specimen,
    })),
    bypass: between(0, 0.1),
    slowFraction: between(0.001, 0.2),
    exchangePerPass: between(0.05, 0.3),
    settled: between(0, 0.5),
    levels,
    ingress: between(0, 0.2),
    laboratory: between(0.1, 0.2),
  };
}

function truePlan(truth: Truth, limits: Parameters<typeof planCirculation>[0]["limits"]) {
  const { volumeL, flowLpm, betas, bypass, slowFraction, exchangePerPass, settled, levels } = truth;
  return planCirculation({
    volumeL,
    flowLpm,
    betas,
    bypass,
    mixing: { kind: "two-zone", slowFraction, exchangePerPass },
    settled,
    start: countsOf(levels),
    limits,
    ingress: limits.map(({ fromUm, limit, volumeMl }) => ({
      sizeUmC: fromUm,
      particlesPerMin: truth.ingress * (limit / volumeMl) * 1000 * flowLpm,
    })),
  });
}

function logNormal(random: RandomSource, relative: number): number {
  return Math.exp(Math.sqrt(Math.log1p(relative ** 2)) * randomNormal.source(random)()());
}

function countsOf(perMl: readonly number[]): CountSet {
  return cumulativeCounts(
    perMl.map((count, index) => ({ sizeUm: SIZES_UM[index] as number, count })),
    1,
  );
}

/** A bottle of a fluid: what the laboratory finds in 20 mL. */
function draw(random: RandomSource, { laboratory }: Truth, perMl: readonly number[]): CountSet {
  const reads = logNormal(random, laboratory);
  let larger = 0;
  const counts = [...perMl].reverse().map((own, index) => {
    const bin = Math.max(0, own - (perMl[perMl.length - index] ?? 0));
    larger += randomPoisson.source(random)(bin * reads * COUNTED_ML)();
    return { sizeUm: SIZES_UM[SIZES_UM.length - 1 - index] as number, count: larger };
  });
  return cumulativeCounts(counts.reverse(), COUNTED_ML, "um(c)", { countedMl: COUNTED_ML });
}

function sampleWith(counts: CountSet): Sample {
  return { ...CLEAN, counts };
}
