import { freeWaterTemperature, type SaturationCurve } from "../../fluids/index.js";
import type { Measured } from "../../samples/index.js";
import { inShownUnit, type ShownIn } from "../../units/index.js";

/** The temperature in °C at which the water begins to drop out; undefined when the curve never holds so much. */
export function freeBelow(curve: SaturationCurve, { value }: Measured): number | undefined {
  // A curve nears 10 ** a ppm however warm it gets.
  return value < 10 ** curve.a ? freeWaterTemperature(curve, value) : undefined;
}

/** Says where free water appears. A limit value moves it to one side: less water stays dissolved to a lower temperature. */
export function describeFreeBelow(
  { limit }: Measured,
  temperatureC: number,
  shownIn: ShownIn | undefined,
): string {
  const degrees = formatDegrees(temperatureC, shownIn);
  if (limit === "below" || limit === "at-most") return `free water, if at all, below ${degrees}`;
  if (limit === "above" || limit === "at-least") return `free water below ${degrees} or warmer`;
  return `free water below ${degrees}`;
}

/**
 * Says what measured water means for a fluid as it cools.
 *
 * @param lowestC - the lowest temperature in °C that the fluid will see, where it is known
 */
export function describeFreeWater(
  curve: SaturationCurve,
  water: Measured | undefined,
  lowestC: number | undefined,
  shownIn: ShownIn | undefined,
): string {
  if (water === undefined) return "water was not measured";
  const mayBeMore = water.limit === "above" || water.limit === "at-least";
  if (!(water.value > 0)) return mayBeMore ? "how much water is not known" : "no water was found";
  const temperatureC = freeBelow(curve, water);
  if (temperatureC === undefined) return "more water than the fluid ever dissolves";
  if (lowestC === undefined) return describeFreeBelow(water, temperatureC, shownIn);
  if (temperatureC > lowestC) {
    return `${describeFreeBelow(water, temperatureC, shownIn)}; it may cool to ${formatDegrees(lowestC, shownIn)}`;
  }
  return mayBeMore
    ? `it is not known whether water stays dissolved down to ${formatDegrees(lowestC, shownIn)}`
    : `no free water down to ${formatDegrees(lowestC, shownIn)}`;
}

/** Whole degrees, with a proper minus. */
export function formatDegrees(temperatureC: number, shownIn: ShownIn | undefined): string {
  const { value, unit } = inShownUnit("temperature", temperatureC, shownIn);
  return `${Math.round(value)} ${unit}`.replace("-", "−").replace("−0 ", "0 ");
}
