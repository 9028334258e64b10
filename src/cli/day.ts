import { localDay } from "../intake/index.js";
import { daySchema } from "../samples/index.js";
import { UsageError } from "./io.js";

/**
 * Reads a day.
 *
 * @returns an ISO 8601 day; today at the place where the program runs when no day is given
 */
export function readDay(text: string | undefined): string {
  if (text === undefined) return localDay();
  const day = daySchema.safeParse(text);
  if (!day.success) throw new UsageError(`--on: expected a day such as 2026-03-14, found "${text}"`);
  return day.data;
}
