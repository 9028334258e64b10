import {
  type CountReading,
  levelOf,
  type Reproducibility,
  rawParticles,
  sampleSeenMl,
} from "../counts/index.js";
import { type Interval, poissonInterval } from "../numeric/index.js";
import { type ClassTable, limitsOfChannel } from "./class-table.js";
import { readChannel, type TableCounts } from "./size-pairs.js";

/** A probability that is known between two ends only. */
export interface ProbabilityRange {
  readonly atLeast: number;
  readonly atMost: number;
}

/** How sure something is that concerns several channels at once. */
export interface JointProbability extends ProbabilityRange {
  /** The narrower range that holds if the laboratory errs by one factor in all channels. */
  readonly ifLaboratoryErrsAlike: ProbabilityRange;
}

/** How sure the class of one channel is. */
export type ChannelCertainty<C extends string, N extends string> =
  | {
      readonly channel: C;
      readonly kind: "known";
      /** Particles that were counted. */
      readonly raw: number;
      /** Exact 95 % interval of the raw particles, from counting alone. */
      readonly rawInterval: Interval;
      /** Every class with its probability; they sum to 1. */
      readonly classes: readonly { readonly class: N; readonly probability: number }[];
    }
  | { readonly channel: C; readonly kind: "cannot-tell"; readonly why: string };

/** How sure the classes of a sample are in one standard. */
export interface TableCertainty<C extends string, N extends string> {
  readonly standard: string;
  readonly channels: readonly ChannelCertainty<C, N>[];
  /**
   * For each class, how sure it is that no measured channel is dirtier. Empty when one of the channels is not known.
   */
  readonly noDirtierThan: readonly ({ readonly class: N } & ProbabilityRange)[];
}

/**
 * How sure the class of a sample is, channel by channel and as a whole.
 *
 * Each channel by the model of {@link levelOf}. How the errors of channels correlate is not known: particles larger
 * than 14 µm are among those larger than 6, and a laboratory that reads high may read high everywhere. Errors that do not
 * work against one another put the probability that all channels are within limits between the product of the channels'
 * probabilities and the smallest of them, and that range is returned.
 *
 * @param table - a printed table
 * @param counts - counts with the volume that was counted
 * @param reproducibility - of counter and laboratory together; none when absent
 * @source JEFFREYS
 * @source ASSOCIATION
 */
export function classConfidence<C extends string, N extends string>(
  table: ClassTable<C, N>,
  counts: TableCounts,
  reproducibility?: Reproducibility,
): TableCertainty<C, N> {
  const names = [...table.rows.map(([name]) => name), table.beyond];
  const channels: ChannelCertainty<C, N>[] = [];
  const cumulative: number[][] = [];
  table.channels.forEach(({ name, fromUm, toUm }, index) => {
    const reading = readChannel(counts, fromUm, toUm);
    if (reading === undefined) return;
    const seen = observe(counts, reading);
    if (typeof seen === "string") {
      channels.push({ channel: name, kind: "cannot-tell", why: seen });
      return;
    }
    const atMost = levelOf({ ...seen, ...(reproducibility && { reproducibility }) });
    // A class without a printed limit takes nothing: its cumulative probability is that of the class before it.
    let before = 0;
    const upTo = limitsOfChannel(table, index).map((limit) => {
      if (limit !== undefined) before = Math.max(before, atMost(limit / table.volumeMl));
      return before;
    });
    const all = [...upTo, 1];
    cumulative.push(all);
    channels.push({
      channel: name,
      kind: "known",
      raw: seen.raw,
      rawInterval: poissonInterval(seen.raw),
      classes: names.map((own, place) => ({
        class: own,
        probability: (all[place] as number) - (all[place - 1] ?? 0),
      })),
    });
  });
  const whole = cumulative.length === channels.length && channels.length > 0;
  return {
    standard: table.standard,
    channels,
    noDirtierThan: whole
      ? names.map((own, place) => ({
          class: own,
          ...allWithin(cumulative.map((column) => column[place] as number)),
        }))
      : [],
  };
}

/** The range for being within limits in every channel, for errors that do not work against one another. */
export function allWithin(probabilities: readonly number[]): ProbabilityRange {
  return {
    atLeast: probabilities.reduce((product, probability) => product * probability, 1),
    atMost: Math.min(1, ...probabilities),
  };
}

/** The raw count of a reading, or why it is not known. */
export function observe(
  counts: TableCounts,
  reading: CountReading,
): { raw: number; seenMl: number; blankPerMl: number } | string {
  if (reading.basis === "estimated") return "an estimated count was not counted and has no counting scatter";
  const seenMl = sampleSeenMl(counts);
  const raw = rawParticles(counts, reading);
  if (seenMl === undefined || raw === undefined) return "the volume that was counted is not known";
  return { raw, seenMl, blankPerMl: reading.blank / counts.volumeMl };
}
