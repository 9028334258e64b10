import { checkNumbers } from "../numeric/index.js";
import {
  type Circuit,
  EVENT_KINDS,
  limitSchema,
  type Measured,
  maximumOf,
  type Requirement,
  type Sample,
} from "../samples/index.js";
import { isDay } from "./days.js";

/**
 * Refuses what a case cannot hold and a caller without a compiler may give; files are checked when they are read.
 *
 * @throws RangeError naming the field, its range and the value
 */
export function checkCase({
  circuit,
  requirement,
  samples,
}: {
  readonly circuit: Circuit;
  readonly requirement?: Requirement;
  readonly samples: readonly Sample[];
}): void {
  checkCircuit(circuit);
  if (requirement !== undefined) checkRequirement(requirement);
  for (const sample of samples) checkSample(sample);
}

/** See {@link checkCase}. */
export function checkCircuit({ volumeL, flowLpm, element, events }: Circuit): void {
  checkNumbers("positive", { volumeL, flowLpm });
  for (const { sizeUmC, beta } of element?.betas ?? []) checkNumbers("positive", { sizeUmC, beta });
  for (const { on, kind } of events) {
    checkDays({ "events.on": on });
    checkOneOf({ "events.kind": kind }, EVENT_KINDS);
  }
}

function checkSample({ drawnOn, counts, metalsPpm, ...sample }: Sample): void {
  checkDays({ drawnOn });
  for (const name of MEASURED) checkMeasured(name, sample[name]);
  for (const [name, measured] of Object.entries(metalsPpm ?? {})) checkMeasured(name, measured);
  if (counts === undefined) return;
  checkOneOf({ "counts.scale": counts.scale }, SCALES);
  checkOneOf({ "counts.form": counts.form }, FORMS);
}

const MEASURED = [
  "waterPpm",
  "acidMgKohPerG",
  "viscosity40Mm2PerS",
  "density15KgPerM3",
  "chlorinePpm",
] as const satisfies readonly (keyof Sample)[];
const SCALES = ["um(c)"];
const FORMS = ["cumulative"];

/** A value that is not a number is out of limits, so only another kind and what is below zero are refused. */
function checkMeasured(name: string, measured: Measured | undefined): void {
  if (measured === undefined) return;
  const { value, limit } = measured ?? {};
  if (typeof value !== "number" || value < 0)
    throw new RangeError(`${name} must hold a value of 0 or more, not ${JSON.stringify(measured)}`);
  if (limit !== undefined) checkOneOf({ [`${name}.limit`]: limit }, limitSchema.options);
}

/** See {@link checkCase}. */
function checkRequirement({ waterPpmMax, acidMgKohPerGMax, ...others }: Requirement): void {
  const { sampleAgeDaysMax, topUpShareMax, counterInLine } = others;
  checkNumbers("positive", {
    waterPpmMax: waterPpmMax && maximumOf(waterPpmMax),
    acidMgKohPerGMax: acidMgKohPerGMax && maximumOf(acidMgKohPerGMax),
    sampleAgeDaysMax,
  });
  checkNumbers("share", { topUpShareMax });
  if (counterInLine === undefined) return;
  const { repeatability, bias, minutesMin, ageDaysMax } = counterInLine;
  checkNumbers("share", { repeatability, bias });
  checkNumbers("positive", { minutesMin, ageDaysMax });
}

/**
 * Refuses a requirement that leaves out what a verdict cannot do without: a limit that is forgotten would let anything pass.
 *
 * @throws RangeError naming the field
 */
export function checkIsLimited({ cleanliness, patchTest, ...limits }: Requirement): void {
  const { waterPpmMax, acidMgKohPerGMax, sampleAgeDaysMax } = limits;
  for (const [name, limit] of Object.entries({ waterPpmMax, acidMgKohPerGMax, sampleAgeDaysMax }))
    if (limit === undefined) throw new RangeError(`${name} is missing; what is not limited has to say so`);
  if (cleanliness.length === 0 && patchTest === undefined)
    throw new RangeError("cleanliness must name a target where no patchTest limits the particles");
}

/** Refuses what is no calendar day. */
export function checkDays(days: Readonly<Record<string, unknown>>): void {
  for (const name in days)
    if (!isDay(days[name]))
      throw new RangeError(
        `${name} must be a calendar day such as 2026-03-14, not ${JSON.stringify(days[name])}`,
      );
}

function checkOneOf(values: Readonly<Record<string, unknown>>, known: readonly unknown[]): void {
  for (const name in values)
    if (!known.includes(values[name]))
      throw new RangeError(`${name} must be ${known.join(", ")}, not ${JSON.stringify(values[name])}`);
}
