import {
  type BracketEnd,
  type HowSure,
  type InterimAssessment,
  type Interval,
  type Need,
  sayMinutes,
} from "../../../circulation/index.js";
import { type Classification, formatIso4406 } from "../../../cleanliness/index.js";
import { CART_CAUTIONS } from "../../../provenance/index.js";
import { sayShare } from "../../../units/index.js";
import { drawTable, sayAssumptions, sayCautions, sayNumber } from "../../text.js";
import type { CirculationAnswer } from "./circulate-answer.js";

/** The answer of `circulate` as text that can be taken to the cart. */
export function sayCirculation(answer: CirculationAnswer): string {
  return [
    sayAnswer(answer),
    sayChannels(answer),
    sayBounds(answer),
    answer.sure === undefined ? "" : saySure(answer.sure),
    answer.interim === undefined ? "" : sayInterim(answer.interim),
    sayWhatIf(answer),
    sayElement(answer),
    saySteps(answer),
    sayAssumptions(answer.assumptions),
    sayCautions(CART_CAUTIONS),
  ].join("");
}

function sayAnswer({ plan, quoted, asked }: CirculationAnswer): string {
  const stated = plan.reachable
    ? `Circulate ${sayNumber(plan.passes)} passes, ${sayMinutes(plan.minutes)}. Channel ${plan.governing} decides.\n`
    : `Circulating cannot get there: ${plan.obstacle}.\n`;
  const leaves =
    plan.reachable && plan.leavesAfterMinutes !== undefined
      ? `Stop before ${sayNumber(plan.leavesAfterMinutes)} minutes: ingress then lifts a channel above its limit again.\n`
      : "";
  if (asked === undefined) return stated + leaves;
  const sure =
    quoted?.confidence === undefined
      ? `There is no time at which ${sayShare(asked.confidence)} of the cases are at the target.\n`
      : `To be ${sayShare(quoted.confidence)} sure: ${sayMinutes(quoted.minutes)} (${sayNumber(quoted.passes)} passes). Go by this time; the one above takes every stated value as exact.\n`;
  return stated + sure + leaves;
}

function sayChannels({ plan }: CirculationAnswer): string {
  const rows = plan.channels.map(({ channel, start, limit, floor, outcome }) => [
    channel,
    sayNumber(start),
    sayNumber(limit),
    floor === undefined ? "rises" : sayNumber(floor),
    outcome.kind === "reached" ? sayNumber(outcome.passes) : "never",
    outcome.kind === "reached" ? sayNumber(outcome.minutes) : "never",
  ]);
  return drawTable(["channel", "start per mL", "limit per mL", "floor per mL", "passes", "minutes"], rows);
}

function sayBounds({ bracket, rules, floor, rebound, plan }: CirculationAnswer): string {
  const ends = [
    `without any mixing ${sayEnd(bracket.plug)}`,
    `well mixed ${sayEnd(bracket.wellMixed)}`,
    ...(bracket.twoZone === undefined ? [] : [`with the slow zone ${sayEnd(bracket.twoZone)}`]),
  ];
  const settles =
    floor.kind === "rises"
      ? `The level rises without end above ${floor.sizesUmC.join(", ")} µm(c).`
      : floor.counts.counts.every((entry) => entry.count === 0)
        ? "with nothing coming in, every channel falls towards nothing."
        : `Circulating for ever would end at ${sayClasses(floor.classes)}.`;
  return [
    `\nMixing: ${ends.join("; ")}. The plan goes by ${plan.mixing.kind}.\n`,
    ...rules.map((rule) => `Rule of thumb: ${rule.meaning}\n`),
    `Floor: ${settles}\n`,
    ...(rebound === undefined
      ? []
      : [
          `Rebound after stopping: ${rebound.map((entry) => `channel ${entry.channel} from ${sayNumber(entry.port)} at the port to ${sayNumber(entry.circuit)} per mL`).join("; ")}.\n`,
        ]),
  ].join("");
}

function sayEnd(end: BracketEnd): string {
  return end.kind === "reached" ? `${sayNumber(end.minutes)} minutes` : "never";
}

function sayClasses(classes: Classification): string {
  const found = [
    classes.iso4406 && `ISO 4406 ${formatIso4406(classes.iso4406)}`,
    classes.as4059Cumulative && `AS4059 cumulative ${classes.as4059Cumulative.class}`,
    classes.as4059Differential && `AS4059 differential ${classes.as4059Differential.class}`,
    classes.nas1638 && `NAS 1638 ${classes.nas1638.class}`,
  ].filter((text) => text !== undefined);
  return found.join(", ");
}

function saySure(sure: HowSure): string {
  const lines = sure.minutesFor.map((entry) =>
    entry.kind === "minutes"
      ? `  ${sayShare(entry.probability)}: ${sayNumber(entry.minutes)} minutes\n`
      : `  ${sayShare(entry.probability)}: never; at most ${sayShare(entry.highest)}\n`,
  );
  return `\nProbability of being at the target (${sure.draws} cases):\n${lines.join("")}${sayFirstOrder(sure)}`;
}

function sayFirstOrder({ firstOrder, agreement }: HowSure): string {
  if (firstOrder.kind === "none") return `  First-order estimate: none, ${firstOrder.why}.\n`;
  const from = firstOrder.contributions
    .slice(0, 3)
    .map((entry) => `${entry.of === "slowZone" ? "slow zone" : entry.of} ${sayNumber(entry.minutes)}`);
  const words =
    agreement.kind === "agrees"
      ? "It agrees"
      : agreement.kind === "disagrees"
        ? `It disagrees by ${sayNumber(Math.abs(agreement.byMin))} minutes; go by the cases`
        : `It cannot be compared: ${agreement.why}`;
  return (
    `  First-order estimate of the 95 % time: ${sayNumber(firstOrder.minutes95)} minutes. ${words}.\n` +
    (from.length === 0 ? "" : `  The uncertainty comes from, in minutes: ${from.join(", ")}.\n`)
  );
}

