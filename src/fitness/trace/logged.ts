import type { Assumption } from "../../provenance/index.js";
import type { CircuitEvent } from "../../samples/index.js";
import { describeOfNoCart } from "../fleet/describe-unread.js";
import type { FleetCase } from "../fleet/fleet.js";
import { unreadOfFleet } from "../fleet/unread.js";

/** What a trace is taken from; what people decided about circuits changes nothing that happened. */
export type TraceCase = Omit<FleetCase, "decisions">;

/** A hookup of one circuit, as its log has it. */
export interface LoggedHookup {
  readonly cart: string;
  readonly circuit: string;
  readonly event: CircuitEvent;
}

/** All hookups until the day of asking, oldest first. */
export function loggedHookups({ carts, on }: Pick<TraceCase, "carts" | "on">): LoggedHookup[] {
  return carts
    .flatMap(({ cart, circuits }) =>
      circuits.flatMap(({ circuit, events }) =>
        events
          .filter((event) => event.kind === "hookup" && event.on <= on)
          .map((event): LoggedHookup => ({ cart, circuit, event })),
      ),
    )
    .sort((a, b) => compareText(momentOf(a), momentOf(b)));
}

function momentOf({ event }: LoggedHookup): string {
  return `${event.on} ${event.at ?? ""}`;
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** What a reader has to know of logs and samples, where there is something to know. */
export function note(code: string, isSo: boolean, message: () => string): Assumption[] {
  return isSo ? [{ code, message: message() }] : [];
}

/** Rows that can be given to no cart, and so may hold a result of any circuit. */
export function notesOnRows({ unread, carts, knownCarts }: TraceCase): Assumption[] {
  const { ofNoCart } = unreadOfFleet(unread, carts, knownCarts);
  return describeOfNoCart(ofNoCart).map((message) => ({ code: "rows-of-no-cart", message }));
}

/** The days of some events, each once. */
export function daysOf(events: readonly Pick<CircuitEvent, "on">[]): string {
  return [...new Set(events.map(({ on }) => on))].join(", ");
}
