import type { Assumption } from "../../provenance/index.js";
import {
  type Circuit,
  type CircuitEvent,
  eventsInOrder,
  mayFollow,
  type Requirement,
  type Sample,
} from "../../samples/index.js";
import { formatQuantity, inFourDigits } from "../../units/index.js";
import type { Finding } from "../assessed.js";
import type { CaseOnDay } from "../case.js";
import { type Reason, reason } from "../reasons.js";
import { STILL_TO_COME } from "./happened.js";

/**
 * Share of a circuit's volume that may be topped up after a sample before it no longer represents the fluid, where the
 * requirement does not say. Common practice, no source.
 */
export const TOP_UP_SHARE_MAX = 0.1;

/**
 * Has so much been topped up since a bottle was drawn that it no longer represents the fluid?
 *
 * Top-ups add up, those of the bottle's own day included where the order is not known. One without its litres could be any
 * amount. A requirement that waives the sample after a top-up waives it for as much as the share. Of several bottles that
 * something rests on, the newest that is affected is named: the older ones are as well.
 *
 * @param used - bottles that something rests on, newest first
 */
export function checkTopUps(
  input: Pick<CaseOnDay, "circuit" | "day">,
  requirement: Requirement,
  used: readonly Sample[],
): Finding {
  const since = used.map((sample) => toppedUpSince(input, requirement, sample));
  const beyond = since.flatMap(({ beyond }) => beyond ?? [])[0];
  const unknown = new Map(
    since.reverse().flatMap(({ withoutLitres }) => withoutLitres.map(({ event, says }) => [event, says])),
  );
  const reasons = [
    ...(beyond === undefined ? [] : [beyond]),
    ...[...unknown.values()].map((says) => reason("top-up-not-entered", says)),
  ];
  const assumptions = since.flatMap(({ byDefault }) => byDefault ?? []);
  return { reasons, assumptions: reasons.length === 0 ? assumptions : [] };
}

interface ToppedUp {
  readonly beyond?: Reason;
  readonly withoutLitres: readonly { readonly event: CircuitEvent; readonly says: string }[];
  readonly byDefault?: Assumption;
}

function toppedUpSince(
  { circuit, day }: Pick<CaseOnDay, "circuit" | "day">,
  { topUpShareMax }: Requirement,
  bottle: Sample,
): ToppedUp {
  const { sample, drawnOn } = bottle;
  const since = topUpsSince(circuit, bottle);
  const entered = since.filter(({ addedL }) => addedL !== undefined);
  const happened = entered.filter((event) => day.hasCome(event.on));
  const shareMax = topUpShareMax ?? TOP_UP_SHARE_MAX;
  // A top-up of a future day may have the wrong year: it counts too.
  const counted = isWithin(happened, circuit, shareMax) ? entered : happened;
  const later = counted.length > happened.length ? STILL_TO_COME : "";
  const shown = (litres: number) => formatQuantity("volume", litres, circuit.shownIn);
  const amount = `${shown(litresOf(counted))} of ${shown(circuit.volumeL)}`;
  const isBeyond = !isWithin(counted, circuit, shareMax);
  const message =
    `${amount} were added since sample ${sample} was drawn on ${drawnOn}, the last on ${counted.at(-1)?.on}${later}; ` +
    `at most ${formatShare(shareMax)} may be added before a new sample is needed`;
  const withoutLitres = since.flatMap((event) => {
    if (event.addedL !== undefined) return [];
    const says =
      `fluid was topped up on ${event.on} and the litres were not entered; sample ${sample} of ${drawnOn} represents the fluid ` +
      `only if little was added: enter "added", such as "2 L"${day.hasCome(event.on) ? "" : STILL_TO_COME}`;
    return [{ event, says }];
  });
  return {
    withoutLitres,
    ...(isBeyond && { beyond: reason("topped-up-beyond-share", message) }),
    ...(topUpShareMax === undefined && since.length > 0 && { byDefault: byDefault(sample, amount) }),
  };
}

/** The day on which top-ups since a sample first add up to more than the share; undefined when they do not. */
export function toppedUpOn(
  circuit: Circuit,
  { topUpShareMax = TOP_UP_SHARE_MAX }: Requirement,
  sample: Sample,
): string | undefined {
  const since = topUpsSince(circuit, sample);
  return since.find(
    ({ addedL }, index) =>
      addedL === undefined || !isWithin(since.slice(0, index + 1), circuit, topUpShareMax),
  )?.on;
}

/**
 * The litres that may still be topped up before a new sample is needed.
 *
 * @param sample - the oldest one that something rests on
 */
export function topUpLeft(
  circuit: Circuit,
  { topUpShareMax = TOP_UP_SHARE_MAX }: Requirement,
  sample: Sample,
): number {
  return Math.max(0, topUpShareMax * circuit.volumeL - litresOf(topUpsSince(circuit, sample)));
}

/** Whatever the fluid was added with counts: an element change or a hookup may take litres too. New fluid has its own check. */
function topUpsSince({ events }: Circuit, sample: Sample): CircuitEvent[] {
  return eventsInOrder(events).filter(
    (event) =>
      mayFollow(event, sample) &&
      (event.kind === "top-up" || (event.kind !== "fluid-change" && event.addedL !== undefined)),
  );
}

function litresOf(events: readonly CircuitEvent[]): number {
  return events.reduce((sum, { addedL = 0 }) => sum + addedL, 0);
}

/** Litres that are just the share stay within it, whatever the last binary digit of their sum is. */
function isWithin(events: readonly CircuitEvent[], { volumeL }: Circuit, shareMax: number): boolean {
  return litresOf(events) <= shareMax * volumeL * (1 + 1e-12);
}

function formatShare(share: number): string {
  return `${inFourDigits(100 * share)} %`;
}

function byDefault(sample: string, amount: string): Assumption {
  return {
    code: "top-up-share",
    message:
      `${amount} were added since sample ${sample}; up to ${formatShare(TOP_UP_SHARE_MAX)} was taken to leave it valid, ` +
      "because the requirement gives no topUpShareMax",
    source: "PRACTICE",
  };
}
