import type { Cart, Circuit, Requirement, Sample } from "../samples/index.js";
import { judgeCircuit, type UnreadResult, type Verdict } from "./judge.js";
import { type CircuitTrends, trendsOf } from "./trends.js";

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
  return fleet.carts.flatMap(({ cart, circuits }) =>
    circuits.map((circuit) => {
      const belongs = (entry: { cart: string; circuit: string }) =>
        entry.cart === cart && entry.circuit === circuit.circuit;
      const history = fleet.samples
        .filter(belongs)
        .sort((a, b) => a.drawnOn.localeCompare(b.drawnOn) || a.sample.localeCompare(b.sample));
      const requirement = fleet.requirements.find((entry) => entry.system === circuit.serves);
      const shared = { ...(requirement && { requirement }) };
      try {
        const verdict = judgeCircuit({
          cart,
          circuit,
          samples: history,
          unread: fleet.unread.filter((row) => mayBelong(row, cart, circuit.circuit)),
          on: fleet.on,
          ...shared,
        });
        return { circuit, verdict, trends: trendsOf(circuit, history), history, ...shared };
      } catch (error) {
        if (!(error instanceof RangeError)) throw error;
        throw new RangeError(`cart ${cart}, circuit ${circuit.circuit}: ${error.message}`, { cause: error });
      }
    }),
  );
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
