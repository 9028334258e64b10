import { checkNumbers } from "../numeric/index.js";
import type { Assumption } from "../provenance/index.js";

/** A measured kinematic viscosity. */
export interface ViscosityPoint {
  readonly temperatureC: number;
  readonly mm2PerS: number;
}

/** The straight line log10 log10 Z = a − b·log10 T that two measured viscosities fix; T in kelvin. */
export interface ViscosityLine {
  readonly a: number;
  readonly b: number;
  /** Lower and upper temperature of the two points. */
  readonly fromC: number;
  readonly toC: number;
}

/** A value read from a line; outside the two points it carries an assumption that says so. */
export interface LineReading {
  readonly value: number;
  readonly assumptions: readonly Assumption[];
}

const KELVIN = 273.15;

/** The formulas were tried from here up: their round trip agrees to 5 parts in 10 000 from 0.3 to 2 mm²/s. */
const LOWEST_MM2_PER_S = 0.3;
const ROUND_TRIP = 5e-4;

/**
 * The viscosity line of a fluid through two measured points.
 *
 * @throws RangeError for points at one temperature, for a viscosity that does not fall with temperature, and for one
 *   below 0.3 mm²/s
 * @source ASTM-D341
 * @example
 * viscosityLine({ temperatureC: 40, mm2PerS: 32 }, { temperatureC: 100, mm2PerS: 5.4 }).b; // => 3.74658
 */
export function viscosityLine(one: ViscosityPoint, other: ViscosityPoint): ViscosityLine {
  for (const { temperatureC, mm2PerS } of [one, other]) checkNumbers("finite", { temperatureC, mm2PerS });
  const [cold, warm] = one.temperatureC < other.temperatureC ? [one, other] : [other, one];
  for (const { temperatureC, mm2PerS } of [cold, warm]) {
    if (!(mm2PerS >= LOWEST_MM2_PER_S && Number.isFinite(mm2PerS))) {
      throw new RangeError(`a viscosity must be ${LOWEST_MM2_PER_S} mm²/s or more, not ${mm2PerS}`);
    }
    if (!(temperatureC > -KELVIN && Number.isFinite(temperatureC))) {
      throw new RangeError(`a temperature must be above absolute zero, not ${temperatureC} °C`);
    }
  }
  if (!(warm.temperatureC > cold.temperatureC && warm.mm2PerS < cold.mm2PerS)) {
    throw new RangeError(
      "two viscosities at different temperatures are needed, lower at the higher temperature",
    );
  }
  const logT = [cold, warm].map((point) => Math.log10(point.temperatureC + KELVIN)) as [number, number];
  const logLogZ = [cold, warm].map((point) => Math.log10(Math.log10(zOf(point.mm2PerS)))) as [number, number];
  const b = (logLogZ[0] - logLogZ[1]) / (logT[1] - logT[0]);
  return { a: logLogZ[0] + b * logT[0], b, fromC: cold.temperatureC, toC: warm.temperatureC };
}

/**
 * Reads the viscosity at a temperature.
 *
 * @param temperatureC - °C
 * @returns mm²/s; outside the two points with an assumption, because polymer-thickened and cold fluids leave the line
 * @throws RangeError for a temperature at which the line has no viscosity of 0.3 mm²/s or more
 * @source ASTM-D341
 */
export function viscosityAt(line: ViscosityLine, temperatureC: number): LineReading {
  checkNumbers("finite", { ...line, temperatureC });
  const z = 10 ** (10 ** (line.a - line.b * Math.log10(temperatureC + KELVIN)));
  const value = viscosityOfZ(z);
  if (!(value >= LOWEST_MM2_PER_S * (1 - ROUND_TRIP) && Number.isFinite(value))) {
    throw new RangeError(`the viscosity line says nothing at ${temperatureC} °C`);
  }
  return { value, assumptions: outside(line, temperatureC) };
}

/**
 * Reads the temperature at which the fluid has a viscosity.
 *
 * @param mm2PerS - 0.3 or more
 * @returns °C; outside the two points with an assumption
 * @throws RangeError for a viscosity below 0.3 mm²/s
 * @source ASTM-D341
 */
export function temperatureAt(line: ViscosityLine, mm2PerS: number): LineReading {
  checkNumbers("finite", { ...line, mm2PerS });
  if (!(mm2PerS >= LOWEST_MM2_PER_S)) {
    throw new RangeError(`a viscosity must be ${LOWEST_MM2_PER_S} mm²/s or more, not ${mm2PerS}`);
  }
  const value = 10 ** ((line.a - Math.log10(Math.log10(zOf(mm2PerS)))) / line.b) - KELVIN;
  return { value, assumptions: outside(line, value) };
}

function outside(line: ViscosityLine, temperatureC: number): Assumption[] {
  if (temperatureC >= line.fromC && temperatureC <= line.toC) return [];
  const which = temperatureC < line.fromC ? "below" : "above";
  return [
    {
      code: "viscosity-extrapolated",
      message:
        `${temperatureC.toFixed(0)} °C is ${which} the two temperatures the viscosity is known at, ${line.fromC} and ` +
        `${line.toC} °C; the line is not to be trusted there, least of all in the cold`,
      source: "ASTM-D341",
    },
  ];
}

/** Z with the term for low viscosities, which vanishes above 2 mm²/s. */
function zOf(v: number): number {
  return v + 0.7 + Math.exp(-1.47 - 1.84 * v - 0.51 * v * v);
}

function viscosityOfZ(z: number): number {
  const w = z - 0.7;
  return w - Math.exp(-0.7487 - 3.295 * w + 0.6119 * w * w - 0.3193 * w * w * w);
}
