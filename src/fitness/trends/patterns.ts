import { FLUID_BASES, signsOfMixing } from "../../fluids/index.js";
import type { SourceKey } from "../../provenance/index.js";
import type { Circuit } from "../../samples/index.js";
import { levelAt } from "../../trend/index.js";
import { inTwoDigits } from "../../units/index.js";
import type { Measure } from "./measures.js";
import { yearsBetween } from "./segments.js";
import type { Heading } from "./trend-case.js";
import { formatChance, formatValue } from "./trend-notes.js";

/** What a pattern of results may mean. It is never a diagnosis. */
export interface Suggestion {
  readonly code: "hydrolysis" | "silting" | "wear-or-sampling" | "water-entered" | "cross-mixing-of-circuits";
  readonly reading: string;
  /** The numbers that brought it up. */
  readonly because: readonly string[];
  /** What would confirm it or rule it out. */
  readonly confirmedBy: readonly string[];
  readonly source: SourceKey;
}

/** The trends of one circuit, and of the other circuit of its cart where there is one. */
export interface PatternCase {
  readonly circuit: Circuit;
  readonly trends: readonly Heading[];
  readonly neighbour?: { readonly circuit: Circuit; readonly trends: readonly Heading[] };
}

/** A trend test with a chance above this is no trend. */
const ALPHA = 0.05;

/**
 * Says what the pattern of a circuit's trends suggests.
 *
 * Every suggestion carries the numbers that brought it up, its source or "common practice", and what would confirm it.
 *
 * @param input - the trends of water, acid, viscosity and particles, as far as there are any
 * @returns suggestions; none when no pattern is there
 * @source ESTER-HYDROLYSIS
 * @source ESTER-LIFE
 * @source PRACTICE
 */
export function suggestFrom(input: PatternCase): Suggestion[] {
  return [
    ...hydrolysis(input),
    ...silting(input),
    ...wearOrSampling(input),
    ...waterEntered(input),
    ...crossMixing(input),
  ];
}

function trendFor(trends: readonly Heading[], measure: Measure): Heading | undefined {
  return trends.find((trend) => trend.measure === measure);
}

/** 1 for a sure rise, −1 for a sure fall, 0 for neither. */
function directionOf(trend: Heading | undefined): -1 | 0 | 1 {
  if (trend?.slope.kind !== "slope" || !(trend.test.pValue <= ALPHA)) return 0;
  return Math.sign(trend.slope.slope) as -1 | 0 | 1;
}

function formatSlope(trend: Heading): string {
  if (trend.slope.kind !== "slope") return `${trend.measure}: ${trend.n} samples show no trend`;
  const { slope, interval } = trend.slope;
  const range =
    interval.kind === "interval"
      ? ` (90 % interval ${inTwoDigits(interval.low)} to ${inTwoDigits(interval.high)})`
      : "";
  return `${trend.measure}: ${inTwoDigits(slope)} ${trend.unit} a year${range}, p ${formatChance(trend.test.pValue)}, ${trend.n} samples`;
}

function hydrolysis({ circuit, trends }: PatternCase): Suggestion[] {
  const [water, acid] = [trendFor(trends, "water"), trendFor(trends, "acid")];
  if (FLUID_BASES[circuit.fluid] !== "phosphate ester" || water === undefined || acid === undefined)
    return [];
  if (directionOf(water) !== 1 || directionOf(acid) !== 1) return [];
  return [
    {
      code: "hydrolysis",
      reading:
        "water and acid rise together in a phosphate ester: the fluid may be breaking down in the water it holds; " +
        "acid and heat speed it up",
      because: [formatSlope(water), formatSlope(acid)],
      confirmedBy: [
        "a second sample with water and acid number",
        "where the water comes in: breather, reservoir cover, washing",
        "the highest fluid temperature of the cart: above 100 °C with more than 0.5 % of water its life shortens several-fold",
      ],
      source: "ESTER-HYDROLYSIS",
    },
  ];
}

function silting({ trends }: PatternCase): Suggestion[] {
  const [at4, at6, at14] = (["particles-4", "particles-6", "particles-14"] as const).map((measure) =>
    trendFor(trends, measure),
  );
  if (at4 === undefined || at6 === undefined || at14?.slope.kind !== "slope") return [];
  if (directionOf(at4) !== 1 || directionOf(at6) !== 1 || directionOf(at14) !== 0) return [];
  return [
    {
      code: "silting",
      reading:
        "fine particles rise while the coarse ones stay: silt builds up, an element no longer holds it back, or fine dust " +
        "gets in",
      because: [at4, at6, at14].map(formatSlope),
      confirmedBy: [
        "the element's age and its pressure drop with warm fluid",
        "the breather and the reservoir cover",
        "a sample after a circulation: fines that do not come down are not held back",
      ],
      source: "PRACTICE",
    },
  ];
}

