import { grouped } from "../numeric/index.js";
import type { CircuitEvent } from "./parts-of-circuit.js";
import type { Sample } from "./sample.js";

/** As much of an event as tells when it happened. */
type Happened = Pick<CircuitEvent, "on"> & Partial<Pick<CircuitEvent, "at" | "minutes" | "beforeSample">>;
/** As much of a sample as tells when it was drawn. */
type Drawn = Pick<Sample, "sample" | "drawnOn" | "drawnTime">;

/**
 * Whether something may have happened, or still gone on, after a sample was drawn.
 *
 * On one day the order is known where both have a time of day, with a zone or without, and otherwise where the event names the
 * sample as drawn after it. A minute in common leaves it open, and what is open counts as after. A time in UTC gives no local
 * day, so against a local time it is open as long as any place on earth leaves it open.
 */
export function mayFollow(event: Happened, sample: Drawn): boolean {
  const [end, drawn] = [endOf(event), momentOf(sample.drawnOn, sample.drawnTime)];
  if (end !== undefined && drawn !== undefined && end.isZoned && drawn.isZoned)
    return end.minute >= drawn.minute;
  const byUtc = end && drawn && mayFollowByUtc(end, drawn);
  if (byUtc !== undefined) return byUtc && event.beforeSample !== sample.sample;
  if (event.on !== sample.drawnOn) return event.on > sample.drawnOn;
  if (end !== undefined && drawn !== undefined && end.isZoned === drawn.isZoned)
    return end.minute >= drawn.minute;
  return event.beforeSample !== sample.sample;
}

/**
 * Whether something may have begun before a sample was drawn; what is open counts as before. See {@link mayFollow}.
 */
export function mayPrecede(event: Happened, sample: Drawn): boolean {
  const [start, drawn] = [momentOf(event.on, event.at), momentOf(sample.drawnOn, sample.drawnTime)];
  if (start !== undefined && drawn !== undefined) {
    if (start.isZoned && drawn.isZoned) return start.minute <= drawn.minute;
    if (start.isUtc && !drawn.isZoned) return start.minute - MAX_AFTER_MINUTES <= drawn.minute;
    if (drawn.isUtc && !start.isZoned) return start.minute - MAX_AHEAD_MINUTES <= drawn.minute;
    if (event.on === sample.drawnOn && start.isZoned === drawn.isZoned) return start.minute <= drawn.minute;
  }
  return event.on <= sample.drawnOn;
}

/**
 * Minutes of something that surely went on after a sample was drawn; where the order is open, none.
 */
function minutesAfter(event: Happened, sample: Drawn): number {
  const minutes = minutesOfDay(event);
  const [end, drawn] = [endOf(event), momentOf(sample.drawnOn, sample.drawnTime)];
  const areAlike = end !== undefined && drawn !== undefined && end.isZoned === drawn.isZoned;
  if (areAlike) return Math.max(0, Math.min(minutes, end.minute - drawn.minute));
  return mayPrecede(event, sample) ? 0 : minutes;
}

/** An entry is of one day: what goes beyond is a slip of the pen, or the run of another day. */
export const MAX_RUN_MINUTES = 24 * 60;

function minutesOfDay({ minutes = 0 }: Happened): number {
  return Math.min(minutes, MAX_RUN_MINUTES);
}

/**
 * Minutes of each of the runs of one circuit, at most a day of each, of those after a sample the ones that surely went on after it was drawn. A minute that
 * two runs with times of day have in common counts for the one that began first: a circuit does not run twice at once, and a log
 * may hold a run twice.
 */
export function minutesOfRuns<E extends Happened>(runs: readonly E[], sample?: Drawn): Map<E, number> {
  const startOf = ({ on, at }: E) => momentOf(on, at)?.minute ?? 0;
  const ended = new Map<boolean, number>();
  return new Map(
    [...runs]
      .sort((one, other) => startOf(one) - startOf(other))
      .map((run) => {
        const [minutes, end] = [sample ? minutesAfter(run, sample) : minutesOfDay(run), endOf(run)];
        if (end === undefined) return [run, minutes];
        const last = ended.get(end.isZoned) ?? Number.NEGATIVE_INFINITY;
        ended.set(end.isZoned, Math.max(last, end.minute));
        return [run, Math.max(0, Math.min(minutes, end.minute - last))];
      }),
  );
}

/**
 * Events in order: by their days, within a day by their times where all of that day have one, and otherwise as they are listed.
 */
export function eventsInOrder<E extends Happened>(events: readonly E[]): E[] {
  return [...grouped(events, ({ on }) => on)]
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .flatMap(([, ofDay]) => {
      const moments = new Map(ofDay.map((event) => [event, momentOf(event.on, event.at)]));
      const all = [...moments.values()];
      const areAlike = all.every((moment) => moment !== undefined && moment.isZoned === all[0]?.isZoned);
      const minuteOf = (event: E) => moments.get(event)?.minute ?? 0;
      return areAlike ? ofDay.sort((a, b) => minuteOf(a) - minuteOf(b)) : ofDay;
    });
}

interface Moment {
  /** Minutes since a fixed moment; local ones are of their own place. */
  readonly minute: number;
  readonly isZoned: boolean;
  readonly isUtc: boolean;
}

/** Local times are up to 14 hours ahead of UTC and up to 12 hours after it. */
const MAX_AHEAD_MINUTES = 14 * 60;
const MAX_AFTER_MINUTES = 12 * 60;

/** Where one time is in UTC and the other local, whether the event may be the later one; undefined for other times. */
function mayFollowByUtc(end: Moment, drawn: Moment): boolean | undefined {
  if (end.isUtc && !drawn.isZoned) return end.minute + MAX_AHEAD_MINUTES >= drawn.minute;
  if (drawn.isUtc && !end.isZoned) return end.minute >= drawn.minute - MAX_AFTER_MINUTES;
  return undefined;
}

const MS_PER_MINUTE = 60_000;
const UTC = /(Z|[+-]00:00)$/;
const ZONED = /(Z|[+-]\d{2}:\d{2})$/;

/** Whether a time of day says its zone. */
export function hasZone(time: string): boolean {
  return ZONED.test(time);
}

function momentOf(day: string, time: string | undefined): Moment | undefined {
  if (time === undefined) return undefined;
  const isZoned = hasZone(time);
  const minute = Math.floor(Date.parse(`${day}T${time}${isZoned ? "" : "Z"}`) / MS_PER_MINUTE);
  return { minute, isZoned, isUtc: UTC.test(time) };
}

/** A sample that is drawn while something still goes on is not drawn after it. */
function endOf({ on, at, minutes = 0 }: Happened): Moment | undefined {
  const start = momentOf(on, at);
  return start && { ...start, minute: start.minute + minutes };
}
