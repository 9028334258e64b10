import { checkNumbers } from "../numeric/index.js";
/** What an instrument in the line shows at one moment; what it does not show is absent. */
export interface OnlineReading {
  /** Milliseconds since 1970. */
  readonly at: number;
  /** Name of what was measured, as the instrument gives it; several names of one quantity are several instruments. */
  readonly name?: string;
  /** The counts are the upper edges of a class. */
  readonly isClass?: boolean;
  /** Particles per mL larger than a size in µm(c). */
  readonly counts?: readonly { readonly sizeUmC: number; readonly perMl: number }[];
  readonly temperatureC?: number;
  /** Water as a share of what the fluid dissolves, 0 to 1. */
  readonly waterSaturation?: number;
  readonly flowLpm?: number;
  readonly pressureDropBar?: number;
}

/** The means of the readings of one minute. */
export interface OnlineMinute {
  /** Whole minutes since 1970. */
  readonly minute: number;
  /** Falling with size. */
  readonly counts: readonly { readonly sizeUmC: number; readonly perMl: number }[];
  readonly temperatureC?: number;
  readonly waterSaturation?: number;
  readonly flowLpm?: number;
  readonly pressureDropBar?: number;
  /** All counts are the upper edges of a class. */
  readonly isClass?: boolean;
  /** Readings that it is the mean of. */
  readonly readings: number;
}

/** Of several instruments the one that shows the least for a clean circuit counts. */
const WORST = {
  temperatureC: Math.min,
  waterSaturation: Math.max,
  flowLpm: Math.min,
  pressureDropBar: Math.max,
} as const;
const PLAIN = Object.keys(WORST) as (keyof typeof WORST)[];
/** A class is of the same fluid as a count up to this share below its upper edge: two classes. Common practice, no source. */
const CLASS_FROM_COUNT = 4;

/** The minute that a moment lies in. */
export const minuteOf = (at: number): number => {
  checkNumbers("finite", { at });
  return Math.floor(at / 60_000);
};

/**
 * The mean of the readings of one minute. A counter that shows ten values a minute has not counted ten bottles: what
 * disturbs one of them disturbs the next, so a minute is one look. Instruments that differ are not averaged: of two
 * counters the dirtier one counts, of two temperatures the colder one.
 *
 * @param readings - one or more, all of one minute
 * @throws RangeError without a reading, or where they are of several minutes
 */
export function meanOfMinute(readings: readonly OnlineReading[]): OnlineMinute {
  for (const reading of readings) checkReading(reading);
  const minutes = new Set(readings.map(({ at }) => minuteOf(at)));
  const [minute, ...others] = minutes;
  if (minute === undefined || others.length > 0) {
    throw new RangeError(`expected readings of one minute, found ${minutes.size} minutes`);
  }
  const counted = countsBySize(readings.filter(({ isClass }) => isClass !== true));
  const stated = countsBySize(readings.filter(({ isClass }) => isClass === true));
  const bySize = new Map(counted);
  for (const [sizeUmC, edge] of stated) {
    const count = counted.get(sizeUmC);
    if (count === undefined || edge > CLASS_FROM_COUNT * count) bySize.set(sizeUmC, edge);
  }
  const counts = [...bySize]
    .map(([sizeUmC, perMl]) => ({ sizeUmC, perMl }))
    .sort((a, b) => a.sizeUmC - b.sizeUmC);
  const plain = PLAIN.flatMap((field) => {
    const means = meansByName(readings, (reading) => reading[field]);
    return means.length === 0 ? [] : [[field, WORST[field](...means)] as const];
  });
  return {
    minute,
    counts,
    ...Object.fromEntries(plain),
    ...(counted.size === 0 && stated.size > 0 && { isClass: true }),
    readings: readings.length,
  };
}

/** @throws RangeError for a number that cannot be a reading */
export function checkReading({ at, counts = [], ...values }: OnlineReading): void {
  checkNumbers("finite", { at });
  for (const { sizeUmC, perMl } of counts) {
    checkNumbers("positive", { sizeUmC });
    checkNumbers("notNegative", { perMl });
  }
  for (const field of PLAIN) checkNumbers("finite", { [field]: values[field] });
}

function countsBySize(readings: readonly OnlineReading[]): Map<number, number> {
  const sizes = new Set(readings.flatMap(({ counts }) => counts ?? []).map(({ sizeUmC }) => sizeUmC));
  const countAt = (sizeUmC: number) =>
    Math.max(
      ...meansByName(readings, ({ counts }) => counts?.find((count) => count.sizeUmC === sizeUmC)?.perMl),
    );
  return new Map([...sizes].map((sizeUmC) => [sizeUmC, countAt(sizeUmC)]));
}

/** The mean of each instrument. */
function meansByName(
  readings: readonly OnlineReading[],
  shownBy: (reading: OnlineReading) => number | undefined,
): number[] {
  const byName = new Map<string | undefined, number[]>();
  for (const reading of readings) {
    const value = shownBy(reading);
    if (value !== undefined) byName.set(reading.name, [...(byName.get(reading.name) ?? []), value]);
  }
  return [...byName.values()].map((values) => values.reduce((sum, value) => sum + value, 0) / values.length);
}
