import { type AircraftTrace, type CartTrace, traceAircraft, traceCart } from "../../../fitness/index.js";
import { answerOf } from "../../answer.js";
import { cartsInUnits } from "../../carts-in-units.js";
import { readDay } from "../../day.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { readUnits } from "../../units-option.js";
import { cartsAskedFor, type JudgeOptions, readFleet } from "../judge/judgement.js";
import {
  aircraftTraceAsJson,
  aircraftTraceAsText,
  aircraftTraceInBrief,
  cartTraceAsJson,
  cartTraceAsText,
  cartTraceInBrief,
} from "./trace-words.js";

/** Options of `siltbook trace`. */
export interface TraceOptions extends JudgeOptions {
  readonly circuit?: string;
  readonly aircraft?: string;
}

/** Prints what a cart or an aircraft touched. */
export async function runTrace(
  sampleFiles: readonly string[],
  options: TraceOptions,
  io: Io,
): Promise<ExitCode> {
  const { cart, circuit, aircraft } = options;
  if ((cart === undefined) === (aircraft === undefined)) {
    throw new UsageError("expected --cart or --aircraft, one of the two");
  }
  if (circuit !== undefined && cart === undefined) throw new UsageError("--circuit goes with --cart");
  const on = readDay(options.on);
  // All carts are read: an aircraft may have met any of them.
  const { cart: _cart, ...whole } = options;
  const read = await readFleet(sampleFiles, whole, { on });
  const fleet = { ...read, carts: cartsInUnits(read.carts, readUnits(options.units)), on };
  if (aircraft !== undefined) {
    const trace = traceAircraft(fleet, aircraft);
    if (options.json) printJson(io, answerOf("trace", aircraftTraceAsJson(trace)));
    else io.out(options.explain ? aircraftTraceAsText(trace) : aircraftTraceInBrief(trace));
    return exitCodeOfAircraft(trace);
  }
  const [named] = cartsAskedFor(fleet, cart);
  if (circuit !== undefined && !named?.circuits.some((entry) => entry.circuit === circuit)) {
    const known = named?.circuits.map((entry) => entry.circuit).join(", ");
    throw new UsageError(`--circuit: expected one of ${known}, found "${circuit}"`);
  }
  const trace = traceCart(fleet, cart as string, circuit);
  if (options.json) printJson(io, answerOf("trace", cartTraceAsJson(trace)));
  else io.out(options.explain ? cartTraceAsText(trace) : cartTraceInBrief(trace));
  return exitCodeOfCart(trace);
}

function exitCodeOfCart({ circuits, notes }: CartTrace): ExitCode {
  const isBad = circuits.some(({ quantities }) => quantities.some(({ state }) => state === "bad"));
  return isBad || [...notes, ...circuits.flatMap((one) => one.notes)].some(isUnread) ? 1 : 0;
}

function exitCodeOfAircraft({ hookups, similar, notes }: AircraftTrace): ExitCode {
  const isBad = hookups.some(({ bad }) => bad.length > 0);
  return isBad || similar.length > 0 || notes.some(isUnread) ? 1 : 0;
}

function isUnread({ code }: { readonly code: string }): boolean {
  return code === "unread-rows" || code === "rows-of-no-cart";
}
