/** What an instrument in the line shows at one moment; what it does not show is absent. */
export interface OnlineReading {
  /** Milliseconds since 1970. */
  readonly at: number;
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
  /** Readings that it is the mean of. */
  readonly readings: number;
}

const PLAIN = ["temperatureC", "waterSaturation", "flowLpm", "pressureDropBar"] as const;

/** The minute that a moment lies in. */
export const minuteOf = (at: number): number => Math.floor(at / 60_000);

/**
 * The mean of the readings of one minute. A counter that shows ten values a minute has not counted ten bottles: what
 * disturbs one of them disturbs the next, so a minute is one look.
 *
 * @param readings - one or more, all of one minute
 * @throws RangeError without a reading, or where they are of several minutes
 */
export function meanOfMinute(readings: readonly OnlineReading[]): OnlineMinute {
  const minutes = new Set(readings.map(({ at }) => minuteOf(at)));
  const [minute, ...others] = minutes;
  if (minute === undefined || others.length > 0) {
    throw new RangeError(`expected readings of one minute, found ${minutes.size} minutes`);
  }
  const bySize = new Map<number, number[]>();
  for (const { sizeUmC, perMl } of readings.flatMap(({ counts }) => counts ?? [])) {
    bySize.set(sizeUmC, [...(bySize.get(sizeUmC) ?? []), perMl]);
  }
  const counts = [...bySize]
    .map(([sizeUmC, values]) => ({ sizeUmC, perMl: mean(values) }))
    .sort((a, b) => a.sizeUmC - b.sizeUmC);
  const plain = PLAIN.flatMap((name) => {
    const values = readings.flatMap((reading) => reading[name] ?? []);
    return values.length === 0 ? [] : [[name, mean(values)] as const];
  });
  return { minute, counts, ...Object.fromEntries(plain), readings: readings.length };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
