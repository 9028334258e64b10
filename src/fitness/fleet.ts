import type { Cart, Circuit, Requirement, Sample } from "../samples/index.js";
import type { CircuitCase, UnreadResult } from "./case.js";
import { compareDays } from "./days.js";
import type { CircuitDecision } from "./decision.js";
import { circuitUntil } from "./happened.js";
import { judgeCircuit } from "./judge.js";
import { plainName } from "./plain-name.js";
import { type Standing, standingAdder } from "./standing.js";
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
  /** What people decided about any circuits; none where there is no sample book. */
  readonly decisions?: readonly CircuitDecision[];
}

/** A verdict with the circuit and the requirement it was judged by. */
export interface VerdictOnCircuit {
  readonly circuit: Circuit;
  readonly verdict: Verdict;
  readonly requirement?: Requirement;
  /** What people decided about the circuit; absent where nobody has. */
  readonly standing?: Standing;
}

/** A verdict with what the figures and the report show beside it. */
export interface JudgedCircuit extends VerdictOnCircuit {
  readonly trends: CircuitTrends;
  /** All samples of the circuit, oldest first. */
  readonly history: readonly Sample[];
}

/**
 * Judges every circuit of every cart.
 *
 * A circuit is matched to its requirement by the name in `serves`, and to its samples by cart and circuit; nothing is
 * matched by guess.
 *
 * @param fleet - carts, requirements and samples; see {@link FleetCase}
 * @returns one entry for each circuit, in the order of the carts
 */
export function judgeCarts(fleet: FleetCase): JudgedCircuit[] {
  const addStanding = standingAdder(fleet.decisions ?? []);
  return casesOf(fleet).map((input) => ({
    ...addStanding(judgeCase(input)),
    trends: trendsOf(
      circuitUntil(input.circuit, fleet.on),
      input.samples.filter(({ drawnOn }) => drawnOn <= fleet.on),
    ),
    history: input.samples,
  }));
}

/** Judges one circuit of a fleet. */
export function judgeCase(input: CircuitCase): VerdictOnCircuit {
  const { circuit, requirement } = input;
  return { circuit, verdict: judgeCircuit(input), ...(requirement && { requirement }) };
}

/**
 * Everything that the verdict on each circuit rests on, taken out of a fleet.
 *
 * @returns one entry for each circuit, in the order of the carts, with its samples oldest first
 */
export function casesOf({ carts, requirements, samples, unread, on }: FleetCase): CircuitCase[] {
  const histories = historiesOf(samples);
  const unreadOf = unreadByCart(unread);
  return carts.flatMap(({ cart, circuits }) => {
    const own = circuits.map((circuit) => ({
      circuit,
      samples: histories.get(keyOf(cart, circuit.circuit)) ?? [],
    }));
    return own.map(({ circuit, samples: history }) => {
      const requirement = requirements.find((entry) => entry.system === circuit.serves);
      const beside = own.filter((other) => other.circuit !== circuit);
      return {
        cart,
        circuit,
        samples: history,
        unread: unreadOf(cart).filter((row) => fits(row.circuit, circuit.circuit)),
        on,
        ...(requirement && { requirement }),
        ...(beside.length > 0 && { beside }),
      };
    });
  });
}

/** The samples of each circuit, oldest first. */
function historiesOf(samples: readonly Sample[]): Map<string, Sample[]> {
  const histories = new Map<string, Sample[]>();
  for (const sample of samples) {
    const key = keyOf(sample.cart, sample.circuit);
    const history = histories.get(key);
    if (history === undefined) histories.set(key, [sample]);
    else history.push(sample);
  }
  for (const history of histories.values()) {
    history.sort((a, b) => compareDays(a.drawnOn, b.drawnOn) || a.sample.localeCompare(b.sample));
  }
  return histories;
}

function keyOf(cart: string, circuit: string): string {
  return JSON.stringify([cart, circuit]);
}

/**
 * The unread rows that may be a result of a cart: what they name must fit, whatever the letters' case and the hyphens and
 * spaces, and what they do not name may be anything. A row that names neither cart nor circuit is nobody's.
 */
export function unreadByCart(unread: readonly UnreadResult[]): (cart: string) => readonly UnreadResult[] {
  const ofAny = unread.filter((row) => row.cart === undefined && row.circuit !== undefined);
  const named = new Map<string, UnreadResult[]>();
  for (const row of unread) {
    if (row.cart === undefined) continue;
    const key = plainName(row.cart);
    const rows = named.get(key);
    if (rows === undefined) named.set(key, [row]);
    else rows.push(row);
  }
  return (cart) => {
    const own = named.get(plainName(cart)) ?? [];
    if (ofAny.length === 0 || own.length === 0) return own.length === 0 ? ofAny : own;
    return unread.filter((row) =>
      row.cart === undefined ? row.circuit !== undefined : fits(row.cart, cart),
    );
  };
}

function fits(written: string | undefined, name: string): boolean {
  return written === undefined || plainName(written) === plainName(name);
}
