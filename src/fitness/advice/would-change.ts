import { mostUsed } from "../../cleanliness/index.js";
import { formatQuantity, inFourDigits, type ShownIn } from "../../units/index.js";
import type { Assessed } from "../assessed.js";
import { decide, type Reason, type ReasonCode, VERDICT_WORDS, type VerdictName } from "../reasons.js";

/** What would change a verdict, and to what. */
export interface Change {
  readonly verdict: VerdictName;
  readonly when: string;
}

/** Says what would clear a circuit that is not fit. Without a requirement nothing was compared, so no verdict is left. */
export function describeClearing({ verdict, when }: Change): string {
  return verdict === "do-not-connect"
    ? `${when}, judge again`
    : `${when}, the verdict by the other data is "${VERDICT_WORDS[verdict]}"`;
}

/** How long a sample lasts in a circuit that nothing else happens to. */
export interface Lasting {
  /** The last day for a newer sample. */
  readonly until: string;
  /** What may still be topped up. */
  readonly topUpL: number;
  readonly shownIn?: ShownIn | undefined;
  /** Whether a hookup to an aircraft that is clean asks for a new sample too. */
  readonly endsWithHookup: boolean;
}

/** What the changes are found from. */
interface Reported {
  readonly verdict: VerdictName;
  readonly reasons: readonly Reason[];
  readonly assessed: readonly Assessed[];
}

/**
 * Says what would change a verdict.
 *
 * For a circuit that is not fit, what has to be cleared and the verdict that is left then, by the data at hand. For a fit
 * one, how far away each limit is, and when the sample no longer speaks.
 *
 * @param lasting - where there is a sample and a requirement
 */
export function changesOf(reported: Reported, lasting: Lasting | undefined): Change[] {
  // Nothing else was looked at, so nothing can be said of what is left.
  if (reported.reasons.some(({ code }) => code === "cannot-be-judged")) return [];
  return reported.verdict === "fit" ? awayFromFit(reported, lasting) : [cleared(reported)];
}

function cleared({ verdict, reasons }: Reported): Change {
  const deciding = reasons.filter(({ callsFor }) => callsFor === verdict);
  const left = reasons.filter(({ callsFor }) => callsFor !== verdict);
  const each = [...new Set(deciding.map(clearing))];
  // A sample drawn since has been drawn.
  const needs = each.filter((need) => !each.includes(`${need} since`));
  return { verdict: decide(left), when: `when ${needs.join(" and ")}` };
}

function clearing({ code }: Reason): string {
  const family = FAMILIES.find(({ codes }) => codes.test(code));
  return CLEARED_BY[code] ?? family?.says ?? "a sample drawn as required agrees";
}

const CLEARED_BY: Partial<Record<ReasonCode, string>> = {
  "no-requirement": "a requirement bears the name of the system, or the circuit names another one",
  "fluid-not-allowed": "the circuit holds a fluid that the system takes",
  "particles-out-of-reach":
    "ingress is stopped, a finer element is fitted or the fluid is exchanged, and a sample shows it",
  "no-sample": "a sample has been drawn",
  "no-evidence": "a sample has been drawn since",
  "topped-up-beyond-share": "a sample has been drawn since",
  "top-up-not-entered": "the litres that were topped up are entered",
  "trend-past-limit": "a sample has been drawn since",
  "sample-overdue-by-trend": "a sample has been drawn since",
  "element-loaded": "the element is changed and its pressure drop entered",
  "sample-too-old": "a sample has been drawn",
  "drawn-before-event": "a sample has been drawn since",
  "sample-after-judging-date": "the day of the sample or the day of judging is put right",
  "result-in-quarantine": "the row in quarantine is corrected or discarded",
  "words-not-understood":
    "a person has read the words and the cell is corrected or the column map says what they mean",
  "laboratory-rejects": "the laboratory has said what is wrong, or has corrected its report",
  "laboratory-doubts": "the laboratory has settled what it says, or a new sample agrees",
  "stated-class-outside":
    "the laboratory has corrected the class, or a new sample counted at every size agrees",
  "stated-class-unexplained":
    "the laboratory has explained the class, or a new sample counted at every size agrees",
  "laboratory-agrees": "a sample drawn afterwards is inside",
  "not-circulated-since": "the circulation that is required has been done and entered",
  "cart-state-not-entered": "a technician has looked and entered indicator, level, temperature and seals",
  "cart-state-too-old": "a technician has looked again and entered it",
};

const FAMILIES: readonly { readonly codes: RegExp; readonly says: string }[] = [
  {
    codes: /^fluid-contradicts|^two-layers|^identity-in-doubt|^colour-(of|not-understood)/,
    says: "the fluid is identified, and a sample of the right one agrees",
  },
  {
    codes: /^(indicator|level|temperature|seals)-/,
    says: "the cart is put right and a technician has entered it",
  },
  { codes: /-not-sure$/, says: "more counts or results make it sure" },
  { codes: /-outside$|^free-water/, says: "a sample drawn afterwards is inside" },
  {
    codes: /-not-measured$|-not-known$|-estimated$|-not-reported$|-not-counted$/,
    says: "what is missing has been measured",
  },
];

function awayFromFit({ assessed }: Reported, lasting: Lasting | undefined): Change[] {
  const changes = assessed.flatMap(limitAway);
  if (lasting !== undefined) {
    changes.push(
      { verdict: "resample", when: `when no newer sample is drawn by ${lasting.until}` },
      {
        verdict: "resample",
        when: `when more than ${formatQuantity("volume", lasting.topUpL, lasting.shownIn)} are topped up`,
      },
    );
  }
  changes.push({
    verdict: "resample",
    when: `when fluid or element is changed, the circuit is opened, or it is connected to ${lasting?.endsWithHookup ? "an" : "a dirty"} aircraft`,
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
    const fold = share > 0 ? inFourDigits(1 / share) : "1";
    const grow =
      fold === "1"
        ? `are more than ${inFourDigits(channel.limitPerMl)} per mL`
        : `grow more than ${fold}-fold`;
    return [{ verdict: "circulate", when: `when particles of channel ${channel.channel} ${grow}` }];
  }
  const { quantity, measured, distance, unit, limits } = entry;
  if (measured === undefined || distance === undefined) return [];
  const up = limits.max !== undefined && limits.max - measured.value === distance;
  return [
    {
      verdict: "exchange-fluid",
      when: `when ${quantity} ${up ? "rises" : "falls"} by more than ${inFourDigits(distance)} ${unit}`,
    },
  ];
}
