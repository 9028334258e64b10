import type { CirculationPlan } from "../circulation/index.js";
import { compareWithLimits, type ParticleLimit } from "../cleanliness/index.js";
import { CountError, type CountSet, cumulativeCounts, sizeOfBreakOff } from "../counts/index.js";
import { normalQuantile } from "../numeric/index.js";
import type { OnlineAnswer, OnlineChannel, OnlineRemark } from "./answer.js";
import { type CounterCircuit, countsInCircuit, ratedPlan, timesCounted } from "./circuit.js";
import { afterMinute, carried, type Evidence, NO_EVIDENCE, strengthOf, withoutRuns } from "./clean-rule.js";
import {
  type ChannelMinute,
  countedBeforeLast,
  countsNothing,
  hasRisen,
  isStuck,
  looksLikeAir,
  RISE_MINUTES,
  relativeVarianceOf,
  repeatsItself,
} from "./conduct.js";
import type { OnlineMinute } from "./minute.js";
import { type OnlineOutlook, outlookAfter, outlookOf, type Stretch } from "./outlook.js";
import { ReportedFluid } from "./reported-fluid.js";

/** What a counter in the line is followed for, and what is known of it. */
export interface FollowingSettings {
  readonly limits: readonly ParticleLimit[];
  /** Confidence with which the circuit is called clean, such as 0.95. */
  readonly confidence: number;
  /** mL that the counter looks at in a minute. */
  readonly countedMlPerMin: number;
  /** Relative scatter of the counter from minute to minute. */
  readonly repeatability: number;
  /** Relative standard deviation of what the counter lastingly shows too much or too little. */
  readonly bias: number;
  /** The circuit that the counter sits in. Where it is known, the fall is held against what the elements are rated for. */
  readonly circuit?: CounterCircuit;
}

/** Minutes without a reading after which nothing is known of what happened. Common practice, no source. */
export const GAP_MINUTES = 5;
/** Evidence that is carried on, as a multiple of what is needed: dirt that comes later has to outweigh no more. */
const CARRIED_TIMES = 100;
/** A new fit is worth its time when a stretch has grown by one part of so many: a quarter of one of its points. */
const REFIT_PARTS = 48;
/** Minutes for which a rise is said. */
const SAID_FOR = 5;

interface Channel extends Stretch {
  readonly limit: ParticleLimit;
  evidence: Evidence;
  stretch: (ChannelMinute & { readonly minute: number })[];
  /** The least that was counted in as many minutes as a rise is looked for in. */
  lowest: number;
}

/** Follows a counter in the line from minute to minute. */
export class Following {
  private readonly channels: readonly Channel[];
  private readonly needed: number;
  private seen: OnlineMinute[] = [];
  private readonly fluid: ReportedFluid;
  /** What the circuit held in the first minute of the stretch, and what its elements are rated for from there. */
  private start: CountSet | undefined;
  private plan: CirculationPlan | undefined;
  private risen: { readonly minute: number; readonly channel: string } | undefined;
  /** Channels that were shown to be inside when it was last called so; 0 where it is not. */
  private cleanChannels = 0;
  /** Whether two minutes differed: one that stands still from its first minute on shows what it was left with. */
  private isAlive = false;
  private notCounted = "";
  private fitted: { readonly minute: number; readonly outlook: OnlineOutlook | undefined } | undefined;

  /**
   * @param settings - see {@link FollowingSettings}
   * @throws RangeError without a limit, or for a number that cannot be
   */
  constructor(private readonly settings: FollowingSettings) {
    const { limits, confidence, countedMlPerMin, repeatability, bias, circuit } = settings;
    if (limits.length === 0) throw new RangeError("limits: expected one or more, found none");
    mustLie("confidence", confidence, 0.5, 0.9999);
    mustLie("countedMlPerMin", countedMlPerMin, 0.1, 1e4);
    mustLie("repeatability", repeatability, 0, 1);
    mustLie("bias", bias, 0, 1);
    this.fluid = new ReportedFluid(circuit?.flowLpm);
    // Half of the risk is that the counter lastingly shows too little, half that chance looks like a clean circuit.
    const half = (1 - confidence) / 2;
    this.needed = 1 / half;
    const margin = Math.exp(-normalQuantile(1 - half) * bias);
    this.channels = limits.map((limit) => {
      const limitPerMl = limit.limit / limit.volumeMl;
      return {
        limit,
        channel: limit.channel,
        limitPerMl,
        aimPerMl: limitPerMl * margin,
        countedMlPerMin: countedMlPerMin / timesCounted(limit.fromUm, circuit),
        evidence: NO_EVIDENCE,
        stretch: [],
        lowest: Number.POSITIVE_INFINITY,
      };
    });
  }

