import { inFourDigits } from "./decimal.js";
import { KEPT_UNITS, systemOfUnit, toUsUnit, US_UNITS } from "./quantities.js";

/** The two systems of units that carts are marked in. */
export type UnitSystem = "metric" | "us";

/** The quantities that are shown in the units of the cart. */
export type ShownKind = "volume" | "flow" | "temperature" | "pressure";

/** The kinds of quantities that a person reads in US units; every other one is read in metric ones. */
export type ShownIn = Readonly<Partial<Record<ShownKind, "us">>>;

/** Everything in US units. */
export const ALL_US: ShownIn = { volume: "us", flow: "us", temperature: "us", pressure: "us" };

/** How quantities are shown where somebody chose a system. */
export function shownInSystem(system: UnitSystem): ShownIn {
  return system === "us" ? ALL_US : {};
}

/**
 * How to answer a person who typed these quantities: each kind as it was typed; everything in US units where every one of
 * them was in US units.
 *
 * @example
 * shownAsTyped([["16 US gal", "volume"], ["45 L/min", "flow"]]); // => { volume: "us" }
 */
export function shownAsTyped(typed: readonly (readonly [text: string, kind: ShownKind])[]): ShownIn {
  const inUs = typed.filter(([text, kind]) => systemOfUnit(text, kind) === "us");
  if (inUs.length === 0) return {};
  return inUs.length === typed.length
    ? ALL_US
    : Object.fromEntries(inUs.map(([, kind]) => [kind, "us" as const]));
}

/**
 * A quantity for reading, in four digits and the unit of the cart.
 *
 * @param value - in litres, L/min, °C or bar
 * @param shownIn - what is shown in US units, such as `circuit.shownIn`; nothing when left out
 * @throws RangeError when the value is not a finite number
 * @example
 * formatQuantity("volume", 60, { volume: "us" }); // => "15.85 US gal"
 */
export function formatQuantity(kind: ShownKind, value: number, shownIn: ShownIn = {}): string {
  mustBeANumber(value);
  const shown = inShownUnit(kind, value, shownIn);
  return `${inFourDigits(shown.value)} ${shown.unit}`;
}

/**
 * A quantity for reading, in as many decimals as can be read off a gauge and rounded on the side that is safe.
 *
 * @param value - in litres, L/min, °C or bar
 * @param way - "up" where less is not enough, "down" where more is too much
 * @param shownIn - what is shown in US units, such as `circuit.shownIn`; nothing when left out
 * @throws RangeError when the value is not a finite number
 * @example
 * formatOnGauge("volume", 98.1, "up"); // => "99 L"
 */
export function formatOnGauge(
  kind: ShownKind,
  value: number,
  way: "up" | "down" | "near",
  shownIn: ShownIn = {},
): string {
  mustBeANumber(value);
  const shown = inShownUnit(kind, value, shownIn);
  const places = 10 ** shown.decimals;
  const round = { up: Math.ceil, down: Math.floor, near: Math.round }[way];
  // Twelve digits first: 16.000000000001 gallons are 16.
  return `${round(Number((shown.value * places).toPrecision(12))) / places} ${shown.unit}`;
}

function mustBeANumber(value: unknown): void {
  if (!Number.isFinite(value)) throw new RangeError(`value: expected a number, found ${String(value)}`);
}

/** A difference of two temperatures for reading; it has no zero of its own. */
export function formatTemperatureRise(riseC: number, shownIn: ShownIn = {}): string {
  const rise =
    inShownUnit("temperature", riseC, shownIn).value - inShownUnit("temperature", 0, shownIn).value;
  return `${inFourDigits(rise)} ${shownUnit("temperature", shownIn)}`;
}

/** The unit in which a person reads a kind of quantity. */
export function shownUnit(kind: ShownKind, shownIn: ShownIn = {}): string {
  return shownIn[kind] === "us" ? US_UNITS[kind].unit : KEPT_UNITS[kind];
}

/** A kept value in the unit in which a person reads it. */
export function inShownUnit(
  kind: ShownKind,
  value: number,
  shownIn: ShownIn = {},
): { readonly value: number; readonly unit: string; readonly decimals: number } {
  if (shownIn[kind] !== "us") return { value, unit: KEPT_UNITS[kind], decimals: METRIC_DECIMALS[kind] };
  const { unit, decimals } = US_UNITS[kind];
  return { value: toUsUnit(kind, value), unit, decimals };
}

const METRIC_DECIMALS: Readonly<Record<ShownKind, number>> = {
  volume: 0,
  flow: 0,
  temperature: 0,
  pressure: 1,
};
