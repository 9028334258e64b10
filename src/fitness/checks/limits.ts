import { saturationCurve, saturationPpm } from "../../fluids/index.js";
import {
  compareWithRange,
  METALS,
  type Measured,
  type Precision,
  type Range,
  type Requirement,
  type Sample,
  sayMeasured,
} from "../../samples/index.js";
import type { Assessed, Finding, Outcome, Sureness } from "../assessed.js";
import { surenessOfResult } from "../confidence/result-sureness.js";
import { saySettlement } from "../confidence/settle.js";
import { type Reason, reason } from "../reasons.js";
import { sayPercent, sayPlain } from "../text.js";
import { sayInWords } from "./said-otherwise.js";

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
  readonly limits: Range;
  readonly precision: Precision | undefined;
}

/** Holds water, acid and whatever else the requirement limits against its limits. */
export function checkLimits(requirement: Requirement, sample: Sample): Finding[] {
  return askedOf(requirement, sample).map((asked) => checkOne(asked, requirement, sample));
}

function askedOf(requirement: Requirement, sample: Sample): Asked[] {
  const { confidence, viscosity40Mm2PerS, chlorinePpmMax, metalsPpmMax = {}, waterSaturation } = requirement;
  const ppm = "ppm by mass";
  const water = { unit: ppm, measured: sample.waterPpm, precision: confidence?.water };
  const asked: Asked[] = [
    { ...water, stem: "water", quantity: "water", name: "water", limits: { max: requirement.waterPpmMax } },
  ];
  if (waterSaturation !== undefined) {
    asked.push({
      ...water,
      stem: "saturation",
      quantity: "water of saturation",
      name:
        `water at ${waterSaturation.lowestTemperatureC} °C, of which ${sayPercent(waterSaturation.shareMax)} of ` +
        "saturation is allowed,",
      limits: { max: saturationMaximum(requirement, waterSaturation) },
    });
  }
  asked.push({
    stem: "acid",
    quantity: "acid number",
    name: "the acid number",
    unit: "mg KOH/g",
    measured: sample.acidMgKohPerG,
    limits: { max: requirement.acidMgKohPerGMax },
    precision: confidence?.acid,
  });
  if (viscosity40Mm2PerS !== undefined) {
    asked.push({
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
    asked.push({
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
    asked.push({
      stem: "metals",
      quantity: metal,
      name: metal,
      unit: ppm,
      measured: sample.metalsPpm?.[metal],
      limits: { max },
      precision: confidence?.metals,
    });
  }
  return asked;
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

function checkOne(asked: Asked, requirement: Requirement, sample: Sample): Finding {
  const { stem, quantity, name, unit, measured, limits } = asked;
  const base = { quantity, unit, limits };
  if (measured === undefined) {
    const code = stem === "saturation" ? "water-not-measured" : (`${stem}-not-measured` as const);
    const words = sayInWords(sample, quantity === "water of saturation" ? "water" : quantity);
    const instead = words === undefined ? "" : ` as a number; the report says "${words}"`;
    return {
      reasons: [reason(code, `${name} was not measured${instead}`)],
      assessed: [{ ...base, outcome: "not-measured" }],
    };
  }
  const outcome = compareWithRange(measured, limits);
  const { sureness, assumptions } = surenessOfResult(quantity, measured, limits, outcome, {
    confidence: requirement.confidence,
    precision: asked.precision,
  });
  const notSure = outcome === "inside" && sureness !== undefined && !(sureness.probability >= sureness.asked);
  const numbers = `${sayMeasured(measured)} ${unit}, ${sayLimits(limits)}`;
  const assessed: Assessed = {
    ...base,
    outcome,
    measured,
    distance: distanceTo(measured.value, limits),
    ...(sureness && { sureness }),
  };
  const said = notSure ? sayNotSure(asked, numbers, sureness) : sayOutcome(stem, name, outcome, numbers);
  return { reasons: [said], assessed: [assessed], assumptions };
}

function sayOutcome(
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

function sayNotSure({ stem, name }: Asked, numbers: string, sureness: Sureness): Reason {
  const settle = sureness.settlement === undefined ? "" : `; ${saySettlement(sureness.settlement)}`;
  return reason(
    `${stem}-not-sure`,
    `${name} is measured inside, not sure enough: ${numbers}; the chance that it conforms is ` +
      `${sayPercent(sureness.probability)}, and ${sayPercent(sureness.asked)} is asked for${settle}`,
  );
}

/** Says limits: "limit 200", "limits 9 to 12.5" or "at least 9". */
export function sayLimits({ min, max }: Range): string {
  if (min === undefined) return `limit ${sayPlain(max as number)}`;
  return max === undefined ? `at least ${sayPlain(min)}` : `limits ${sayPlain(min)} to ${sayPlain(max)}`;
}

function distanceTo(value: number, { min, max }: Range): number {
  const up = max === undefined ? Number.POSITIVE_INFINITY : max - value;
  const down = min === undefined ? Number.POSITIVE_INFINITY : value - min;
  return Math.min(up, down);
}
