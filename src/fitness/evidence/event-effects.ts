import type { CircuitEvent, Requirement } from "../../samples/index.js";
import { groupOf, type Result, type ResultGroup } from "./results.js";

/**
 * What an event makes of a result that was drawn before it.
 *
 * - gone: the fluid of the result is no longer in the circuit; nothing of it is shown.
 * - open: the result may have changed, and a sample drawn since has to show it, unless the requirement says otherwise.
 * - stands: the result is still of this fluid. What was added with the event counts towards the share that may be topped up.
 */
type Effect = "gone" | "open" | "stands";

const ALL_STAND: Record<ResultGroup, Effect> = {
  particles: "stands",
  patch: "stands",
  water: "stands",
  "acid number": "stands",
  "viscosity at 40 °C": "stands",
  chlorine: "stands",
  metals: "stands",
  "density at 15 °C": "stands",
  colour: "stands",
  appearance: "stands",
  crackle: "stands",
  smell: "stands",
};
const PARTICLES_OPEN = { particles: "open", patch: "open", appearance: "open" } as const;
const ALL_GONE = allOf("gone");
const ALL_OPEN = allOf("open");

function allOf(effect: Effect): Record<ResultGroup, Effect> {
  const groups = Object.keys(ALL_STAND) as ResultGroup[];
  return Object.fromEntries(groups.map((group) => [group, effect])) as Record<ResultGroup, Effect>;
}

/**
 * Which event makes the older result of which quantity unusable. Common practice, no source.
 *
 * A new element sheds and lets in dirt while it is fitted, and changes no fluid. An open line lets in dirt and moist air. Drying
 * takes water out and puts nothing in: a result inside its limit before is inside after. A hookup passes fluid through an
 * aircraft; unless that was found dirty its filters and the cart's own stand between. A circulation only takes particles out.
 */
const EFFECTS: Record<CircuitEvent["kind"], Record<ResultGroup, Effect>> = {
  "fluid-change": ALL_GONE,
  "top-up": ALL_STAND,
  "element-change": { ...ALL_STAND, ...PARTICLES_OPEN },
  opening: { ...ALL_STAND, ...PARTICLES_OPEN, water: "open" },
  dehydration: ALL_STAND,
  hookup: ALL_STAND,
  circulation: ALL_STAND,
};

/** As much of an event as tells what it does to a result. */
type KindOfEvent = Pick<CircuitEvent, "kind" | "aircraftFound">;

/** What an event does to a quantity by itself, whatever a requirement asks for. */
export function effectOf({ kind, aircraftFound }: KindOfEvent, result: Result): Effect {
  return (aircraftFound === "dirty" ? ALL_OPEN : EFFECTS[kind])[groupOf(result)];
}

/** Whether a result of before the event needs a sample drawn since. A requirement that names the event decides, except after a dirty aircraft. */
export function needsSample({ after = [] }: Requirement, event: KindOfEvent, result: Result): boolean {
  const named = after.find((entry) => entry.event === event.kind);
  if (named !== undefined && event.aircraftFound !== "dirty") return named.sample;
  return effectOf(event, result) !== "stands";
}

/** What happened, in words. */
export function describeHappened({ kind, on, at, aircraft, aircraftFound, note }: CircuitEvent): string {
  const to = aircraft === undefined ? "another aircraft" : `aircraft ${aircraft}`;
  const found = aircraftFound === "dirty" ? ", which was found dirty," : "";
  const when = `${on}${at === undefined ? "" : ` at ${at}`}`;
  return `${HAPPENED[kind]}${kind === "hookup" ? ` ${to}` : ""}${found} on ${when}${note === undefined ? "" : ` (${note})`}`;
}

const HAPPENED: Record<CircuitEvent["kind"], string> = {
  "fluid-change": "the fluid was changed",
  "element-change": "the element was changed",
  opening: "the circuit was opened",
  hookup: "the circuit was connected to",
  "top-up": "fluid was added",
  dehydration: "the fluid was dried",
  circulation: "the circuit was circulated",
};
