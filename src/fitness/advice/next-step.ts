import {
  type CirculationPlan,
  describeFlowRegime,
  type ExchangePlan,
  formatCountFrom,
  LET_AIR_SETTLE,
  statedCirculation,
  type TimeToGoBy,
  WATCHED_FROM_C,
} from "../../circulation/index.js";
import { frozen } from "../../provenance/index.js";
import { type Circuit, circulates } from "../../samples/index.js";
import { formatOnGauge, inFourDigits, type ShownIn } from "../../units/index.js";
import type { Actor } from "../actors.js";
import type { Assessed, Conformance } from "../assessed.js";
import { describeSettlement } from "../confidence/settle.js";
import type { Reason, ReasonCode, VerdictName } from "../reasons.js";
import type { Outlook } from "../trends/outlook.js";
import { circulationLines } from "./circulate-lines.js";
import type { Exchange } from "./exchange-advice.js";
import { type SamplingStep, samplingSteps } from "./sampling-steps.js";

/** What to do now. */
export interface NextStep {
  readonly action: VerdictName;
  /** In order. */
  readonly steps: readonly SamplingStep[];
  /** Fluid to exchange for each quantity that is outside, whatever else blocks the circuit. */
  readonly exchange: readonly Exchange[];
}

/** What the advice is made from. */
interface Reported {
  readonly verdict: VerdictName;
  readonly reasons: readonly Reason[];
  readonly circulation?: CirculationPlan;
  readonly goBy?: TimeToGoBy;
  readonly assessed: readonly Assessed[];
  readonly together?: Conformance;
  readonly outlook?: Outlook;
}

/**
 * Says what to do now: circulate by the plan, exchange some litres, draw a sample and how, or stop.
 *
 * Every way back to "fit" ends with a sample.
 */
export function nextStepOf(reported: Reported, circuit: Circuit, exchange: readonly Exchange[]): NextStep {
  const { verdict, reasons } = reported;
  const required = reasons.filter(({ callsFor }) => callsFor === verdict);
  const because = {
    text: `why: ${required.map(({ message }) => message).join("; ")}`,
    source: "PRACTICE",
  } as const;
  const drawing = samplingSteps(circuit);
  const steps: Record<VerdictName, () => SamplingStep[]> = {
    fit: () => connect(reported),
    circulate: () => [...circulate(reported, circuit), VERIFY, ...countToo(reported), SETTLE_AIR, ...drawing],
    "exchange-fluid": () => [
      ...exchange.map((one) => ({ text: describeExchange(one), source: "FIRST-ORDER" as const })),
      circulates(circuit) ? EXCHANGE : EXCHANGE_WHAT_DELIVERS,
      ...stillDue(reported),
      VERIFY,
      ...countToo(reported),
      SETTLE_AIR,
      ...drawing,
    ],
    resample: () => [because, ...elsewhere(required), ...stillDue(reported), ...drawing, ...settle(reported)],
    "do-not-connect": () =>
      onlyTimeFails(reported)
        ? [...circulate(reported, circuit), SETTLE_FIRST, ...countToo(reported), SETTLE_AIR, ...drawing]
        : [because, isFormAlone(required) ? LOOK_AND_ENTER : STOP],
  };
  return { action: verdict, steps: steps[verdict](), exchange };
}

function connect({ outlook }: Reported): SamplingStep[] {
  const steps: SamplingStep[] = [
    {
      text: "connect only if the aircraft's manual and the people in charge say so; watch indicator and temperature",
      source: "PRACTICE",
    },
  ];
  if (outlook !== undefined) {
    steps.push({ text: `draw the next sample by ${outlook.nextSampleBy}`, source: "PRACTICE" });
  }
  return steps;
}

