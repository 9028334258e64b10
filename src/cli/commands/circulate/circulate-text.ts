import {
  type BracketEnd,
  type CirculationAnswer,
  describeNext,
  describeStatedTime,
  type FittedValue,
  formatMinutes,
  type InterimAssessment,
  minutesDown,
  minutesUp,
  type PlanConfidence,
  type Remedies,
  type Remedy,
} from "../../../circulation/index.js";
import { type Classification, formatIso4406 } from "../../../cleanliness/index.js";
import { CART_CAUTIONS } from "../../../provenance/index.js";
import {
  formatOnGauge,
  formatQuantity,
  formatShare,
  formatTemperatureRise,
  inShownUnit,
  type ShownIn,
} from "../../../units/index.js";
import {
  describeAssumptions,
  describeCautions,
  describeMore,
  drawLines,
  drawTable,
  formatNumber,
} from "../../text.js";

/** The answer of `circulate` in a few lines: the minutes, what the samples show, and what else was asked for. */
export function describeCirculationInBrief(answer: CirculationAnswer): string {
  // Samples drawn on the way say more than the stated values.
  const lines = answerLines(answer, { withStated: answer.interim === undefined });
  return [
    drawLines(lines),
    answer.interim === undefined ? "" : describeFindings(answer.interim, answer.assumptions, lines),
    describeWhatIf({ ...answer, atEnd: undefined }),
    describeElement(answer),
    describeMore("steps with cautions, channels, other times", answer.assumptions),
  ].join("");
}

/** The answer of `circulate` as text that can be taken to the cart. */
export function describeCirculation(answer: CirculationAnswer): string {
  const whatIf = describeWhatIf(answer);
  return [
    ...answerLines(answer, { withStated: true }).map((line) => `${line}\n`),
    answer.plan.reachable ? "\nBy the stated values alone:\n" : "",
    describeChannels(answer),
    describeBounds(answer),
    answer.sure === undefined ? "" : describeSure(answer.sure),
    answer.interim === undefined ? "" : describeInterim(answer.interim),
    whatIf === "" ? "" : `\n${whatIf}`,
    describeElement(answer),
    describeSteps(answer),
    describeAssumptions(answer.assumptions),
    describeCautions(CART_CAUTIONS),
  ].join("");
}

function answerLines(answer: CirculationAnswer, { withStated }: { readonly withStated: boolean }): string[] {
  const { plan, doneMinutes } = answer;
  const lines = describeNext(answer).map((sentence) => `${sentence}.`);
  if (!plan.reachable) return lines;
  const stated = describeStatedTime(plan);
  return [
    ...lines,
    ...(withStated ? [`${stated.charAt(0).toUpperCase()}${stated.slice(1)}.`] : []),
    ...describeLeaving(plan.leavesAfterMinutes, doneMinutes),
  ];
}

function describeLeaving(leavesAfterMinutes: number | undefined, doneMinutes: number): string[] {
  if (leavesAfterMinutes === undefined) return [];
  const left = leavesAfterMinutes - doneMinutes;
  return left > 0
    ? [`Stop before ${minutesDown(left)} minutes: ingress then lifts a channel above its limit again.`]
    : ["By the stated values ingress has already lifted a channel above its limit again."];
}

function describeChannels({ plan }: CirculationAnswer): string {
  const rows = plan.channels.map(({ channel, start, limit, floor, outcome }) => [
    channel,
    formatNumber(start),
    formatNumber(limit),
    floor === undefined ? "rises" : formatNumber(floor),
    outcome.kind === "reached" ? String(minutesUp(outcome.passes)) : "never",
    outcome.kind === "reached" ? String(minutesUp(outcome.minutes)) : "never",
  ]);
  return drawTable(["channel", "start per mL", "limit per mL", "floor per mL", "passes", "minutes"], rows);
}

function describeBounds({ bracket, rules, floor, rebound, plan, port }: CirculationAnswer): string {
  const ends = [
    `without any mixing ${describeEnd(bracket.plug)}`,
    `well mixed ${describeEnd(bracket.wellMixed)}`,
    ...(bracket.twoZone === undefined ? [] : [`with the slow zone ${describeEnd(bracket.twoZone)}`]),
  ];
  const settles =
    floor.kind === "rises"
      ? `The level rises without end above ${floor.sizesUmC.join(", ")} µm(c).`
      : floor.counts.counts.every((entry) => entry.count === 0)
        ? "with nothing coming in, every channel falls towards nothing."
        : `Circulating for ever would end at ${formatClasses(floor.classes)}.`;
  return [
    `\nMixing: ${ends.join("; ")}. The plan goes by ${plan.mixing.kind}.\n`,
    ...rules.map((rule) => `Rule of thumb: ${rule.meaning}\n`),
    `Floor: ${settles}\n`,
    ...(rebound === undefined
      ? []
      : [
          `Rebound after stopping: ${rebound.map((entry) => `channel ${entry.channel} from ${formatNumber(entry.port)} at ${port === "downstream" ? "a port upstream" : "the port"} to ${formatNumber(entry.circuit)} per mL`).join("; ")}.\n`,
        ]),
  ].join("");
}

