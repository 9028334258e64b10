import type { ElementSettings, HeatSettings, IndicatorSettings } from "../../../circulation/index.js";
import { type FluidSpecification, type ViscosityLine, viscosityLine } from "../../../fluids/index.js";
import { readQuantityOption } from "../../arguments.js";
import { UsageError } from "../../io.js";
import { type Read, SettingsReader } from "./settings.js";

const HEAT = [
  "drop",
  "efficiency",
  "cooling",
  "start",
  "limit",
  "restart",
  "fluid",
  "density",
  "specific-heat",
] as const;

/** What warms and cools the fluid. */
export function readHeat(text: string): Read<HeatSettings> {
  const reader = new SettingsReader("--heat", text, HEAT);
  const given = {
    fluid: reader.fluid("fluid"),
    densityKgPerM3: reader.optional("density", "density"),
    specificHeatKjPerKgK: reader.optional("specific-heat", "specificHeat"),
    pumpEfficiency: reader.fraction("efficiency"),
    coolingKw: reader.optional("cooling", "power"),
    restartC: reader.optional("restart", "temperature"),
  };
  if (
    given.fluid === undefined &&
    (given.densityKgPerM3 === undefined || given.specificHeatKjPerKgK === undefined)
  ) {
    throw new UsageError('--heat: "fluid" is needed, or "density" and "specific-heat"');
  }
  return {
    value: {
      ...withoutUndefined(given),
      startC: reader.needed("start", "temperature"),
      dropBar: reader.needed("drop", "pressure"),
      limitC: reader.needed("limit", "temperature"),
    },
    assumptions: reader.assumptions,
  };
}

const ELEMENT = ["capacity", "held", "density", "shape"] as const;

/** What is known of the element. */
export function readElement(text: string): Read<ElementSettings> {
  const reader = new SettingsReader("--element", text, ELEMENT);
  const kgPerM3 = reader.optional("density", "density");
  return {
    value: {
      ...withoutUndefined({
        retainedBeforeG: reader.optional("held", "mass"),
        densityGPerCm3: kgPerM3 === undefined ? undefined : kgPerM3 / 1000,
        shapeFactor: reader.fraction("shape"),
      }),
      capacityG: reader.needed("capacity", "mass"),
    },
    assumptions: reader.assumptions,
  };
}

const INDICATOR = ["drop", "housing", "flow", "viscosity", "trips", "at", "fluid", "points"] as const;

/** What is known of the clogging indicator. */
export function readIndicatorSettings(text: string): Read<IndicatorSettings> {
  const reader = new SettingsReader("--indicator", text, INDICATOR);
  const value = { ...readSetting(reader), temperatureC: reader.needed("at", "temperature") };
  return { value, assumptions: reader.assumptions };
}

/**
 * What is known of an element and its indicator in a log, which has the temperatures itself.
 *
 * @param fluid - of the circuit, where it is known and no other is named
 */
export function readElementInLine(
  text: string,
  fluid: FluidSpecification | undefined,
): Read<Omit<IndicatorSettings, "temperatureC">> {
  const names = INDICATOR.filter((name) => name !== "at");
  const reader = new SettingsReader<(typeof INDICATOR)[number]>("--indicator", text, names);
  return { value: readSetting(reader, fluid), assumptions: reader.assumptions };
}

function readSetting(
  reader: SettingsReader<(typeof INDICATOR)[number]>,
  fluid?: FluidSpecification,
): Omit<IndicatorSettings, "temperatureC"> {
  return {
    viscosity: readLine(reader, fluid),
    rated: {
      ...withoutUndefined({
        housingBar: reader.optional("housing", "pressure"),
        flowLpm: reader.optional("flow", "flow"),
      }),
      elementBar: reader.needed("drop", "pressure"),
      mm2PerS: reader.needed("viscosity", "viscosity"),
    },
    indicatorBar: reader.needed("trips", "pressure"),
  };
}

type Given<T> = { [K in keyof T]?: Exclude<T[K], undefined> };

/** Only what is given: a setting that is absent takes the value that the computation gives it. */
function withoutUndefined<T extends object>(settings: T): Given<T> {
  return Object.fromEntries(Object.entries(settings).filter(([, value]) => value !== undefined)) as Given<T>;
}

/** A named fluid, or the line through two points such as "14 mm2/s @ 40 °C / 3.45 mm2/s @ 100 °C". */
function readLine(
  reader: SettingsReader<(typeof INDICATOR)[number]>,
  known: FluidSpecification | undefined,
): ViscosityLine | FluidSpecification {
  const points = reader.text("points");
  if (points === undefined) {
    const fluid = reader.fluid("fluid") ?? known;
    if (fluid === undefined)
      throw new UsageError(
        '--indicator: "fluid" (such as fluid=MIL-PRF-83282) or "points" (such as "points=14 mm2/s @ 40 °C / 3.45 mm2/s @ 100 °C") is needed',
      );
    return fluid;
  }
  const read = points.split(/\s+\/\s+/).map((point) => {
    const [viscosity = "", temperature = ""] = point.split("@");
    return {
      mm2PerS: readQuantityOption("--indicator points", viscosity, "viscosity").value,
      temperatureC: readQuantityOption("--indicator points", temperature, "temperature").value,
    };
  });
  const [one, other] = read;
  if (one === undefined || other === undefined || read.length !== 2) {
    throw new UsageError(
      '--indicator points: expected two, such as "14 mm2/s @ 40 °C / 3.45 mm2/s @ 100 °C"',
    );
  }
  return viscosityLine(one, other);
}