function circulate(reported: Reported, circuit: Circuit): SamplingStep[] {
  const [first, ...others] = circulationLines(reported, circuit);
  const through =
    reported.goBy?.kind === "minutes" ? `; through the ${circuit.element.position} element` : "";
  const flow = circulates(circuit) ? statedCirculation(circuit).flow : undefined;
  return [
    ...(first === undefined ? [] : [{ text: `${first}${through}`, source: "MASS-BALANCE" as const }]),
    ...others.map((text) => ({ text, source: "MASS-BALANCE" as const })),
    ...(first === undefined || reported.goBy?.kind !== "minutes" ? [] : [COUNT_WARM]),
    ...(flow === undefined || flow.kind === "flushes"
      ? []
      : [{ text: describeFlowRegime(flow, circuit.shownIn), source: "ISO-23309" as const }]),
    ...stillDue(reported),
  ];
}

/** The circulation that the requirement still asks for. */
function stillDue({ reasons }: Reported): SamplingStep[] {
  return reasons
    .filter(({ code }) => code === "not-circulated-since")
    .map(({ message }) => ({ text: message, source: "PRACTICE" }));
}

/** The sizes that the verifying sample has to show and the last one did not. */
function countToo({ reasons }: Reported): SamplingStep[] {
  return reasons
    .filter(({ code }) => code === "sizes-not-counted")
    .map(({ message }) => ({ text: message, source: "PRACTICE" }));
}

const COUNT_WARM: SamplingStep = frozen({
  text: `count the minutes from ${formatCountFrom(WATCHED_FROM_C)} on, where the clogging indicator can be trusted; stop at an indication and have the element changed`,
  source: "NAVEDTRA-14018-CIRCULATION",
});

const VERIFY: SamplingStep = frozen({
  text: "draw a verifying sample while the fluid is flowing; only the sample shows that it is clean",
  source: "PRACTICE",
});

const SETTLE_AIR: SamplingStep = frozen({ text: LET_AIR_SETTLE, source: "PRACTICE" });

/** Where no time is long enough, none is ordered, and no bottle to verify it. */
const SETTLE_FIRST: SamplingStep = frozen({
  text: "no minutes are ordered until that is settled; then draw a new sample while the fluid is flowing, and judge again",
  source: "PRACTICE",
});

const EXCHANGE: SamplingStep = frozen({
  text: "drain the hoses with the circuit, fill with fresh fluid from sealed cans only, and circulate",
  source: "PRACTICE",
});

const EXCHANGE_WHAT_DELIVERS: SamplingStep = frozen({
  text: "drain hose and element with the rest, fill with fresh fluid from sealed cans only, and pump what they hold into a clean can",
  source: "PRACTICE",
});

/** Where nobody at the cart can settle it, the bottle at hand comes before a new one. */
function elsewhere(required: readonly Reason[]): SamplingStep[] {
  if (waitsForARow(required)) return [CORRECT_FIRST];
  const actors = actorsOf(required);
  if (actors.includes("crew")) return [];
  const who = actors.map((actor) => `the ${actor}`).join(" and ");
  const text = `nothing is to be done at the cart: ${who} can settle it with the bottle and the report at hand; only if that fails, draw a new sample`;
  return [{ text, source: "PRACTICE" }];
}

/** Whether a row in quarantine may be the result that is missing, and nothing else is open. */
export function waitsForARow(required: readonly Reason[]): boolean {
  const codes = required.map(({ code }) => code);
  return (
    codes.includes("result-in-quarantine") &&
    codes.every((code) => code === "result-in-quarantine" || SHOWN_BY_ANOTHER.includes(code))
  );
}

/** Who can settle what a verdict calls for: a row that may be the missing result comes before a new bottle. */
export function actorsOf(required: readonly Reason[]): Actor[] {
  const open = waitsForARow(required)
    ? required.filter(({ code }) => code === "result-in-quarantine")
    : required;
  return [...new Set(open.map(({ actor = "crew" }) => actor))];
}

/** What a result answers that waits in quarantine. */
const SHOWN_BY_ANOTHER: readonly ReasonCode[] = [
  "no-sample",
  "no-evidence",
  "sample-too-old",
  "drawn-before-event",
  "topped-up-beyond-share",
  "top-up-not-entered",
  "trend-past-limit",
  "sample-overdue-by-trend",
];

