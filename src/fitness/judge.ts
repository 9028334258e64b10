import { classify } from "../cleanliness/index.js";
import { CART_CAUTIONS, joinAssumptions } from "../provenance/index.js";
import type { Requirement, Sample } from "../samples/index.js";
import { checkAge, checkCirculatedSince, checkQuarantine, isOfFormerFluid } from "./able-to-speak.js";
import type { Finding } from "./assessed.js";
import { checkCartState } from "./cart-state.js";
import type { CircuitCase } from "./case.js";
import { checkDrawing } from "./drawing.js";
import { exchangesFor } from "./exchange-advice.js";
import { circuitUntil } from "./happened.js";
import { checkIdentity } from "./identity.js";
import { latestSamples, severalAtOnce } from "./latest.js";
import { checkLimits } from "./limits.js";
import { checkMixing } from "./mixing.js";
import { nextStepOf } from "./next-step.js";
import { type Outlook, outlookOf } from "./outlook.js";
import { checkParticles } from "./particles.js";
import { compareVerdicts, decide, reason } from "./reasons.js";
import { togetherOf } from "./together.js";
import type { Verdict } from "./verdict.js";
import { changesOf } from "./would-change.js";

/**
 * Judges whether one circuit may be connected to the aircraft system it serves.
 *
 * The latest sample is held against the requirement. Every check gives a reason, the strictest reason decides,
 * and what was not measured is never a pass. Of several samples drawn on the latest day whose order in time is not
 * known, the one with the strictest verdict counts.
 *
 * @param input - the circuit, its requirement and its samples; see {@link CircuitCase}
 * @returns the verdict with every reason, what to do next, what would change it, and a circulation plan where particles
 *   are outside
 * @throws RangeError for data of the circuit that cannot be planned with
 * @source JCGM-106
 */
export function judgeCircuit(input: CircuitCase): Verdict {
  const latest = latestSamples(input.samples);
  const outlook = outlookOf(untilToday(input));
  const verdicts = (latest.length === 0 ? [undefined] : latest).map((sample) =>
    judgeSample(input, sample, outlook),
  );
  const strictest = verdicts.sort((a, b) => compareVerdicts(a.verdict, b.verdict)).at(-1) as Verdict;
  if (latest.length < 2) return strictest;
  return { ...strictest, assumptions: [...strictest.assumptions, severalAtOnce(latest)] };
}

/** The case without the events of days to come, in this circuit or in those beside it. */
function untilToday(input: CircuitCase): CircuitCase {
  const { circuit, beside, on } = input;
  return {
    ...input,
    circuit: circuitUntil(circuit, on),
    ...(beside && {
      beside: beside.map((other) => ({ ...other, circuit: circuitUntil(other.circuit, on) })),
    }),
  };
}

function judgeSample(input: CircuitCase, sample: Sample | undefined, outlook: Outlook | undefined): Verdict {
  const { requirement, circuit } = input;
  const findings =
    requirement === undefined ? [noRequirement(input)] : checks(input, requirement, sample, outlook);
  const assessed = findings.flatMap((finding) => finding.assessed ?? []);
  const together = togetherOf(assessed);
  const reasons = [...findings.flatMap((finding) => finding.reasons), ...together.reasons].sort((a, b) =>
    compareVerdicts(b.callsFor, a.callsFor),
  );
  const classification = sample?.counts && classify(sample.counts);
  const circulation = findings.find((finding) => finding.circulation !== undefined)?.circulation;
  const told = {
    verdict: decide(reasons),
    reasons,
    ...(sample && { sample }),
    ...(classification && { classification }),
    ...(circulation && { circulation }),
    assessed,
    ...(together.sureness && { together: together.sureness }),
    ...(outlook && { outlook }),
  };
  const exchange = requirement === undefined ? [] : exchangesFor(circuit, requirement, assessed);
  return {
    cart: input.cart,
    circuit: circuit.circuit,
    serves: circuit.serves,
    on: input.on,
    ...told,
    next: nextStepOf(told, circuit.element.position, exchange),
    changes: changesOf(told, requirement?.sampleAgeDaysMax),
    assumptions: joinAssumptions(
      classification?.assumptions ?? [],
      ...findings.map((finding) => finding.assumptions ?? []),
      ...exchange.map(({ assumptions }) => assumptions),
    ),
    cautions: CART_CAUTIONS,
  };
}

function checks(
  input: CircuitCase,
  requirement: Requirement,
  sample: Sample | undefined,
  outlook: Outlook | undefined,
): Finding[] {
  const { circuit, unread, on } = input;
  // What a sample of fluid that is gone says of itself, label and looks included, says nothing of the fluid now.
  const ofThisFluid = sample !== undefined && !isOfFormerFluid(circuitUntil(circuit, on), sample);
  const always = [
    checkIdentity(circuit, requirement, ofThisFluid ? sample : undefined),
    checkMixing(outlook),
    checkCartState(circuit, requirement, on),
    checkQuarantine(unread, sample),
    checkCirculatedSince(input, requirement),
  ];
  if (sample === undefined) return [...always, NO_SAMPLE];
  const age = checkAge(input, requirement, sample);
  if (!ofThisFluid) return [...always, age];
  return [
    ...always,
    age,
    checkDrawing(requirement, sample),
    checkParticles(circuit, requirement, sample),
    ...checkLimits(requirement, sample),
  ];
}

function noRequirement({ circuit }: CircuitCase): Finding {
  const message = `no requirement is named "${circuit.serves}", the system this circuit serves`;
  return { reasons: [reason("no-requirement", message)] };
}

const NO_SAMPLE: Finding = { reasons: [reason("no-sample", "no sample of this circuit was given")] };
