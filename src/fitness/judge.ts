import { classify } from "../cleanliness/index.js";
import { CART_CAUTIONS, joinAssumptions } from "../provenance/index.js";
import type { Requirement, Sample } from "../samples/index.js";
import { exchangesFor } from "./advice/exchange-advice.js";
import { nextStepOf } from "./advice/next-step.js";
import { changesOf } from "./advice/would-change.js";
import type { Finding } from "./assessed.js";
import type { CircuitCase } from "./case.js";
import { checkAge, checkCirculatedSince, checkQuarantine, validUntil } from "./checks/able-to-speak.js";
import { checkCartState } from "./checks/cart-state.js";
import { checkCountsAreUsual } from "./checks/counts-in-doubt.js";
import { checkDrawing } from "./checks/drawing.js";
import { changeAfter, checkEvidence } from "./checks/evidence.js";
import { circuitUntil } from "./checks/happened.js";
import { checkLaboratory } from "./checks/laboratory-says.js";
import { checkLimits } from "./checks/limits.js";
import { checkOutlook } from "./checks/outlook.js";
import { checkParticles } from "./checks/particles.js";
import { remarkOn } from "./checks/remarks.js";
import { checkStatedClasses } from "./checks/stated-classes.js";
import { checkTopUps, topUpLeft } from "./checks/top-ups.js";
import { togetherOf } from "./confidence/together.js";
import { checkIdentity } from "./identity/identity.js";
import { latestSamples, severalAtOnce } from "./latest.js";
import { compareVerdicts, decide, reason } from "./reasons.js";
import { type Outlook, outlookOf } from "./trends/outlook.js";
import type { Verdict } from "./verdict.js";

/**
 * Judges whether one circuit may be connected to the aircraft system it serves.
 *
 * The latest sample is compared with the requirement. Every check gives a reason, the strictest reason decides,
 * and what was not measured is never a pass. Of several samples drawn on the latest day whose order in time is not
 * known, the one with the strictest verdict counts. A circuit whose data cannot be computed with is not to be connected,
 * and the reason says what is wrong with them.
 *
 * @param input - the circuit, its requirement and its samples; see {@link CircuitCase}
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
export function judgeCircuit(input: CircuitCase): Verdict {
  try {
    return judgeLatest(input);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const message = `the data of this circuit or its requirement cannot be judged with: ${error.message}`;
    return verdictOf(input, undefined, undefined, [{ reasons: [reason("cannot-be-judged", message)] }]);
  }
}

function judgeLatest(input: CircuitCase): Verdict {
  const latest = latestSamples(input.samples);
  const outlook = outlookOf(untilToday(input));
  const verdicts = (latest.length === 0 ? [undefined] : latest).map((sample) =>
    judgeSample(input, sample, outlook),
  );
  const strictest = verdicts.sort((a, b) => compareVerdicts(a.verdict, b.verdict)).at(-1) as Verdict;
  if (latest.length < 2) return strictest;
  return { ...strictest, assumptions: [...strictest.assumptions, severalAtOnce(latest)] };
}

/** The case without future events, in this circuit and the others of the cart. */
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
  const { requirement, circuit, on } = input;
  // A sample of fluid that is gone says nothing of the fluid now, so none of it stands with the verdict.
  const former = sample && changeAfter(circuitUntil(circuit, on), sample);
  const present = former === undefined ? sample : undefined;
  if (requirement === undefined) return verdictOf(input, present, outlook, [noRequirement(input)]);
  const shown = present === undefined ? [] : checksOf(input, requirement, present);
  const assessed = shown.flatMap((finding) => finding.assessed ?? []);
  const said =
    present === undefined
      ? []
      : [checkLaboratory(present, assessed), checkStatedClasses(requirement, present, assessed)];
  return verdictOf(input, present, outlook, [
    checkIdentity(circuit, requirement, present),
    remarkOn(circuit, requirement),
    checkOutlook(outlook),
    checkCartState(circuit, requirement, on),
    checkQuarantine(input, sample),
    checkCirculatedSince(input, requirement),
    checkEvidence(requirement, sample, former, assessed),
    ...(sample === undefined ? [] : [checkAge(input, requirement, sample)]),
    ...shown,
    ...said,
  ]);
}

/** What a sample of the fluid that is in the circuit now shows. */
function checksOf(input: CircuitCase, requirement: Requirement, sample: Sample): Finding[] {
  const { circuit } = input;
  return [
    checkTopUps(input, requirement, sample),
    checkDrawing(requirement, sample),
    checkCountsAreUsual(input, sample),
    checkParticles(circuit, requirement, sample),
    ...checkLimits(requirement, sample),
  ];
}

function verdictOf(
  input: CircuitCase,
  sample: Sample | undefined,
  outlook: Outlook | undefined,
  findings: readonly Finding[],
): Verdict {
  const { circuit, requirement } = input;
  const assessed = findings.flatMap((finding) => finding.assessed ?? []);
  const together = togetherOf(assessed);
  const reasons = [...findings.flatMap((finding) => finding.reasons), ...together.reasons].sort((a, b) =>
    compareVerdicts(b.callsFor, a.callsFor),
  );
  const classification = sample?.counts && classify(sample.counts);
  const circulation = findings.find((finding) => finding.circulation !== undefined)?.circulation;
  const reported = {
    verdict: decide(reasons),
    reasons,
    ...(sample && { sample }),
    ...(classification && { classification }),
    ...(circulation && { circulation }),
    assessed,
    ...(together.conformance && { together: together.conformance }),
    ...(outlook && { outlook }),
  };
  const exchange = requirement === undefined ? [] : exchangesFor(circuit, requirement, assessed);
  return {
    cart: input.cart,
    circuit: circuit.circuit,
    serves: circuit.serves,
    on: input.on,
    ...reported,
    next: nextStepOf(reported, circuit.element.position, exchange),
    changes: changesOf(
      reported,
      requirement &&
        sample && {
          until: validUntil(circuit, requirement, sample, outlook).on,
          topUpL: topUpLeft(circuit, requirement, sample),
        },
    ),
    assumptions: joinAssumptions(
      classification?.assumptions ?? [],
      ...findings.map((finding) => finding.assumptions ?? []),
      ...exchange.map(({ assumptions }) => assumptions),
    ),
    cautions: CART_CAUTIONS,
  };
}

function noRequirement({ circuit }: CircuitCase): Finding {
  const message = `no requirement is named "${circuit.serves}", the system this circuit serves`;
  return { reasons: [reason("no-requirement", message)] };
}
