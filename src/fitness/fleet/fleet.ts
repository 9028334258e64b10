import { grouped } from "../../numeric/index.js";
import type { Cart, Circuit, Measured, Requirement, Sample } from "../../samples/index.js";
import type { CircuitCase, UnreadResult } from "../case.js";
import { circuitUntil } from "../checks/happened.js";
import { compareDays, isDay } from "../days.js";
import type { CircuitDecision } from "../decisions/decision.js";
import { type Standing, standingAdder } from "../decisions/standing.js";
import { judgeCircuit } from "../judge.js";
import { JudgingDay } from "../judging-day.js";
import { type CircuitTrends, trendsOf } from "../trends/trends.js";
import type { Verdict } from "../verdict.js";
import { type UnreadOfFleet, unreadOfFleet } from "./unread.js";

/** Everything that verdicts on a number of carts rest on. */
export interface FleetCase {
  readonly carts: readonly Cart[];
  readonly requirements: readonly Requirement[];
  /** Samples of any circuits; those of unknown carts are not looked at. */
  readonly samples: readonly Sample[];
  readonly unread: readonly UnreadResult[];
  /** Names of all carts that are known, where these are some of them: what bears one of them is a result of no other cart. */
  readonly knownCarts?: readonly string[];
  /** Which of the unread results may be of which of these carts, where that is known already; see `unreadOfFleet`. */
  readonly unreadOf?: Pick<UnreadOfFleet, "of">;
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

/** A verdict with what the figures and the report show with it. */
export interface JudgedCircuit extends VerdictOnCircuit {
  readonly trends: CircuitTrends;
  /** All samples of the circuit, oldest first. */
  readonly history: readonly Sample[];
}

/**
 * Judges every circuit of every cart.
 *
 * A circuit is matched to its requirement by the name in `serves`, and to its samples by cart and circuit; nothing is
 * matched by guess. What could not be read keeps every circuit that it may be of from being fit; see `unreadOfFleet`.
 *
 * @param fleet - carts, requirements and samples; see {@link FleetCase}
 * @returns one entry for each circuit, in the order of the carts
 * @example
 * const element = { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] };
 * const main = { circuit: "main", serves: "main system", fluid: "MIL-PRF-83282", volumeL: 60, flowLpm: 45, element, events: [] };
 * const carts = [{ cart: "C-1", circuits: [main] }];
 * const circuits = judgeCarts({ carts, requirements: [], samples: [], unread: [], on: "2026-03-14" });
 * circuits.map(({ verdict }) => verdict.verdict); // => ["do-not-connect"]
 */
export function judgeCarts(fleet: FleetCase): JudgedCircuit[] {
  const addStanding = standingAdder(fleet.decisions ?? []);
  return casesOf(fleet).map((input) => withHistory(addStanding(judgeCase(input)), input));
}

/** A verdict with what the figures and the report show with it, from what it was judged from. */
export function withHistory(
  judged: VerdictOnCircuit,
  { circuit, samples, on }: Pick<CircuitCase, "circuit" | "samples" | "on">,
): JudgedCircuit {
  // What is no number or no day is judged as such, and is on no line.
  const isOnLine = (measured?: Measured) => measured === undefined || Number.isFinite(measured?.value);
  const until = samples.filter(
    ({ drawnOn, waterPpm, acidMgKohPerG }) =>
      isDay(drawnOn) && drawnOn <= on && isOnLine(waterPpm) && isOnLine(acidMgKohPerG),
  );
  return { ...judged, trends: trendsOf(circuitUntil(circuit, new JudgingDay(on)), until), history: samples };
}

/** Judges one circuit of a fleet. */
export function judgeCase(input: CircuitCase): VerdictOnCircuit {
  return onCircuit(input, judgeCircuit(input));
}

/** A verdict with the circuit and the requirement that it was judged by. */
export function onCircuit(
  { circuit, requirement }: Pick<CircuitCase, "circuit" | "requirement">,
  verdict: Verdict,
): VerdictOnCircuit {
  return { circuit, verdict, ...(requirement && { requirement }) };
}

/**
 * Everything that the verdict on each circuit rests on, taken out of a fleet.
 *
 * @returns one entry for each circuit, in the order of the carts, with its samples oldest first
 */
export function casesOf({ carts, unread, knownCarts, unreadOf: known, ...fleet }: FleetCase): CircuitCase[] {
  const unreadOf = known ?? unreadOfFleet(unread, carts, knownCarts);
  const histories = historiesOf(fleet.samples);
  return carts.flatMap((cart) => casesIn(cart, histories, unreadOf, fleet));
}

/**
 * The same for one cart of a fleet.
 *
 * @param samples - samples of the cart
 * @param unreadOf - what the fleet's unread results may be results of
 */
export function casesOfCart(
  cart: Cart,
  unreadOf: Pick<UnreadOfFleet, "of">,
  fleet: Pick<FleetCase, "requirements" | "samples" | "on">,
): CircuitCase[] {
  return casesIn(cart, historiesOf(fleet.samples), unreadOf, fleet);
}

function casesIn(
  { cart, circuits }: Cart,
  histories: ReadonlyMap<string, Sample[]>,
  unreadOf: Pick<UnreadOfFleet, "of">,
  { requirements, on }: Pick<FleetCase, "requirements" | "on">,
): CircuitCase[] {
  const own = circuits.map((circuit) => ({
    circuit,
    samples: histories.get(keyOf(cart, circuit.circuit)) ?? [],
  }));
  return own.map(({ circuit, samples: history }) => {
    const requirement = requirements.find((entry) => entry.system === circuit.serves);
    const neighbours = own.filter((other) => other.circuit !== circuit);
    return {
      cart,
      circuit,
      samples: history,
      unread: unreadOf.of(cart, circuit.circuit),
      on,
      ...(requirement && { requirement }),
      ...(neighbours.length > 0 && { neighbours }),
    };
  });
}

/** The samples of each circuit, oldest first. */
function historiesOf(samples: readonly Sample[]): Map<string, Sample[]> {
  const histories = grouped(samples, ({ cart, circuit }) => keyOf(cart, circuit));
  for (const history of histories.values()) {
    history.sort((a, b) => compareDays(a.drawnOn, b.drawnOn) || a.sample.localeCompare(b.sample));
  }
  return histories;
}

function keyOf(cart: string, circuit: string): string {
  return JSON.stringify([cart, circuit]);
}
