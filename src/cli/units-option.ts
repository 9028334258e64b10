import type { UnitSystem } from "../units/index.js";
import { UsageError } from "./io.js";

/** What the option `--units` does, in every command that has it. */
export const UNITS_OPTION = "units of the answer: metric or us (those that were typed, or those of the cart)";

/** Reads the system of units that a person asks for. */
export function readUnits(text: string | undefined): UnitSystem | undefined {
  if (text === undefined) return undefined;
  const system = text.trim().toLowerCase();
  if (system === "metric" || system === "us") return system;
  throw new UsageError(`--units: expected metric or us, found "${text}"`);
}
