import { mostUsed } from "../cleanliness/index.js";
import type { Sample } from "../samples/index.js";
import type { Assessed } from "./assessed.js";
import { dayAfter } from "./days.js";
import { decide, type Reason, type ReasonCode, type VerdictName } from "./reasons.js";
import { sayPlain } from "./text.js";

/** What would change a verdict, and to what. */
export interface Change {
  readonly verdict: VerdictName;
  readonly when: string;
}

/** What it is told from. */
interface Told {
  readonly verdict: VerdictName;
  readonly reasons: readonly Reason[];
  readonly assessed: readonly Assessed[];
  readonly sample?: Sample;
}

/**
 * Says what would change a verdict.
 *
 * For a circuit that is not fit, what has to be cleared and the verdict that is left then, by the data at hand. For a fit
 * one, how far away each limit is, and the day on which the sample gets too old.
 *
 * @param ageDaysMax - the oldest sample age, where there is a requirement
 */
export function changesOf(told: Told, ageDaysMax: number | undefined): Change[] {
  return told.verdict === "fit" ? awayFromFit(told, ageDaysMax) : [cleared(told)];
}

function cleared({ verdict, reasons }: Told): Change {
  const deciding = reasons.filter(({ callsFor }) => callsFor === verdict);
  const left = reasons.filter(({ callsFor }) => callsFor !== verdict);
  const each = [...new Set(deciding.map(clearing))];
  // A sample drawn since has been drawn.
  const needs = each.filter((need) => !each.includes(`${need} since`));
  const others = left.some(({ callsFor }) => callsFor !== "fit") ? decide(left) : "fit";
  return { verdict: others, when: `when ${needs.join(" and ")}` };
}

function clearing({ code }: Reason): string {
  const family = FAMILIES.find(({ codes }) => codes.test(code));
  return CLEARED_BY[code] ?? family?.says ?? "a sample drawn as asked for agrees";
}

const CLEARED_BY: Partial<Record<ReasonCode, string>> = {
  "no-requirement": "a requirement bears the name of the system, or the circuit names another one",
  "fluid-not-allowed": "the circuit holds a fluid that the system takes",
  "particles-out-of-reach": "ingress is stopped or a finer element is fitted, and a sample shows it",
  "no-sample": "a sample has been drawn",
  "sample-too-old": "a sample has been drawn",
  "drawn-before-event": "a sample has been drawn since",
  "sample-after-judging-date": "the day of the sample or the day of judging is put right",
  "result-in-quarantine": "the row in quarantine is corrected or discarded",
  "words-not-understood":
    "a person has read the words and the cell is corrected or the column map says what they mean",
  "laboratory-rejects": "the laboratory has said what is wrong, or has corrected its report",
  "laboratory-doubts": "the laboratory has settled what it says, or a new sample agrees",
  "laboratory-agrees": "a sample drawn afterwards is inside",
  "not-circulated-since": "the circulation that is asked for has been done and entered",
  "cart-state-not-entered": "a technician has looked and entered indicator, level, temperature and seals",
  "cart-state-too-old": "a technician has looked again and entered it",
};

const FAMILIES: readonly { readonly codes: RegExp; readonly says: string }[] = [
  {
    codes: /^fluid-contradicts|^two-layers/,
    says: "the fluid is identified, and a sample of the right one agrees",
  },
  {
    codes: /^(indicator|level|temperature|seals)-/,
    says: "the cart is put right and a technician has entered it",
  },
  { codes: /-not-sure$/, says: "more counts or results make it sure" },
  { codes: /-outside$|^free-water/, says: "a sample drawn afterwards is inside" },
  {
    codes: /-not-measured$|-not-known$|-estimated$|-not-reported$/,
    says: "what is missing has been measured",
  },
];

function awayFromFit({ assessed, sample }: Told, ageDaysMax: number | undefined): Change[] {
  const changes = assessed.flatMap(limitAway);
  if (sample !== undefined && ageDaysMax !== undefined) {
    const last = dayAfter(sample.drawnOn, ageDaysMax);
    changes.push({ verdict: "resample", when: `when no newer sample is drawn by ${last}` });
  }
  changes.push({
    verdict: "resample",
    when: "when fluid or element is changed, or the circuit is connected to another aircraft",
  });
  return changes;
}

function limitAway(entry: Assessed): Change[] {
  if ("channels" in entry) {
    const closest = mostUsed(
      entry.channels.flatMap((channel) =>
        channel.share === undefined ? [] : [{ channel, share: channel.share }],
      ),
    );
    if (closest === undefined) return [];
    const { channel, share } = closest;
    const fold = share > 0 ? sayPlain(1 / share) : "1";
    const grow =
      fold === "1" ? `are more than ${sayPlain(channel.limitPerMl)} per mL` : `grow more than ${fold}-fold`;
    return [{ verdict: "circulate", when: `when particles of channel ${channel.channel} ${grow}` }];
  }
  const { quantity, measured, distance, unit, limits } = entry;
  if (measured === undefined || distance === undefined) return [];
  const up = limits.max !== undefined && limits.max - measured.value === distance;
  return [
    {
      verdict: "exchange-fluid",
      when: `when ${quantity} ${up ? "rises" : "falls"} by more than ${sayPlain(distance)} ${unit}`,
    },
  ];
}