const CORRECT_FIRST: SamplingStep = frozen({
  text: "have the row in quarantine corrected first: it may be the result that is missing; only if that fails, draw a new sample",
  source: "PRACTICE",
});

/** Whether nothing else stops the circuit than that no time of circulating is known to be long enough. */
export function onlyTimeFails({
  verdict,
  reasons,
  goBy,
}: Pick<Reported, "verdict" | "reasons" | "goBy">): boolean {
  return (
    goBy?.kind === "no-time" &&
    reasons.every(({ code, callsFor }) => callsFor !== verdict || code === "particles-out-of-reach")
  );
}

/** Whether nothing is wrong but that the state of the cart was not entered, or long ago: that has no cause to be found. */
export function isFormAlone(required: readonly Reason[]): boolean {
  return required.every(({ code }) => NOT_ENTERED.includes(code));
}

const NOT_ENTERED: readonly ReasonCode[] = ["cart-state-not-entered", "cart-state-too-old"];

const LOOK_AND_ENTER: SamplingStep = frozen({
  text: "do not connect until a technician has looked at indicator, level, temperature and seals and entered what was found",
  source: "PRACTICE",
});

const STOP: SamplingStep = frozen({
  text: "do not connect; mark the cart, find the cause, and leave the decision to licensed staff",
  source: "PRACTICE",
});

/** How much fluid to exchange, in one line for each quantity; empty unless that is what to do now. */
export function exchangeLines({ action, exchange }: Pick<NextStep, "action" | "exchange">): string[] {
  return action === "exchange-fluid" ? exchange.map(describeExchange) : [];
}

function describeExchange({ quantity, plan, aim, fresh, lastsDays, shownIn }: Exchange): string {
  const lasts =
    lastsDays === undefined || plan.repeated.kind === "out-of-reach"
      ? ""
      : `; by its trend that lasts about ${lastsDays} days`;
  return `to bring ${quantity} to ${inFourDigits(aim)} with fresh fluid at ${inFourDigits(fresh)}: ${describePlan(plan, shownIn)}${lasts}`;
}

/** The shortest way of the exchange that takes most, which serves the other quantities too; undefined where one has none. */
export function largestExchange(exchanges: readonly Exchange[]): string | undefined {
  const [largest] = [...exchanges].sort(
    (one, other) => shortestLitres(other.plan) - shortestLitres(one.plan),
  );
  return largest && waysOf(largest.plan, largest.shownIn)[0];
}

function shortestLitres({ once, repeated }: ExchangePlan): number {
  if (once.kind === "litres") return once.litres;
  return repeated.kind === "litres" ? repeated.litres : Number.POSITIVE_INFINITY;
}

function describePlan(plan: ExchangePlan, shownIn: ShownIn | undefined): string {
  return plan.repeated.kind === "out-of-reach" ? plan.repeated.why : waysOf(plan, shownIn).join(", or ");
}

function waysOf({ once, repeated, feedAndBleed }: ExchangePlan, shownIn: ShownIn | undefined): string[] {
  // Rounded up: less than needed does not get there.
  const formatLitres = (litres: number) => formatOnGauge("volume", litres, "up", shownIn);
  const ways = [
    once.kind === "litres" ? `one drain of ${formatLitres(once.litres)}` : undefined,
    once.kind !== "litres" && repeated.kind === "litres"
      ? `${repeated.times} drains of ${formatLitres(repeated.litres / (repeated.times ?? 1))}`
      : undefined,
    feedAndBleed.kind === "litres"
      ? `${formatLitres(feedAndBleed.litres)} fed in while as much runs out`
      : undefined,
  ];
  return ways.filter((way) => way !== undefined);
}

function settle({ assessed }: Reported): SamplingStep[] {
  return assessed.flatMap(({ quantity, conformance }) =>
    conformance?.settlement === undefined
      ? []
      : [{ text: `${quantity}: ${describeSettlement(conformance.settlement)}`, source: "JCGM-106" as const }],
  );
}
