import { checkNumbers } from "../../numeric/index.js";
import type { Ingress } from "../../samples/index.js";
import { type Need, smallestEnough } from "../plan/needs.js";
import { planCirculation } from "../plan/plan.js";
import { withCustomaryValues } from "./customary.js";
import { type GoByInput, timeToGoBy } from "./time-to-go-by.js";

/** A value with which there is a time to go by, and that time; or that no value is enough. */
export type Remedy =
  | { readonly kind: "enough"; readonly value: number; readonly minutes: number }
  | { readonly kind: "never-enough" };

/** What would give a time to go by that a crew can wait for, each alone and everything else as it is. */
export interface Remedies {
  /** The longest time that counts as one to wait for. */
  readonly withinMinutes: number;
  /** β of every element of the main stream from `fromUmC` up. */
  readonly beta: Remedy;
  /** The smallest size that a limit is set at. */
  readonly fromUmC: number;
  /** Flow of the main stream in L/min. */
  readonly flowLpm: Remedy;
  /** Ingress at every size as a fraction of what was stated, or of the customary one. */
  readonly ingressFraction: Remedy;
}

/** A crew waits for an hour, or for ten passes where those take longer. Common practice, no source. */
const WAIT_MIN = 60;
const WAIT_PASSES = 10;

/** The most that is tried: an element that lets nothing pass, and flow or dirt a thousand times as much. */
const MAX_BETA = 1e6;
const MAX_TIMES = 1000;

/** Nobody reads more than two digits; the search is a little finer. */
const NEAR = 1.005;

/**
 * Solves for the β, the flow or the ingress with which there is a time to go by of acceptable length: not for the edge, at
 * which the time has no end, but for what is enough. Values are rounded to two digits on the side that is enough.
 *
 * @param input - see {@link timeToGoBy}; its plan is not looked at
 * @param withinMinutes - how long a crew waits; when absent an hour, or ten passes or the minutes due where those take longer
 * @source PRACTICE
 */
export function remediesFor(
  input: Omit<GoByInput, "plan">,
  withinMinutes = Math.max(
    WAIT_MIN,
    (WAIT_PASSES * input.circuit.volumeL) / input.circuit.flowLpm,
    input.dueMin ?? 0,
  ),
): Remedies {
  checkNumbers("positive", { withinMinutes });
  const { circuit } = input;
  const fromUmC = Math.min(...circuit.limits.map((limit) => limit.fromUm));
  const ingress = withCustomaryValues(circuit).input.ingress ?? [];
  const remedy = (low: number, high: number, changed: (value: number) => Partial<GoByInput["circuit"]>) => {
    const minutesWith = (value: number) => {
      const tried = { ...circuit, ...changed(value) };
      const { goBy } = timeToGoBy({ ...input, circuit: tried, plan: planCirculation(tried) });
      return goBy.kind === "minutes" ? goBy.minutes : Number.POSITIVE_INFINITY;
    };
    const need = smallestEnough(
      low,
      high,
      (value) => minutesWith(value) <= withinMinutes,
      (below, above) => above / below < NEAR,
    );
    return { need, minutesWith };
  };
  const rated = (beta: number) => ({ betas: [{ sizeUmC: fromUmC, beta }] });
  return {
    withinMinutes,
    fromUmC,
    beta: found(
      remedy(1, MAX_BETA, (beta) => ({
        ...rated(beta),
        ...(circuit.inSeries && {
          inSeries: circuit.inSeries.map((element) => ({ ...element, ...rated(beta) })),
        }),
      })),
      twoDigitsUp,
    ),
    flowLpm: found(
      remedy(circuit.flowLpm, MAX_TIMES * circuit.flowLpm, (flowLpm) => ({ flowLpm })),
      twoDigitsUp,
    ),
    ingressFraction: found(
      remedy(1, MAX_TIMES, (times) => ({ ingress: scaled(ingress, 1 / times) })),
      (times) => twoDigitsDown(1 / times),
      (fraction) => 1 / fraction,
    ),
  };
}

function scaled(ingress: readonly Ingress[], factor: number): Ingress[] {
  return ingress.map((entry) => ({ ...entry, particlesPerMin: entry.particlesPerMin * factor }));
}

/** What was found, as it is shown, with the minutes of just that value. */
function found(
  { need, minutesWith }: { readonly need: Need; readonly minutesWith: (value: number) => number },
  shown: (value: number) => number,
  triedOf = (value: number) => value,
): Remedy {
  if (need.kind === "never-enough") return need;
  const value = shown(need.value);
  return { kind: "enough", value, minutes: minutesWith(triedOf(value)) };
}

function twoDigitsUp(value: number): number {
  const near = Number(value.toPrecision(2));
  return near >= value ? near : Number((near + 10 ** (Math.floor(Math.log10(value)) - 1)).toPrecision(2));
}

function twoDigitsDown(value: number): number {
  const near = Number(value.toPrecision(2));
  return near <= value ? near : Number((near - 10 ** (Math.floor(Math.log10(value)) - 1)).toPrecision(2));
}
