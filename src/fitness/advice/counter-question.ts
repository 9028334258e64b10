import { statedCirculation } from "../../circulation/index.js";
import type { CleanlinessTarget } from "../../cleanliness/index.js";
import { type CounterCircuit, followingSettings, type StatedCounter } from "../../online/index.js";
import { joinAssumptions } from "../../provenance/index.js";
import { circulates, type Requirement } from "../../samples/index.js";
import type { VerdictOnCircuit } from "../fleet/fleet.js";

/** How a counter in the line of a circuit is followed, or why it cannot be. */
export type FollowingOfCircuit =
  | ({ readonly kind: "settings" } & ReturnType<typeof followingSettings>)
  | { readonly kind: "none"; readonly why: string };

/** The precision that a requirement gives a counter in the line, where it takes one. */
function ownPrecision(requirement: Requirement | undefined): StatedCounter {
  if (requirement?.counterInLine === undefined) return {};
  const { repeatability, bias } = requirement.counterInLine;
  return { repeatability, bias };
}

/**
 * How a counter in the line of a circuit is followed: towards all targets of its requirement, with the confidence that the
 * requirement asks for, and held against volume, flow and element of the circuit.
 *
 * @param stated - what is known of the counter; it takes the place of what the requirement says of it
 * @param port - where the counter sits
 * @param target - takes the place of the targets of the requirement
 */
export function followingOfCircuit(
  { circuit, requirement }: Pick<VerdictOnCircuit, "circuit" | "requirement">,
  stated: StatedCounter,
  port: CounterCircuit["port"],
  target?: CleanlinessTarget,
): FollowingOfCircuit {
  if (!circulates(circuit)) {
    const why = `circuit ${circuit.circuit} only delivers: its carts file states no flow of a self-circulation`;
    return { kind: "none", why };
  }
  const targets = target === undefined ? requirement?.cleanliness : [target];
  if (targets === undefined) {
    return {
      kind: "none",
      why: `no requirement is named "${circuit.serves}", the system this circuit serves`,
    };
  }
  if (targets.length === 0) {
    const why = `the requirement of ${circuit.serves} limits particles by a patch alone, which a counter does not show`;
    return { kind: "none", why };
  }
  const { circuit: loop, assumptions } = statedCirculation(circuit);
  const confidence = stated.confidence ?? requirement?.confidence?.probability;
  const found = followingSettings(
    targets,
    { ...ownPrecision(requirement), ...stated, ...(confidence !== undefined && { confidence }) },
    { ...loop, port },
  );
  return { kind: "settings", ...found, assumptions: joinAssumptions(found.assumptions, assumptions) };
}
