import { checkNumbers } from "../numeric/index.js";
import { type Assumption, frozen } from "../provenance/index.js";
import { FLUID_BASES, type FluidSpecification } from "./families.js";

const KELVIN = 273.15;

/** Water a fluid can dissolve: log10 S = a − b / T, S in ppm by mass, T in kelvin. */
export interface SaturationCurve {
  readonly a: number;
  readonly b: number;
  readonly assumptions: readonly Assumption[];
}

/** A saturation curve, or why the family has none. */
export type SaturationAnswer =
  | { readonly kind: "curve"; readonly curve: SaturationCurve }
  | { readonly kind: "refused"; readonly reason: string };

/** Water dissolved at saturation, measured by a laboratory. */
export interface SaturationPoint {
  readonly temperatureC: number;
  readonly waterPpm: number;
}

/**
 * A recalled curve of mineral insulating oil: another class of product, in the same region as a dry mineral hydraulic oil.
 * It may be chosen by name where nothing better is known, and says so wherever it is used.
 *
 * @source OIL-SATURATION
 */
export const INSULATING_OIL_CURVE: SaturationCurve = frozen({
  a: 7.0895,
  b: 1567,
  assumptions: [
    {
      code: "saturation-from-memory",
      message:
        "the saturation curve is a recalled one of mineral insulating oil, another class of product; " +
        "oils of one kind differ several-fold, so have the fluid measured at two temperatures",
      source: "OIL-SATURATION",
    },
  ],
});

/**
 * The saturation curve of a family through two measured points.
 *
 * No coefficients are published for the fluids siltbook knows, so none are built in. For phosphate ester the saturation
 * view itself is refused: its base dissolves several per cent of water, far more than a fluid in service may hold, so the
 * per cent of saturation stays low while the water does its harm.
 *
 * @param measured - saturation of this fluid at two temperatures, or a curve chosen by name such as
 *   {@link INSULATING_OIL_CURVE}; without either the answer is a refusal
 * @throws RangeError for points at one temperature, or a saturation that does not grow with temperature
 * @source TBP-WATER
 * @source SATURATION-SPREAD
 */
export function saturationCurve(
  fluid: FluidSpecification,
  measured?: readonly [SaturationPoint, SaturationPoint] | SaturationCurve,
): SaturationAnswer {
  if (FLUID_BASES[fluid] === "phosphate ester") {
    return {
      kind: "refused",
      reason:
        `${fluid} is a phosphate ester, whose base dissolves several per cent of water: per cent of saturation says ` +
        "little about it. Judge its water in per cent by mass",
    };
  }
  if (measured === undefined) {
    return {
      kind: "refused",
      reason:
        `no saturation curve of ${fluid} was found; give its saturation as measured at two temperatures, ` +
        "or choose a curve by name",
    };
  }
  if ("a" in measured) return { kind: "curve", curve: measured };
  return { kind: "curve", curve: curveThrough(...measured) };
}

function curveThrough(one: SaturationPoint, other: SaturationPoint): SaturationCurve {
  for (const { temperatureC, waterPpm } of [one, other]) checkNumbers("finite", { temperatureC, waterPpm });
  const [cold, warm] = one.temperatureC < other.temperatureC ? [one, other] : [other, one];
  const sound =
    cold.temperatureC > -KELVIN &&
    warm.temperatureC > cold.temperatureC &&
    cold.waterPpm > 0 &&
    warm.waterPpm > cold.waterPpm;
  if (!sound) {
    throw new RangeError(
      `a saturation curve needs two temperatures with more water dissolved at the higher one, ` +
        `not ${one.waterPpm} ppm at ${one.temperatureC} °C and ${other.waterPpm} ppm at ${other.temperatureC} °C`,
    );
  }
  const [inverseCold, inverseWarm] = [1 / (cold.temperatureC + KELVIN), 1 / (warm.temperatureC + KELVIN)];
  const b = Math.log10(warm.waterPpm / cold.waterPpm) / (inverseCold - inverseWarm);
  return { a: Math.log10(cold.waterPpm) + b * inverseCold, b, assumptions: [] };
}

/**
 * Water dissolved at saturation.
 *
 * @returns ppm by mass
 * @example
 * saturationPpm(INSULATING_OIL_CURVE, 40); // => 121.8
 */
export function saturationPpm({ a, b }: SaturationCurve, temperatureC: number): number {
  checkNumbers("finite", { a, b, temperatureC });
  mustBeWarm(temperatureC);
  return 10 ** (a - b / (temperatureC + KELVIN));
}

/**
 * Water as a share of saturation: the relative humidity of the fluid. Above 1 the rest is free water.
 *
 * @param waterPpm - total water in ppm by mass, 0 or more
 * @returns 0.5 for half of saturation
 * @throws RangeError for a negative water content or a temperature below absolute zero
 */
export function shareOfSaturation(curve: SaturationCurve, waterPpm: number, temperatureC: number): number {
  checkNumbers("notNegative", { waterPpm });
  return waterPpm / saturationPpm(curve, temperatureC);
}

/**
 * Water content from the share of saturation that a sensor shows, which needs the sensor's own temperature.
 *
 * @param share - 0 to 1
 * @returns ppm by mass
 */
export function waterFromShare(curve: SaturationCurve, share: number, temperatureC: number): number {
  checkNumbers("share", { share });
  return share * saturationPpm(curve, temperatureC);
}

/**
 * The temperature at which free water drops out as a parked cart cools.
 *
 * @param waterPpm - total water in ppm by mass, more than 0
 * @returns °C
 * @throws RangeError for a water content that is not above 0, or so high that the curve never holds it
 * @example
 * freeWaterTemperature(INSULATING_OIL_CURVE, 121.8); // => 40.0
 */
export function freeWaterTemperature({ a, b }: SaturationCurve, waterPpm: number): number {
  checkNumbers("finite", { a, b });
  checkNumbers("positive", { waterPpm });
  const inverse = (a - Math.log10(waterPpm)) / b;
  if (!(inverse > 0)) throw new RangeError(`the curve never holds ${waterPpm} ppm of water`);
  return 1 / inverse - KELVIN;
}

/**
 * Water in ppm by volume from ppm by mass, which needs the density of the fluid: water itself is 1000 kg/m³.
 *
 * @param densityKgPerM3 - of the fluid, see `densityAt`
 * @example
 * waterPpmByVolume(200, 850); // => 170
 */
export function waterPpmByVolume(waterPpm: number, densityKgPerM3: number): number {
  checkNumbers("notNegative", { waterPpm });
  checkNumbers("positive", { densityKgPerM3 });
  return (waterPpm * densityKgPerM3) / 1000;
}

function mustBeWarm(temperatureC: number): void {
  if (!(temperatureC > -KELVIN && Number.isFinite(temperatureC)))
    throw new RangeError(`a temperature must be above absolute zero, not ${temperatureC} °C`);
}
