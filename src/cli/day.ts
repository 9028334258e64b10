import { localDay } from "../intake/index.js";
import { daySchema } from "../samples/index.js";
import { UsageError } from "./io.js";

/**
 * Reads a day.
 *
 * @returns an ISO 8601 day; today at the place where the program runs when no day is given
 */
export function readDay(text: string | undefined): string {
  return readDayOf("--on", text) ?? localDay();
}

/** Reads a day that an option may give. */
export function readDayOf(option: string, text: string | undefined): string | undefined {
  if (text === undefined) return undefined;
  const day = daySchema.safeParse(text);
  if (!day.success) throw new UsageError(`${option}: expected a day such as 2026-03-14, found "${text}"`);
  return day.data;
}

/** Says the day that was judged, and with the knowledge of which day. */
export function describeDays({ on, asOf }: { readonly on: string; readonly asOf?: string }): string {
  return asOf === undefined ? on : `${on}, with what was known on ${asOf}`;
}
