import { type CirculationPlan, type ExchangePlan, sayMinutes } from "../../circulation/index.js";
import type { Assessed, Sureness } from "../assessed.js";
import { saySettlement } from "../confidence/settle.js";
import type { Reason, VerdictName } from "../reasons.js";
import { sayPlain } from "../text.js";
import type { Outlook } from "../trends/outlook.js";
import type { Exchange } from "./exchange-advice.js";
import { SAMPLING_STEPS, type Step } from "./sampling-steps.js";

/** What to do now. */
export interface NextStep {
  readonly action: VerdictName;
  /** In order. */
  readonly steps: readonly Step[];
  /** Fluid to exchange for each quantity that is outside, whatever else stands in the way. */
  readonly exchange: readonly Exchange[];
}

/** What the advice is made from. */
interface Told {
  readonly verdict: VerdictName;
  readonly reasons: readonly Reason[];
  readonly circulation?: CirculationPlan;
  readonly assessed: readonly Assessed[];
  readonly together?: Sureness;
  readonly outlook?: Outlook;
}

/**
 * Says what to do now: circulate by the plan, exchange so many litres, draw a sample and how, or stop.
 *
 * Every way back to "fit" ends with a sample.
 */
export function nextStepOf(told: Told, element: string, exchange: readonly Exchange[]): NextStep {
  const { verdict, reasons } = told;
  const deciding = reasons.filter(({ callsFor }) => callsFor === verdict).map(({ message }) => message);
  const because = { text: `why: ${deciding.join("; ")}`, source: "PRACTICE" } as const;
  const steps: Record<VerdictName, () => Step[]> = {
    fit: () => connect(told),
    circulate: () => [...circulate(told, element), VERIFY, ...countToo(told), ...SAMPLING_STEPS],
    "exchange-fluid": () => [
      ...exchange.map(sayExchange),
      EXCHANGE,
      VERIFY,
      ...countToo(told),
      ...SAMPLING_STEPS,
    ],
    resample: () => [because, ...SAMPLING_STEPS, ...settle(told)],
    "do-not-connect": () => [because, STOP],
  };
  return { action: verdict, steps: steps[verdict](), exchange };
}

function connect({ outlook }: Told): Step[] {
  const steps: Step[] = [
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

function circulate({ circulation, reasons }: Told, element: string): Step[] {
  const since = reasons.filter(({ code }) => code === "not-circulated-since");
  const steps: Step[] = since.map(({ message }) => ({ text: message, source: "PRACTICE" }));
  if (circulation?.reachable === true) {
    steps.unshift({
      text:
        `self-circulate ${circulation.passes.toFixed(1)} passes, ${sayMinutes(circulation.minutes)}, through the ` +
        `${element} element; channel ${circulation.governing} decides`,
      source: "MASS-BALANCE",
    });
  }
  return steps;
}

/** The sizes that the verifying sample has to show and the last one did not. */
function countToo({ reasons }: Told): Step[] {
  return reasons
    .filter(({ code }) => code === "sizes-not-counted")
    .map(({ message }) => ({ text: message, source: "PRACTICE" }));
}

const VERIFY: Step = {
  text: "draw a verifying sample while the fluid is flowing; only the sample shows that it is clean",
  source: "PRACTICE",
};

const EXCHANGE: Step = {
  text: "drain the hoses with the circuit, fill with fresh fluid from sealed cans only, and circulate",
  source: "PRACTICE",
};

const STOP: Step = {
  text: "do not connect; mark the cart, find the cause, and leave the decision to licensed staff",
  source: "PRACTICE",
};

function sayExchange({ quantity, plan, aim, fresh }: Exchange): Step {
  return {
    text: `to bring ${quantity} to ${sayPlain(aim)} with fresh fluid at ${sayPlain(fresh)}: ${sayPlan(plan)}`,
    source: "FIRST-ORDER",
  };
}

function sayPlan({ once, repeated, feedAndBleed }: ExchangePlan): string {
  if (repeated.kind === "out-of-reach") return repeated.why;
  const ways = [
    once.kind === "litres" ? `one drain of ${sayLitres(once.litres)}` : undefined,
    once.kind === "litres"
      ? undefined
      : `${repeated.times} drains of ${sayLitres(repeated.litres / (repeated.times ?? 1))}`,
    feedAndBleed.kind === "litres"
      ? `${sayLitres(feedAndBleed.litres)} fed in while as much runs out`
      : undefined,
  ];
  return ways.filter((way) => way !== undefined).join(", or ");
}

/** Litres are rounded up: less than needed does not get there. */
function sayLitres(litres: number): string {
  return `${Math.ceil(Number(litres.toPrecision(12)))} L`;
}

function settle({ assessed }: Told): Step[] {
  return assessed.flatMap(({ quantity, sureness }) =>
    sureness?.settlement === undefined
      ? []
      : [{ text: `${quantity}: ${saySettlement(sureness.settlement)}`, source: "JCGM-106" as const }],
  );
}