  /**
   * Takes the next minute.
   *
   * @throws RangeError for a minute that is not later than the last
   */
  take(minute: OnlineMinute): OnlineAnswer {
    const before = this.seen.at(-1);
    if (before !== undefined && minute.minute <= before.minute) {
      throw new RangeError("expected a minute later than the last one");
    }
    const remarks: OnlineRemark[] = [];
    const gap = before === undefined ? 0 : minute.minute - before.minute - 1;
    if (gap >= GAP_MINUTES) {
      remarks.push({ code: "gap", minutes: gap });
      this.begin();
    }
    this.seen = [...this.seen.slice(-59), minute];
    const useless = this.whyUseless(minute);
    if (useless !== undefined) {
      if (useless.code === "cold" || useless.code === "no-flow") this.begin();
      return this.answer(minute, [...remarks, useless], true);
    }
    return this.look(minute, remarks);
  }

  private look(minute: OnlineMinute, remarks: OnlineRemark[]): OnlineAnswer {
    const { countedMlPerMin, repeatability, circuit } = this.settings;
    const held = countsInCircuit(countsOf(minute), circuit);
    const compared = compareWithLimits(
      held,
      this.channels.map(({ limit }) => limit),
    );
    const left = compared.flatMap(({ outcome, limit }) =>
      outcome === "not-measured" ? [limit.channel] : [],
    );
    if (left.length > 0 && left.join() !== this.notCounted) {
      remarks.push({ code: "not-counted", channels: left });
    }
    this.notCounted = left.join();
    const nothing = countsNothing(minute);
    const stuck = isStuck(this.seen, countedMlPerMin);
    if (stuck) remarks.push({ code: "stuck" });
    if (nothing) remarks.push({ code: "counts-nothing" });
    if (looksLikeAir(this.seen, countedMlPerMin)) remarks.push({ code: "air" });
    const dead = sizeOfBreakOff(countsOf(minute).counts, (perMl) => perMl * countedMlPerMin);
    if (dead !== undefined) remarks.push({ code: "breaks-off", sizeUmC: dead });
    const isTrusted = !stuck && !nothing && dead === undefined;
    const repeats = repeatsItself(this.seen, countedMlPerMin);
    const mayAdd = isTrusted && !repeats;
    if (this.seen.length > 1 && !repeats) this.isAlive = true;
    this.start ??= held;
    for (const [index, channel] of this.channels.entries()) {
      const one = compared[index];
      if (one === undefined || one.outcome === "not-measured") continue;
      const counted = one.count * channel.countedMlPerMin;
      const variance = relativeVarianceOf(channel.stretch, repeatability);
      const past = isTrusted
        ? carried(channel.evidence, CARRIED_TIMES * this.needed)
        : withoutRuns(channel.evidence);
      const atStake = channel.aimPerMl * channel.countedMlPerMin;
      channel.evidence = afterMinute(past, counted, atStake, variance, mayAdd);
      channel.stretch.push({ minute: minute.minute, perMl: one.count, counted });
      channel.lowest = Math.min(channel.lowest, countedBeforeLast(channel.stretch));
      if (one.count > channel.aimPerMl && hasRisen(channel.stretch, channel.lowest, variance)) {
        this.risen = { minute: minute.minute, channel: channel.limit.channel };
      }
    }
    if (this.risen?.minute === minute.minute) {
      remarks.push({ code: "risen", channel: this.risen.channel });
      this.begin(RISE_MINUTES);
      this.start = held;
    }
    return this.answer(minute, remarks, !isTrusted);
  }

  /** Why nothing can be made of a minute. */
  private whyUseless(minute: OnlineMinute): OnlineRemark | undefined {
    const { counts } = minute;
    const useless = this.fluid.take(minute);
    if (useless !== undefined) return useless;
    if (counts.length === 0) return { code: "no-counts" };
    try {
      countsOf(minute);
    } catch (error) {
      if (!(error instanceof CountError)) throw error;
      return { code: "counts-break-a-rule", message: error.message };
    }
    return undefined;
  }