function describeEnd(end: BracketEnd): string {
  return end.kind === "reached" ? formatMinutes(end.minutes) : "never";
}

function formatClasses(classes: Classification): string {
  const found = [
    classes.iso4406 && `ISO 4406 ${formatIso4406(classes.iso4406)}`,
    classes.as4059Cumulative && `AS4059 cumulative ${classes.as4059Cumulative.class}`,
    classes.as4059Differential && `AS4059 differential ${classes.as4059Differential.class}`,
    classes.nas1638 && `NAS 1638 ${classes.nas1638.class}`,
  ].filter((text) => text !== undefined);
  return found.join(", ");
}

function describeSure(sure: PlanConfidence): string {
  const lines = sure.minutesFor.map((entry) =>
    entry.kind === "minutes"
      ? `  ${formatShare(entry.probability)}: ${formatMinutes(entry.minutes)}\n`
      : `  ${formatShare(entry.probability)}: never; at most ${formatShare(entry.highest)}\n`,
  );
  return `\nProbability that a verifying bottle drawn then is accepted (${sure.draws} cases):\n${lines.join("")}${describeFirstOrder(sure)}`;
}

function describeFirstOrder({ firstOrder, agreement }: PlanConfidence): string {
  if (firstOrder.kind === "none") return `  First-order estimate: none, ${firstOrder.why}.\n`;
  const from = firstOrder.contributions
    .slice(0, 3)
    .map((entry) => `${entry.of === "slowZone" ? "slow zone" : entry.of} ${minutesUp(entry.minutes)}`);
  const words =
    agreement.kind === "agrees"
      ? "It agrees"
      : agreement.kind === "disagrees"
        ? `It disagrees by ${formatMinutes(Math.abs(agreement.byMin))}; go by the cases`
        : `It cannot be compared: ${agreement.why}`;
  return (
    `  First-order estimate of the 95 % time: ${formatMinutes(firstOrder.minutes95)}. ${words}.\n` +
    (from.length === 0 ? "" : `  The uncertainty comes from, in minutes: ${from.join(", ")}.\n`)
  );
}

function findingLines(interim: InterimAssessment): string[] {
  return [interim.meaning, describeRemaining(interim)];
}

/** What the samples show, but for what the answer says already. */
function describeFindings(
  interim: InterimAssessment,
  assumptions: CirculationAnswer["assumptions"],
  answer: readonly string[],
): string {
  const said = answer.join(" ").toLowerCase();
  // That a class tells little is the reason why nothing is shown yet.
  const read = assumptions.filter(({ code }) => code === "class-as-upper-edge");
  const lines = [...findingLines(interim), ...read.map(({ message }) => `${message}.`)];
  const more = lines.filter((line) => !said.includes(line.toLowerCase()));
  return drawLines(more);
}

function describeInterim(interim: InterimAssessment): string {
  const rows = interim.channels.map((channel) => [
    channel.channel,
    formatInterval(channel.fit.rate),
    formatNumber(channel.ratedRate),
    formatInterval(channel.fit.floor),
    channel.diagnosis,
  ]);
  return (
    `\n${findingLines(interim).join("\n")}\n` +
    drawTable(["channel", "rate per minute", "rated", "floor per mL", "diagnosis"], rows)
  );
}

/** How much longer it takes by the samples until a verifying bottle is accepted; a time without an upper end is no number. */
function describeRemaining({ remaining, diagnosis, governing, lastIsInside }: InterimAssessment): string {
  if (lastIsInside) return "The last sample shows every channel where a verifying bottle is accepted.";
  switch (remaining.kind) {
    case "minutes":
      return `From the last sample on: ${formatMinutes(remaining.estimate)} more until a verifying bottle is accepted (90 % interval ${formatMinutes(remaining.low)} to ${formatMinutes(remaining.high)}). Channel ${governing} decides.`;
    case "at-least":
      return remaining.minutes > 0
        ? `From the last sample on: at least ${formatMinutes(remaining.minutes)} more; these samples give no upper end. Channel ${governing} decides.`
        : NOT_SHOWN;
    case "not-reached":
      return diagnosis === "levelling-off-above-target" || diagnosis === "not-falling"
        ? `By these samples channel ${governing} settles at ${formatNumber(remaining.floor)} per mL, where no bottle is accepted.`
        : NOT_SHOWN;
  }
}

const NOT_SHOWN = "These samples do not show yet how much longer it takes.";

