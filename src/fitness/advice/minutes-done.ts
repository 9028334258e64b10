import {
  formatCountFrom,
  MINUTES_COUNTED,
  MINUTES_NOT_COUNTED,
  type MinutesDone,
  WATCHED_FROM_C,
} from "../../circulation/index.js";
import type { Assumption } from "../../provenance/index.js";
import {
  type Circuit,
  type CircuitEvent,
  type CirculatingCircuit,
  eventsInOrder,
  hasZone,
  MAX_RUN_MINUTES,
  mayFollow,
  mayPrecede,
  minutesOfRuns,
  type RatedBeta,
  type Sample,
} from "../../samples/index.js";
import { formatQuantity, inFourDigits } from "../../units/index.js";
import { canonicalJson } from "../canonical-json.js";
import { describeHappened } from "../evidence/event-effects.js";
import type { JudgingDay } from "../judging-day.js";

type Bottle = Pick<Sample, "sample" | "drawnOn" | "drawnTime">;

/** Events that bring in neither dirt nor another element: what was run before stays run. Common practice, no source. */
const KEEPING: readonly CircuitEvent["kind"][] = ["circulation", "dehydration"];

/**
 * What a circuit was circulated since a bottle was drawn: minutes that are not to be run again.
 *
 * Only minutes that surely followed the bottle count, and none from before the last thing that may have brought in dirt or
 * another element. They were run warm and at the flow of the circuit, unless the log says otherwise.
 *
 * @param bottles - what the circulation starts from, and others of which it is not known whether they were drawn before
 */
export function minutesDone(
  circuit: CirculatingCircuit,
  bottles: readonly [Bottle, ...Bottle[]],
  day: JudgingDay,
): MinutesDone {
  const [first, ...others] = bottles.map((bottle) => doneSince(circuit, bottle, day));
  return others.reduce((least, one) => (one.minutes < least.minutes ? one : least), first as MinutesDone);
}

function doneSince(circuit: CirculatingCircuit, bottle: Bottle, day: JudgingDay): MinutesDone {
  const since = eventsInOrder(circuit.events).filter(
    (event) => day.hasCome(event.on) && mayFollow(event, bottle),
  );
  const ending = since.findLastIndex(({ kind }) => !KEEPING.includes(kind));
  const runs = since.filter(({ kind, minutes = 0 }) => kind === "circulation" && minutes > 0);
  const isBefore = (run: CircuitEvent) => since.indexOf(run) < ending;
  // As whole as it is said.
  const fromC = Math.floor(WATCHED_FROM_C);
  const isCold = ({ fluidTemperatureC = fromC }: CircuitEvent) => fluidTemperatureC < fromC;
  const later = runs.filter((run) => !isBefore(run) && !isOpen(run, bottle));
  const [warm, cold] = [later.filter((run) => !isCold(run)), later.filter(isCold)];
  const partOfFlow = ({ flowLpm = circuit.flowLpm }: CircuitEvent) => flowLpm / circuit.flowLpm;
  const withOthers = since.slice(Math.max(0, ending)).filter((event) => !mayPrecede(event, bottle));
  const minutes = Math.max(
    [...minutesOfRuns(warm, bottle)].reduce((sum, [run, ran]) => sum + ran * partOfFlow(run), 0),
    // Minutes written with another event may be the same ones.
    ...withOthers.map((event) => (event.circulatedMinutes ?? 0) * partOfFlow(event)),
  );
  const ended = since[ending];
  const assumptions = [
    ...(minutes > 0 ? [describeCounted(minutes, circuit, bottle)] : []),
    ...(ended ? doNotCount(runs.filter(isBefore), `after that ${describeHappened(ended)}`) : []),
    ...doNotCount(
      runs.filter((run) => !isBefore(run) && isOpen(run, bottle)),
      `they may be from before sample ${bottle.sample}; give both times of day`,
    ),
    ...doNotCount(
      warm.filter((run) => partOfFlow(run) === 0),
      "they were not run through the element that was typed",
    ),
    ...doNotCount(
      warm.filter(({ minutes = 0 }) => minutes > MAX_RUN_MINUTES),
      `beyond the ${MAX_RUN_MINUTES} min of a day; enter each day by itself`,
    ),
    ...doNotCount(cold, `the fluid was below ${formatCountFrom(WATCHED_FROM_C)}`),
  ];
  return { minutes, assumptions };
}

/**
 * The log of a circuit for which another flow or element is typed: what was run before was run at the flow as it was stated, and
 * none of it through an element that is another one.
 */
export function eventsAsRun(
  { events, flowLpm, element }: Circuit,
  typed: { readonly betas?: readonly RatedBeta[] | undefined },
): CircuitEvent[] {
  const isOther = typed.betas !== undefined && bySize(typed.betas) !== bySize(element.betas);
  return events.map((event) => {
    const ranAt = isOther ? 0 : (event.flowLpm ?? flowLpm);
    return ranAt === undefined ? event : { ...event, flowLpm: ranAt };
  });
}

function bySize(betas: readonly RatedBeta[]): string {
  return canonicalJson([...betas].sort((one, other) => one.sizeUmC - other.sizeUmC));
}

/** Whether the times do not say on which side of a bottle something was. */
function isOpen(event: CircuitEvent, bottle: Bottle): boolean {
  const { drawnTime } = bottle;
  const areAlike =
    event.at !== undefined && drawnTime !== undefined && hasZone(event.at) === hasZone(drawnTime);
  return !areAlike && mayPrecede(event, bottle);
}

function describeCounted(
  minutes: number,
  { flowLpm, shownIn }: CirculatingCircuit,
  { sample }: Bottle,
): Assumption {
  const flow = formatQuantity("flow", flowLpm, shownIn);
  return {
    code: MINUTES_COUNTED,
    message:
      `what was circulated since sample ${sample} counts as ${inFourDigits(minutes)} min at ${flow}, ` +
      "taken as run warm and through the element that is fitted now",
  };
}

function doNotCount(runs: readonly CircuitEvent[], why: string): Assumption[] {
  if (runs.length === 0) return [];
  const all = runs.map(({ minutes = 0, on }) => `${inFourDigits(minutes)} min on ${on}`).join(" and ");
  return [{ code: MINUTES_NOT_COUNTED, message: `minutes circulated do not count (${all}): ${why}` }];
}
