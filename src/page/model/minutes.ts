import { type CirculationPlan, describeGoBy, type TimeToGoBy } from "../../circulation/index.js";
import { type CircuitCase, judgeCase, type Verdict } from "../../fitness/index.js";
import type { Circuit } from "../../samples/index.js";
import { type Reading, read, readAll, readQuantity } from "./reading.js";
import { type BetaFields, readBetas } from "./typed-cart.js";
import { readTarget, type TypedSample, withSample } from "./typed-sample.js";

/** What a person changes to see other minutes; an empty target is that of the requirement. */
export interface CirculationFields {
  readonly volume: string;
  readonly flow: string;
  readonly betas: BetaFields;
  readonly target: string;
}

/** The fields as the carts file fills them in. */
export function circulationFieldsOf({ volumeL, flowLpm, element }: Circuit): CirculationFields {
  return {
    volume: `${volumeL} L`,
    flow: flowLpm === undefined ? "" : `${flowLpm} L/min`,
    betas: Object.fromEntries(element.betas.map(({ sizeUmC, beta }) => [sizeUmC, String(beta)])),
    target: "",
  };
}

/** How long to circulate, or why no minutes are given. */
export type MinutesToGoBy =
  | {
      readonly kind: "minutes";
      readonly goBy: Extract<TimeToGoBy, { readonly kind: "minutes" }>;
      readonly plan: CirculationPlan;
      /** What circulating does not put right. */
      readonly besides: readonly string[];
    }
  | { readonly kind: "none"; readonly why: string };

/** Puts what a person changed into what a verdict rests on. */
export function readChanges(fields: CirculationFields, input: CircuitCase): Reading<CircuitCase> {
  const reading = readAll({
    volumeL: readQuantity("Volume", fields.volume, "volume"),
    flowLpm: readQuantity("Flow", fields.flow, "flow"),
    betas: readBetas(fields.betas),
    target: fields.target.trim() === "" ? read(undefined) : readTarget(fields.target),
  });
  if (reading.kind === "refused") return reading;
  const { volumeL, flowLpm, betas, target } = reading.value;
  const { circuit, requirement } = input;
  return {
    ...reading,
    value: {
      ...input,
      circuit: { ...circuit, volumeL, flowLpm, element: { ...circuit.element, betas } },
      ...(requirement && {
        requirement: target === undefined ? requirement : { ...requirement, cleanliness: [target] },
      }),
    },
  };
}

/** A case with a typed bottle as the start of a circulation; a code counts at its upper end. */
export function withStart(input: CircuitCase, typed: TypedSample | undefined): CircuitCase {
  if (typed === undefined) return input;
  const { sample, start } = typed;
  if (sample.counts !== undefined || start === undefined) return withSample(input, sample);
  const { reportedClasses: _code, ...rest } = sample;
  return withSample(input, { ...rest, counts: start.counts });
}

/**
 * The minutes to go by: those of the verdict on the case, so that page, command line and report give the same ones.
 *
 * @param input - the circuit, with what a person changed and the bottle that the circulation starts from
 */
export function minutesToGoBy(input: CircuitCase): MinutesToGoBy {
  const { verdict } = judgeCase(input);
  const { goBy, circulation, requirement } = { ...verdict, requirement: input.requirement };
  if (requirement === undefined)
    return none("no requirement is known for this circuit, so there is no target");
  if (goBy?.kind === "minutes" && circulation !== undefined) {
    return { kind: "minutes", goBy, plan: circulation, besides: notPutRight(verdict) };
  }
  if (goBy !== undefined) return none(describeGoBy(goBy));
  if (circulation?.reachable === false) return none(`circulating cannot get there: ${circulation.obstacle}`);
  const particles = verdict.assessed.find(({ quantity }) => quantity === "particles");
  if (particles?.outcome === "inside") return none("the counts are within the target already");
  const impossible = verdict.reasons.find(({ code }) => code === "cannot-be-judged");
  if (impossible !== undefined) return none(impossible.message);
  return none(
    verdict.classification === undefined
      ? "there are no counts to start from; type those of a new sample"
      : "no count is outside the target, and not every size that it limits was counted",
  );
}

function none(why: string): MinutesToGoBy {
  return { kind: "none", why };
}

function notPutRight({ reasons }: Verdict): string[] {
  return reasons
    .filter(({ callsFor }) => callsFor !== "fit" && callsFor !== "circulate")
    .map(({ message }) => message);
}
