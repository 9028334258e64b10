import { saturationCurve, saturationPpm } from "../../fluids/index.js";
import {
  compareWithRange,
  formatMeasured,
  type LimitRange,
  METALS,
  type Measured,
  maximumOf,
  type Precision,
  type Requirement,
  type Sample,
} from "../../samples/index.js";
import { formatPercent, inFourDigits } from "../../units/index.js";
import type { Assessed, Conformance, Finding, Outcome } from "../assessed.js";
import { conformanceOfResult } from "../confidence/result-conformance.js";
import { describeSettlement } from "../confidence/settle.js";
import { QUANTITIES, type Quantity } from "../quantities.js";
import { type Reason, reason } from "../reasons.js";
import { describeInWords } from "./said-otherwise.js";

/** One result with its limits. */
interface Limited {
  readonly quantity: Exclude<Quantity, "particles" | "class of the patch">;
  /** At the beginning of a message: "water", "the acid number". */
  readonly name: string;
  readonly unit: string;
  readonly measured: Measured | undefined;
  readonly limits: LimitRange;
  readonly precision: Precision | undefined;
}

/** Holds water, acid and whatever else the requirement limits against its limits. */
export function checkLimits(requirement: Requirement, sample: Sample): Finding[] {
  return limitedResults(requirement, sample).map((limited) => checkOne(limited, requirement, sample));
}

function limitedResults(requirement: Requirement, sample: Sample): Limited[] {
  const { confidence, viscosity40Mm2PerS, chlorinePpmMax, metalsPpmMax = {}, waterSaturation } = requirement;
  const ppm = "ppm by mass";
  const water = { unit: ppm, measured: sample.waterPpm, precision: confidence?.water };
  const [waterMax, acidMax] = [requirement.waterPpmMax, requirement.acidMgKohPerGMax].map(maximumOf);
  const limited: Limited[] = [];
  if (waterMax !== undefined) {
    limited.push({ ...water, quantity: "water", name: "water", limits: { max: waterMax } });
  }
  if (waterSaturation !== undefined) {
    limited.push({
      ...water,
      quantity: "water of saturation",
      name:
        `water at ${waterSaturation.lowestTemperatureC} °C, of which ${formatPercent(waterSaturation.shareMax)} of ` +
        "saturation is allowed,",
      limits: { max: saturationMaximum(requirement, waterSaturation) },
    });
  }
  if (acidMax !== undefined) {
    limited.push({
      quantity: "acid number",
      name: "the acid number",
      unit: "mg KOH/g",
      measured: sample.acidMgKohPerG,
      limits: { max: acidMax },
      precision: confidence?.acid,
    });
  }
  if (viscosity40Mm2PerS !== undefined) {
    limited.push({
      quantity: "viscosity at 40 °C",
      name: "the viscosity at 40 °C",
      unit: "mm²/s",
      measured: sample.viscosity40Mm2PerS,
      limits: viscosity40Mm2PerS,
      precision: confidence?.viscosity,
    });
  }
  if (chlorinePpmMax !== undefined) {
    limited.push({
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
    limited.push({
      quantity: metal,
      name: metal,
      unit: ppm,
      measured: sample.metalsPpm?.[metal],
      limits: { max },
      precision: confidence?.metals,
    });
  }
  return limited;
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

/** What circulating through a filter does about a quantity. */
const FILTERS = {
  water: "filters do not remove it",
  saturation: "filters do not remove it",
  acid: "filters do not remove it",
  chlorine: "filters do not remove it",
  viscosity: "filtering does not change it",
  metals: "filters do not remove what is dissolved",
} as const;

function checkOne(limited: Limited, requirement: Requirement, sample: Sample): Finding {
  const { quantity, name, unit, measured, limits } = limited;
  const { stem, result } = QUANTITIES[quantity];
  const base = { quantity, unit, limits };
  if (measured === undefined) {
    const code = stem === "saturation" ? "water-not-measured" : (`${stem}-not-measured` as const);
    const words = describeInWords(sample, result);
    const instead = words === undefined ? "" : ` as a number; the report says "${words}"`;
    return {
      reasons: [reason(code, `${name} was not measured${instead}`)],
      assessed: [{ ...base, outcome: "not-measured" }],
    };
  }
  const outcome = compareWithRange(measured, limits);
  const { conformance, assumptions } = conformanceOfResult(quantity, measured, limits, outcome, {
    confidence: requirement.confidence,
    precision: limited.precision,
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
    ? describeNotSure(limited, numbers, conformance)
    : describeOutcome(limited, outcome, numbers);
  return { reasons: [said], assessed: [assessed], assumptions };
}

function describeOutcome(
  { quantity, name }: Limited,
  outcome: Exclude<Outcome, "not-measured">,
  numbers: string,
): Reason {
  const { stem } = QUANTITIES[quantity];
  const words = {
    inside: `${name} is inside: ${numbers}`,
    outside: `${name} is outside: ${numbers}; ${FILTERS[stem]}`,
    "not-known": `${name} is not known well enough: ${numbers}`,
  }[outcome];
  return reason(`${stem}-${outcome}`, words);
}

function describeNotSure({ quantity, name }: Limited, numbers: string, conformance: Conformance): Reason {
  const settle =
    conformance.settlement === undefined ? "" : `; ${describeSettlement(conformance.settlement)}`;
  return reason(
    `${QUANTITIES[quantity].stem}-not-sure`,
    `${name} is measured inside, not sure enough: ${numbers}; the chance that it conforms is ` +
      `${formatPercent(conformance.probability)}, and ${formatPercent(conformance.required)} is required${settle}`,
  );
}

/** Says limits: "limit 200", "limits 9 to 12.5" or "at least 9". */
export function formatLimits({ min, max }: LimitRange): string {
  if (min === undefined) return `limit ${inFourDigits(max as number)}`;
  return max === undefined
    ? `at least ${inFourDigits(min)}`
    : `limits ${inFourDigits(min)} to ${inFourDigits(max)}`;
}

function distanceTo(value: number, { min, max }: LimitRange): number {
  const up = max === undefined ? Number.POSITIVE_INFINITY : max - value;
  const down = min === undefined ? Number.POSITIVE_INFINITY : value - min;
  return Math.min(up, down);
}
