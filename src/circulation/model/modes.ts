/**
 * One exponential of a level: a part that starts at `start`, loses `rate` of itself per pass and gains `inflow`.
 *
 * Its level after n passes is start·e^(−rate·n) + inflow·(1 − e^(−rate·n))/rate. Every way of mixing in this module is
 * a sum of such modes.
 */
export interface Mode {
  /** Particles per mL. */
  readonly start: number;
  /** Particles per mL per pass. */
  readonly inflow: number;
  /** Per pass, 0 or more. */
  readonly rate: number;
}

/**
 * The level of a sum of modes, in particles per mL.
 *
 * @param modes - at least one
 * @param passes - 0 or more; Infinity for the level that is settled at
 * @source MASS-BALANCE
 * @example
 * levelAfter([{ start: 20000, inflow: 0, rate: 1 }], 1); // => 7357.59
 */
export function levelAfter(modes: readonly Mode[], passes: number): number {
  return modes.reduce((sum, { start, inflow, rate }) => sum + levelOfMode(start, inflow, rate, passes), 0);
}

/**
 * The level that circulation settles at, in particles per mL.
 *
 * @returns the level, or undefined when it rises without end
 * @example
 * floorOfModes([{ start: 20000, inflow: 100, rate: 0.5 }]); // => 200
 */
export function floorOfModes(modes: readonly Mode[]): number | undefined {
  const level = levelAfter(modes, Number.POSITIVE_INFINITY);
  return Number.isFinite(level) ? level : undefined;
}

/**
 * Level of one mode. The gain is taken through expm1, so that a rate near 0 passes smoothly into linear growth.
 */
export function levelOfMode(start: number, inflow: number, rate: number, passes: number): number {
  if (rate === 0) return inflow === 0 ? start : start + inflow * passes;
  return start * Math.exp(-rate * passes) - (inflow * Math.expm1(-rate * passes)) / rate;
}

/** Modes in columns, for the solver: typed arrays that are filled again for every case and never grow. */
export class ModeTable {
  count = 0;
  readonly start: Float64Array;
  readonly inflow: Float64Array;
  readonly rate: Float64Array;
  /** What each mode loses at the start, in particles per mL and pass; negative where it rises. */
  readonly loss: Float64Array;
  /** Level that each mode settles at; Infinity where it rises without end. */
  readonly settled: Float64Array;
  /** How far each mode starts above the level it settles at; negative where it rises. */
  readonly above: Float64Array;
  /** Part of each mode that is left after some passes: those that a crossing was last looked for at. */
  readonly left: Float64Array;

  /**
   * @param capacity - how many modes it may hold
   * @param within - a table that it is a part of, from the place `from` on; that one is filled, this one only looked at
   */
  constructor(
    capacity: number,
    within?: ModeTable,
    readonly from = 0,
  ) {
    const column = (shared: Float64Array | undefined) =>
      shared?.subarray(from, from + capacity) ?? new Float64Array(capacity);
    this.start = column(within?.start);
    this.inflow = column(within?.inflow);
    this.rate = column(within?.rate);
    this.loss = column(within?.loss);
    this.settled = column(within?.settled);
    this.above = column(within?.above);
    this.left = column(within?.left);
    if (within !== undefined) this.count = capacity;
  }

  /** Takes all modes out. */
  clear(): void {
    this.count = 0;
  }

  /** Appends a mode. */
  add(start: number, inflow: number, rate: number): void {
    const loss = rate * start - inflow;
    const settled = rate > 0 ? inflow / rate : inflow > 0 ? Number.POSITIVE_INFINITY : start;
    this.start[this.count] = start;
    this.inflow[this.count] = inflow;
    this.rate[this.count] = rate;
    this.loss[this.count] = loss;
    this.settled[this.count] = settled;
    this.above[this.count] = rate > 0 ? loss / rate : start - settled;
    this.count += 1;
  }

  /** Whether any mode rises. */
  get rises(): boolean {
    for (let index = 0; index < this.count; index += 1) {
      if ((this.loss[index] as number) < 0) return true;
    }
    return false;
  }

  /** Level that the modes settle at; Infinity when one rises without end. */
  get floor(): number {
    let floor = 0;
    for (let index = 0; index < this.count; index += 1) floor += this.settled[index] as number;
    return floor;
  }

  /** The modes as plain data. */
  toModes(): Mode[] {
    return Array.from({ length: this.count }, (_, index) => ({
      start: this.start[index] as number,
      inflow: this.inflow[index] as number,
      rate: this.rate[index] as number,
    }));
  }

  /** Level after a number of passes. */
  levelAfter(passes: number): number {
    let level = 0;
    for (let index = 0; index < this.count; index += 1) {
      level += levelOfMode(
        this.start[index] as number,
        this.inflow[index] as number,
        this.rate[index] as number,
        passes,
      );
    }
    return level;
  }
}
