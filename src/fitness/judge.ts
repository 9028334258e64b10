import { type GoByInput, insteadOfTime, type TimeToGoBy, timeToGoBy } from "../circulation/index.js";
import { classify } from "../cleanliness/index.js";
import { CART_CAUTIONS, joinAssumptions } from "../provenance/index.js";
import { circulates, type Requirement, type Sample } from "../samples/index.js";
import { exchangesFor } from "./advice/exchange-advice.js";
import { goByInputOf } from "./advice/go-by.js";
import { minutesDone } from "./advice/minutes-done.js";
import { nextStepOf } from "./advice/next-step.js";
import { changesOf } from "./advice/would-change.js";
import type { Assessed, Finding, Planned } from "./assessed.js";
import type { CaseOnDay, CircuitCase } from "./case.js";
import { checkCase, checkDays, checkIsLimited } from "./check-case.js";
import {
  checkAge,
  checkCirculatedSince,
  checkQuarantine,
  minutesDue,
  validUntil,
} from "./checks/able-to-speak.js";
import { checkCanCirculate, checkTimeSuffices } from "./checks/can-circulate.js";
import { checkCartState } from "./checks/cart-state.js";
import { takenSamples } from "./checks/counter-in-line.js";
import { acceptedFor, checkCountsAreUsual } from "./checks/counts-in-doubt.js";
import { checkDrawing } from "./checks/drawing.js";
import { checkEvidence } from "./checks/evidence.js";
import { circuitUntil } from "./checks/happened.js";
import { checkLaboratory } from "./checks/laboratory-says.js";
import { checkOutlook } from "./checks/outlook.js";
import { checkCountsBesidePatch } from "./checks/patch.js";
import { type CheckedQuantities, checkQuantities, severalAtOnce } from "./checks/quantities.js";
import { remarkOn } from "./checks/remarks.js";
import { checkStatedClasses } from "./checks/stated-classes.js";
import { checkTopUps, topUpLeft } from "./checks/top-ups.js";
import { togetherOf } from "./confidence/together.js";
import { needsSample } from "./evidence/event-effects.js";
import { changeAfter, type Evidence, evidenceOf } from "./evidence/evidence.js";
import { checkIdentity } from "./identity/identity.js";
import { JudgingDay } from "./judging-day.js";
import { latestSamples } from "./latest.js";
import { compareVerdicts, decide, reason } from "./reasons.js";
import { type Outlook, outlookOf } from "./trends/outlook.js";
import type { Verdict } from "./verdict.js";

/**
 * Judges whether one circuit may be connected to the aircraft system it serves.
 *
 * For each quantity of the requirement its own latest result is compared with the limit. Every check gives a reason, the
 * strictest reason decides, and what was not measured is never a pass. Of several latest samples whose order in time is not
 * known, the strictest counts. A circuit whose data cannot be computed with is not to be connected,
 * and the reason says what is wrong with them.
 *
 * @param given - the circuit, its requirement and its samples; see {@link CircuitCase}
 * @returns the verdict with every reason, what to do next, what would change it, and a circulation plan where particles
 *   are outside
 * @source JCGM-106
 * @example
 * const element = { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] };
 * const circuit = { circuit: "main", serves: "main system", fluid: "MIL-PRF-83282", volumeL: 60, flowLpm: 45, element, events: [] };
 * const limits = { cleanliness: [parseTarget("17/-/-")], waterPpmMax: 200, acidMgKohPerGMax: 0.2, sampleAgeDaysMax: 30 };
 * const requirement = { system: "main system", fluids: ["MIL-PRF-83282"], ...limits };
 * const counts = cumulativeCounts([{ sizeUm: 4, count: 15000 }], 1);
 * const bottle = { sample: "S-1", cart: "C-1", circuit: "main", drawnOn: "2026-03-04", fluid: "MIL-PRF-83282", origin: [] };
 * const samples = [{ ...bottle, counts, waterPpm: { value: 90 }, acidMgKohPerG: { value: 0.1 } }];
 * judgeCircuit({ cart: "C-1", circuit, requirement, samples, unread: [], on: "2026-03-14" }).verdict; // => "circulate"
 */
export function judgeCircuit(given: CircuitCase): Verdict {
  return judgeAndPlan(given).verdict;
}

