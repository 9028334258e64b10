import { tryParseFluidSpecification } from "../../fluids/index.js";
import type { Cart } from "../cart.js";
import { isSameAircraft } from "../names/registers.js";
import type { CircuitEvent } from "../parts-of-circuit.js";

/** What happened, as far as it tells one event from another: a file is read again with more said of the same event. */
type EventKey = Pick<CircuitEvent, "on" | "kind"> & Partial<Pick<CircuitEvent, "at" | "aircraft">>;

/** The events of a circuit from two lists. */
export interface CarriedEvents<E extends EventKey> {
  /** Those of the new list, then those that only the old list has. */
  readonly events: readonly E[];
  readonly onlyBefore: readonly E[];
  readonly onlyNow: readonly E[];
  readonly changed: readonly { readonly before: E; readonly now: E }[];
}

/**
 * Puts the events of a new list together with those of an old one, so that no event is forgotten.
 *
 * An event of the same kind and day is the same event, unless both have a time of day and the times differ, or both name an
 * aircraft and these differ. Of several of one
 * kind and day each answers to one: those that are equal in all first, then those of one time, then those of which one has none.
 */
export function carryEvents<E extends EventKey>(before: readonly E[], now: readonly E[]): CarriedEvents<E> {
  const open = [...now];
  const take = (isIt: (event: E) => boolean): E | undefined => {
    const index = open.findIndex(isIt);
    return index === -1 ? undefined : open.splice(index, 1)[0];
  };
  const unequal = before.filter((event) => take((other) => isSame(event, other)) === undefined);
  const changed: { before: E; now: E }[] = [];
  const unanswered = (events: readonly E[], isTime: (event: E, other: E) => boolean) =>
    events.filter((event) => {
      const { on, kind } = event;
      const answer = take(
        (other) =>
          other.on === on && other.kind === kind && isTime(event, other) && mayBeOneAircraft(event, other),
      );
      if (answer !== undefined) changed.push({ before: event, now: answer });
      return answer === undefined;
    });
  const others = unanswered(unequal, (event, other) => event.at === other.at);
  const onlyBefore = unanswered(others, ({ at }, other) => at === undefined || other.at === undefined);
  return { events: [...now, ...onlyBefore], onlyBefore, onlyNow: open, changed };
}

function mayBeOneAircraft({ aircraft: one }: EventKey, { aircraft: other }: EventKey): boolean {
  return one === undefined || other === undefined || isSameAircraft(one, other);
}

/** What decides which events of a circuit are kept, as a carts file writes it or as it is read. */
interface Happened<E extends EventKey> {
  readonly fluid: string;
  readonly events: readonly E[];
}

/**
 * The events of a circuit whose carts file takes the place of another: those of both, unless the old ones are to go.
 *
 * A declared fluid that becomes another without a new fluid change is kept as a fluid change of its own, because no sample
 * from before can represent the fluid that is declared now.
 *
 * @param on - the day of the change of files, as ISO 8601 calendar day
 */
export function eventsAfter<E extends EventKey>(
  before: Happened<E>,
  now: Happened<E>,
  on: string,
  drop = false,
): (E | DeclaredFluidEvent)[] {
  const { events, onlyNow } = carryEvents(before.events, now.events);
  const kept = drop ? now.events : events;
  if (!changesFluidSilently(before, now, onlyNow)) return [...kept];
  const note = `another fluid is declared since then: ${now.fluid}, was ${before.fluid}; no fluid change was entered`;
  return [...kept, { on, kind: "fluid-change", note }];
}

/** See {@link eventsAfter}. */
export interface DeclaredFluidEvent {
  readonly on: string;
  readonly kind: "fluid-change";
  readonly note: string;
}

/** Whether another fluid is declared, and no fluid change that was not known before goes with it. */
export function changesFluidSilently(
  before: { readonly fluid: string },
  now: { readonly fluid: string },
  newEvents: readonly EventKey[],
): boolean {
  const family = (written: string) => tryParseFluidSpecification(written) ?? written;
  return family(before.fluid) !== family(now.fluid) && newEvents.every(({ kind }) => kind !== "fluid-change");
}

/** The carts of a file with the events that were known before of the same circuits; see {@link eventsAfter}. */
export function carryCarts(before: readonly Cart[], now: readonly Cart[], on: string): Cart[] {
  return now.map((cart) => {
    const known = before.find((entry) => entry.cart === cart.cart);
    const circuits = cart.circuits.map((circuit) => {
      const was = known?.circuits.find((entry) => entry.circuit === circuit.circuit);
      return was === undefined ? circuit : { ...circuit, events: eventsAfter(was, circuit, on) };
    });
    return { ...cart, circuits };
  });
}

/** Whether two values of JSON say the same, in whatever order their names stand. */
export function isSame(a: unknown, b: unknown): boolean {
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return a === b;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const names = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...names].every((name) => isSame(Reflect.get(a, name), Reflect.get(b, name)));
}
