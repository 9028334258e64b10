import { formatMinutes } from "../circulation/index.js";
import { classifyIso4406, formatIso4406 } from "../cleanliness/index.js";
import { cumulativeCounts } from "../counts/index.js";
import { formatPercent, formatShare, inFourDigits } from "../units/index.js";
import type { OnlineAnswer, OnlineRemark } from "./answer.js";
import type { OnlineMinute } from "./minute.js";
import type { OnlineOutlook } from "./outlook.js";

/** The ISO 4406 code of a minute, where its sizes serve it. */
export function codeOfMinute({ counts }: OnlineMinute): string | undefined {
  if (counts.length === 0) return undefined;
  const set = cumulativeCounts(
    counts.map(({ sizeUmC, perMl }) => ({ sizeUm: sizeUmC, count: perMl })),
    1,
  );
  const code = classifyIso4406(set);
  return code === undefined ? undefined : formatIso4406(code);
}

/**
 * What to go by after a minute, in one line.
 *
 * @param confidence - the confidence that was asked for
 */
export function describeOnline(
  answer: OnlineAnswer,
  outlook: OnlineOutlook | undefined,
  confidence: number,
): string {
  switch (answer.state) {
    case "clean":
      return `clean with ${formatPercent(confidence)} confidence: draw the verifying bottle`;
    case "inside-as-rated":
      return "what the elements deliver is clean, which does not show that the circuit is: draw the verifying bottle upstream of them";
    case "inside-where-counted": {
      const left = answer.channels.flatMap(({ channel, perMl }) => (perMl === undefined ? [channel] : []));
      return `what is counted is clean with ${formatPercent(confidence)} confidence, and ${left.join(", ")} not counted: draw the verifying bottle`;
    }
    case "risen":
      return "stop and look: the counts rose; a bypass may be open, an element damaged, or air drawn in";
    case "cannot-tell":
      return "this minute says nothing of the circuit";
    case "not-yet":
      return describeOutlook(outlook);
  }
}

const TOO_EARLY = "not clean yet: too early to say how long";

function describeOutlook(outlook: OnlineOutlook | undefined): string {
  if (outlook === undefined) return TOO_EARLY;
  switch (outlook.course) {
    case "not-falling":
      return "stop and look: the counts do not fall";
    case "levelling-off":
      return "stop and look: the counts level off above the limits; circulating longer does not help";
    case "too-near":
      return "not shown to be clean: the counts stay too near to the limits for this counter; circulating longer does not help: draw the verifying bottle";
    case "slower-than-rated":
      return `${describeRemaining(outlook)}; slower than expected${againstRated(outlook)}: look for an open bypass, less flow than stated, or a wrong or damaged element`;
    case "falling":
      return describeRemaining(outlook);
  }
}

function againstRated({ rated }: OnlineOutlook): string {
  if (rated === undefined) return "";
  const perMin = (rate: number) => `${formatShare(-Math.expm1(-rate), 2)} a minute`;
  return ` (channel ${rated.channel} falls by ${perMin(rated.ratePerMin)}, the elements are rated for ${perMin(rated.ratedPerMin)})`;
}

function describeRemaining({ remaining }: OnlineOutlook): string {
  switch (remaining.kind) {
    case "minutes":
      return remaining.estimate === 0
        ? "not clean yet: inside by the fit, some more minutes to be sure"
        : `not clean yet: about ${formatMinutes(remaining.estimate)} more (${formatMinutes(remaining.low)} to ${formatMinutes(remaining.high)}), by channel ${remaining.channel}`;
    case "at-least":
      if (remaining.minutes === 0) return TOO_EARLY;
      return `not clean yet: at least ${formatMinutes(remaining.minutes)} more, by channel ${remaining.channel}`;
    case "not-reached":
      return TOO_EARLY;
  }
}

/** What of a minute is to be known, in words. */
export function describeRemark(remark: OnlineRemark): string {
  switch (remark.code) {
    case "cold":
      return `the fluid is at ${(Math.floor(10 * remark.temperatureC) / 10).toFixed(1)} °C: minutes count from 29.4 °C (85 °F)`;
    case "gap":
      return `no reading for ${remark.minutes} minutes: what was shown before counts no more`;
    case "no-flow":
      return "no flow: the counter looks at fluid that stands";
    case "no-counts":
      return "no counts in this minute";
    case "stuck":
      return "the counter shows the same counts for five minutes: it may have stopped";
    case "counts-nothing":
      return "the counter counts nothing: no fluid is that clean; look at it";
    case "breaks-off":
      return `no particles above ${remark.sizeUmC} µm(c), and plenty above the next smaller size: that channel may be dead`;
    case "air":
      return "large particles rose and small ones did not: air, most likely; let it settle";
    case "counts-break-a-rule":
      return `cannot be true: ${remark.message}`;
    case "not-counted":
      return `not counted, so never called clean: ${remark.channels.join(", ")}`;
    case "risen":
      return `channel ${remark.channel} rose`;
    case "flow-below-stated":
      return `the flow is ${inFourDigits(remark.flowLpm)} L/min, and ${inFourDigits(remark.statedLpm)} L/min is stated: it takes longer than the stated values say`;
    case "no-temperature":
      return "no temperature came: all minutes were taken as warm";
    case "flow-not-reported":
      return "no flow came: the fluid was taken as flowing";
    case "classes-only":
      return "only classes came: a class that stays does not show that the counter works";
  }
}