/** The last reading, when it lies far above the line of the others or beyond a step that begins with it. */
function jumpAtEnd(trend: Heading | undefined): number | undefined {
  const last = trend?.segments.at(-1)?.readings.at(-1);
  const flagged = trend?.outliers.find((entry) => entry.sample === last?.sample && entry.score > 0);
  return flagged?.score;
}

function wearOrSampling({ trends }: PatternCase): Suggestion[] {
  const [at4, at6, at14] = (["particles-4", "particles-6", "particles-14"] as const).map((measure) =>
    trendFor(trends, measure),
  );
  const score = jumpAtEnd(at14);
  if (score === undefined || at4 === undefined || at6 === undefined) return [];
  if (jumpAtEnd(at4) !== undefined || jumpAtEnd(at6) !== undefined) return [];
  const last = at14?.segments.at(-1)?.readings.at(-1);
  return [
    {
      code: "wear-or-sampling",
      reading:
        "coarse particles jump alone in the last sample: a wear event, or dirt from the port or the bottle",
      because: [
        `sample ${last?.sample} of ${last?.drawnOn}: above 14 µm(c) ${inTwoDigits(score)} standard deviations over the line of ` +
          "the others, above 4 and 6 µm(c) not out of line",
      ],
      confirmedBy: [
        "a second sample from the flushed port with the fluid flowing",
        "the particles themselves on a membrane under the microscope",
      ],
      source: "PRACTICE",
    },
  ];
}

function waterEntered({ trends }: PatternCase): Suggestion[] {
  const water = trendFor(trends, "water");
  const step = water?.steps
    .flatMap((entry) => (entry.kind === "found" && entry.size > 0 ? [entry] : []))
    .at(-1);
  const score = jumpAtEnd(water);
  if (step === undefined && score === undefined) return [];
  const last = water?.segments.at(-1)?.readings.at(-1);
  const because =
    step === undefined
      ? `sample ${last?.sample} of ${last?.drawnOn} lies ${inTwoDigits(score ?? 0)} standard deviations above the line`
      : `a step of ${inTwoDigits(step.size)} ppm by mass between ${step.after} and ${step.before}, without a recorded event`;
  return [
    {
      code: "water-entered",
      reading:
        "water jumps instead of creeping: it may have come in at once, as rain, washing water or from a cooler",
      because: [because],
      confirmedBy: [
        "a second sample, and the look of the fluid in a clear bottle after it has stood",
        "the reservoir's low point for free water",
      ],
      source: "PRACTICE",
    },
  ];
}

function crossMixing({ circuit, trends, neighbour }: PatternCase): Suggestion[] {
  if (neighbour === undefined || neighbour.circuit.fluid === circuit.fluid) return [];
  const [own, other] = [trendFor(trends, "viscosity"), trendFor(neighbour.trends, "viscosity")];
  // On the day of the last sample: from then on nothing is known, and lines that are drawn on may cross.
  const on = [lastDayOf(own), lastDayOf(other)].sort().at(-1);
  const [ownLevel, otherLevel] = [levelOf(own, on), levelOf(other, on)];
  if (own === undefined || other === undefined || ownLevel === undefined || otherLevel === undefined)
    return [];
  const towards = Math.sign(otherLevel - ownLevel);
  const drawsNear = directionOf(own) === towards || directionOf(other) === -towards;
  const drawsAway = directionOf(own) === -towards || directionOf(other) === towards;
  if (towards === 0 || !drawsNear || drawsAway) return [];
  const signs = signsOfMixing(circuit.fluid, neighbour.circuit.fluid);
  return [
    {
      code: "cross-mixing-of-circuits",
      reading:
        `the viscosities of circuits ${circuit.circuit} and ${neighbour.circuit.circuit} draw together: fluid may pass from ` +
        "one to the other",
      because: [
        `levels on ${on}: ${formatValue(ownLevel)} and ${formatValue(otherLevel)} mm²/s at 40 °C`,
        `circuit ${circuit.circuit}, ${formatSlope(own)}`,
        `circuit ${neighbour.circuit.circuit}, ${formatSlope(other)}`,
      ],
      confirmedBy: signs.map(({ sign }) => sign),
      source: "PRACTICE",
    },
  ];
}

function lastDayOf(trend: Heading | undefined): string {
  return trend?.segments.at(-1)?.readings.at(-1)?.drawnOn ?? "";
}

function levelOf(trend: Heading | undefined, on = ""): number | undefined {
  const first = trend?.segments.at(-1)?.readings[0]?.drawnOn;
  if (trend?.line === undefined || first === undefined) return undefined;
  return levelAt(trend.line, yearsBetween(first, on)).value;
}
