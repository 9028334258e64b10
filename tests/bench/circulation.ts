// Row "circulation": the 95 % time by Monte Carlo, against numpy with the same bins, mixing, distributions and roots.

import type * as Uncertain from "../../src/circulation/index.js";
import type * as Circuit from "../../src/circulation/model/circuit.js";
import type * as Cleanliness from "../../src/cleanliness/index.js";
import type { ClassTable, ParticleLimit } from "../../src/cleanliness/index.js";
import type * as Root from "../../src/public/index.js";
import { type BenchRow, ratioLine, timed, timeLine } from "./row.js";

const dist = (path: string) => new URL(`../../dist/${path}.js`, import.meta.url).href;
const { cumulativeCounts, planCirculation, planConfidence, seededRandom }: typeof Root = await import(
  dist("public/index")
);
const { AS4059_CUMULATIVE }: typeof Cleanliness = await import(dist("cleanliness/index"));
const { TYPICAL_UNCERTAINTY }: typeof Uncertain = await import(dist("circulation/index"));
const { readyCircuit }: typeof Circuit = await import(dist("circulation/model/circuit"));

const SIZES_UM = [4, 6, 14, 21, 38, 70];
const TARGET_ROW = 8;
/** Plans that are made for one timed run. */
const PLANS = 500;

const INPUT: Parameters<typeof planCirculation>[0] = {
  volumeL: 120,
  flowLpm: 60,
  betas: [
    { sizeUmC: 4, beta: 5 },
    { sizeUmC: 6, beta: 40 },
    { sizeUmC: 14, beta: 400 },
    { sizeUmC: 21, beta: 1000 },
  ],
  start: cumulativeCounts(
    [30_000, 12_000, 2100, 380, 68, 11].map((count, index) => ({ sizeUm: SIZES_UM[index] as number, count })),
    1,
  ),
  limits: limitsOf(AS4059_CUMULATIVE),
  ingress: [1_200_000, 400_000, 40_000, 7000, 900, 60].map((particlesPerMin, index) => ({
    sizeUmC: SIZES_UM[index] as number,
    particlesPerMin,
  })),
};

function limitsOf(table: ClassTable<string>): ParticleLimit[] {
  return table.channels.map(({ name, fromUm }, channel) => ({
    channel: name,
    fromUm,
    limit: table.rows[TARGET_ROW]?.[1][channel] as number,
    volumeMl: table.volumeMl,
  }));
}

interface Job {
  readonly draws: number;
  readonly runs: number;
  readonly probability: number;
  readonly circuit: ReturnType<typeof readyCircuit>;
  readonly uncertainty: typeof TYPICAL_UNCERTAINTY;
}

const NUMPY = "numpy, vectorised";
const ONE_PLAN = "siltbook, one plan";

export const circulation: BenchRow<Job> = {
  name: "circulation",
  rounds: 5,
  prepare: (_folder, quick) => ({
    draws: quick ? 20_000 : 100_000,
    runs: 3,
    probability: 0.95,
    circuit: readyCircuit(INPUT),
    uncertainty: TYPICAL_UNCERTAINTY,
  }),
  sides: [
    {
      name: "siltbook",
      async run({ draws, runs, probability, uncertainty }) {
        const { last, ...times } = await timed(runs, () =>
          planConfidence(INPUT, uncertainty, seededRandom(4), { draws, probabilities: [probability] }),
        );
        return { ...times, answer: last.minutesFor[0] };
      },
    },
    { name: NUMPY, python: "circulation.py" },
    {
      name: ONE_PLAN,
      async run({ runs }) {
        const { last, ...times } = await timed(runs, () => {
          let plan = planCirculation(INPUT);
          for (let more = 1; more < PLANS; more += 1) plan = planCirculation(INPUT);
          return plan;
        });
        const each = (all: number) => all / PLANS;
        return {
          seconds: times.seconds.map(each),
          processor: times.processor.map(each),
          answer: last.reachable,
        };
      },
    },
  ],
  disagreements(result) {
    const ours = result("siltbook").answer as { readonly kind: string; readonly minutes?: number };
    const numpy = result(NUMPY).answer as { readonly least: number; readonly most: number };
    const { minutes } = ours;
    // Between the quantiles that four standard deviations of chance may move it to.
    return minutes !== undefined && minutes >= numpy.least && minutes <= numpy.most
      ? []
      : [`95 % time of ${minutes} min, not from ${numpy.least} to ${numpy.most}`];
  },
  lines: (result, { draws }) => [
    ratioLine(
      `95 % time from ${draws} drawn cases over six channels`,
      result("siltbook"),
      result(NUMPY),
      1.5,
    ),
    timeLine("one plan over six channels", result(ONE_PLAN), "ms", 1),
  ],
};
