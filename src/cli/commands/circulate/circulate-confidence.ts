import {
  type CirculationQuestion,
  TYPICAL_UNCERTAINTY,
  type Uncertainty,
} from "../../../circulation/index.js";
import { acceptedCounts } from "../../../cleanliness/index.js";
import { readFraction, readQuantityOption, readSettings } from "../../arguments.js";
import { UsageError } from "../../io.js";
import type { CirculateOptions } from "./asked.js";

const UNCERTAIN = [
  "volume",
  "flow",
  "beta",
  "ingress",
  "slow-zone",
  "hoses",
  "leakage",
  "lab",
  "counted",
] as const;

/** Reads what is stated of the uncertainties and the confidence. */
export function readConfidence(options: CirculateOptions): NonNullable<CirculationQuestion["confidence"]> {
  const { confidence, uncertainty, seed, draws } = options;
  return {
    ...(confidence !== undefined && { confidence: readProbability("--confidence", confidence) }),
    ...(uncertainty !== undefined && { uncertainty: readUncertainty(uncertainty, options) }),
    ...(seed !== undefined && { seed: readWhole("--seed", seed) }),
    ...(draws !== undefined && { draws: readWhole("--draws", draws) }),
  };
}

/** Where the judge accepts a bottle, where a confidence is required of it. */
export function acceptanceOf(
  limits: CirculationQuestion["circuit"]["limits"],
  { confidence, uncertainty }: NonNullable<CirculationQuestion["confidence"]>,
): CirculationQuestion["acceptance"] {
  if (confidence === undefined) return undefined;
  return acceptedCounts(limits, {
    probability: confidence,
    countedMl: uncertainty?.countedMl ?? TYPICAL_UNCERTAINTY.countedMl,
    ...(uncertainty?.laboratory !== undefined && {
      reproducibility: { kind: "relative", rsd: uncertainty.laboratory },
    }),
  });
}

function readProbability(option: string, text: string): number {
  const probability = readFraction(option, text);
  if (probability > 0 && probability < 1) return probability;
  throw new UsageError(
    `${option}: expected above 0 and below 100 %, such as "95 %" or "0.95", found "${text}"`,
  );
}

function readUncertainty(text: string, options: CirculateOptions): Uncertainty {
  const option = "--uncertainty";
  const settings = readSettings(option, text, UNCERTAIN);
  const counted = settings.counted ?? options.counted;
  const fraction = (name: (typeof UNCERTAIN)[number]) =>
    settings[name] === undefined ? undefined : readFraction(option, settings[name]);
  const [volume, flow, beta, ingress] = (["volume", "flow", "beta", "ingress"] as const).map(fraction);
  const [slowZone, laboratory] = (["slow-zone", "lab"] as const).map(fraction);
  const [hoses, leakage] = (["hoses", "leakage"] as const).map(fraction);
  return {
    ...(volume !== undefined && { volume }),
    ...(flow !== undefined && { flow }),
    ...(beta !== undefined && { beta }),
    ...(ingress !== undefined && { ingress }),
    ...(slowZone !== undefined && { slowZone }),
    ...(hoses !== undefined && { hoses }),
    ...(leakage !== undefined && { leakage }),
    ...(laboratory !== undefined && { laboratory }),
    ...(counted !== undefined && {
      countedMl: 1000 * readQuantityOption(option, counted, "volume").value,
    }),
  };
}

function readWhole(option: string, text: string): number {
  if (!/^\d{1,15}$/.test(text.trim())) {
    throw new UsageError(`${option}: expected a whole number of at most 15 figures, found "${text}"`);
  }
  return Number(text);
}