function sayInterim(interim: InterimAssessment): string {
  const { remaining } = interim;
  const staysAbove = ["levelling-off-above-target", "not-falling"].includes(interim.diagnosis);
  const further =
    remaining.kind === "not-reached" && !staysAbove
      ? "How much longer it takes cannot be told from these samples yet.\n"
      : remaining.kind === "minutes"
        ? `From the last sample on: ${sayNumber(remaining.estimate)} minutes more (90 % interval ${sayNumber(remaining.low)} to ${remaining.high === undefined ? "open" : sayNumber(remaining.high)}). Channel ${interim.governing} decides.\n`
        : `By these samples channel ${interim.governing} settles at ${sayNumber(remaining.floor)} per mL and does not reach its limit.\n`;
  const rows = interim.channels.map((channel) => [
    channel.channel,
    sayInterval(channel.fit.rate),
    sayNumber(channel.ratedRate),
    sayInterval(channel.fit.floor),
    channel.diagnosis,
  ]);
  return (
    `\nThe samples: ${interim.diagnosis}. ${interim.meaning}\n${further}` +
    drawTable(["channel", "rate per minute", "rated", "floor per mL", "diagnosis"], rows)
  );
}

function sayInterval({ estimate, low, high }: Interval): string {
  return `${sayNumber(estimate)} (${sayNumber(low)} to ${high === undefined ? "open" : sayNumber(high)})`;
}

function sayWhatIf({ remedies, within, after, atEnd, interim }: CirculationAnswer): string {
  const lines: string[] = [];
  if (remedies !== undefined) {
    lines.push(
      `To reach the target, one of these alone:`,
      `  β from ${remedies.fromUmC} µm(c) up: ${sayNeed(remedies.beta, (value) => `more than ${sayNumber(value)}`, "no β is enough")}`,
      `  flow: ${sayNeed(remedies.flowLpm, (value) => `more than ${sayNumber(value)} L/min`, "no flow is enough")}`,
      `  ingress: ${sayNeed(remedies.ingressFraction, (value) => `less than ${sayShare(value)} of what was given`, "not even without any")}`,
    );
  }
  if (within !== undefined) {
    lines.push(
      `To be there within ${sayNumber(within.minutes)} minutes: ${sayNeed(within.flow, (value) => `${sayNumber(value)} L/min`, "no flow is enough")}.`,
    );
  }
  if (after !== undefined) {
    lines.push(
      `After ${sayNumber(after.minutes)} minutes the circuit is expected at ${sayClasses(after.classes)}${asRated(interim)}.`,
    );
  }
  if (atEnd !== undefined) {
    lines.push(
      `At the end, after ${sayNumber(atEnd.minutes)} minutes, it is expected at ${sayClasses(atEnd.classes)}${asRated(interim)}.`,
    );
  }
  return lines.length === 0 ? "" : `\n${lines.join("\n")}\n`;
}

function sayNeed(need: Need, words: (value: number) => string, never: string): string {
  return need.kind === "enough" ? words(need.value) : never;
}

function sayElement({ loading, indicator, heat }: CirculationAnswer): string {
  const lines: string[] = [];
  if (loading !== undefined) {
    const left = loading.circulationsLeft;
    lines.push(
      `Element: this circulation adds ${sayNumber(loading.addedG)} g; ${sayShare(loading.share)} of ${sayNumber(loading.capacityG)} g used after it; ` +
        (left.kind === "times" ? `${sayNumber(left.value)} more like it are left.` : "nothing is added."),
    );
  }
  if (indicator !== undefined) {
    const meaning = {
      "cold-fluid-alone-explains-it": "cold fluid alone would trip the indicator",
      "cannot-tell": "an indication does not tell yet",
      "element-is-loaded": "an indication means that the element is loaded",
    }[indicator.meaning];
    const again =
      indicator.lookAgainAt.kind === "temperature"
        ? `Look again at ${sayNumber(Math.ceil(indicator.lookAgainAt.temperatureC))} °C.`
        : "The drop of the clean element leaves the indicator no room at this flow.";
    lines.push(
      `Indicator: a clean element drops ${sayNumber(indicator.cleanDropBar)} bar now (${sayNumber(indicator.viscosityMm2PerS)} mm²/s); ${meaning}. ${again}`,
    );
  }
  if (heat !== undefined) {
    lines.push(
      `Heat: ${sayNumber(heat.heatKw)} kW go into the fluid, ${sayNumber(heat.warmingCPerMin)} °C per minute.` +
        (heat.kind === "refused" ? ` Refused: ${heat.why}.` : ""),
    );
  }
  return lines.length === 0 ? "" : `\n${lines.join("\n")}\n`;
}

/** What is expected goes by the ratings, which the samples that were drawn may gainsay. */
function asRated(interim: CirculationAnswer["interim"]): string {
  return interim === undefined ? "" : " if the circuit works as rated";
}

function saySteps({ steps, interim }: CirculationAnswer): string {
  if (steps === undefined) return "";
  const lines = steps.map(({ step, caution, expected }, index) => {
    const counts =
      expected === undefined
        ? ""
        : `\n     Expected at the port${asRated(interim)}, per mL: ${expected.map(({ channel, perMl }) => `${channel}: ${sayNumber(perMl)}`).join("  ")}`;
    return `${String(index + 1).padStart(3)}. ${step}${counts}${caution === undefined ? "" : `\n     CAUTION: ${caution}`}\n`;
  });
  return `\nSteps (common practice; the cart's instructions and the aircraft manual come first):\n${lines.join("")}`;
}
