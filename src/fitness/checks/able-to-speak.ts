import {
  type Circuit,
  type CircuitEvent,
  circulates,
  eventsInOrder,
  hasZone,
  mayFollow,
  minutesOfRuns,
  type Requirement,
  type Sample,
} from "../../samples/index.js";
import type { Finding } from "../assessed.js";
import type { CaseOnDay } from "../case.js";
import { checkCase } from "../check-case.js";
import { dayAfter } from "../days.js";
import { describeHappened, effectOf, needsSample } from "../evidence/event-effects.js";
import { type Evidence, evidenceOf, newestFirst } from "../evidence/evidence.js";
import { requirementOf } from "../evidence/requirement-of.js";
import { ageMaxOf, type Result, requiredResults } from "../evidence/results.js";
import { decidedByPeople, decidedNewer, describeUnread } from "../fleet/describe-unread.js";
import type { JudgingDay } from "../judging-day.js";
import { type Reason, reason } from "../reasons.js";
import type { Outlook } from "../trends/outlook.js";
import { circuitUntil, STILL_TO_COME } from "./happened.js";
import { toppedUpOn } from "./top-ups.js";

/** A row in quarantine could be the newest result; until it is read, an older one cannot pass for the latest. */
export function checkQuarantine(
  { cart, circuit, unread }: Pick<CaseOnDay, "cart" | "circuit" | "unread">,
  { used, newest, former }: Evidence,
): Finding {
  const oldest = newestFirst([...used, ...newest]).at(-1) ?? former?.sample;
  return {
    reasons: describeUnread(unread, { cart, circuit: circuit.circuit }, oldest).map(({ message, actor }) => ({
      ...reason("result-in-quarantine", message),
      actor,
    })),
    assumptions: decidedByPeople(decidedNewer(unread, oldest), "a newer result of this circuit"),
  };
}

/** Do the days of the bottles let them represent what the circuit holds today, each for the results that rest on it? */
export function checkAge(
  { day, circuit }: Pick<CaseOnDay, "day" | "circuit">,
  requirement: Requirement,
  evidence: Evidence,
): Finding {
  const { former, used, looked } = evidence;
  if (former !== undefined) return checkFormer({ day, circuit }, requirement, former.sample);
  const early = looked.filter(({ drawnOn }) => !day.hasCome(drawnOn));
  return {
    reasons: [
      ...early.map((sample) =>
        reason("sample-after-judging-date", `${describeDrawn(sample)}, after the day of judging`),
      ),
      ...used.flatMap((sample) => agesOf(sample, evidence, requirement, day)),
      ...used.flatMap((sample) => eventsSince(sample, evidence, { requirement, circuit, day })),
    ],
  };
}

function describeDrawn({ sample, drawnOn }: Sample): string {
  return `sample ${sample} was drawn on ${drawnOn}`;
}

/** The last sample of fluid that is gone: how old it is, and what took its fluid out. */
function checkFormer(
  input: Pick<CaseOnDay, "day" | "circuit">,
  requirement: Requirement,
  sample: Sample,
): Finding {
  const all = requiredResults(requirement);
  const alone: Evidence = {
    ...{ of: () => [sample], restingOn: () => all },
    ...{ used: [sample], looked: [sample], newest: [sample] },
  };
  return checkAge(input, requirement, alone);
}

function agesOf(sample: Sample, evidence: Evidence, requirement: Requirement, day: JudgingDay): Reason[] {
  if (!day.hasCome(sample.drawnOn)) return [];
  const resting = evidence.restingOn(sample);
  const ageOf = (result: Result) => ageMaxOf(result, requirementOf(requirement, sample));
  const ages = [...new Set(resting.map(ageOf))].sort((a, b) => a - b);
  return ages.map((max) => {
    const own = resting.filter((result) => ageOf(result) === max);
    const isAll = ages.length === 1 && evidence.used.length === 1;
    const what = isAll ? "" : ` (${describeResults(own)})`;
    const [drawn, last] = [describeDrawn(sample), dayAfter(sample.drawnOn, max)];
    return day.isWithin(sample.drawnOn, max)
      ? reason("sample-recent", `${drawn} and counts until ${last}, ${max} days${what}`)
      : reason(
          "sample-too-old",
          `${drawn} and counted until ${last}; at most ${max} days are allowed${what}`,
        );
  });
}

