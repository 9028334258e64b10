import { type Assumption, frozen } from "../provenance/index.js";
import { shiftDecimal } from "./decimal.js";

/** The quantities people write with a unit, and the unit siltbook keeps them in. */
export type QuantityKind =
  | "volume"
  | "flow"
  | "temperature"
  | "pressure"
  | "viscosity"
  | "waterContent"
  | "massFraction"
  | "acidNumber"
  | "time"
  | "power"
  | "mass"
  | "density"
  | "specificHeat";

/**
 * What became of a piece of text that should hold a quantity.
 *
 * `value` is in the unit that {@link KEPT_UNITS} names for the kind.
 */
export type QuantityReading =
  | { readonly kind: "read"; readonly value: number; readonly unit: string }
  | {
      readonly kind: "assumed";
      readonly value: number;
      readonly unit: string;
      readonly assumption: Assumption;
    }
  | { readonly kind: "refused"; readonly expected: string };

/** The unit in which each kind of quantity is kept. */
export const KEPT_UNITS = frozen({
  volume: "L",
  flow: "L/min",
  temperature: "°C",
  pressure: "bar",
  viscosity: "mm²/s",
  waterContent: "ppm by mass",
  massFraction: "ppm by mass",
  acidNumber: "mg KOH/g",
  time: "min",
  power: "kW",
  mass: "g",
  density: "kg/m³",
  specificHeat: "kJ/(kg K)",
} as const satisfies Record<QuantityKind, string>);

interface Unit {
  readonly names: readonly string[];
  /** Value in this unit → value in the kept unit: value × scale + offset. */
  readonly scale?: number;
  /** In place of a scale that is a power of ten: the point is moved, so that 0.0123 % is exactly 123 ppm. */
  readonly powerOfTen?: number;
  readonly offset?: number;
  /** Said when the unit as written has more than one meaning in the trade. */
  readonly assumed?: string;
  readonly system?: "us";
}

const US_GALLON_L = 3.785411784;
const IMPERIAL_GALLON_L = 4.54609;
/** One pound-force (0.45359237 kg × 9.80665 m/s²) on one square inch (0.0254 m)², in bar. */
const PSI_BAR = (0.45359237 * 9.80665) / 0.0254 ** 2 / 100_000;

/** 550 foot-pound-force per second, in kW. */
const HORSEPOWER_KW = (550 * 0.3048 * 0.45359237 * 9.80665) / 1000;

/** Factors are exact definitions (NIST SP 811, appendix B) or follow from them. The first name of a unit is the one that is shown. */
const UNITS: Record<QuantityKind, readonly Unit[]> = {
  volume: [
    { names: ["L", "litre", "litres", "liter", "liters"] },
    { names: ["mL"], powerOfTen: -3 },
    {
      names: ["US gal", "us gallon", "us gallons", "usg", "usgal", "us gals"],
      scale: US_GALLON_L,
      system: "us",
    },
    { names: ["imp gal", "imperial gal", "imperial gallon", "imperial gallons"], scale: IMPERIAL_GALLON_L },
    {
      names: ["gal", "gals", "gallon", "gallons"],
      scale: US_GALLON_L,
      assumed: "gallons were read as US gallons (3.785 L)",
      system: "us",
    },
    {
      names: ["US qt", "qt"],
      scale: US_GALLON_L / 4,
      assumed: "quarts were read as US quarts (0.946 L)",
      system: "us",
    },
  ],
  flow: [
    {
      names: [
        "L/min",
        "lpm",
        "litres per minute",
        "l per min",
        "litres/min",
        "liters/min",
        "l/mn",
        "l min-1",
      ],
    },
    {
      names: ["US gal/min", "us gpm", "usgpm", "usgal/min", "usg/min"],
      scale: US_GALLON_L,
      system: "us",
    },
    {
      names: ["gpm", "gal/min"],
      scale: US_GALLON_L,
      assumed: "gpm was read as US gallons per minute (3.785 L/min)",
      system: "us",
    },
    { names: ["m3/h", "m³/h"], scale: 1000 / 60 },
  ],
  temperature: [
    { names: ["°C", "c", "degc", "deg c"] },
    { names: ["°F", "f", "degf", "deg f"], scale: 5 / 9, offset: -160 / 9, system: "us" },
    { names: ["K"], offset: -273.15 },
  ],
  pressure: [
    { names: ["bar"] },
    { names: ["kPa"], powerOfTen: -2 },
    { names: ["MPa"], powerOfTen: 1 },
    { names: ["psi"], scale: PSI_BAR, system: "us" },
  ],
  viscosity: [{ names: ["mm²/s", "mm2/s", "cSt"] }],
  waterContent: [
    { names: ["mg/kg", "ppm by mass", "ppm m/m"] },
    { names: ["ppm"], assumed: "ppm of water was read as ppm by mass" },
    { names: ["% m/m", "% by mass"], powerOfTen: 4 },
    { names: ["%"], powerOfTen: 4, assumed: "per cent of water was read as per cent by mass" },
  ],
  massFraction: [
    { names: ["mg/kg", "ppm by mass", "ppm m/m", "ug/g", "µg/g", "μg/g"] },
    { names: ["ppm"], assumed: "ppm of chlorine or a metal was read as ppm by mass" },
    { names: ["% m/m", "% by mass"], powerOfTen: 4 },
    { names: ["%"], powerOfTen: 4, assumed: "per cent of chlorine or a metal was read as per cent by mass" },
  ],
  acidNumber: [{ names: ["mg KOH/g", "mgKOH/g"] }],
  time: [
    { names: ["min", "minutes"] },
    { names: ["h", "hours"], scale: 60 },
    { names: ["s", "seconds"], scale: 1 / 60 },
  ],
  power: [
    { names: ["kW"], scale: 1 },
    { names: ["W"], scale: 0.001 },
    { names: ["hp"], scale: HORSEPOWER_KW, assumed: "hp was read as mechanical horsepower (0.7457 kW)" },
  ],
  mass: [
    { names: ["g"], scale: 1 },
    { names: ["mg"], scale: 0.001 },
    { names: ["kg"], scale: 1000 },
  ],
  density: [
    { names: ["kg/m³", "kg/m3"], scale: 1 },
    { names: ["g/cm³", "g/cm3", "g/ml", "kg/l"], scale: 1000 },
  ],
  specificHeat: [{ names: ["kJ/(kg K)", "kj/kgk", "kj/kg/k"], scale: 1 }],
};

