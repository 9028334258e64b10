import type { Sample } from "../samples/index.js";

/**
 * The latest sample of a circuit; several where the order of the latest ones is not known.
 *
 * Samples with time zones are put in order as instants, so that one drawn late on one local day may be the later one
 * than another of the next. Samples without zones are put in order by their local day, and on one day by their time where
 * all of that day have one. The last with a zone and the last without are distinguished by their local days; on one day their
 * order is not known. A time in UTC gives no local day: such a sample may be of the day before or after as well.
 *
 * @param samples - samples of one circuit, in any order
 * @returns in the order of their numbers; nothing for no samples
 */
export function latestSamples(samples: readonly Sample[]): Sample[] {
  const zoned = latestInstant(samples.filter((sample) => !Number.isNaN(instantOf(sample))));
  const local = latestLocal(samples.filter((sample) => Number.isNaN(instantOf(sample))));
  const [one, other] = [zoned[0], local[0]];
  const isKnown = one === undefined || other === undefined || areInOrder(one, other);
  const latest = !isKnown
    ? [...zoned, ...local]
    : (other?.drawnOn ?? "") > (one?.drawnOn ?? "")
      ? local
      : zoned;
  return latest.sort((a, b) => compareText(a.sample, b.sample));
}

const UTC = /(Z|[+-]00:00)$/;
const WITH_ZONE = /^[\d:]+(Z|[+-]\d{2}:\d{2})$/;

/** The moment of drawing in milliseconds; NaN where it has no time or no zone. */
function instantOf({ drawnOn, drawnTime = "" }: Sample): number {
  return WITH_ZONE.test(drawnTime) ? Date.parse(`${drawnOn}T${drawnTime}`) : Number.NaN;
}

/** Whether the local days of a sample with a zone and one without tell which was drawn later. */
function areInOrder(zoned: Sample, local: Sample): boolean {
  const days = Math.abs(Date.parse(zoned.drawnOn) - Date.parse(local.drawnOn)) / 86_400_000;
  return days > (UTC.test(zoned.drawnTime ?? "") ? 1 : 0);
}

function latestInstant(samples: readonly Sample[]): Sample[] {
  const allInSeconds = samples.every(({ drawnTime = "" }) => SECONDS.test(drawnTime));
  const moments = samples.map((sample) => {
    const instant = instantOf(sample);
    return allInSeconds ? instant : Math.floor(instant / 60_000);
  });
  const last = Math.max(...moments);
  return samples.filter((_, index) => moments[index] === last);
}

const SECONDS = /^\d{2}:\d{2}:\d{2}/;
const LOCAL_TIME = /^[\d:]+$/;

function latestLocal(samples: readonly Sample[]): Sample[] {
  let lastDay = "";
  for (const { drawnOn } of samples) if (drawnOn > lastDay) lastDay = drawnOn;
  const ofLastDay = samples.filter(({ drawnOn }) => drawnOn === lastDay);
  const times = ofLastDay.map(({ drawnTime = "" }) => drawnTime);
  if (!times.every((time) => LOCAL_TIME.test(time))) return ofLastDay;
  // Where one gives no seconds, two of one minute may be drawn in either order.
  const allInSeconds = times.every((time) => SECONDS.test(time));
  const moments = times.map((time) => (allInSeconds ? time : time.slice(0, 5)));
  const last = [...moments].sort().at(-1);
  return ofLastDay.filter((_, index) => moments[index] === last);
}

/** By code unit, so that the order does not depend on the language of the machine. */
function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