/** What happened after a bottle was drawn and asks for a newer one of results that rest on it. */
function eventsSince(
  sample: Sample,
  evidence: Evidence,
  { requirement, circuit, day }: Pick<CaseOnDay, "circuit" | "day"> & { readonly requirement: Requirement },
): Reason[] {
  const resting = evidence.restingOn(sample);
  const open = new Map<CircuitEvent, Result[]>();
  for (const result of resting) {
    const needing = circuit.events.filter(
      (event) =>
        mayFollow(event, sample) &&
        // A requirement may waive the sample after a fluid change; one whose year may be wrong may be of the fluid that is in now.
        (needsSample(requirement, event, result) ||
          (effectOf(event, result) === "gone" && !day.hasCome(event.on))),
    );
    for (const event of nearestTo(day, needing)) open.set(event, [...(open.get(event) ?? []), result]);
  }
  return [...open].map(([event, results]) => {
    const isAll = evidence.used.length === 1 && results.length === resting.length;
    const since = `no sample${isAll ? "" : ` that shows ${describeResults(results)}`} has been drawn since`;
    const then = !day.hasCome(event.on) ? STILL_TO_COME : ` and ${since}${describeOrder(event, sample)}`;
    return reason("drawn-before-event", `${describeDrawn(sample)}; ${describeHappened(event)}${then}`);
  });
}

/** On one day the order is known by times only, and by those alone that can be compared. */
function describeOrder(event: CircuitEvent, { sample, drawnOn, drawnTime }: Sample): string {
  if (event.at !== undefined && drawnTime !== undefined && hasZone(event.at) !== hasZone(drawnTime))
    return `; of ${event.at} and ${drawnTime}, the time of the sample, one has no zone: give both with their zones`;
  if (event.on !== drawnOn || (event.at !== undefined && drawnTime !== undefined)) return "";
  return `; if the sample was drawn afterwards, give both times of day, or enter "beforeSample": "${sample}" with the event`;
}

function describeResults(results: readonly Result[]): string {
  return results.join(", ");
}

/** The last day on which samples may represent their circuit, and what ends it. */
export interface ValidUntil {
  readonly on: string;
  /** Their age, the trend that calls for the next one, or what happened to the circuit on that day. */
  readonly because: "age" | "trend" | CircuitEvent["kind"];
}

/**
 * How long samples may represent their circuit: until a result is too old, until the trend calls for the next one, or until
 * something happens after which a new one is needed, whichever comes first.
 *
 * An event of the day of the sample ends it on that day where the order is not known.
 *
 * @param samples - those that a verdict rests on: its sample, and its other samples; at least one
 * @param outlook - that of the verdict; without it no trend is looked at
 * @example
 * const circuit = { circuit: "main", serves: "main system", fluid: "MIL-PRF-83282", volumeL: 60, events: [] };
 * const requirement = { system: "main system", fluids: ["MIL-PRF-83282"], cleanliness: [], sampleAgeDaysMax: 30 };
 * validUntil(circuit, requirement, [{ drawnOn: "2026-03-04" }]); // => { on: "2026-04-03", because: "age" }
 */
export function validUntil(
  circuit: Circuit,
  requirement: Requirement,
  samples: readonly Sample[],
  outlook?: Pick<Outlook, "nextSampleBy" | "because">,
): ValidUntil {
  checkCase({ circuit, requirement, samples });
  const evidence = evidenceOf({ ...circuit, events: [] }, requirement, samples);
  // A bottle that shows nothing that is needed is as good as one that shows all of it.
  const isBare = evidence.used.length === 0;
  const ends = (isBare ? samples.slice(0, 1) : evidence.used).flatMap((sample): ValidUntil[] => {
    const toppedUp = toppedUpOn(circuit, requirement, sample);
    const resting = isBare ? resultsThatAge(requirement) : evidence.restingOn(sample);
    return [
      ...resting.flatMap((result): ValidUntil[] => [
        ...circuit.events
          // A requirement may waive the sample after a fluid change; the old one still says nothing of the new fluid.
          .filter((event) => effectOf(event, result) === "gone" || needsSample(requirement, event, result))
          .filter((event) => mayFollow(event, sample))
          .map(({ on, kind }) => ({ on, because: kind })),
        {
          on: dayAfter(sample.drawnOn, ageMaxOf(result, requirementOf(requirement, sample))),
          because: "age",
        },
      ]),
      ...(toppedUp === undefined ? [] : [{ on: toppedUp, because: "top-up" as const }]),
    ];
  });
  const trend: ValidUntil[] =
    outlook?.because === "trend" ? [{ on: outlook.nextSampleBy, because: "trend" }] : [];
  return [...ends, ...trend].reduce((first, next) => (next.on < first.on ? next : first));
}

