import { cumulativeCounts } from "../counts/index.js";
import { COUNTED_MINUTES, type CounterRun, type Sample } from "../samples/index.js";
import type { OnlineAnswer } from "./answer.js";
import { type FollowingSettings, GAP_MINUTES } from "./following.js";

/** Whose fluid a counter saw, and what is known of the counter itself. */
export interface FollowedCircuit {
  readonly cart: string;
  readonly circuit: string;
  /** The log, for where the sample came from. */
  readonly file?: string;
  /** Minutes that the local time is ahead of UTC; the day of the sample is the local one. */
  readonly aheadOfUtcMin?: number;
  /** The last day of the calibration of the counter. */
  readonly calibrationDueOn?: string;
}

/** The sample that a followed run ends with, or why it gives none. */
export type FollowedSample =
  | { readonly kind: "sample"; readonly sample: Sample }
  | { readonly kind: "none"; readonly why: string };

/** An answer with what was last reported of temperature and flow. */
interface Held {
  readonly answer: OnlineAnswer;
  readonly temperatureC: number | undefined;
  readonly flowLpm: number | undefined;
}

/**
 * The sample that a run of a counter in the line ends with: its last minutes, as far back as they were counted without a break
 * and showed the same.
 *
 * It is a source of its own: it has a {@link CounterRun}, which no bottle has. A verdict takes it only where the requirement
 * has `counterInLine`, and for particles only. A clean run is dated by its first minute: a bottle that is drawn while it lasts is
 * newer, and decides where the two contradict each other. A run that is not clean is dated by its last.
 *
 * @param answers - of the whole run, in their order
 * @param settings - what the run was followed with; without a circuit the port is not known, and there is no sample
 * @returns why there is none: where the last minute says nothing, is a class, or was counted without temperature or flow
 */
export function followedSample(
  answers: readonly OnlineAnswer[],
  settings: FollowingSettings,
  of: FollowedCircuit,
): FollowedSample {
  const none = (why: string): FollowedSample => ({ kind: "none", why });
  const { circuit } = settings;
  if (circuit === undefined) return none("the circuit that the counter sits in is not known");
  const held = withHeld(answers);
  const last = held.at(-1);
  if (last === undefined) return none("no minute was counted");
  const why = whyNoSample(last);
  if (why !== undefined) return none(why);
  const run = lastRun(held);
  const alive = run.filter(({ answer }, index) => index === 0 || differs(answer, run[index - 1]?.answer));
  const isClean = last.answer.state === "clean";
  const { minute } = ((isClean && run[0]) || last).answer.minute;
  const at = new Date(60_000 * (minute + (of.aheadOfUtcMin ?? 0))).toISOString();
  const [drawnOn, time] = [at.slice(0, 10), at.slice(11, 16)];
  const temperatures = run.map(({ temperatureC }) => temperatureC as number);
  const flows = run.map(({ flowLpm }) => flowLpm as number);
  const counterRun: CounterRun = {
    isClean,
    minutes: alive.length,
    lowestTemperatureC: Math.min(...temperatures),
    lowestFlowLpm: Math.min(...flows),
    highestFlowLpm: Math.max(...flows),
    confidence: settings.confidence,
    repeatability: settings.repeatability,
    bias: settings.bias,
    limits: settings.limits.map(({ fromUm, toUm, limit, volumeMl }) => ({
      fromUm,
      ...(toUm !== undefined && { toUm }),
      perMl: limit / volumeMl,
    })),
  };
  return {
    kind: "sample",
    sample: {
      sample: `counter ${drawnOn} ${time}`,
      cart: of.cart,
      circuit: of.circuit,
      drawnOn,
      drawnTime: `${time}${zone(of.aheadOfUtcMin ?? 0)}`,
      ...(of.calibrationDueOn !== undefined && { calibrationDueOn: of.calibrationDueOn }),
      counts: countsOf(alive.slice(-COUNTED_MINUTES), settings.countedMlPerMin),
      fluidTemperatureC: counterRun.lowestTemperatureC,
      samplePoint: `${circuit.port}-of-element`,
      flowing: true,
      counterRun,
      origin: [{ file: of.file ?? "a counter in the line", rows: [answers.length] }],
    },
  };
}

/** Instruments may report temperature and flow only when they change; after a gap what they said holds no more. */
function withHeld(answers: readonly OnlineAnswer[]): Held[] {
  let temperatureC: number | undefined;
  let flowLpm: number | undefined;
  let before: number | undefined;
  return answers.map((answer) => {
    const { minute } = answer;
    if (before !== undefined && !follows(minute.minute, before)) {
      temperatureC = undefined;
      flowLpm = undefined;
    }
    before = minute.minute;
    temperatureC = minute.temperatureC ?? temperatureC;
    flowLpm = minute.flowLpm ?? flowLpm;
    return { answer, temperatureC, flowLpm };
  });
}

function whyNoSample({ answer, temperatureC, flowLpm }: Held): string | undefined {
  if (answer.state === "cannot-tell") return "its last minute says nothing of the circuit";
  if (answer.minute.isClass === true)
    return "it reports classes only, which do not show that the counter works";
  if (temperatureC === undefined) return "no temperature was reported, so it may have been cold";
  if (flowLpm === undefined) return "no flow was reported, so the fluid may have stood";
  return undefined;
}

function lastRun(held: readonly Held[]): readonly Held[] {
  const isClean = held.at(-1)?.answer.state === "clean";
  const breaks = held.findLastIndex((one, index) => {
    const next = held[index + 1];
    const isBroken = next !== undefined && !follows(next.answer.minute.minute, one.answer.minute.minute);
    return whyNoSample(one) !== undefined || (one.answer.state === "clean") !== isClean || isBroken;
  });
  return held.slice(breaks + 1);
}

/** Whether a minute is of the same stretch as the one before it: no gap lies between, and no clock that was set back. */
function follows(minute: number, before: number): boolean {
  return minute > before && minute - before <= GAP_MINUTES;
}

function differs({ minute }: OnlineAnswer, before: OnlineAnswer | undefined): boolean {
  return JSON.stringify(minute.counts) !== JSON.stringify(before?.minute.counts);
}

/** The mean of the minutes, at the sizes that each of them counted. */
function countsOf(run: readonly Held[], countedMlPerMin: number) {
  const minutes = run.map(({ answer }) => answer.minute.counts);
  const perMl = (counts: (typeof minutes)[number], sizeUmC: number) =>
    counts.find((count) => count.sizeUmC === sizeUmC)?.perMl;
  const counts = (minutes.at(-1) ?? []).flatMap(({ sizeUmC }) => {
    const all = minutes.flatMap((one) => perMl(one, sizeUmC) ?? []);
    if (all.length < minutes.length) return [];
    return [{ sizeUm: sizeUmC, count: all.reduce((sum, count) => sum + count, 0) / all.length }];
  });
  return cumulativeCounts(counts, 1, "um(c)", { countedMl: countedMlPerMin * minutes.length });
}

function zone(aheadMin: number): string {
  if (aheadMin === 0) return "Z";
  const two = (value: number) => String(value).padStart(2, "0");
  const ahead = Math.abs(aheadMin);
  return `${aheadMin < 0 ? "-" : "+"}${two(Math.floor(ahead / 60))}:${two(ahead % 60)}`;
}
