import * as Plot from "@observablehq/plot";
import {
  type CirculationInput,
  levelBands,
  type Mixing,
  planCirculation,
  timeToGoBy,
  type Uncertainty,
} from "../../src/circulation/index.js";
import { limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { drawCleanUpCurve, INK } from "../../src/figures/index.js";
import { drawSvg } from "../../src/figures/parts/svg.js";
import { seededRandom } from "../../src/numeric/index.js";

/** The circuit that docs/circulation.md talks about. */
const circuit: CirculationInput = {
  volumeL: 60,
  flowLpm: 15,
  betas: [
    { sizeUmC: 4, beta: 20 },
    { sizeUmC: 6, beta: 100 },
    { sizeUmC: 14, beta: 1000 },
  ],
  start: cumulativeCounts(
    [
      { sizeUm: 4, count: 20000 },
      { sizeUm: 6, count: 5000 },
      { sizeUm: 14, count: 640 },
    ],
    1,
  ),
  limits: limitsOfTarget(parseTarget("17/15/12")),
  ingress: [
    { sizeUmC: 4, particlesPerMin: 5e6 },
    { sizeUmC: 6, particlesPerMin: 1e6 },
    { sizeUmC: 14, particlesPerMin: 1e5 },
  ],
};

const uncertainty: Uncertainty = {
  volume: 0.1,
  flow: 0.05,
  beta: 0.3,
  ingress: 0.3,
  laboratory: 0.2,
  countedMl: 20,
};

const drawn = new Map<string, string>();

/** The pictures of docs/circulation.md by the names of their files, as SVG. */
export const CIRCULATION_FIGURES: ReadonlyMap<string, string> = drawn;

function save(name: string, svg: string): void {
  drawn.set(name, svg);
}

function minutesOf(input: CirculationInput): number {
  const plan = planCirculation(input);
  return plan.reachable ? plan.minutes : Number.NaN;
}

const plan = planCirculation(circuit);
const { goBy, sure } = timeToGoBy({ circuit, plan, confidence: { uncertainty } });
const moments = Array.from({ length: 61 }, (_, step) => step * 0.55);
save(
  "clean-up",
  drawCleanUpCurve(plan, "Demo circuit", {
    bands: levelBands(circuit, uncertainty, seededRandom(1), moments),
    goBy,
    samples: [
      {
        minutes: 4,
        countedMl: 20,
        counts: [
          { sizeUmC: 4, perMl: { value: 8300 } },
          { sizeUmC: 6, perMl: { value: 1900 } },
          { sizeUmC: 14, perMl: { value: 262 } },
        ],
      },
      {
        minutes: 8,
        countedMl: 20,
        counts: [
          { sizeUmC: 4, perMl: { value: 3300 } },
          { sizeUmC: 6, perMl: { value: 760 } },
          { sizeUmC: 14, perMl: { value: 100, limit: "below" } },
        ],
      },
    ],
  }),
);

save(
  "probability",
  drawSvg(
    {
      width: 760,
      height: 320,
      marginLeft: 56,
      x: { label: "minutes of circulation", grid: true },
      y: { label: "probability that a bottle is accepted", domain: [0, 1], grid: true },
      marks: [
        Plot.ruleY([0.95], { stroke: INK.limit, strokeDasharray: "6,3" }),
        Plot.lineY(sure?.curve ?? [], { x: "minutes", y: "probability", stroke: INK.line, strokeWidth: 1.8 }),
        Plot.ruleX(plan.reachable ? [plan.minutes] : [], { stroke: INK.event, strokeDasharray: "2,3" }),
        Plot.text(plan.reachable ? [plan.minutes] : [], {
          x: (minutes: number) => minutes,
          text: () => "stated values",
          frameAnchor: "bottom",
          dx: 5,
          dy: -6,
          textAnchor: "start",
        }),
      ],
    },
    {
      title: "By the stated values most verifying bottles come too early",
      yAxis: "probability that a verifying bottle drawn then is accepted",
    },
  ),
);

const betas = Array.from({ length: 91 }, (_, step) => 2 * 10 ** (step / 30));
const slow: Mixing = { kind: "two-zone", slowFraction: 0.2, exchangePerPass: 0.3 };
const dry: CirculationInput = { ...circuit, ingress: [] };
const lines = [
  { words: "15 L/min, well mixed", change: {} },
  { words: "15 L/min, slow zone of 20 %", change: { mixing: slow } },
  { words: "30 L/min, well mixed", change: { flowLpm: 30 } },
];
const times = lines.flatMap(({ words, change }) =>
  betas.map((beta) => ({
    words,
    beta,
    minutes: minutesOf({ ...dry, ...change, betas: [{ sizeUmC: 4, beta }] }),
  })),
);
save(
  "beta",
  drawSvg(
    {
      width: 760,
      height: 340,
      marginLeft: 56,
      marginRight: 190,
      x: {
        label: "β at every size",
        type: "log",
        grid: true,
        ticks: [2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000],
        tickFormat: "d",
      },
      y: { label: "minutes to 17/15/12", domain: [0, 30], grid: true },
      marks: [
        Plot.ruleX([20], { stroke: INK.event, strokeDasharray: "2,3" }),
        Plot.lineY(times, { x: "beta", y: "minutes", z: "words", stroke: INK.line, strokeWidth: 1.8 }),
        Plot.text(
          times.filter((entry) => entry.beta === betas.at(-1)),
          {
            x: "beta",
            y: "minutes",
            text: "words",
            textAnchor: "start",
            dx: 6,
          },
        ),
      ],
    },
    { title: "Above β of about 20 only mixing and flow move the time", yAxis: "minutes" },
  ),
);

const mixings: readonly { readonly words: string; readonly mixing: Mixing; readonly settled?: number }[] = [
  { words: "plug flow", mixing: { kind: "plug" } },
  { words: "well mixed", mixing: { kind: "well-mixed" } },
  { words: "slow zone of 20 %", mixing: slow },
  { words: "and as much settled", mixing: slow, settled: 1 },
];
const remaining = mixings.flatMap(({ words, mixing, settled = 0 }) => {
  const input: CirculationInput = { ...dry, betas: [{ sizeUmC: 4, beta: 20 }], mixing, settled };
  const perPass = mixing.kind === "plug" ? 1 : 20;
  return Array.from({ length: 8 * perPass + 1 }, (_, step) => {
    const passes = step / perPass;
    const level = levelBands(input, {}, seededRandom(1), [passes * plan.minutesPerPass], 1);
    return { words, passes, left: (level[0]?.points[0]?.median ?? Number.NaN) / 20000 };
  });
});
save(
  "mixing",
  drawSvg(
    {
      width: 760,
      height: 360,
      marginLeft: 64,
      marginRight: 130,
      x: { label: "passes", domain: [0, 8], grid: true },
      y: {
        label: "part of the particles left",
        type: "log",
        domain: [1e-4, 2],
        grid: true,
        clamp: true,
        ticks: [1e-4, 1e-3, 1e-2, 1e-1, 1],
        tickFormat: (share: number) => `${Number((100 * share).toPrecision(2))} %`,
      },
      marks: [
        ...(["step-after", "linear"] as const).map((curve) =>
          Plot.lineY(
            remaining.filter((entry) => (entry.words === "plug flow") === (curve === "step-after")),
            { x: "passes", y: "left", z: "words", stroke: INK.line, strokeWidth: 1.8, curve, clip: true },
          ),
        ),
        Plot.text(
          remaining.filter((entry) => entry.passes === (entry.words === "plug flow" ? 2 : 8)),
          {
            x: "passes",
            y: (entry: { left: number }) => Math.max(entry.left, 1.4e-4),
            text: "words",
            textAnchor: "start",
            dx: 6,
            dy: -9,
          },
        ),
      ],
    },
    { title: "One pass leaves 39 % when the circuit is well mixed, at β = 20", yAxis: "fraction left" },
  ),
);