/** A verdict with what its circulation was planned from; absent where no circulation was. */
export interface JudgedPlan {
  readonly verdict: Verdict;
  readonly planned?: Planned & { readonly goBy: GoByInput };
}

/** The same as {@link judgeCircuit}, with what the circulation was planned from. */
export function judgeAndPlan(given: CircuitCase): JudgedPlan {
  // In one order, so that no verdict depends on the order in which the samples came.
  const { on, ...rest } = given;
  const day = new JudgingDay(on);
  const input = { ...rest, samples: [...given.samples].sort(byDayAndNumber), day };
  const { verdict, planned } = judgeOnDay(on, input);
  const { cart, circuit, serves, ...answer } = verdict;
  const { mayChangeOn } = day;
  return {
    verdict: { cart, circuit, serves, on, ...(mayChangeOn !== undefined && { mayChangeOn }), ...answer },
    ...(planned && { planned }),
  };
}

/** A verdict without its day: it is the same on every day until that of `mayChangeOn`. */
interface UndatedPlan extends Omit<JudgedPlan, "verdict"> {
  readonly verdict: Omit<Verdict, "on" | "mayChangeOn">;
}

function judgeOnDay(on: string, input: CaseOnDay): UndatedPlan {
  try {
    checkDays({ on });
    checkCase(input);
    if (input.requirement !== undefined) checkIsLimited(input.requirement);
    return judgeLatest(input);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const message = `the data of this circuit or its requirement cannot be judged with: ${error.message}`;
    return verdictOf(input, [], undefined, [{ reasons: [reason("cannot-be-judged", message)] }]);
  }
}

function byDayAndNumber(one: Sample, other: Sample): number {
  const [a, b] = [`${one.drawnOn} ${one.sample}`, `${other.drawnOn} ${other.sample}`];
  return a < b ? -1 : a > b ? 1 : 0;
}

function judgeLatest(given: CaseOnDay): UndatedPlan {
  const { bottles, taken, assumptions } = takenSamples(given);
  const input = { ...given, samples: taken };
  const outlook = outlookOf(untilToday({ ...given, samples: bottles }));
  const { requirement, samples, day } = input;
  const circuit = circuitUntil(input.circuit, day);
  if (requirement === undefined) {
    // A sample of fluid that is gone says nothing of the fluid now, so none of it stands with the verdict.
    const present = latestSamples(samples.filter((sample) => changeAfter(circuit, sample) === undefined));
    return verdictOf(input, present.slice(-1), outlook, [{ ...noRequirement(input), assumptions }]);
  }
  const evidence = evidenceOf(circuit, requirement, samples);
  const checked = checkQuantities(input.circuit, requirement, evidence);
  const found = checked === undefined ? [] : checksOf(input, requirement, evidence, checked);
  const assessed = found.flatMap((finding) => finding.assessed ?? []);
  const shown = checked === undefined ? [] : [checked.shown, ...others(evidence.used, checked.shown)];
  return verdictOf(input, shown, outlook, [
    checkIdentity(input.circuit, requirement, evidence),
    remarkOn(input.circuit, requirement),
    checkOutlook(outlook),
    checkCartState(input.circuit, requirement, day),
    checkQuarantine(input, evidence),
    checkCirculatedSince(input, requirement),
    checkEvidence(requirement, samples, evidence, assessed),
    checkAge(input, requirement, evidence),
    ...found,
    checkCanCirculate(input.circuit, found),
    { reasons: [], assumptions: [...severalAtOnce(assessed, evidence), ...assumptions] },
  ]);
}

function others(used: readonly Sample[], shown: Sample): Sample[] {
  return used.filter((sample) => sample !== shown);
}

/** The case without future events, in this circuit and the others of the cart. */
function untilToday(input: CaseOnDay): CaseOnDay {
  const { circuit, neighbours, day } = input;
  return {
    ...input,
    circuit: circuitUntil(circuit, day),
    ...(neighbours && {
      neighbours: neighbours.map((other) => ({ ...other, circuit: circuitUntil(other.circuit, day) })),
    }),
  };
}

