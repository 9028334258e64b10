import { limitsOfTarget } from "../../cleanliness/index.js";
import { frozen } from "../../provenance/index.js";
import type { Measured, Requirement, Sample } from "../../samples/index.js";
import type { Assessed, Finding } from "../assessed.js";
import type { CircuitCase } from "../case.js";
import { countsToHold } from "../checks/counted.js";
import { checkCountsAreUsual } from "../checks/counts-in-doubt.js";
import { judgeCircuit } from "../judge.js";
import { QUANTITIES, type Quantity } from "../quantities.js";
import type { Reason, ReasonCode } from "../reasons.js";

/** What is traced: the limited quantities, and whether it is the right fluid. */
export const TRACED = frozen([
  "particles",
  "water",
  "acid",
  "viscosity",
  "chlorine",
  "metals",
  "fluid",
] as const);

/** See {@link TRACED}. */
export type Traced = (typeof TRACED)[number];

/** A number of particles larger than a size, per mL. */
export interface SizeLevel {
  readonly sizeUm: number;
  /** Upper end of the range, where the number is of one. */
  readonly toUm?: number;
  readonly perMl: number;
}

/** What one sample shows, each quantity by itself. */
export interface Shown {
  readonly sample: Sample;
  /** Good, bad, or reported and neither; absent for a quantity that the sample does not report or nobody limits. */
  readonly shows: Partial<Readonly<Record<Traced, "good" | "bad" | "open">>>;
  readonly levels: {
    readonly water?: Measured;
    readonly acid?: Measured;
    readonly particles?: readonly SizeLevel[];
    /** Sizes whose count the report gives as "more than" only. */
    readonly withoutUpperEnd?: readonly number[];
  };
}

/**
 * What each sample shows by itself: it is judged alone, on the day it was drawn, as if nothing had been done to the circuit.
 *
 * Good is what would be fit, bad is what would stop the circuit; what would only ask for another sample is neither.
 */
export function shownBy(input: CircuitCase, requirement: Requirement): Shown[] {
  const doubtOn = checkCountsAreUsual(input);
  return input.samples.map((sample) => shownByOne(input, sample, requirement, doubtOn(sample).reasons));
}

function shownByOne(
  input: CircuitCase,
  sample: Sample,
  requirement: Requirement,
  doubts: Finding["reasons"],
): Shown {
  const { cartState: _state, ...limits } = requirement;
  const { state: _found, ...circuit } = input.circuit;
  const { reasons, assessed } = judgeCircuit({
    cart: input.cart,
    circuit: { ...circuit, events: [] },
    requirement: limits,
    samples: [sample],
    unread: [],
    on: sample.drawnOn,
  });
  const said = [...reasons, ...doubts];
  const shows = TRACED.flatMap((traced) => {
    const own = assessed.filter((entry) => tracedOf(entry.quantity) === traced);
    const found = judgeTraced(traced, own, said, sample);
    return found === undefined ? [] : [[traced, found] as const];
  });
  return { sample, shows: Object.fromEntries(shows), levels: levelsIn(sample, assessed, requirement) };
}

/** The name under which a limited quantity is traced. */
export function tracedOf(quantity: Quantity): Traced {
  const { stem } = QUANTITIES[quantity];
  if (stem === "patch") return "particles";
  return stem === "saturation" ? "water" : stem;
}

function judgeTraced(traced: Traced, own: readonly Assessed[], reasons: readonly Reason[], sample: Sample) {
  const against = reasons.filter(({ code, callsFor }) => callsFor !== "fit" && concerns(code, traced));
  if (own.some(({ outcome }) => outcome === "outside") || against.some(stops)) return "bad";
  if (traced === "fluid") return against.length === 0 && tellsFluid(sample) ? "good" : "open";
  if (own.length === 0 || own.every(({ outcome }) => outcome === "not-measured")) return undefined;
  return against.length === 0 && own.every(({ outcome }) => outcome === "inside") ? "good" : "open";
}

function tellsFluid({ fluid, viscosity40Mm2PerS, density15KgPerM3 }: Sample): boolean {
  return (fluid ?? viscosity40Mm2PerS ?? density15KgPerM3) !== undefined;
}

function stops({ callsFor, code }: Reason): boolean {
  return callsFor !== "resample" && code !== "particles-too-close" && code !== "cannot-be-judged";
}

/** Reasons whose code does not begin with what they are about. Every other one is about the bottle as a whole. */
const ABOUT: Partial<Readonly<Record<ReasonCode, Traced | "nothing">>> = {
  "sizes-not-counted": "particles",
  "counts-unlike-history": "particles",
  "stated-class-outside": "particles",
  "stated-class-unexplained": "particles",
  "blank-not-counted": "particles",
  "blank-too-high": "particles",
  "replicates-missing": "particles",
  "replicates-scatter": "particles",
  "counted-volume-not-stated": "particles",
  "counted-volume-too-small": "particles",
  "calibration-not-stated": "particles",
  "calibration-overdue": "particles",
  "saturation-outside": "water",
  "saturation-not-known": "water",
  "saturation-not-sure": "water",
  "free-water-seen": "water",
  "cloudy-seen": "water",
  "two-layers-seen": "fluid",
  "circuits-may-mix": "fluid",
  "identity-not-known": "fluid",
  "identity-in-doubt": "fluid",
  "colour-of-another-fluid": "fluid",
  "colour-not-understood": "fluid",
  "colour-not-reported": "fluid",
  "density-not-measured": "fluid",
  "appearance-not-reported": "fluid",
  // What is missing in one bottle another may report, and what the laboratory fails for a result is said of that result.
  "no-evidence": "nothing",
  "laboratory-agrees": "nothing",
};

function concerns(code: ReasonCode, traced: Traced): boolean {
  const named = code.startsWith("patch-") ? "particles" : TRACED.find((name) => code.startsWith(`${name}-`));
  const about = ABOUT[code] ?? named;
  return about === undefined || about === traced;
}

function levelsIn(sample: Sample, assessed: readonly Assessed[], requirement: Requirement): Shown["levels"] {
  const { waterPpm, acidMgKohPerG, counts, limitedCounts = [] } = sample;
  const particles = counts === undefined ? bySize(assessed, requirement) : countedIn(sample, counts);
  const endless = limitedCounts.filter(({ limit }) => limit === "above" || limit === "at-least");
  return {
    ...(waterPpm && { water: waterPpm }),
    ...(acidMgKohPerG && { acid: acidMgKohPerG }),
    ...(particles.length > 0 && { particles }),
    ...(endless.length > 0 && { withoutUpperEnd: endless.map(({ sizeUm }) => sizeUm) }),
  };
}

function countedIn(sample: Sample, counts: NonNullable<Sample["counts"]>): SizeLevel[] {
  const held = countsToHold(sample, counts);
  return held.counts.map(({ sizeUm, count }) => ({ sizeUm, perMl: count / held.volumeMl }));
}

/** Of a report without counts the most that its classes or limit values allow in each channel of the target. */
function bySize(assessed: readonly Assessed[], { cleanliness }: Requirement): SizeLevel[] {
  const limits = cleanliness.flatMap(limitsOfTarget);
  const channels = assessed.flatMap((entry) => ("channels" in entry ? entry.channels : []));
  return channels.flatMap(({ perMl }, index) => {
    const limit = limits[index];
    if (perMl === undefined || limit === undefined) return [];
    return [{ sizeUm: limit.fromUm, ...(limit.toUm !== undefined && { toUm: limit.toUm }), perMl }];
  });
}