/** The results whose age ends a sample; where a requirement needs none of them, that of particles. */
function resultsThatAge(requirement: Requirement): Result[] {
  const required = requiredResults(requirement);
  return required.length === 0 ? ["particles"] : required;
}

/** Has the circuit been circulated since each change for as long as the requirement asks? */
export function checkCirculatedSince(
  { day, circuit }: Pick<CaseOnDay, "day" | "circuit">,
  requirement: Requirement,
): Finding {
  const reasons = circulationsDue({ day, circuit }, requirement).map(
    ({ event, requiredMin, doneMin }): Reason => {
      const entered = doneMin === 0 ? "no circulation since was entered" : `${doneMin} min since`;
      const done = circulates(circuit) ? entered : `${entered}; ${PUMP_INTO_A_CAN}`;
      const required = !day.hasCome(event.on)
        ? STILL_TO_COME
        : ` and ${requiredMin} min of circulation are required; ${done}`;
      return reason("not-circulated-since", `${describeHappened(event)}${required}`);
    },
  );
  return { reasons };
}

const PUMP_INTO_A_CAN =
  "a path that only delivers is pumped into a clean can, and the minutes are entered as a circulation";

/** The circulations that the requirement asks for after events and that have not been done. */
function circulationsDue(
  { day, circuit }: Pick<CaseOnDay, "day" | "circuit">,
  { after = [] }: Requirement,
): { readonly event: CircuitEvent; readonly requiredMin: number; readonly doneMin: number }[] {
  return after.flatMap(({ event: kind, circulatedMinutesMin: requiredMin }) => {
    if (requiredMin === undefined) return [];
    const events = circuit.events.filter((entry) => entry.kind === kind);
    return nearestTo(day, events)
      .map((event) => ({ event, requiredMin, doneMin: circulatedSince(event, circuit.events, day) }))
      .filter(({ doneMin }) => !(doneMin >= requiredMin));
  });
}

/** Minutes of circulation that the requirement still asks for after an event that has happened; 0 where it asks for none. */
export function minutesDue(
  { day, circuit }: Pick<CaseOnDay, "day" | "circuit">,
  requirement: Requirement,
): number {
  const due = circulationsDue({ day, circuit: circuitUntil(circuit, day) }, requirement);
  return Math.max(0, ...due.map(({ requiredMin, doneMin }) => requiredMin - doneMin));
}

/** Minutes that were entered with an event, and those of the circulations that followed it. */
function circulatedSince(event: CircuitEvent, events: readonly CircuitEvent[], day: JudgingDay): number {
  const inOrder = eventsInOrder(events);
  const later = inOrder.slice(inOrder.indexOf(event) + 1);
  const circulated = later.filter((entry) => entry.kind === "circulation" && day.hasCome(entry.on));
  return [...minutesOfRuns(circulated).values()].reduce(
    (sum, minutes) => sum + minutes,
    event.circulatedMinutes ?? 0,
  );
}

/** The last event that has happened and the first that is to come: neither takes anything back of the other. */
function nearestTo(day: JudgingDay, events: readonly CircuitEvent[]): CircuitEvent[] {
  const inOrder = eventsInOrder(events);
  return [
    inOrder.findLast((event) => day.hasCome(event.on)),
    inOrder.find((event) => !day.hasCome(event.on)),
  ].filter((event) => event !== undefined);
}
