import type { Cart, Circuit, CircuitEvent } from "./cart.js";
import type { RequirementsFile } from "./requirement.js";

/** One thing that is not as it was, in a carts file or a requirements file that takes the place of another. */
export interface FleetChange {
  readonly kind:
    | "cart-new"
    | "circuit-new"
    | "circuit-gone"
    | "event-new"
    | "event-changed"
    | "event-kept"
    | "event-gone"
    | "fluid-without-change"
    | "field-changed"
    | "system-new"
    | "system-gone"
    | "limits-under-one-revision";
  readonly cart?: string;
  readonly circuit?: string;
  readonly system?: string;
  /** The field, where one has changed. */
  readonly field?: string;
  readonly message: string;
}

/** What happened, as far as it tells one event from another: a file is read again with more said of the same event. */
type EventKey = Pick<CircuitEvent, "on" | "kind">;

/** The events of a circuit from two lists. */
export interface CarriedEvents<E extends EventKey> {
  /** Those of the new list, and behind them those that only the old list has. */
  readonly events: readonly E[];
  readonly onlyBefore: readonly E[];
  readonly onlyNow: readonly E[];
  readonly changed: readonly { readonly before: E; readonly now: E }[];
}

/**
 * Puts the events of a new list together with those of an old one, so that no event is forgotten.
 *
 * An event of the same kind and day is the same event. Of several of one kind and day each answers to one, those that are
 * equal in all first.
 */
