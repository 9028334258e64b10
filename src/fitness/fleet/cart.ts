import { grouped } from "../../numeric/index.js";
import type { Requirement } from "../../samples/index.js";
import { isHeld, standsAs } from "../decisions/standing.js";
import { mustNeverMeet } from "../identity/identity.js";
import { compareVerdicts, type VerdictName } from "../reasons.js";
import type { JudgedCircuit, VerdictOnCircuit } from "./fleet.js";

/** One aircraft with the circuit of a cart that would serve each of its systems. */
export interface Pairing {
  readonly aircraft: string;
  readonly systems: readonly {
    readonly system: string;
    /** The circuit that names the system; absent when the cart has none for it. */
    readonly circuit?: string;
    /** What stands for that circuit: its verdict, or a person's stricter decision. */
    readonly verdict?: VerdictName;
    /** Where a person's decision holds that circuit. */
    readonly held?: true;
  }[];
}

/** All circuits of one cart together. */
export interface JudgedCart<J extends VerdictOnCircuit = JudgedCircuit> {
  readonly cart: string;
  /** The strictest of what stands for its circuits. */
  readonly verdict: VerdictName;
  readonly circuits: readonly J[];
  /** For every aircraft of which the cart serves a system. */
  readonly pairings: readonly Pairing[];
  /** Circuits of one cart whose fluids must never meet, hoses included. */
  readonly neverMeet: readonly (readonly [string, string])[];
}

/**
 * Puts the circuits of each cart together and pairs them with the systems of the aircraft they serve.
 *
 * A circuit belongs to a system only by the name in `serves`; an aircraft is known only where its requirements name one.
 *
 * @param judged - circuits of {@link judgeCarts}
 * @returns one entry for each cart, in the order of the circuits
 * @example
 * const element = { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] };
 * const main = { circuit: "main", serves: "main system", fluid: "MIL-PRF-83282", volumeL: 60, flowLpm: 45, element, events: [] };
 * const carts = [{ cart: "C-1", circuits: [main] }];
 * const circuits = judgeCarts({ carts, requirements: [], samples: [], unread: [], on: "2026-03-14" });
 * cartsTogether(circuits, []).map(({ cart, verdict }) => `${cart}: ${verdict}`); // => ["C-1: do-not-connect"]
 */
export function cartsTogether<J extends VerdictOnCircuit>(
  judged: readonly J[],
  requirements: readonly Requirement[],
): JudgedCart<J>[] {
  return [...grouped(judged, ({ verdict }) => verdict.cart).values()].map((circuits) => {
    const { cart } = circuits[0].verdict;
    const strictest = circuits.map(standsAs).sort(compareVerdicts);
    return {
      cart,
      verdict: strictest.at(-1) as VerdictName,
      circuits,
      pairings: pairingsOf(circuits, requirements),
      neverMeet: circuits.flatMap((one, index) =>
        circuits
          .slice(index + 1)
          .filter((other) => mustNeverMeet(one.circuit, other.circuit))
          .map((other) => [one.circuit.circuit, other.circuit.circuit] as const),
      ),
    };
  });
}

function pairingsOf(circuits: readonly VerdictOnCircuit[], requirements: readonly Requirement[]): Pairing[] {
  const served = circuits.flatMap(({ requirement }) =>
    requirement?.aircraft === undefined ? [] : [requirement.aircraft],
  );
  return [...new Set(served)].map((aircraft) => ({
    aircraft,
    systems: requirements
      .filter((requirement) => requirement.aircraft === aircraft)
      .map(({ system }) => {
        const own = circuits.find(({ circuit }) => circuit.serves === system);
        return {
          system,
          ...(own && { circuit: own.circuit.circuit, verdict: standsAs(own) }),
          ...(own && isHeld(own) && { held: true as const }),
        };
      }),
  }));
}
