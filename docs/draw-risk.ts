// Draws the risk picture of docs/fitness.md with the library itself: npm run pictures
import { writeFileSync } from "node:fs";
import * as Plot from "@observablehq/plot";
import { INK } from "../src/figures/index.js";
import { drawSvg } from "../src/figures/parts/svg.js";
import { acceptanceLimits, conformanceProbability } from "../src/fitness/index.js";

const LIMIT = 200;
const STANDARD_UNCERTAINTY = 10;
const accepted = acceptanceLimits({ max: LIMIT }, STANDARD_UNCERTAINTY, 0.95).max ?? Number.NaN;

/** The chance that a result of fluid with this water lies up to a value: measuring is as uncertain one way as the other. */
const chance = (waterPpm: number, max: number) =>
  conformanceProbability({ value: waterPpm, standardUncertainty: STANDARD_UNCERTAINTY, max });

const points = Array.from({ length: 81 }, (_, index) => 150 + index).flatMap((waterPpm) => {
  const fit = chance(waterPpm, accepted);
  const inside = chance(waterPpm, LIMIT);
  return [
    { waterPpm, verdict: "fit", chance: fit },
    { waterPpm, verdict: "resample", chance: inside - fit },
    { waterPpm, verdict: "exchange-fluid", chance: 1 - inside },
  ];
});
const NAMES = [
  { waterPpm: 152, chance: 0.88, words: "called fit" },
  { waterPpm: 205.5, chance: 0.44, words: "measured inside, not sure enough" },
  { waterPpm: 217, chance: 0.84, words: "called outside" },
];
const DASHES: Record<string, string> = { fit: "", resample: "6 4", "exchange-fluid": "2 3" };

writeFileSync(
  new URL("./pictures/risk.svg", import.meta.url),
  `${drawSvg(
    {
      width: 760,
      height: 340,
      marginLeft: 56,
      x: { label: "true water, ppm by mass" },
      y: { domain: [0, 1], grid: true },
      marks: [
        ...Object.entries(DASHES).map(([verdict, strokeDasharray]) =>
          Plot.line(
            points.filter((point) => point.verdict === verdict),
            { x: "waterPpm", y: "chance", stroke: INK.line, strokeWidth: 2, strokeDasharray },
          ),
        ),
        Plot.ruleX([LIMIT], { stroke: INK.limit }),
        Plot.text([`limit ${LIMIT}`], { x: LIMIT, y: 1, dx: 6, dy: 8, textAnchor: "start", fill: INK.limit }),
        Plot.ruleX([accepted], { stroke: INK.event }),
        Plot.text([`accepted up to ${accepted.toFixed(2)}`], {
          x: accepted,
          y: 1,
          dx: 6,
          dy: 8,
          textAnchor: "start",
          fill: INK.event,
        }),
        Plot.text(NAMES, { x: "waterPpm", y: "chance", text: "words", textAnchor: "start" }),
      ],
    },
    {
      title: "At the limit itself a circuit is called fit in one case of twenty",
      yAxis: "chance of each answer, from one result with a standard uncertainty of 10 ppm",
    },
  )}\n`,
);
