import { type CircuitEvent, mayFollow } from "../../samples/index.js";
import { theilSen, undoDilution } from "../../trend/index.js";
import { eventsWith, observationOf, type Segment, yearsBetween } from "./segments.js";
import type { MeasureTrend, TrendCase } from "./trend-case.js";

/**
 * The rise per year that the circuit itself makes, with the dilution by top-ups taken out.
 *
 * @returns undefined unless every jump of the segment is a top-up whose litres are known, and the value of new fluid is
 *   given
 * @source DILUTION-BALANCE
 */
export function generationOf(
  { measure, circuit, newFluidValue }: TrendCase,
  segment: Segment,
  events: readonly CircuitEvent[],
): MeasureTrend["generation"] {
  const [oldest, newest] = [segment.readings[0], segment.readings.at(-1)];
  if (newFluidValue === undefined || oldest === undefined || newest === undefined) return undefined;
  const first = oldest.drawnOn;
  const jumps = eventsWith(measure, events, "step").filter(
    (event) => mayFollow(event, oldest) && !mayFollow(event, newest),
  );
  const known = jumps.flatMap(({ kind, addedL, on }) =>
    kind === "top-up" && addedL !== undefined
      ? [{ x: yearsBetween(first, on), share: addedL / circuit.volumeL }]
      : [],
  );
  if (known.length === 0 || known.length < jumps.length) return undefined;
  const observations = segment.readings.map((reading) => observationOf(reading, first));
  const fit = theilSen(undoDilution(observations, known, newFluidValue));
  if (fit.kind === "cannot-tell") return undefined;
  return { perYear: fit.slope, interval: fit.interval };
}