  /** Begins a new stretch: what came before says nothing of the fluid that is counted now. */
  private begin(keep = 0): void {
    this.cleanChannels = 0;
    this.isAlive = false;
    this.start = undefined;
    this.plan = undefined;
    this.fitted = undefined;
    for (const channel of this.channels) {
      channel.evidence = withoutRuns(channel.evidence);
      channel.stretch = keep === 0 ? [] : channel.stretch.slice(-keep);
      channel.lowest = Number.POSITIVE_INFINITY;
    }
  }

  private answer(minute: OnlineMinute, remarks: readonly OnlineRemark[], saysNothing: boolean): OnlineAnswer {
    const channels = this.channels.map((channel): OnlineChannel => {
      const { limit, limitPerMl, aimPerMl, evidence, stretch } = channel;
      const shown = strengthOf(evidence) / this.needed;
      const last = stretch.at(-1);
      return {
        channel: limit.channel,
        ...(last !== undefined && minute.minute - last.minute < GAP_MINUTES && { perMl: last.perMl }),
        limitPerMl,
        aimPerMl,
        shown,
      };
    });
    const counted = channels.filter(({ perMl }) => perMl !== undefined);
    // Once clean it stays so while the minutes say more for it than against it, so that one of them does not turn it over.
    const isDoubted = counted.some(({ shown }) => shown * this.needed < 1);
    if (isDoubted || counted.length !== this.cleanChannels) this.cleanChannels = 0;
    const isShown = this.isAlive && counted.length > 0 && counted.every(({ shown }) => shown >= 1);
    const isNew = this.cleanChannels === 0 && !saysNothing && isShown;
    if (isNew) this.cleanChannels = counted.length;
    const isInside = counted.every(({ perMl = 0, limitPerMl }) => perMl <= limitPerMl);
    const hasJustRisen = this.risen !== undefined && minute.minute - this.risen.minute < SAID_FOR;
    const state = saysNothing
      ? "cannot-tell"
      : hasJustRisen
        ? "risen"
        : this.cleanChannels > 0 && isInside
          ? this.insideOf(counted.length)
          : "not-yet";
    const said = [
      ...remarks,
      ...this.fluid.flowBelowStated(),
      ...(isNew ? this.fluid.notReported() : []),
      ...(isNew && minute.isClass ? [{ code: "classes-only" } as const] : []),
    ];
    return { minute, state, remarks: said, channels };
  }

  /** What is inside, where the channels that are counted are. */
  private insideOf(counted: number): OnlineAnswer["state"] {
    if (this.settings.circuit?.port === "downstream") return "inside-as-rated";
    return counted < this.channels.length ? "inside-where-counted" : "clean";
  }

  /**
   * Where the counts are heading; it takes some hundredths of a second, so it is worked out when it is asked for.
   *
   * @returns undefined while too few minutes are known
   */
  outlook(): OnlineOutlook | undefined {
    const { circuit, limits, repeatability } = this.settings;
    const minute = this.seen.at(-1)?.minute ?? 0;
    const passed = minute - (this.fitted?.minute ?? Number.NEGATIVE_INFINITY);
    const minutes = Math.max(...this.channels.map(({ stretch }) => stretch.length));
    if (this.fitted && passed < minutes / REFIT_PARTS)
      return this.fitted.outlook && outlookAfter(this.fitted.outlook, passed);
    if (circuit && this.start) this.plan ??= ratedPlan(circuit, this.start, limits);
    this.fitted = { minute, outlook: outlookOf(this.channels, repeatability, this.plan) };
    return this.fitted.outlook;
  }
}

function countsOf({ counts }: OnlineMinute): CountSet {
  return cumulativeCounts(
    counts.map(({ sizeUmC, perMl }) => ({ sizeUm: sizeUmC, count: perMl })),
    1,
  );
}

function mustLie(name: string, value: number, least: number, most: number): void {
  if (typeof value !== "number" || !(value >= least && value <= most)) {
    throw new RangeError(`${name}: expected a number from ${least} to ${most}, found ${String(value)}`);
  }
}