/** No quantity is written in more characters. */
const MAX_QUANTITY_LENGTH = 200;
const NUMBER_WITH_UNIT = /^([+-]?\d+(?:\.\d+)?(?:e[+-]?\d+)?)\s*(.*)$/i;

/**
 * Reads a quantity as people write it, such as "12 gpm", "16 US gal", "85 °F" or "0.4 %".
 *
 * A number without a unit is refused: nothing is guessed. A unit with more than one meaning in the trade is
 * read with an assumption that travels with the value.
 *
 * @param text - number with a decimal point, followed by a unit
 * @param kind - which quantity is expected
 * @returns the value in the unit of {@link KEPT_UNITS}, or what was expected instead
 * @source NIST-SP-811
 * @example
 * tryParseQuantity("45 L/min", "flow"); // => { kind: "read", value: 45, unit: "L/min" }
 */
export function tryParseQuantity(text: string, kind: QuantityKind): QuantityReading {
  const { number, unit } = split(text, kind);
  if (unit === undefined || !Number.isFinite(number)) {
    const comma = /\d,\d/.test(text) ? ", with a decimal point and no comma" : "";
    return { kind: "refused", expected: `${describeExpected(kind)}${comma}` };
  }
  const shifted = shiftDecimal(number, unit.powerOfTen ?? 0);
  const converts = unit.scale !== undefined || unit.offset !== undefined;
  // Fifteen digits of a conversion are true: 122 °F is 50 °C and not 50.00000000000001.
  const value = converts
    ? Number((shifted * (unit.scale ?? 1) + (unit.offset ?? 0)).toPrecision(15))
    : shifted;
  // A number can be finite as it is written and have no end in the unit it is kept in.
  if (!Number.isFinite(value)) return { kind: "refused", expected: describeExpected(kind) };
  const kept = KEPT_UNITS[kind];
  if (unit.assumed === undefined) return { kind: "read", value, unit: kept };
  return {
    kind: "assumed",
    value,
    unit: kept,
    assumption: { code: "unit-meaning", message: unit.assumed },
  };
}

function split(
  text: string,
  kind: QuantityKind,
): { readonly number: number; readonly unit: Unit | undefined } {
  const match = text.length > MAX_QUANTITY_LENGTH ? null : NUMBER_WITH_UNIT.exec(text.trim());
  const unitText = match?.[2]?.trim().toLowerCase().replace(/\s+/g, " ") ?? "";
  return {
    number: Number(match?.[1]),
    unit: NAMED.get(kind)?.get(unitText)?.unit,
  };
}

/** The units of each quantity by their names in lower case. */
const NAMED: ReadonlyMap<
  string,
  ReadonlyMap<string, { readonly unit: Unit; readonly name: string }>
> = new Map(
  Object.entries<readonly Unit[]>(UNITS).map(([kind, units]) => [
    kind,
    new Map(
      // Of two units with one name the first counts, so it is put in last.
      units
        .flatMap((unit) => unit.names.map((name) => [name.toLowerCase(), { unit, name }] as const))
        .reverse(),
    ),
  ]),
);

/** A unit in the letters that people write it in: "mg KOH/g" for "mg koh/g"; one that is not known stays as it is. */
export function spelledUnit(unit: string, kind: QuantityKind): string {
  return NAMED.get(kind)?.get(unit.toLowerCase())?.name ?? unit;
}

/** Whether a quantity is written in a US unit; undefined where it has no unit that is known. */
export function systemOfUnit(text: string, kind: QuantityKind): "metric" | "us" | undefined {
  const { unit } = split(text, kind);
  return unit && (unit.system ?? "metric");
}

/** The units in which a person with a US cart reads, and the decimals of their gauges. */
export const US_UNITS = {
  volume: { unit: "US gal", decimals: 1 },
  flow: { unit: "US gpm", decimals: 1 },
  temperature: { unit: "°F", decimals: 0 },
  pressure: { unit: "psi", decimals: 0 },
} as const satisfies Partial<Record<QuantityKind, { readonly unit: string; readonly decimals: number }>>;

/** Turns a kept value into the unit of {@link US_UNITS}, by the factor it is read with. */
export function toUsUnit(kind: keyof typeof US_UNITS, kept: number): number {
  const { scale = 1, offset = 0 } = split(`1 ${US_UNITS[kind].unit}`, kind).unit as Unit;
  return Number(((kept - offset) / scale).toPrecision(14));
}

function describeExpected(kind: QuantityKind): string {
  const names = UNITS[kind].map((unit) => unit.names[0]);
  return `a number with one of the units ${names.join(", ")}`;
}
