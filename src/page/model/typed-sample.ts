import { type CirculationStart, startOfCode } from "../../circulation/index.js";
import {
  type Classification,
  type CleanlinessTarget,
  classify,
  formatIso4406,
  type Iso4406Code,
  limitsOfTarget,
  parseTarget,
} from "../../cleanliness/index.js";
import { type CountSet, cumulativeCounts } from "../../counts/index.js";
import type { CircuitCase } from "../../fitness/index.js";
import {
  daySchema,
  type LimitedCount,
  type Measured,
  type Requirement,
  type Sample,
} from "../../samples/index.js";
import { attempt, type Reading, read, readAll, readMeasured, readPositive, refuse } from "./reading.js";

/** The number of a sample that was typed on the page; it is in no book. */
export const TYPED_SAMPLE = "typed here";

/** What a person types about a bottle; an empty text is a field left open. */
export interface SampleFields {
  /** Particles per mL larger than each size in µm(c). */
  readonly counts: Readonly<Record<number, string>>;
  readonly code: string;
  readonly countedMl: string;
  readonly waterPpm: string;
  readonly acidMgKohPerG: string;
  /** The fluid as the label of the bottle names it. */
  readonly label: string;
  readonly appearance: "" | NonNullable<Sample["appearance"]>[number];
  readonly samplePoint: "" | NonNullable<Sample["samplePoint"]>;
  /** Whether the fluid was flowing when the bottle was filled. */
  readonly flowing: "" | "yes" | "no";
  readonly drawnOn: string;
  readonly drawnTime: string;
}

/** A sample that was typed, with what the page shows at once. */
export interface TypedSample {
  readonly sample: Sample;
  /** The counts, or those that the code stands for at most: what a circulation starts from. */
  readonly start?: CirculationStart;
  /** Of the counts. */
  readonly classification?: Classification;
}

/** The sizes that the limits of a requirement are about, and those of ISO 4406. */
export function sizesToCount(requirement: Pick<Requirement, "cleanliness"> | undefined): number[] {
  const limits = (requirement?.cleanliness ?? []).flatMap(limitsOfTarget);
  const sizes = limits.flatMap(({ fromUm, toUm }) => [fromUm, ...(toUm === undefined ? [] : [toUm])]);
  return [...new Set([4, 6, 14, ...sizes])].sort((a, b) => a - b);
}

/** Whether a person has typed a result. */
export function isTyped({ counts, code, waterPpm, acidMgKohPerG, appearance }: SampleFields): boolean {
  const results = [...Object.values(counts), code, waterPpm, acidMgKohPerG, appearance];
  return results.some((text) => text.trim() !== "");
}

/** Reads a bottle that a person typed; each field as it would be read from a file. */
export function readTypedSample(
  fields: SampleFields,
  { cart, circuit }: Pick<CircuitCase, "cart" | "circuit">,
): Reading<TypedSample> {
  const reading = readAll({
    counts: readCounts(fields),
    code: optional(fields.code, readCode),
    waterPpm: optional(fields.waterPpm, (text) => readMeasured("Water", text)),
    acid: optional(fields.acidMgKohPerG, (text) => readMeasured("Acid", text)),
    drawnOn: readDay(fields.drawnOn),
    drawnTime: optional(fields.drawnTime, readTime),
  });
  if (reading.kind === "refused") return reading;
  const { counts, code, waterPpm, acid, drawnOn, drawnTime } = reading.value;
  const { exact, limited } = counts;
  const start = exact ? startOfCounts(exact) : code && startOfCode(code);
  const { appearance, samplePoint, flowing } = fields;
  const label = fields.label.trim();
  return read({
    sample: {
      sample: TYPED_SAMPLE,
      cart,
      circuit: circuit.circuit,
      drawnOn,
      ...(drawnTime !== undefined && { drawnTime }),
      ...(label !== "" && { fluid: label }),
      ...(exact && { counts: exact }),
      ...(limited.length > 0 && { limitedCounts: [...limited] }),
      ...(code && { reportedClasses: [{ standard: "ISO 4406" as const, class: formatIso4406(code) }] }),
      ...(waterPpm && { waterPpm }),
      ...(acid && { acidMgKohPerG: acid }),
      ...(appearance !== "" && { appearance: [appearance] }),
      ...(samplePoint !== "" && { samplePoint }),
      ...(flowing !== "" && { flowing: flowing === "yes" }),
      origin: [],
    },
    ...(start && { start }),
    ...(exact && { classification: classify(exact) }),
  });
}

/** A circulation that starts from counts as they were counted. */
export function startOfCounts(counts: CountSet): CirculationStart {
  return { counts, assumptions: [] };
}

/** Adds a sample to what a verdict rests on. */
export function withSample(input: CircuitCase, sample: Sample): CircuitCase {
  return { ...input, samples: [...input.samples, sample] };
}

/** Reads a target, such as "18/16/13" or "AS4059 cumulative 7A-F". */
export function readTarget(text: string): Reading<CleanlinessTarget> {
  return attempt("Target", () => parseTarget(text));
}

function readDay(text: string): Reading<string> {
  const day = daySchema.safeParse(text.trim());
  return day.success
    ? read(day.data)
    : refuse(`Drawn on: expected a day such as 2026-03-14, found "${text}"`);
}

function readTime(text: string): Reading<string> {
  const isTime = /^([01]\d|2[0-3]):[0-5]\d$/.test(text);
  return isTime ? read(text) : refuse(`Drawn at: expected a time such as 14:05, found "${text}"`);
}

function readCode(text: string): Reading<Iso4406Code> {
  const target = attempt("Code", () => parseTarget(text));
  if (target.kind === "refused") return target;
  if (target.value.standard === "ISO 4406") return read(target.value.code);
  return refuse(`Code: expected an ISO 4406 code such as 18/16/13, found "${text}"`);
}

interface TypedCounts {
  readonly exact: CountSet | undefined;
  readonly limited: readonly LimitedCount[];
}

function readCounts({ counts, countedMl }: SampleFields): Reading<TypedCounts> {
  const typed = Object.entries(counts)
    .filter(([, text]) => text.trim() !== "")
    .map(([size, text]) => [size, readMeasured(`Count above ${size} µm(c)`, text)] as const);
  const reading = readAll({
    bySize: readAll<Record<string, Measured>>(Object.fromEntries(typed)),
    countedMl: optional(countedMl, (text) => readPositive("Volume counted", text)),
  });
  if (reading.kind === "refused") return reading;
  const { bySize, countedMl: volume } = reading.value;
  const entries = Object.entries(bySize).map(([size, measured]) => ({ sizeUm: Number(size), ...measured }));
  const exact = entries.filter(({ limit }) => limit === undefined);
  const limited = entries.flatMap(({ sizeUm, value, limit }) =>
    limit === undefined ? [] : [{ sizeUm, volumeMl: 1, count: value, limit }],
  );
  if (exact.length === 0) return read({ exact: undefined, limited });
  return attempt("Counts", () => ({
    exact: cumulativeCounts(
      exact.map(({ sizeUm, value }) => ({ sizeUm, count: value })),
      1,
      "um(c)",
      volume === undefined ? undefined : { countedMl: volume },
    ),
    limited,
  }));
}

function optional<T>(text: string, readText: (text: string) => Reading<T>): Reading<T | undefined> {
  return text.trim() === "" ? read(undefined) : readText(text.trim());
}
