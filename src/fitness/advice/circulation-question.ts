import {
  type CirculationQuestion,
  type CirculationStart,
  describeGoBy,
  type Mixing,
} from "../../circulation/index.js";
import { type CleanlinessTarget, formatTarget } from "../../cleanliness/index.js";
import type { Assumption } from "../../provenance/index.js";
import type { Circuit, RatedBeta, Requirement, Sample } from "../../samples/index.js";
import { formatQuantity, formatShare, hosesVolumeL } from "../../units/index.js";
import type { CircuitCase } from "../case.js";
import { judgeAndPlan } from "../judge.js";
import type { ReasonCode } from "../reasons.js";
import type { Verdict } from "../verdict.js";
import { eventsAsRun } from "./minutes-done.js";

/** What a person puts in the place of what carts file, requirement or samples say, to see other minutes. */
export interface CirculationChanges
  extends Partial<Pick<Circuit, "volumeL" | "flowLpm" | "bypass" | "hoses" | "ingress" | "settled">> {
  readonly betas?: readonly RatedBeta[];
  readonly slowZone?: Extract<Mixing, { kind: "two-zone" }>;
  readonly target?: CleanlinessTarget;
  /** The particles that the circulation starts from, in place of those of the last sample. */
  readonly start?: CirculationStart;
  readonly port?: "upstream" | "downstream";
}

/** A circulation as it follows from what a verdict rests on, or why none does. */
export type CirculationOfCircuit = {
  /** The verdict with the changes. */
  readonly verdict: Verdict;
  readonly assumptions: readonly Assumption[];
} & (
  | {
      readonly kind: "question";
      readonly question: CirculationQuestion;
      /** The sample that it starts from. */
      readonly from: Pick<Sample, "sample" | "drawnOn">;
    }
  | { readonly kind: "none"; readonly why: string; readonly isClean: boolean }
);

/** The number of a sample that is made of the start that a person typed. */
const TYPED_START = "as typed";

/**
 * The circulation of a circuit by its book: volume, flow, element, hoses, bypass, last sample, port and target, with the
 * confidence and the least time that the judge goes by. Its time to go by is that of the verdict.
 *
 * @param input - what the verdict rests on
 * @param changes - single values that take the place of what it says; each is returned as an assumption
 */
export function circulationOfCircuit(
  input: CircuitCase,
  changes: CirculationChanges = {},
): CirculationOfCircuit {
  const changed = withChanges(input, changes);
  const { verdict, planned } = judgeAndPlan(changed);
  const assumptions = describeChanges(input, changes);
  if (planned === undefined) {
    const why = whyNoCirculation(verdict, changed.requirement);
    return { kind: "none", verdict, assumptions, why, isClean: isInside(verdict) };
  }
  const { circuit } = changed;
  const { circuit: stated, dueMin, done, acceptance, confidence } = planned.goBy;
  const { start: _upstream, startDrawn: _drawn, ...withoutStart } = stated;
  const start = changes.start ?? planned.drawn;
  return {
    kind: "question",
    verdict,
    assumptions,
    from: { sample: planned.sample, drawnOn: planned.drawnOn },
    question: {
      circuit: withoutStart,
      start: { ...start, assumptions: [...planned.drawn.assumptions, ...(changes.start?.assumptions ?? [])] },
      ...(planned.port && { port: planned.port }),
      ...(confidence && { confidence }),
      ...(acceptance && { acceptance }),
      ...(dueMin !== undefined && { dueMin }),
      ...(done && { done }),
      ...(circuit.hoses && {
        flow: { fluid: circuit.fluid, hoses: circuit.hoses, coldestC: circuit.coldestC },
      }),
      ...(circuit.shownIn && { shownIn: circuit.shownIn }),
    },
  };
}

function withChanges(input: CircuitCase, changes: CirculationChanges): CircuitCase {
  const { circuit, requirement } = input;
  const { betas, target, volumeL, start, port, hoses = circuit.hoses, slowZone, ...fields } = changes;
  const { assumptions: _ofRating, ...element } = circuit.element;
  const own = (volumeL ?? circuit.volumeL - hosesVolumeL(circuit.hoses ?? [])) + hosesVolumeL(hoses ?? []);
  return {
    ...input,
    circuit: {
      ...circuit,
      ...onlyGiven(fields),
      events: eventsAsRun(circuit, { betas }),
      ...(slowZone && {
        slowZone: { fraction: slowZone.slowFraction, exchangePerPass: slowZone.exchangePerPass },
      }),
      ...((volumeL !== undefined || changes.hoses) && { volumeL: own }),
      ...(hoses && { hoses }),
      element: betas === undefined ? circuit.element : { ...element, betas: [...betas] },
    },
    ...(requirement && {
      requirement: target === undefined ? requirement : { ...requirement, cleanliness: [target] },
    }),
    samples: samplesWith(input, start, port),
  };
}

function onlyGiven<T extends object>(fields: T): Partial<T> {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as Partial<T>;
}