export function carryEvents<E extends EventKey>(before: readonly E[], now: readonly E[]): CarriedEvents<E> {
  const open = [...now];
  const take = (isIt: (event: E) => boolean): E | undefined => {
    const index = open.findIndex(isIt);
    return index === -1 ? undefined : open.splice(index, 1)[0];
  };
  const unequal = before.filter((event) => take((other) => isSame(event, other)) === undefined);
  const changed: { before: E; now: E }[] = [];
  const onlyBefore = unequal.filter((event) => {
    const answer = take(({ on, kind }) => on === event.on && kind === event.kind);
    if (answer !== undefined) changed.push({ before: event, now: answer });
    return answer === undefined;
  });
  return { events: [...now, ...onlyBefore], onlyBefore, onlyNow: open, changed };
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
 * from before can speak for the fluid that is declared now.
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

function changesFluidSilently(
  before: { readonly fluid: string },
  now: { readonly fluid: string },
  newEvents: readonly EventKey[],
): boolean {
  return before.fluid !== now.fluid && newEvents.every(({ kind }) => kind !== "fluid-change");
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

/**
 * What a carts file changes against the carts that were known.
 *
 * A cart that the file does not name stays as it is. A circuit of a named cart that the file leaves out is gone.
 *
 * @param before - the carts that were known
 * @param now - the carts of the file
 * @param drop - whether events that the file does not list are to go
 */
export function cartChanges(before: readonly Cart[], now: readonly Cart[], drop = false): FleetChange[] {
  return now.flatMap(({ cart, circuits }) => {
    const known = before.find((entry) => entry.cart === cart);
    if (known === undefined) {
      return before.length === 0 ? [] : [{ kind: "cart-new", cart, message: `cart ${cart} is new` } as const];
    }
    const gone = known.circuits.filter(({ circuit }) => !circuits.some((entry) => entry.circuit === circuit));
    return [
      ...gone.map(({ circuit }): FleetChange => {
        const message = `${nameOf(cart, circuit)} is gone; it is judged no more, its samples and events stay in the book`;
        return { kind: "circuit-gone", cart, circuit, message };
      }),
      ...circuits.flatMap((circuit) => {
        const was = known.circuits.find((entry) => entry.circuit === circuit.circuit);
        return was === undefined
          ? [newCircuit(cart, circuit.circuit)]
          : circuitChanges(cart, was, circuit, drop);
      }),
    ];
  });
}

function newCircuit(cart: string, circuit: string): FleetChange {
  return { kind: "circuit-new", cart, circuit, message: `${nameOf(cart, circuit)} is new` };
}

function circuitChanges(cart: string, before: Circuit, now: Circuit, drop: boolean): FleetChange[] {
  const { circuit } = now;
  const name = nameOf(cart, circuit);
  const carried = carryEvents(before.events, now.events);
  const change = (kind: FleetChange["kind"], message: string): FleetChange => ({
    kind,
    cart,
    circuit,
    message: `${name}: ${message}`,
  });
  const silent = changesFluidSilently(before, now, carried.onlyNow);
  return [
    ...fieldChanges(before, now, ["events"]).map(
      ({ field, message }): FleetChange => ({ ...change("field-changed", message), field }),
    ),
    ...(silent ? [change("fluid-without-change", SILENT_FLUID)] : []),
    ...carried.onlyBefore.map((event) =>
      drop
        ? change("event-gone", `${sayEvent(event)} is not in the file and goes`)
        : change("event-kept", `${sayEvent(event)} is not in the file and stays`),
    ),
    ...carried.changed.map((entry) => {
      const said = fieldChanges(entry.before, entry.now, []).map(({ message }) => message);
      return change("event-changed", `${sayEvent(entry.now)}: ${said.join(", ")}`);
    }),
    ...carried.onlyNow.map((event) => change("event-new", `${sayEvent(event)} is new`)),
  ];
}

const SILENT_FLUID =
  "another fluid is declared and no fluid change is entered; no sample from before speaks for it, draw a new one";

function sayEvent({ kind, on, note }: CircuitEvent): string {
  return `${kind.replace("-", " ")} of ${on}${note === undefined ? "" : ` (${note})`}`;
}

/** What a requirements file changes against the one that was judged by. */
export function requirementChanges(before: RequirementsFile, now: RequirementsFile): FleetChange[] {
  const named = fieldChanges(before, now, ["systems"]);
  const gone = before.systems.filter(({ system }) => !now.systems.some((entry) => entry.system === system));
  const systems = now.systems.flatMap((requirement): FleetChange[] => {
    const { system } = requirement;
    const was = before.systems.find((entry) => entry.system === system);
    if (was === undefined) return [{ kind: "system-new", system, message: `${system} is new` }];
    return fieldChanges(was, requirement, []).map(({ field, message }) => ({
      kind: "field-changed",
      system,
      field,
      message: `${system}: ${message}`,
    }));
  });
  const changes: FleetChange[] = [
    ...named.map(({ field, message }): FleetChange => ({ kind: "field-changed", field, message })),
    ...gone.map(({ system }): FleetChange => ({ kind: "system-gone", system, message: `${system} is gone` })),
    ...systems,
  ];
  const isOtherRevision = named.some(({ field }) => field === "document" || field === "revision");
  if (changes.length === 0 || isOtherRevision) return changes;
  const message = `what is asked has changed, and revision ${now.revision} is the one it was before; name the new revision`;
  return [...changes, { kind: "limits-under-one-revision", message }];
}

function nameOf(cart: string, circuit: string): string {
  return `cart ${cart}, circuit ${circuit}`;
}

function fieldChanges(before: object, now: object, without: readonly string[]) {
  const fields = new Set(
    [...Object.keys(before), ...Object.keys(now)].filter((name) => !without.includes(name)),
  );
  return [...fields].flatMap((field) => {
    const [was, is] = [Reflect.get(before, field), Reflect.get(now, field)];
    if (isSame(was, is)) return [];
    return [{ field, message: `${field} is ${sayValue(is)}, was ${sayValue(was)}` }];
  });
}

function sayValue(value: unknown): string {
  if (value === undefined) return "not given";
  return typeof value === "string" ? value : JSON.stringify(value);
}

/** Whether two values of JSON say the same, in whatever order their names stand. */
function isSame(a: unknown, b: unknown): boolean {
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return a === b;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const names = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...names].every((name) => isSame(Reflect.get(a, name), Reflect.get(b, name)));
}
