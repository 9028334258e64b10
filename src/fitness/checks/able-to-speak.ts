import type { Assumption } from "../../provenance/index.js";
import type { Circuit, CircuitEvent, Requirement, Sample } from "../../samples/index.js";
import type { Finding } from "../assessed.js";
import type { CircuitCase, UnreadResult } from "../case.js";
import { dayAfter, daysBetween } from "../days.js";
import { describeUnread, mayBeNewer } from "../fleet/describe-unread.js";
import { type Reason, reason } from "../reasons.js";
import type { Outlook } from "../trends/outlook.js";
import { describeToCome } from "./happened.js";
import { toppedUpOn } from "./top-ups.js";

/** What must have happened since an event when the requirement does not say. */
const USUAL_AFTER: Record<CircuitEvent["kind"], boolean> = {
  "fluid-change": true,
  "element-change": true,
  hookup: true,
  "top-up": false,
  dehydration: false,
};

const EVENT_WORDS: Record<CircuitEvent["kind"], string> = {
  "fluid-change": "the fluid was changed",
  "element-change": "the element was changed",
  hookup: "the circuit was connected to another aircraft",
  "top-up": "fluid was added",
  dehydration: "the fluid was dried",
};

/** A row in quarantine could be the newest result; until it is read, an older one cannot pass for the latest. */
export function checkQuarantine({ cart, circuit, unread }: CircuitCase, sample: Sample | undefined): Finding {
  const newer = unread.filter((result) => mayBeNewer(result, sample));
  return {
    reasons: describeUnread(
      newer.filter(({ decided }) => decided === undefined),
      { cart, circuit: circuit.circuit },
    ).map((message) => reason("result-in-quarantine", message)),
    assumptions: newer.flatMap((row) =>
      row.decided === undefined ? [] : [decidedByPerson(row, row.decided)],
    ),
  };
}

function decidedByPerson({ where }: UnreadResult, decided: string): Assumption {
  return {
    code: "row-decided-by-a-person",
    message: `${where} may hold a newer result of this circuit and was ${decided}`,
  };
}

/** Does the sample's day let it speak for what the circuit holds today? */
export function checkAge(
  { on, circuit }: Pick<CircuitCase, "on" | "circuit">,
  requirement: Requirement,
  sample: Sample,
): Finding {
  const ageDays = daysBetween(sample.drawnOn, on);
  const drawn = `sample ${sample.sample} was drawn on ${sample.drawnOn}`;
  const reasons: Reason[] = [];
  if (ageDays < 0) {
    reasons.push(reason("sample-after-judging-date", `${drawn}, after the day of judging ${on}`));
  } else if (!(ageDays <= requirement.sampleAgeDaysMax)) {
    const allowed = `at most ${requirement.sampleAgeDaysMax} are allowed`;
    reasons.push(reason("sample-too-old", `${drawn}, ${ageDays} days ago; ${allowed}`));
  } else {
    reasons.push(
      reason("sample-recent", `${drawn}, ${ageDays} days ago, within ${requirement.sampleAgeDaysMax}`),
    );
  }
  const needing = circuit.events.filter(
    // A requirement may waive the sample after a fluid change; one whose year may be wrong may be of the fluid that is in now.
    (event) => needsSample(requirement, event.kind) || (event.kind === "fluid-change" && event.on > on),
  );
  for (const event of nearestTo(on, since(needing, sample.drawnOn))) {
    const then = event.on > on ? describeToCome(on) : " and no sample has been drawn since";
    const note = event.note === undefined ? "" : ` (${event.note})`;
    const happened = `${EVENT_WORDS[event.kind]} on ${event.on}${note}`;
    reasons.push(reason("drawn-before-event", `${drawn}; ${happened}${then}`));
  }
  return { reasons };
}

/** The last day on which a sample may speak for its circuit, and what ends it. */
export interface ValidUntil {
  readonly on: string;
  /** Its age, the trend that calls for the next one, or what happened to the circuit on that day. */
  readonly because: "age" | "trend" | CircuitEvent["kind"];
}

/**
 * How long a sample may speak for its circuit: until it is too old, until its trend calls for the next one, or until something
 * happens after which a new one is needed, whichever comes first.
 *
 * An event on the day of the sample ends it on that day, because the order is not known.
 *
 * @param outlook - that of the verdict on the sample; without it no trend is looked at
 * @example
 * const circuit = { circuit: "main", serves: "main system", fluid: "MIL-PRF-83282", volumeL: 60, events: [] };
 * const requirement = { system: "main system", fluids: ["MIL-PRF-83282"], cleanliness: [], sampleAgeDaysMax: 30 };
 * validUntil(circuit, requirement, { drawnOn: "2026-03-04" }); // => { on: "2026-04-03", because: "age" }
 */
export function validUntil(
  circuit: Circuit,
  requirement: Requirement,
  sample: Sample,
  outlook?: Pick<Outlook, "nextSampleBy" | "because">,
): ValidUntil {
  const { drawnOn } = sample;
  const toppedUp = toppedUpOn(circuit, requirement, sample);
  const ends: readonly ValidUntil[] = [
    ...since(circuit.events, drawnOn)
      // A requirement may waive the sample after a fluid change; the old one still says nothing of the new fluid.
      .filter(({ kind }) => kind === "fluid-change" || needsSample(requirement, kind))
      .map(({ on, kind }) => ({ on, because: kind })),
    ...(toppedUp === undefined ? [] : [{ on: toppedUp, because: "top-up" as const }]),
    ...(outlook?.because === "trend" ? [{ on: outlook.nextSampleBy, because: "trend" as const }] : []),
    { on: dayAfter(drawnOn, requirement.sampleAgeDaysMax), because: "age" },
  ];
  return ends.reduce((first, next) => (next.on < first.on ? next : first));
}

function needsSample({ after }: Requirement, kind: CircuitEvent["kind"]): boolean {
  return after?.find(({ event }) => event === kind)?.sample ?? USUAL_AFTER[kind];
}

/** Has the circuit been circulated since each change for as long as the requirement asks? */
export function checkCirculatedSince(
  { on, circuit }: Pick<CircuitCase, "on" | "circuit">,
  { after = [] }: Requirement,
): Finding {
  const reasons = after.flatMap(({ event: kind, circulatedMinutesMin }): Reason[] => {
    if (circulatedMinutesMin === undefined) return [];
    const events = circuit.events.filter((entry) => entry.kind === kind);
    return nearestTo(on, events).flatMap((event) => {
      const { circulatedMinutes } = event;
      if (circulatedMinutes !== undefined && circulatedMinutes >= circulatedMinutesMin) return [];
      const done =
        circulatedMinutes === undefined
          ? "no circulation since was entered"
          : `${circulatedMinutes} min since`;
      const required =
        event.on > on
          ? describeToCome(on)
          : ` and ${circulatedMinutesMin} min of circulation are asked for; ${done}`;
      return [reason("not-circulated-since", `${EVENT_WORDS[kind]} on ${event.on}${required}`)];
    });
  });
  return { reasons };
}

/** The events on or after the day the sample was drawn: on the same day the order is not known. */
function since(events: readonly CircuitEvent[], drawnOn: string): CircuitEvent[] {
  return events.filter((event) => event.on >= drawnOn);
}

/** The last event that has happened and the first that is to come: neither takes anything back of the other. */
function nearestTo(on: string, events: readonly CircuitEvent[]): CircuitEvent[] {
  const inOrder = [...events].sort((a, b) => a.on.localeCompare(b.on));
  return [inOrder.findLast((event) => event.on <= on), inOrder.find((event) => event.on > on)].filter(
    (event) => event !== undefined,
  );
}
