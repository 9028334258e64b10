import type { CirculationPlan, TimeToGoBy } from "../../circulation/index.js";
import {
  type CircuitCase,
  eventsAsRun,
  judgeCase,
  notPutRight,
  whyNoCirculation,
} from "../../fitness/index.js";
import type { Circuit } from "../../samples/index.js";
import { inShownUnit, type ShownIn } from "../../units/index.js";
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
export function circulationFieldsOf({ volumeL, flowLpm, element, shownIn }: Circuit): CirculationFields {
  return {
    volume: asTyped("volume", volumeL, shownIn),
    flow: flowLpm === undefined ? "" : asTyped("flow", flowLpm, shownIn),
    betas: Object.fromEntries(element.betas.map(({ sizeUmC, beta }) => [sizeUmC, String(beta)])),
    target: "",
  };
}

/** A quantity with all of its digits, as a person would type it. */
function asTyped(kind: "volume" | "flow", value: number, shownIn: ShownIn | undefined): string {
  const shown = inShownUnit(kind, value, shownIn);
  return `${Number(shown.value.toPrecision(12))} ${shown.unit}`;
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
      circuit: {
        ...{ ...circuit, volumeL, flowLpm, element: { ...circuit.element, betas } },
        events: eventsAsRun(circuit, { betas }),
      },
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
  const { goBy, circulation } = verdict;
  if (input.requirement !== undefined && goBy?.kind === "minutes" && circulation !== undefined) {
    return { kind: "minutes", goBy, plan: circulation, besides: notPutRight(verdict) };
  }
  return { kind: "none", why: whyNoCirculation(verdict, input.requirement) };
}
