import type { Cart, Circuit, Requirement, Sample } from "../samples/index.js";
import type { CircuitCase, UnreadResult } from "./case.js";
import { judgeCircuit } from "./judge.js";
import { type CircuitTrends, trendsOf } from "./trends.js";
import type { Verdict } from "./verdict.js";

/** Everything that verdicts on a number of carts rest on. */
export interface FleetCase {
  readonly carts: readonly Cart[];
  readonly requirements: readonly Requirement[];
  /** Samples of any circuits; those of unknown carts are not looked at. */
  readonly samples: readonly Sample[];
  readonly unread: readonly UnreadResult[];
  /** The day of judging, as ISO 8601 calendar day. */
  readonly on: string;
}

/** A verdict with what the figures and the report show beside it. */
export interface JudgedCircuit {
  readonly circuit: Circuit;
  readonly verdict: Verdict;
  readonly trends: CircuitTrends;
  /** All samples of the circuit, oldest first. */
  readonly history: readonly Sample[];
  readonly requirement?: Requirement;
}

/**
 * Judges every circuit of every cart.
 *
 * A circuit is matched to its requirement by the name in `serves`, and to its samples by cart and circuit; nothing is
 * matched by guess.
 *
 * @param fleet - carts, requirements and samples; see {@link FleetCase}
 * @returns one entry for each circuit, in the order of the carts
 * @throws RangeError naming the cart and circuit whose data cannot be planned with
 */
export function judgeCarts(fleet: FleetCase): JudgedCircuit[] {
  return casesOf(fleet).map((input) => {
    const { cart, circuit, samples, requirement } = input;
    try {
      return {
        circuit,
        verdict: judgeCircuit(input),
        trends: trendsOf(circuit, samples),
        history: samples,
        ...(requirement && { requirement }),
      };
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      throw new RangeError(`cart ${cart}, circuit ${circuit.circuit}: ${error.message}`, { cause: error });
    }
  });
}

/**
 * Everything that the verdict on each circuit rests on, taken out of a fleet.
 *
 * @returns one entry for each circuit, in the order of the carts, with its samples oldest first
 */
export function casesOf({ carts, requirements, samples, unread, on }: FleetCase): CircuitCase[] {
  return carts.flatMap(({ cart, circuits }) => {
    const own = circuits.map((circuit) => ({ circuit, samples: historyOf(samples, cart, circuit.circuit) }));
    return own.map(({ circuit, samples: history }) => {
      const requirement = requirements.find((entry) => entry.system === circuit.serves);
      const beside = own.filter((other) => other.circuit !== circuit);
      return {
        cart,
        circuit,
        samples: history,
        unread: unread.filter((row) => mayBelong(row, cart, circuit.circuit)),
        on,
        ...(requirement && { requirement }),
        ...(beside.length > 0 && { beside }),
      };
    });
  });
}

function historyOf(samples: readonly Sample[], cart: string, circuit: string): Sample[] {
  return samples
    .filter((sample) => sample.cart === cart && sample.circuit === circuit)
    .sort((a, b) => a.drawnOn.localeCompare(b.drawnOn) || a.sample.localeCompare(b.sample));
}

/**
 * Whether an unread row may be a result of a circuit: what it names must fit, whatever the letters' case and the
 * hyphens and spaces, and what it does not name may be anything. A row that names neither cart nor circuit is nobody's.
 */
function mayBelong(row: UnreadResult, cart: string, circuit: string): boolean {
  if (row.cart === undefined && row.circuit === undefined) return false;
  return fits(row.cart, cart) && fits(row.circuit, circuit);
}

function fits(written: string | undefined, name: string): boolean {
  const plain = (text: string) => text.toLowerCase().replace(/[\s_-]/g, "");
  return written === undefined || plain(written) === plain(name);
}
