import { checkNumbers } from "../numeric/index.js";
import { type Assumption, frozen, SOURCES, type SourceKey } from "../provenance/index.js";

/** What a method measures. */
export type MethodMeasure = "acid" | "water" | "viscosity40" | "viscosity100";

/** Precision of a published test method: how far two results on the same fluid lie apart in one case of twenty. */
export interface TestMethod {
  readonly name: string;
  readonly measures: MethodMeasure;
  /** Values for which it is published, in the unit of the measure: mg KOH/g, ppm by mass or mm²/s. */
  readonly from: number;
  readonly to: number;
  /** Two results of one operator; absent where not published or not seen. */
  readonly repeatability?: (value: number) => number;
  /** Two results of different laboratories; absent where not published or not seen. */
  readonly reproducibility?: (value: number) => number;
  readonly source: SourceKey;
}

const PPM_PER_PER_CENT = 10_000;

/** A formula for per cent by mass, for ppm by mass. */
function inPerCent(formula: (perCent: number) => number): (ppm: number) => number {
  return (ppm) => PPM_PER_PER_CENT * formula(ppm / PPM_PER_PER_CENT);
}

/** Acid numbers up to each bound with r and R, as ASTM D974 bands them. */
const D974_BANDS = [
  { upTo: 0.1, r: 0.03, R: 0.04 },
  { upTo: 0.5, r: 0.05, R: 0.08 },
  { upTo: 1, r: 0.08, R: 0.14 },
  { upTo: 2, r: 0.12, R: 0.2 },
] as const;

function d974(column: "r" | "R"): (value: number) => number {
  return (value) => {
    const band = D974_BANDS.find(({ upTo }) => value <= upTo) ?? D974_BANDS[D974_BANDS.length - 1];
    return (band as (typeof D974_BANDS)[number])[column];
  };
}

/**
 * Published precision. Where the source is from memory, results say so.
 *
 * @source ASTM-D664
 * @source ASTM-D5770
 * @source ASTM-D6304-SCOPE
 */
export const TEST_METHODS = frozen({
  "ASTM D664 fresh": {
    name: "ASTM D664, fresh fluid",
    measures: "acid",
    from: 0.1,
    to: 150,
    repeatability: (x) => 0.044 * (x + 1),
    reproducibility: (x) => 0.141 * (x + 1),
    source: "ASTM-D664",
  },
  "ASTM D664 used": {
    name: "ASTM D664, used fluid with buffer end point",
    measures: "acid",
    from: 0.1,
    to: 150,
    repeatability: (x) => 0.117 * x,
    reproducibility: (x) => 0.44 * x,
    source: "ASTM-D664",
  },
  "ASTM D974": {
    name: "ASTM D974",
    measures: "acid",
    from: 0,
    to: 2,
    repeatability: d974("r"),
    reproducibility: d974("R"),
    source: "ASTM-D974",
  },
  "ASTM D5770": {
    name: "ASTM D5770",
    measures: "acid",
    from: 0.06,
    to: 1.1,
    repeatability: (x) => 0.2 * x,
    reproducibility: (x) => 0.7 * x,
    source: "ASTM-D5770",
  },
  "ASTM D6304": {
    name: "ASTM D6304 (2007 and 2016), mass injection",
    measures: "water",
    from: 10,
    to: 25_000,
    repeatability: inPerCent((x) => 0.03813 * x ** 0.6),
    reproducibility: inPerCent((x) => 0.4243 * x ** 0.6),
    source: "ASTM-D6304",
  },
  "ISO 12937": {
    name: "ISO 12937",
    measures: "water",
    from: 30,
    to: 1000,
    repeatability: inPerCent((x) => 0.01874 * Math.sqrt(x)),
    reproducibility: inPerCent((x) => 0.06877 * Math.sqrt(x)),
    source: "ISO-12937",
  },
  "ASTM D445 at 40 °C": {
    name: "ASTM D445, in-service formulated oils at 40 °C",
    measures: "viscosity40",
    from: 0.3,
    to: 1000,
    repeatability: (x) => 0.000233 * x ** 1.722,
    reproducibility: (x) => 0.000594 * x ** 1.722,
    source: "ASTM-D445",
  },
  "ASTM D445 at 100 °C": {
    name: "ASTM D445, in-service formulated oils at 100 °C",
    measures: "viscosity100",
    from: 0.3,
    to: 1000,
    repeatability: (x) => 0.001005 * x ** 1.4633,
    reproducibility: (x) => 0.003361 * x ** 1.4633,
    source: "ASTM-D445",
  },
  "ISO 3104": {
    name: "ISO 3104 (older edition), formulated oils",
    measures: "viscosity40",
    from: 0.3,
    to: 1000,
    repeatability: (x) => 0.0026 * x,
    source: "ISO-3104",
  },
} as const satisfies Record<string, TestMethod>);

/** A key of {@link TEST_METHODS}. */
export type TestMethodName = keyof typeof TEST_METHODS;

/** Whether two results differ by more than the method scatters. */
export interface Comparison {
  readonly outcome: "different" | "not-different" | "cannot-tell";
  /** Difference, larger less smaller. */
  readonly difference: number;
  /** What one pair in twenty exceeds though the fluid is the same; absent where the precision is not known. */
  readonly allowed?: number;
  readonly assumptions: readonly Assumption[];
}

/**
 * Says whether two results are different, by the published precision of their method.
 *
 * @param laboratories - "same" holds the difference against repeatability, "different" against reproducibility
 * @returns "different" only when the difference exceeds it at the mean of the two
 * @throws RangeError for a result that is negative or not a number
 * @source ASTM-D664
 * @example
 * compareResults(1, 1.3, "ASTM D664 used", "different").outcome; // => "not-different"
 */
export function compareResults(
  a: number,
  b: number,
  methodName: TestMethodName,
  laboratories: "same" | "different",
): Comparison {
  checkNumbers("notNegative", { a, b });
  const method: TestMethod = TEST_METHODS[methodName];
  const mean = (a + b) / 2;
  const difference = Math.abs(a - b);
  const formula = laboratories === "same" ? method.repeatability : method.reproducibility;
  if (formula === undefined) return { outcome: "cannot-tell", difference, assumptions: [] };
  const { inRange, assumptions } = withinPublished(method, mean);
  const allowed = formula(inRange);
  return {
    outcome: difference > allowed ? "different" : "not-different",
    difference,
    allowed,
    assumptions,
  };
}

/**
 * The value at which a method's published precision can be read, and what reading it there rests on.
 *
 * @param method - a test method
 * @param value - a result, in the method's unit
 * @returns the value itself, or the nearer end of the range the precision was published for
 */
export function withinPublished(
  method: TestMethod,
  value: number,
): { readonly inRange: number; readonly assumptions: Assumption[] } {
  const inRange = Math.min(method.to, Math.max(method.from, value));
  const assumptions: Assumption[] = [];
  if (inRange !== value) {
    assumptions.push({
      code: "precision-at-end-of-range",
      message: `the precision of ${method.name} is published from ${method.from} to ${method.to}; that of ${inRange} was used`,
      source: method.source,
    });
  }
  if (SOURCES[method.source].standing === "memory") {
    assumptions.push({
      code: "precision-from-memory",
      message: `the precision of ${method.name} is recalled and not seen in print; use that of your laboratory`,
      source: method.source,
    });
  }
  return { inRange, assumptions };
}