function formatInterval({ estimate, low, high }: FittedValue): string {
  return estimate === undefined
    ? `at least ${formatNumber(low)}`
    : `${formatNumber(estimate)} (${formatNumber(low)} to ${formatNumber(high)})`;
}

function describeWhatIf({ remedies, within, after, atEnd, interim, shownIn }: CirculationAnswer): string {
  const lines: string[] = [];
  if (remedies !== undefined) lines.push(describeRemedies(remedies, shownIn));
  if (within !== undefined) {
    lines.push(
      `To go by no more than ${formatNumber(within.minutes)} minutes: ${within.flow.kind === "enough" ? `a flow of ${flowUp(within.flow.value, shownIn)}` : "no flow is enough"}.`,
    );
  }
  if (after !== undefined) {
    lines.push(
      `After ${formatNumber(after.minutes)} minutes the circuit is expected at ${formatClasses(after.classes)}${asRated(interim)}.`,
    );
  }
  if (atEnd !== undefined) {
    lines.push(
      `At the end, after ${formatMinutes(atEnd.minutes)}, it is expected at ${formatClasses(atEnd.classes)}${asRated(interim)}.`,
    );
  }
  return drawLines(lines);
}

function describeRemedies(remedies: Remedies, shownIn: ShownIn | undefined): string {
  const { withinMinutes, fromUmC, beta, flowLpm, ingressFraction } = remedies;
  const enough = [
    describeRemedy(beta, (value) => `β of at least ${formatNumber(value)} from ${fromUmC} µm(c) up`),
    describeRemedy(flowLpm, (value) => `a flow of at least ${flowUp(value, shownIn)}`),
    describeRemedy(
      ingressFraction,
      (value) => `ingress of at most ${formatShare(value)} of what was assumed`,
    ),
  ].flat();
  return enough.length === 0
    ? `No β, no flow and no ingress alone gets there within ${formatMinutes(withinMinutes)}.`
    : `To get there within ${formatMinutes(withinMinutes)}, this alone is enough: ${enough.join("; or ")}.`;
}

function describeRemedy(remedy: Remedy, words: (value: number) => string): string[] {
  return remedy.kind === "enough" ? [`${words(remedy.value)} (${formatMinutes(remedy.minutes)})`] : [];
}

function describeElement({ loading, indicator, heat, shownIn }: CirculationAnswer): string {
  const lines: string[] = [];
  if (loading !== undefined) {
    const left = loading.circulationsLeft;
    lines.push(
      `Element: this circulation adds ${formatNumber(loading.addedG)} g; ${formatShare(loading.share)} of ${formatNumber(loading.capacityG)} g used after it; ` +
        (left.kind === "times" ? `${formatNumber(left.value)} more like it are left.` : "nothing is added."),
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
        ? `Look again at ${formatOnGauge("temperature", indicator.lookAgainAt.temperatureC, "up", shownIn)}.`
        : "The drop of the clean element leaves the indicator no room at this flow.";
    lines.push(
      `Indicator: a clean element drops ${formatQuantity("pressure", indicator.cleanDropBar, shownIn)} now (${formatNumber(indicator.viscosityMm2PerS)} mm²/s); ${meaning}. ${again}`,
    );
  }
  if (heat !== undefined) {
    lines.push(
      `Heat: ${formatNumber(heat.heatKw)} kW go into the fluid, ${formatTemperatureRise(heat.warmingCPerMin, shownIn)} per minute.` +
        (heat.kind === "refused" ? ` Refused: ${heat.why}.` : ""),
    );
  }
  return lines.length === 0 ? "" : `\n${drawLines(lines)}`;
}

function flowUp(flowLpm: number, shownIn: ShownIn | undefined): string {
  const { value, unit } = inShownUnit("flow", flowLpm, shownIn);
  return `${minutesUp(value)} ${unit}`;
}

/** The expected counts follow from the ratings, which the samples drawn may contradict. */
function asRated(interim: CirculationAnswer["interim"]): string {
  return interim === undefined ? "" : " if the circuit works as rated";
}

function describeSteps({ steps, interim, port }: CirculationAnswer): string {
  if (steps === undefined) return "";
  const at = port === "downstream" ? "the port downstream of the element, by its β" : "the port";
  const lines = steps.map(({ step, caution, expected }, index) => {
    const counts =
      expected === undefined
        ? ""
        : `\n     Expected at ${at}${asRated(interim)}, per mL: ${expected.map(({ channel, perMl }) => `${channel}: ${formatNumber(perMl)}`).join("  ")}`;
    return `${String(index + 1).padStart(3)}. ${step}${counts}${caution === undefined ? "" : `\n     CAUTION: ${caution}`}\n`;
  });
  return `\nSteps (common practice; the cart's instructions and the aircraft manual come first):\n${lines.join("")}`;
}
