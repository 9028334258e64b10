/**
 * Two well-mixed volumes that exchange flow: a circuit that is connected to an aircraft's system.
 *
 * V_c dC_c/dt = Q (q C_a − C_c) and V_a dC_a/dt = Q (p C_c − C_a), with p and q the shares that get through a filter on the way
 * to the aircraft and on the way back.
 *
 * @source MASS-BALANCE
 */
export interface TwoVolumes {
  readonly circuitL: number;
  readonly aircraftL: number;
  /** The flow in each direction. */
  readonly flowLpm: number;
  /** Level in the circuit at the start, in any unit that mixes in proportion: particles per mL, ppm by mass, mg KOH/g. */
  readonly circuitLevel: number;
  readonly aircraftLevel: number;
  /** Share that gets through a filter on the way to the aircraft; 1 without one. */
  readonly toAircraft?: number;
  /** Share that gets through a filter on the way back; 1 without one. */
  readonly back?: number;
}

/** The levels in two volumes. */
export interface TwoLevels {
  readonly circuit: number;
  readonly aircraft: number;
}

/**
 * The levels after some minutes of exchange, both volumes well mixed.
 *
 * Without filters the total is kept and both levels approach the mean by volume: C_a(t) = C∞ + (C_a0 − C∞) e^(−kt) with
 * k = Q (1/V_c + 1/V_a).
 *
 * @param minutes - 0 or more
 * @throws RangeError naming the argument that makes no sense
 * @source MASS-BALANCE
 * @example
 * levelsAfter({ circuitL: 60, aircraftL: 30, flowLpm: 20, circuitLevel: 300, aircraftLevel: 0 }, 1).aircraft; // => 126.4
 */
export function levelsAfter(volumes: TwoVolumes, minutes: number): TwoLevels {
  const { circuitL, aircraftL, flowLpm, circuitLevel, aircraftLevel, toAircraft = 1, back = 1 } = volumes;
  for (const [name, value] of Object.entries({ circuitL, aircraftL })) {
    if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`${name} must be above 0, not ${value}`);
  }
  for (const [name, value] of Object.entries({ flowLpm, circuitLevel, aircraftLevel, minutes })) {
    if (!(value >= 0 && Number.isFinite(value)))
      throw new RangeError(`${name} must be 0 or more, not ${value}`);
  }
  for (const [name, value] of Object.entries({ toAircraft, back })) {
    if (!(value >= 0 && value <= 1))
      throw new RangeError(`${name} must be a share from 0 to 1, not ${value}`);
  }
  const [leaving, entering] = [flowLpm / circuitL, flowLpm / aircraftL];
  const mean = (leaving + entering) / 2;
  const half = (leaving - entering) / 2;
  const spread = Math.sqrt(half * half + leaving * entering * toAircraft * back);
  // The slow rate is 0 without filters; written as a difference it would be a rounding error instead.
  const slow = mean === 0 ? 0 : (leaving * entering * (1 - toAircraft * back)) / (mean + spread);
  const [late, early] = [Math.exp(-slow * minutes), Math.exp(-(mean + spread) * minutes)];
  const even = (late + early) / 2;
  const odd = spread === 0 ? minutes * early : (late - early) / (2 * spread);
  return {
    circuit: (even - half * odd) * circuitLevel + leaving * back * odd * aircraftLevel,
    aircraft: entering * toAircraft * odd * circuitLevel + (even + half * odd) * aircraftLevel,
  };
}
