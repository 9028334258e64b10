import {
  FLUID_BASES,
  type FluidSpecification,
  fluidsNamedIn,
  isPreservative,
  tryParseFluidSpecification,
} from "../../fluids/index.js";
import type { Assumption } from "../../provenance/index.js";
import {
  type Circuit,
  eventsInOrder,
  fluidsSaidIn,
  isCounterRun,
  type Requirement,
  type Sample,
} from "../../samples/index.js";
import type { Finding } from "../assessed.js";
import { type Evidence, orMissingIn } from "../evidence/evidence.js";
import { latestSamples } from "../latest.js";
import { type Reason, reason } from "../reasons.js";
import { checkColour } from "./identity-colour.js";
import { checkForeignElements } from "./identity-elements.js";
import { checkResults } from "./identity-results.js";

/** Is it the right fluid: the one the system takes, and the one the circuit is declared to hold? */
export function checkIdentity(
  circuit: Circuit,
  requirement: Requirement,
  evidence: Evidence | undefined,
): Finding {
  const allowed = requirement.fluids.join(" or ");
  const takes: readonly FluidSpecification[] = requirement.fluids;
  const kept = isPreservative(circuit.fluid) ? ", which preserves it and is never for an aircraft" : "";
  const declared = takes.includes(circuit.fluid)
    ? reason("fluid-allowed", `${circuit.fluid} is allowed in ${requirement.system}`)
    : reason(
        "fluid-not-allowed",
        `the circuit holds ${circuit.fluid}${kept}; ${requirement.system} takes ${allowed}`,
      );
  const [newest] = evidence?.newest ?? [];
  const added = checkFluidAdded(circuit);
  if (evidence === undefined || newest === undefined) return { reasons: [declared, ...added] };
  const latest = (isSaid: (sample: Sample) => boolean) => latestSamples(evidence.looked.filter(isSaid));
  const labelled = latest(({ fluid }) => fluid !== undefined);
  const findings = [
    ...[...new Set([...bottlesUsed(evidence), ...labelled])].map((sample) =>
      checkLabel(circuit, requirement, sample),
    ),
    ...checkResults(circuit, requirement, evidence),
    ...checkForeignElements(requirement, evidence),
    ...orMissingIn(newest, evidence.of("colour")).map((sample) => checkColour(circuit, requirement, sample)),
    ...latest((sample) => namedFluids(sample).length > 0).map((sample) => checkNamedFluids(circuit, sample)),
  ];
  return {
    reasons: [declared, ...added, ...findings.flatMap(({ reasons }) => reasons)],
    assumptions: findings.flatMap(({ assumptions }) => assumptions ?? []),
  };
}

/** The bottles that something rests on; the last ones where all of it rests on a counter in the line, which has no label. */
function bottlesUsed({ used, newest }: Evidence): readonly Sample[] {
  const bottles = used.filter((sample) => !isCounterRun(sample));
  return bottles.length < used.length && bottles.length === 0 ? newest : bottles;
}

/** A top-up whose note names another fluid stays in the circuit until its fluid is changed, whatever a bottle shows of it. */
function checkFluidAdded({ fluid, events }: Circuit): Reason[] {
  const inOrder = eventsInOrder(events);
  const changed = inOrder.findLastIndex(({ kind }) => kind === "fluid-change");
  return inOrder.slice(changed + 1).flatMap(({ kind, on, note = "" }) => {
    if (kind !== "top-up") return [];
    const others = fluidsNamedIn(note).filter((one) => one !== fluid && one !== FLUID_BASES[fluid]);
    if (others.length === 0) return [];
    const message =
      `the log says "${note}" of the top-up on ${on}, and the circuit is declared to hold ${fluid}; ` +
      "find out which fluid went in, and correct the note or change the fluid";
    return [{ ...reason("identity-in-doubt", message), actor: "engineer" }];
  });
}

function checkLabel(circuit: Circuit, { sampling }: Requirement, bottle: Sample): Finding {
  const { sample, fluid } = bottle;
  if (fluid === undefined) {
    // What else a report names, checkNamedFluids holds against the circuit.
    if (namedFluids(bottle).some(({ named }) => named.includes(circuit.fluid))) return { reasons: [] };
    if (sampling?.labelled) {
      const message = `neither label nor report of sample ${sample} names the fluid, which is required`;
      return { reasons: [reason("fluid-not-stated", message)] };
    }
    return { reasons: [], assumptions: [asDeclared(sample, circuit)] };
  }
  const labelled = tryParseFluidSpecification(fluid);
  if (labelled === circuit.fluid) return { reasons: [] };
  if (labelled === undefined) {
    const message = `the label of sample ${sample} says "${fluid}", which is no specification known here; expected ${circuit.fluid}`;
    return { reasons: [reason("fluid-label-not-recognised", message)] };
  }
  const message = `the label of sample ${sample} says ${labelled}${isPreservative(labelled) ? ", which preserves stands and is never for an aircraft" : ""}, the circuit is declared to hold ${circuit.fluid}`;
  return { reasons: [reason("fluid-contradicts-label", message)] };
}

/** What a report names as the fluid in columns of their own, such as the match of a spectrum. */
function namedFluids({ laboratorySays = [] }: Sample) {
  return laboratorySays
    .map(({ column, text }) => ({ column, text, named: fluidsSaidIn(column, text) }))
    .filter(({ named }) => named.length > 0);
}

function checkNamedFluids({ fluid }: Circuit, bottle: Sample): Finding {
  const { sample } = bottle;
  const reasons = namedFluids(bottle).flatMap(({ column, text, named }) => {
    const others = named.filter((one) => one !== fluid && one !== FLUID_BASES[fluid]);
    if (others.length === 0) return [];
    const message =
      `of sample ${sample} the report says "${text}" in column "${column}", and the circuit is declared to hold ${fluid}; ` +
      "have the laboratory tell which fluid is in the bottle";
    return [reason("identity-in-doubt", message)];
  });
  return { reasons };
}

function asDeclared(sample: string, circuit: Circuit): Assumption {
  return {
    code: "fluid-as-declared",
    message: `the report of sample ${sample} names no fluid; it was taken as the declared ${circuit.fluid}`,
  };
}

/** Whether two circuits hold fluids of different bases, which must never meet. */
export function mustNeverMeet(a: Circuit, b: Circuit): boolean {
  return (FLUID_BASES[a.fluid] === "phosphate ester") !== (FLUID_BASES[b.fluid] === "phosphate ester");
}
