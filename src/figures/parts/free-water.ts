import { freeWaterTemperature, type SaturationCurve } from "../../fluids/index.js";
import type { Measured } from "../../samples/index.js";

/** The temperature in °C at which the water begins to drop out; undefined when the curve never holds so much. */
export function freeBelow(curve: SaturationCurve, { value }: Measured): number | undefined {
  // A curve nears 10 ** a ppm however warm it gets.
  return value < 10 ** curve.a ? freeWaterTemperature(curve, value) : undefined;
}

/** Says where free water appears. A limit value moves it to one side: less water stays dissolved to a lower temperature. */
export function describeFreeBelow({ limit }: Measured, temperatureC: number): string {
  const degrees = formatDegrees(temperatureC);
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
): string {
  if (water === undefined) return "water was not measured";
  const mayBeMore = water.limit === "above" || water.limit === "at-least";
  if (!(water.value > 0)) return mayBeMore ? "how much water is not known" : "no water was found";
  const temperatureC = freeBelow(curve, water);
  if (temperatureC === undefined) return "more water than the fluid ever dissolves";
  if (lowestC === undefined) return describeFreeBelow(water, temperatureC);
  if (temperatureC > lowestC) {
    return `${describeFreeBelow(water, temperatureC)}; it may cool to ${formatDegrees(lowestC)}`;
  }
  return mayBeMore
    ? `it is not known whether water stays dissolved down to ${formatDegrees(lowestC)}`
    : `no free water down to ${formatDegrees(lowestC)}`;
}

/** Whole degrees, with a proper minus. */
export function formatDegrees(temperatureC: number): string {
  return `${Math.round(temperatureC)} °C`.replace("-", "−").replace("−0 ", "0 ");
}
