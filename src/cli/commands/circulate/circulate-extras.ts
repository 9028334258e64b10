import {
  assessIndicator,
  type CirculationInput,
  elementLoading,
  type HeatPlan,
  type IndicatorReading,
  planHeat,
  QUARTZ_SPHERES,
  removedBetween,
} from "../../../circulation/index.js";
import {
  FLUID_DATA,
  type FluidData,
  tryParseFluidSpecification,
  type ViscosityLine,
  viscosityLine,
} from "../../../fluids/index.js";
import { type Assumption, joinAssumptions } from "../../../provenance/index.js";
import type { QuantityKind } from "../../../units/index.js";
import { readFraction, readQuantityOption, readSettings } from "../../arguments.js";
import { UsageError } from "../../io.js";
import type { Read } from "./circulate-options.js";

/** Reads the settings of one option, each with its unit, and keeps what was assumed. */
class SettingsReader<N extends string> {
  readonly assumptions: Assumption[] = [];
  private readonly settings: Partial<Record<N, string>>;

  constructor(
    private readonly option: string,
    text: string,
    names: readonly N[],
  ) {
    this.settings = readSettings(option, text, names);
  }

  text(name: N): string | undefined {
    return this.settings[name];
  }

  optional(name: N, kind: QuantityKind): number | undefined {
    const text = this.settings[name];
    if (text === undefined) return undefined;
    const read = readQuantityOption(`${this.option} ${name}`, text, kind);
    this.assumptions.push(...read.assumptions);
    return read.value;
  }

  needed(name: N, kind: QuantityKind): number {
    const value = this.optional(name, kind);
    if (value === undefined) throw new UsageError(`${this.option}: "${name}" is needed`);
    return value;
  }

  fraction(name: N): number | undefined {
    const text = this.settings[name];
    return text === undefined ? undefined : readFraction(`${this.option} ${name}`, text);
  }

  /** Data of the named fluid, from memory and said to be. */
  fluid(name: N): FluidData | undefined {
    const text = this.settings[name];
    if (text === undefined) return undefined;
    const family = tryParseFluidSpecification(text);
    if (family === undefined) throw new UsageError(`${this.option}: "${text}" names no fluid that is known`);
    const data = FLUID_DATA[family];
    this.assumptions.push({
      code: "fluid-data-from-memory",
      message:
        `${family} was taken with ${data.viscosity.map((point) => `${point.mm2PerS} mm²/s at ${point.temperatureC} °C`).join(", ")}, ` +
        `${data.densityKgPerM3} kg/m³ and ${data.specificHeatKjPerKgK} kJ/(kg K), from memory; use the data sheet of your fluid`,
      source: data.source,
    });
    return data;
  }
}

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

/** How the circulation fits under the high-temperature limit. */
export function heatFrom(text: string, input: CirculationInput, minutes: number): Read<HeatPlan> {
  const reader = new SettingsReader("--heat", text, HEAT);
  const data = reader.fluid("fluid");
  const densityKgPerM3 = reader.optional("density", "density") ?? data?.densityKgPerM3;
  const specificHeatKjPerKgK = reader.optional("specific-heat", "specificHeat") ?? data?.specificHeatKjPerKgK;
  if (densityKgPerM3 === undefined || specificHeatKjPerKgK === undefined) {
    throw new UsageError('--heat: "fluid" is needed, or "density" and "specific-heat"');
  }
  const startC = reader.needed("start", "temperature");
  const plan = planHeat(
    {
      volumeL: input.volumeL,
      flowLpm: input.flowLpm,
      densityKgPerM3,
      specificHeatKjPerKgK,
      dropBar: reader.needed("drop", "pressure"),
      pumpEfficiency: reader.fraction("efficiency") ?? 1,
      coolingKw: reader.optional("cooling", "power") ?? 0,
      startC,
      limitC: reader.needed("limit", "temperature"),
      restartC: reader.optional("restart", "temperature") ?? startC,
    },
    minutes,
  );
  return { value: plan, assumptions: joinAssumptions(reader.assumptions, plan.assumptions) };
}

const ELEMENT = ["capacity", "held", "density", "shape"] as const;

/** How far the circulation loads the element. */
export function loadingFrom(text: string, input: CirculationInput, passes: number) {
  const reader = new SettingsReader("--element", text, ELEMENT);
  const density = reader.optional("density", "density");
  return elementLoading({
    volumeL: input.volumeL,
    capacityG: reader.needed("capacity", "mass"),
    retainedBeforeG: reader.optional("held", "mass") ?? 0,
    removed: removedBetween(input, 0, passes),
    removedPerPassAtEnd: removedBetween(input, passes, passes + 1),
    dust: {
      kind: "particles",
      densityGPerCm3: density === undefined ? QUARTZ_SPHERES.densityGPerCm3 : density / 1000,
      shapeFactor: reader.fraction("shape") ?? 1,
    },
  });
}

const INDICATOR = ["drop", "housing", "flow", "viscosity", "trips", "at", "fluid", "points"] as const;

/** What an indication of the clogging indicator means at the present temperature. */
export function indicatorFrom(text: string, input: CirculationInput): Read<IndicatorReading> {
  const reader = new SettingsReader("--indicator", text, INDICATOR);
  const line = readLine(reader);
  const housingBar = reader.optional("housing", "pressure");
  const reading = assessIndicator({
    rated: {
      elementBar: reader.needed("drop", "pressure"),
      ...(housingBar !== undefined && { housingBar }),
      flowLpm: reader.optional("flow", "flow") ?? input.flowLpm,
      mm2PerS: reader.needed("viscosity", "viscosity"),
    },
    viscosity: line,
    flowLpm: input.flowLpm,
    temperatureC: reader.needed("at", "temperature"),
    indicatorBar: reader.needed("trips", "pressure"),
  });
  return { value: reading, assumptions: joinAssumptions(reader.assumptions, reading.assumptions) };
}

/** The line of a named fluid, or through two points such as "14 mm2/s @ 40 °C / 3.45 mm2/s @ 100 °C". */
function readLine(reader: SettingsReader<(typeof INDICATOR)[number]>): ViscosityLine {
  const points = reader.text("points");
  if (points === undefined) {
    const data = reader.fluid("fluid");
    if (data === undefined) throw new UsageError('--indicator: "fluid" or "points" is needed');
    return viscosityLine(...data.viscosity);
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
