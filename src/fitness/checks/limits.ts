import { saturationCurve, saturationPpm } from "../../fluids/index.js";
import {
  compareWithRange,
  formatMeasured,
  type LimitRange,
  METALS,
  type Measured,
  type Precision,
  type Requirement,
  type Sample,
} from "../../samples/index.js";
import type { Assessed, Conformance, Finding, Outcome } from "../assessed.js";
import { conformanceOfResult } from "../confidence/result-conformance.js";
import { describeSettlement } from "../confidence/settle.js";
import { type Reason, reason } from "../reasons.js";
import { formatPercent, formatPlain } from "../text.js";
import { describeInWords } from "./said-otherwise.js";

/** The first part of the codes of a quantity: "water" of "water-outside". */
type Stem = "water" | "saturation" | "acid" | "viscosity" | "chlorine" | "metals";

/** One result with what is asked of it. */
interface Asked {
  readonly stem: Stem;
  readonly quantity: string;
  /** At the beginning of a message: "water", "the acid number". */
  readonly name: string;
  readonly unit: string;
  readonly measured: Measured | undefined;
  readonly limits: LimitRange;
  readonly precision: Precision | undefined;
}

/** Holds water, acid and whatever else the requirement limits against its limits. */
export function checkLimits(requirement: Requirement, sample: Sample): Finding[] {
  return requiredOf(requirement, sample).map((required) => checkOne(required, requirement, sample));
}

function requiredOf(requirement: Requirement, sample: Sample): Asked[] {
  const { confidence, viscosity40Mm2PerS, chlorinePpmMax, metalsPpmMax = {}, waterSaturation } = requirement;
  const ppm = "ppm by mass";
  const water = { unit: ppm, measured: sample.waterPpm, precision: confidence?.water };
  const required: Asked[] = [
    { ...water, stem: "water", quantity: "water", name: "water", limits: { max: requirement.waterPpmMax } },
  ];
  if (waterSaturation !== undefined) {
    required.push({
      ...water,
      stem: "saturation",
      quantity: "water of saturation",
      name:
        `water at ${waterSaturation.lowestTemperatureC} °C, of which ${formatPercent(waterSaturation.shareMax)} of ` +
        "saturation is allowed,",
      limits: { max: saturationMaximum(requirement, waterSaturation) },
    });
  }
  required.push({
    stem: "acid",
    quantity: "acid number",
    name: "the acid number",
    unit: "mg KOH/g",
    measured: sample.acidMgKohPerG,
    limits: { max: requirement.acidMgKohPerGMax },
    precision: confidence?.acid,
  });
  if (viscosity40Mm2PerS !== undefined) {
    required.push({
      stem: "viscosity",
      quantity: "viscosity at 40 °C",
      name: "the viscosity at 40 °C",
      unit: "mm²/s",
      measured: sample.viscosity40Mm2PerS,
      limits: viscosity40Mm2PerS,
      precision: confidence?.viscosity,
    });
  }
  if (chlorinePpmMax !== undefined) {
    required.push({
      stem: "chlorine",
      quantity: "chlorine",
      name: "chlorine",
      unit: ppm,
      measured: sample.chlorinePpm,
      limits: { max: chlorinePpmMax },
      precision: confidence?.chlorine,
    });
  }
  // In one order whatever the requirement's, so that a verdict judged again from its record is the same.
  for (const metal of METALS) {
    const max = metalsPpmMax[metal];
    if (max === undefined) continue;
    required.push({
      stem: "metals",
      quantity: metal,
      name: metal,
      unit: ppm,
      measured: sample.metalsPpm?.[metal],
      limits: { max },
      precision: confidence?.metals,
    });
  }
  return required;
}

/** The water in ppm by mass that is the allowed share of saturation at the lowest temperature. */
function saturationMaximum(
  { fluids }: Requirement,
  { shareMax, lowestTemperatureC, measured }: NonNullable<Requirement["waterSaturation"]>,
): number {
  const answer = saturationCurve(fluids[0] as (typeof fluids)[number], measured);
  if (answer.kind === "refused") throw new RangeError(`waterSaturation: ${answer.reason}`);
  return shareMax * saturationPpm(answer.curve, lowestTemperatureC);
}

function checkOne(required: Asked, requirement: Requirement, sample: Sample): Finding {
  const { stem, quantity, name, unit, measured, limits } = required;
  const base = { quantity, unit, limits };
  if (measured === undefined) {
    const code = stem === "saturation" ? "water-not-measured" : (`${stem}-not-measured` as const);
    const words = describeInWords(sample, quantity === "water of saturation" ? "water" : quantity);
    const instead = words === undefined ? "" : ` as a number; the report says "${words}"`;
    return {
      reasons: [reason(code, `${name} was not measured${instead}`)],
      assessed: [{ ...base, outcome: "not-measured" }],
    };
  }
  const outcome = compareWithRange(measured, limits);
  const { conformance, assumptions } = conformanceOfResult(quantity, measured, limits, outcome, {
    confidence: requirement.confidence,
    precision: required.precision,
  });
  const notSure =
    outcome === "inside" && conformance !== undefined && !(conformance.probability >= conformance.required);
  const numbers = `${formatMeasured(measured)} ${unit}, ${formatLimits(limits)}`;
  const assessed: Assessed = {
    ...base,
    outcome,
    measured,
    distance: distanceTo(measured.value, limits),
    ...(conformance && { conformance }),
  };
  const said = notSure
    ? describeNotSure(required, numbers, conformance)
    : describeOutcome(stem, name, outcome, numbers);
  return { reasons: [said], assessed: [assessed], assumptions };
}

function describeOutcome(
  stem: Stem,
  name: string,
  outcome: Exclude<Outcome, "not-measured">,
  numbers: string,
): Reason {
  const words = {
    inside: `${name} is inside: ${numbers}`,
    outside: `${name} is outside: ${numbers}; filters do not remove it`,
    "not-known": `${name} is not known well enough: ${numbers}`,
  }[outcome];
  return reason(`${stem}-${outcome}`, words);
}

function describeNotSure({ stem, name }: Asked, numbers: string, conformance: Conformance): Reason {
  const settle =
    conformance.settlement === undefined ? "" : `; ${describeSettlement(conformance.settlement)}`;
  return reason(
    `${stem}-not-sure`,
    `${name} is measured inside, not sure enough: ${numbers}; the chance that it conforms is ` +
      `${formatPercent(conformance.probability)}, and ${formatPercent(conformance.required)} is asked for${settle}`,
  );
}

/** Says limits: "limit 200", "limits 9 to 12.5" or "at least 9". */
export function formatLimits({ min, max }: LimitRange): string {
  if (min === undefined) return `limit ${formatPlain(max as number)}`;
  return max === undefined
    ? `at least ${formatPlain(min)}`
    : `limits ${formatPlain(min)} to ${formatPlain(max)}`;
}

function distanceTo(value: number, { min, max }: LimitRange): number {
  const up = max === undefined ? Number.POSITIVE_INFINITY : max - value;
  const down = min === undefined ? Number.POSITIVE_INFINITY : value - min;
  return Math.min(up, down);
}
