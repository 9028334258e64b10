import type { Cart, Circuit } from "../cart.js";
import type { CircuitEvent } from "../parts-of-circuit.js";
import type { RequirementsFile } from "../requirement.js";
import { carryEvents, changesFluidSilently, isSame } from "./carry-events.js";

/** One thing that is not as it was, in a carts file or a requirements file that takes the place of another. */
export interface FleetChange {
  readonly kind:
    | "cart-new"
    | "other-cart-new"
    | "other-cart-gone"
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
    ...fieldChanges(before, now, ["events", ...READ_INTO]).map(
      ({ field, message }): FleetChange => ({ ...change("field-changed", message), field }),
    ),
    ...(silent ? [change("fluid-without-change", SILENT_FLUID)] : []),
    ...carried.onlyBefore.map((event) =>
      drop
        ? change("event-gone", `${describeEvent(event)} is not in the file and goes`)
        : change("event-kept", `${describeEvent(event)} is not in the file and stays`),
    ),
    ...carried.changed.map((entry) => {
      const said = fieldChanges(entry.before, entry.now, []).map(({ message }) => message);
      return change("event-changed", `${describeEvent(entry.now)}: ${said.join(", ")}`);
    }),
    ...carried.onlyNow.map((event) => change("event-new", `${describeEvent(event)} is new`)),
  ];
}

/** What follows from other fields of a circuit. */
const READ_INTO = ["shownIn", "assumptions"];

const SILENT_FLUID =
  "another fluid is declared and no fluid change is entered; no earlier sample describes it, draw a new one";

function describeEvent({ kind, on, at, aircraft, note }: CircuitEvent): string {
  const to = aircraft === undefined ? "" : ` to ${aircraft}`;
  return `${kind.replace("-", " ")}${to} of ${on}${at === undefined ? "" : ` ${at}`}${note === undefined ? "" : ` (${note})`}`;
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
  const message = `the requirement has changed, and revision ${now.revision} is the one it was before; name the new revision`;
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
    return [{ field, message: `${field} is ${formatValue(is)}, was ${formatValue(was)}` }];
  });
}

function formatValue(value: unknown): string {
  if (value === undefined) return "not given";
  return typeof value === "string" ? value : JSON.stringify(value);
}
