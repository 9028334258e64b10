import { drawTrend } from "../../src/figures/index.js";
import { boundsOf, type Measure, measureTrend } from "../../src/fitness/index.js";
import { readFleetFiles } from "../../src/intake/index.js";

const fleet = await readFleetFiles({
  carts: "datasets/demo/carts.json",
  requirement: "datasets/demo/requirement.json",
  samples: ["lab-tidy.csv", "lab-semicolon.csv", "lab-long.csv"].map((name) => `datasets/demo/${name}`),
});

/** The pictures: one circuit and measure each, as it stood on a day. */
const PICTURES: readonly { file: string; cart: string; circuit: string; measure: Measure; on: string }[] = [
  { file: "trend-crossing", cart: "QB-03", circuit: "fore", measure: "water", on: "2026-03-01" },
  { file: "trend-step", cart: "QB-02", circuit: "aft", measure: "water", on: "2026-11-20" },
  { file: "trend-limits", cart: "QB-04", circuit: "aft", measure: "water", on: "2026-11-20" },
  { file: "trend-top-up", cart: "QB-02", circuit: "fore", measure: "acid", on: "2026-11-20" },
  { file: "trend-particles", cart: "QB-01", circuit: "aft", measure: "particles-4", on: "2026-11-20" },
];

const drawn = new Map<string, string>();

/** The pictures of docs/trends.md by the names of their files, as SVG. */
export const TREND_FIGURES: ReadonlyMap<string, string> = drawn;

for (const { file, cart, circuit: name, measure, on } of PICTURES) {
  const circuit = fleet.carts
    .find((entry) => entry.cart === cart)
    ?.circuits.find((entry) => entry.circuit === name);
  const requirement = fleet.requirements.find((entry) => entry.system === circuit?.serves);
  if (circuit === undefined || requirement === undefined)
    throw new Error(`the demonstration has no ${cart} ${name}`);
  const trend = measureTrend({
    circuit,
    samples: fleet.samples.filter((sample) => sample.cart === cart && sample.circuit === name),
    measure,
    bounds: boundsOf(measure, requirement),
    on,
    horizonDays: 365,
    longestDays: requirement.sampleAgeDaysMax,
    risk: 0.05,
  });
  drawn.set(file, drawTrend(trend, `${cart}, circuit ${name}`));
}
