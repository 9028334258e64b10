import {
  AS4059_CUMULATIVE,
  AS4059_DIFFERENTIAL,
  classConfidence,
  classifyAs4059Cumulative,
  classifyAs4059Differential,
  ISO_4406,
} from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import {
  drawClassHistory,
  drawClassProbabilities,
  drawClassTable,
  drawCountSpectrum,
  drawFleetOverview,
  drawTrace,
  drawWaterOfCircuit,
} from "../../src/figures/index.js";
import {
  type CircuitTrace,
  type JudgedCircuit,
  judgeCarts,
  type TraceCase,
  traceCart,
} from "../../src/fitness/index.js";
import { readFleetFiles } from "../../src/intake/index.js";
import { CIRCULATION_FIGURES } from "./circulation-figures.js";
import { TREND_FIGURES } from "./trend-figures.js";

/** One picture of the gallery. */
export interface GalleryFigure {
  /** Name of its files, without ending. */
  readonly file: string;
  readonly heading: string;
  /** What to read in it. */
  readonly words: string;
  /** The call that draws it. */
  readonly call: string;
  readonly svg: string;
}

const DEMO = "datasets/demo";

/** Sample 2 of a reference chart, in particles per mL. */
const CHART_SAMPLE = cumulativeCounts(
  [
    { sizeUm: 4, count: 492 },
    { sizeUm: 6, count: 149 },
    { sizeUm: 14, count: 15 },
    { sizeUm: 21, count: 5 },
    { sizeUm: 38, count: 1 },
  ],
  1,
);

/** Every figure, drawn from the demonstration data and one chart sample. */
export async function galleryFigures(): Promise<GalleryFigure[]> {
  const fleet = await readFleetFiles({
    carts: `${DEMO}/carts.json`,
    requirement: `${DEMO}/requirement.json`,
    samples: ["lab-tidy.csv", "lab-semicolon.csv", "lab-long.csv"].map((name) => `${DEMO}/${name}`),
  });
  const circuits = judgeCarts({ ...fleet, on: "2026-11-20" });
  return [
    ...ofOneCircuit(find(circuits, "QB-06", "aft"), find(circuits, "QB-08", "main")),
    {
      file: "water-saturation",
      heading: "Water against saturation",
      words:
        "How much water the fluid dissolves over temperature, and what was measured: left of where the two meet, some of it is free. Saturation is measured, never built in; for phosphate ester the view is refused. `drawWaterSaturation(curve, levels, name, extras)` draws any curve.",
      call: "drawWaterOfCircuit(judged)",
      svg: drawWaterOfCircuit(find(circuits, "QB-02", "aft")) ?? "",
    },
    {
      file: "fleet-overview",
      heading: "The fleet",
      words: "How much of its limits each circuit uses, on a logarithmic scale, with the verdict.",
      call: "drawFleetOverview(circuits)",
      svg: drawFleetOverview(circuits),
    },
    {
      file: "trace",
      heading: "What a circuit touched",
      words:
        "Samples and hookups over time: which aircraft were served between the last good sample and the bad one, and the most fluid of the circuit that can be in each.",
      call: 'drawTrace(trace, "particles")',
      svg: drawTrace(traceOf(fleet, "QB-02", "fore"), "particles") ?? "",
    },
    ...classTables(),
  ];
}

function traceOf(fleet: Omit<TraceCase, "on">, cart: string, circuit: string): CircuitTrace {
  const [trace] = traceCart({ ...fleet, on: "2026-11-20" }, cart, circuit).circuits;
  if (trace === undefined) throw new Error("the demonstration no longer has what the gallery shows");
  return trace;
}

function ofOneCircuit(dirty: JudgedCircuit, clean: JudgedCircuit): GalleryFigure[] {
  const { verdict, requirement } = dirty;
  const target = requirement?.cleanliness[0];
  const counts = verdict.sample?.counts;
  const iso = clean.requirement?.cleanliness[0];
  const few = clean.verdict.sample?.counts;
  if (!target || !counts || !iso || !few) {
    throw new Error("the demonstration no longer has what the gallery shows");
  }
  const name = `${verdict.cart}, circuit ${verdict.circuit}`;
  const counted = cumulativeCounts(few.counts, few.volumeMl, "um(c)", { countedMl: 2 });
  return [
    {
      file: "class-history",
      heading: "Class history",
      words: "The class of each channel over time, in the standard that the requirement is written in.",
      call: "drawClassHistory(judged)",
      svg: drawClassHistory(dirty),
    },
    {
      file: "count-spectrum",
      heading: "Counts against the limits of the classes",
      words: "The counts of one sample over size; each bar is the upper limit of a class.",
      call: "drawCountSpectrum(counts, target, name)",
      svg: drawCountSpectrum(counts, target, name),
    },
    {
      file: "clean-up",
      heading: "Clean-up curve",
      words:
        "How the counts fall while circulating, with the band of the stated uncertainties, limits, floors and interim samples.",
      call: "drawCleanUpCurve(plan, name, { bands, samples, goBy })",
      svg: CIRCULATION_FIGURES.get("clean-up") ?? "",
    },
    {
      file: "trend-crossing",
      heading: "Trend of water, acid, viscosity or particles",
      words:
        "Results, the line between events with its interval, and the window in which the limit is crossed.",
      call: "drawTrend(trend, name)",
      svg: TREND_FIGURES.get("trend-crossing") ?? "",
    },
    {
      file: "class-probabilities",
      heading: "How sure a class is",
      words:
        "The probability of each class when 2 mL were counted and laboratories differ by 20 % (both assumed for this picture).",
      call: "drawClassProbabilities(classConfidence(ISO_4406, counts, reproducibility), target, name)",
      svg: drawClassProbabilities(
        classConfidence(ISO_4406, counted, { kind: "relative", rsd: 0.2 }),
        iso,
        `${clean.verdict.cart}, circuit ${clean.verdict.circuit}`,
      ),
    },
  ];
}

function classTables(): GalleryFigure[] {
  const sample = { counts: CHART_SAMPLE, words: "sample" };
  const cumulative = classifyAs4059Cumulative(CHART_SAMPLE);
  const differential = classifyAs4059Differential(CHART_SAMPLE);
  return [
    {
      file: "as4059-cumulative",
      heading: "A table of classes, cumulative",
      words: "Every limit of AS4059 table 2, with a sample.",
      call: "drawClassTable(AS4059_CUMULATIVE, title, sample)",
      svg: drawClassTable(
        AS4059_CUMULATIVE,
        `AS4059 cumulative: the sample is class ${cumulative?.class}, and size ${cumulative?.governing} governs`,
        sample,
      ),
    },
    {
      file: "as4059-differential",
      heading: "A table of classes, differential",
      words: "Every limit of AS4059 table 1, which NAS 1638 shares, with the same sample.",
      call: "drawClassTable(AS4059_DIFFERENTIAL, title, sample)",
      svg: drawClassTable(
        AS4059_DIFFERENTIAL,
        `AS4059 differential, NAS 1638: the sample is class ${differential?.class}, and ${differential?.governing} governs`,
        sample,
      ),
    },
  ];
}

function find(circuits: readonly JudgedCircuit[], cart: string, circuit: string): JudgedCircuit {
  const found = circuits.find(({ verdict }) => verdict.cart === cart && verdict.circuit === circuit);
  if (found === undefined) throw new Error(`the demonstration has no cart ${cart} with a circuit ${circuit}`);
  return found;
}
