import { checkNumbers } from "../../numeric/index.js";
import type { CirculationInput } from "../model/circuit.js";
import { type Need, smallestEnough } from "../plan/needs.js";
import { planCirculation } from "../plan/plan.js";
import { withCustomaryValues } from "./customary.js";
import { type GoByInput, type InsteadOfTime, timeToGoBy } from "./time-to-go-by.js";

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
export function remediesFor(input: Omit<GoByInput, "plan">, withinMinutes = waitFor(input)): Remedies {
  checkNumbers("positive", { withinMinutes });
  const { circuit } = input;
  const fromUmC = smallestSize(circuit);
  const remedy = (low: number, high: number, changed: (value: number) => Partial<CirculationInput>) => {
    const minutesWith = (value: number) => minutesIfChanged(input, changed(value));
    const need = smallestEnough(
      low,
      high,
      (value) => minutesWith(value) <= withinMinutes,
      (below, above) => above / below < NEAR,
    );
    return { need, minutesWith };
  };
  return {
    withinMinutes,
    fromUmC,
    beta: found(
      remedy(1, MAX_BETA, (beta) => ratedAt(circuit, beta)),
      twoDigitsUp,
    ),
    flowLpm: found(
      remedy(circuit.flowLpm, MAX_TIMES * circuit.flowLpm, (flowLpm) => ({ flowLpm })),
      twoDigitsUp,
    ),
    ingressFraction: found(
      remedy(1, MAX_TIMES, (times) => ingressTimes(circuit, 1 / times)),
      (times) => twoDigitsDown(1 / times),
      (fraction) => 1 / fraction,
    ),
  };
}

/**
 * What to do first where no time of circulating is long enough: the first of a finer element and an end of the ingress that alone
 * gives a time a crew can wait for, and else fresh fluid.
 *
 * @param input - see {@link remediesFor}
 */
export function insteadOfTime(input: Unplanned): InsteadOfTime {
  const isEnough = (changed: Partial<CirculationInput>) => minutesIfChanged(input, changed) <= waitFor(input);
  if (isEnough(ratedAt(input.circuit, MAX_BETA))) return "finer-element";
  return isEnough(ingressTimes(input.circuit, 0)) ? "less-ingress" : "fresh-fluid";
}

/** Says it as a thing to do. */
export function describeInstead(instead: InsteadOfTime): string {
  return {
    "finer-element": "fit a finer element",
    "less-ingress": "find and stop what lets dirt in",
    "fresh-fluid": "exchange the fluid",
  }[instead];
}

type Unplanned = Omit<GoByInput, "plan">;

function waitFor({ circuit, dueMin = 0 }: Unplanned): number {
  return Math.max(WAIT_MIN, (WAIT_PASSES * circuit.volumeL) / circuit.flowLpm, dueMin);
}

function minutesIfChanged(input: Unplanned, changed: Partial<CirculationInput>): number {
  const circuit = { ...input.circuit, ...changed };
  // What was run under other conditions does not shorten the time under these.
  const { goBy } = timeToGoBy({ ...input, circuit, plan: planCirculation(circuit), done: { minutes: 0 } });
  return goBy.kind === "minutes" ? goBy.minutes : Number.POSITIVE_INFINITY;
}

function smallestSize({ limits }: CirculationInput): number {
  return Math.min(...limits.map((limit) => limit.fromUm));
}

/** Every element of the main stream with one β from the smallest limited size up. */
function ratedAt(circuit: CirculationInput, beta: number): Partial<CirculationInput> {
  const betas = [{ sizeUmC: smallestSize(circuit), beta }];
  const inSeries = circuit.inSeries?.map((element) => ({ ...element, betas }));
  return { betas, ...(inSeries && { inSeries }) };
}

function ingressTimes(circuit: CirculationInput, factor: number): Partial<CirculationInput> {
  const ingress = withCustomaryValues(circuit).input.ingress ?? [];
  return {
    ingress: ingress.map((entry) => ({ ...entry, particlesPerMin: entry.particlesPerMin * factor })),
  };
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