/** A typed start takes the place of all particles that were reported; a typed port that of the samples. */
function samplesWith(
  { samples, cart, circuit, on }: CircuitCase,
  start: CirculationStart | undefined,
  port: CirculationChanges["port"],
): readonly Sample[] {
  const at =
    port === undefined
      ? undefined
      : port === "downstream"
        ? ("downstream-of-element" as const)
        : ("upstream-of-element" as const);
  const placed = samples.map((sample) => (at === undefined ? sample : { ...sample, samplePoint: at }));
  if (start === undefined) return placed;
  const typed: Sample = {
    sample: TYPED_START,
    cart,
    circuit: circuit.circuit,
    drawnOn: on,
    counts: start.counts,
    ...(at && { samplePoint: at }),
    origin: [],
  };
  return [
    ...placed.map(({ counts: _counts, limitedCounts: _limited, reportedClasses: _classes, ...rest }) => rest),
    typed,
  ];
}

function describeChanges({ circuit, requirement }: CircuitCase, changes: CirculationChanges): Assumption[] {
  const { shownIn } = circuit;
  const entries: (readonly [string, string, string] | undefined)[] = [
    changes.volumeL === undefined
      ? undefined
      : [
          "volume",
          typed(formatQuantity("volume", changes.volumeL, shownIn)),
          formatQuantity("volume", circuit.volumeL - hosesVolumeL(circuit.hoses ?? []), shownIn),
        ],
    changes.flowLpm === undefined
      ? undefined
      : [
          "flow",
          typed(formatQuantity("flow", changes.flowLpm, shownIn)),
          formatOptional(circuit.flowLpm, (flowLpm) => formatQuantity("flow", flowLpm, shownIn)),
        ],
    changes.betas && ["element", typed(formatBetas(changes.betas)), formatBetas(circuit.element.betas)],
    changes.bypass === undefined
      ? undefined
      : ["bypass", typed(formatShare(changes.bypass)), formatOptional(circuit.bypass, formatShare)],
    changes.ingress && ["ingress", WHAT_WAS_TYPED, circuit.ingress ? "the one stated" : NOT_STATED],
    changes.slowZone && ["slow zone", WHAT_WAS_TYPED, circuit.slowZone ? "the one stated" : NOT_STATED],
    changes.settled === undefined
      ? undefined
      : ["settled dirt", typed(formatShare(changes.settled)), formatOptional(circuit.settled, formatShare)],
    changes.hoses && [
      "hoses",
      WHAT_WAS_TYPED,
      circuit.hoses ? `the ${circuit.hoses.length} that are listed` : NOT_STATED,
    ],
    changes.target && [
      "target",
      typed(formatTarget(changes.target)),
      requirement?.cleanliness.map(formatTarget).join(" and ") ?? NOT_STATED,
    ],
    changes.start && ["start", WHAT_WAS_TYPED, "the last sample"],
    changes.port && ["port", typed(changes.port), "that of the samples"],
  ];
  return entries
    .filter((entry) => entry !== undefined)
    .map(([name, now, before]) => ({
      code: "typed-in-place-of",
      message: `${name}: ${now} takes the place of ${before}`,
    }));
}

const WHAT_WAS_TYPED = "what was typed";

function typed(value: string): string {
  return `${value} was typed and`;
}

const NOT_STATED = "nothing stated";

function formatOptional(value: number | undefined, format: (value: number) => string): string {
  return value === undefined ? NOT_STATED : format(value);
}

function formatBetas(betas: readonly RatedBeta[]): string {
  return betas.map(({ sizeUmC, beta }) => `β${sizeUmC}(c) = ${beta}`).join(", ");
}

function isInside(verdict: Verdict): boolean {
  return outcomeOf(verdict) === "inside";
}

function outcomeOf({ assessed }: Verdict) {
  return assessed.find(({ quantity }) => quantity === "particles")?.outcome;
}

/** Reasons that say themselves why nothing can be planned. */
const WHY_NONE: readonly ReasonCode[] = ["cannot-be-judged", "particles-out-of-reach"];

/** Why a verdict has no minutes to go by, in one sentence without its full stop. */
export function whyNoCirculation(verdict: Verdict, requirement: Requirement | undefined): string {
  const { goBy, circulation } = verdict;
  if (requirement === undefined) return "no requirement is known for this circuit, so there is no target";
  if (goBy !== undefined) return describeGoBy(goBy);
  if (circulation?.reachable === false) return `circulating cannot get there: ${circulation.obstacle}`;
  if (requirement.cleanliness.length === 0) return "the requirement has no target for counts";
  if (isInside(verdict)) return "the counts are within the target already";
  const said = verdict.reasons.find(({ code }) => WHY_NONE.includes(code));
  if (said !== undefined) return said.message;
  if (outcomeOf(verdict) === "outside")
    return "the counts are outside, and no number says by how much; type those of a new sample";
  return verdict.classification === undefined
    ? "there are no counts to start from; type those of a new sample"
    : "no count is outside the target, and not every size that it limits was counted";
}

const OF_THE_MINUTES: readonly ReasonCode[] = ["particles-out-of-reach"];

/** What circulating does not put right; that it cannot get there is said with the minutes. */
export function notPutRight({ reasons }: Verdict): string[] {
  return reasons
    .filter(
      ({ code, callsFor }) =>
        !OF_THE_MINUTES.includes(code) && callsFor !== "fit" && callsFor !== "circulate",
    )
    .map(({ message }) => message);
}