/** What the samples of the fluid that is in the circuit now show. */
function checksOf(
  input: CaseOnDay,
  requirement: Requirement,
  evidence: Evidence,
  { findings, assessedIn }: CheckedQuantities,
): Finding[] {
  const counted = evidence.of("particles");
  return [
    checkTopUps(input, requirement, evidence.used),
    checkDrawing(input.circuit, requirement, evidence),
    acceptedFor(evidence.used),
    ...(counted.length === 0 ? [] : counted.map(checkCountsAreUsual(input))),
    ...findings,
    { reasons: checkCountsBesidePatch(requirement, evidence) },
    checkLaboratory(evidence, assessedIn),
    ...[...new Set([...counted, ...evidence.of("patch")])].map((sample) =>
      checkStatedClasses(requirement, sample, assessedIn(sample)),
    ),
  ];
}

function verdictOf(
  input: CaseOnDay,
  samples: readonly Sample[],
  outlook: Outlook | undefined,
  findings: readonly Finding[],
): UndatedPlan {
  const { circuit, requirement } = input;
  const assessed = findings.flatMap((finding) => finding.assessed ?? []);
  const together = togetherOf(assessed);
  const found = [...findings.flatMap((finding) => finding.reasons), ...together.reasons];
  const [sample, ...otherSamples] = samples;
  const counts = countedOf(samples, assessed);
  const classification = counts && classify(counts);
  const { circulation, planned } = findings.find((finding) => finding.circulation !== undefined) ?? {};
  const goByInput =
    requirement && planned && circulation && circulates(circuit)
      ? goByInputOf(
          requirement,
          {
            ...{ circuit, planned: planned.input, plan: circulation },
            dueMin: minutesDue(input, requirement),
            done: minutesDone(circuit, [planned, ...countedThatDay(input, planned)], input.day),
          },
          assessed,
        )
      : undefined;
  const goBy = goByInput && circulation?.reachable ? goByOf(goByInput) : undefined;
  const reasons = [...found, ...checkTimeSuffices(found, goBy)].sort((a, b) =>
    compareVerdicts(b.callsFor, a.callsFor),
  );
  const reported = {
    verdict: decide(reasons),
    reasons,
    ...(sample && { sample }),
    ...(otherSamples.length > 0 && { otherSamples }),
    ...(classification && { classification }),
    ...(circulation && { circulation }),
    ...(goBy && { goBy }),
    assessed,
    ...(together.conformance && { together: together.conformance }),
    ...(outlook && { outlook }),
  };
  const exchange =
    requirement === undefined ? [] : exchangesFor(circuit, requirement, assessed, outlook?.rises);
  const verdict: UndatedPlan["verdict"] = {
    cart: input.cart,
    circuit: circuit.circuit,
    serves: circuit.serves,
    ...reported,
    next: nextStepOf(reported, circuit, exchange),
    changes: changesOf(
      reported,
      requirement &&
        sample && {
          until: validUntil(circuit, requirement, samples, outlook).on,
          topUpL: topUpLeft(circuit, requirement, samples.at(-1) ?? sample),
          shownIn: circuit.shownIn,
          endsWithHookup: needsSample(requirement, { kind: "hookup" }, "particles"),
        },
    ),
    assumptions: joinAssumptions(
      circuit.assumptions ?? [],
      classification?.assumptions ?? [],
      ...findings.map((finding) => finding.assumptions ?? []),
      goBy?.assumptions ?? [],
      ...exchange.map(({ assumptions }) => assumptions),
    ),
    cautions: CART_CAUTIONS,
  };
  return { verdict, ...(planned && goByInput && { planned: { ...planned, goBy: goByInput } }) };
}

function countedThatDay({ samples }: CaseOnDay, { drawnOn }: Planned): Sample[] {
  return samples.filter((sample) => sample.drawnOn === drawnOn && sample.counts !== undefined);
}

/** The time to go by, or what to do in its place. */
function goByOf(input: GoByInput): TimeToGoBy {
  const { goBy } = timeToGoBy(input);
  return goBy.kind === "minutes" ? goBy : { ...goBy, instead: insteadOfTime(input) };
}

/** The counts of the bottle that shows the particles; without a requirement those of the last bottle. */
function countedOf(samples: readonly Sample[], assessed: readonly Assessed[]): Sample["counts"] {
  const particles = assessed.find(({ quantity }) => quantity === "particles");
  if (particles === undefined) return samples[0]?.counts;
  return samples.find(({ sample }) => sample === particles.sample)?.counts;
}

function noRequirement({ circuit }: CaseOnDay): Finding {
  const message = `no requirement is named "${circuit.serves}", the system this circuit serves`;
  return { reasons: [reason("no-requirement", message)] };
}
