import type { Assumption } from "../provenance/index.js";
import type { Circuit, Measured, Sample } from "../samples/index.js";
import { type RobustSlope, theilSen } from "../trend/index.js";
import { daysBetween } from "./days.js";

const DAYS_PER_YEAR = 365.25;

/** Where water and acid of a circuit are heading, per year, since its last fluid change. */
export interface CircuitTrends {
  readonly waterPpmPerYear: RobustSlope;
  readonly acidMgKohPerGPerYear: RobustSlope;
  readonly assumptions: readonly Assumption[];
}

/**
 * Robust slopes of water and acid since the last fluid change, so that a change never looks like a falling trend.
 *
 * @param circuit - for its events
 * @param samples - samples of this circuit, in any order
 * @returns slopes per year, or "cannot-tell"; x = 0 of the lines is the day of the first sample used
 */
export function trendsOf(circuit: Circuit, samples: readonly Sample[]): CircuitTrends {
  const changed = circuit.events
    .filter((event) => event.kind === "fluid-change")
    .map((event) => event.on)
    .sort()
    .at(-1);
  const since = samples
    .filter((sample) => changed === undefined || sample.drawnOn > changed)
    .sort((a, b) => a.drawnOn.localeCompare(b.drawnOn));
  const first = since[0]?.drawnOn ?? "";
  const slope = (measure: (sample: Sample) => Measured | undefined) =>
    theilSen(
      since.flatMap((sample) => {
        const measured = measure(sample);
        if (measured === undefined || measured.limit !== undefined) return [];
        return [{ x: daysBetween(first, sample.drawnOn) / DAYS_PER_YEAR, y: measured.value }];
      }),
    );
  const limits = since.filter(
    (sample) => sample.waterPpm?.limit !== undefined || sample.acidMgKohPerG?.limit !== undefined,
  );
  return {
    waterPpmPerYear: slope((sample) => sample.waterPpm),
    acidMgKohPerGPerYear: slope((sample) => sample.acidMgKohPerG),
    assumptions:
      limits.length === 0
        ? []
        : [
            {
              code: "limit-values-left-out",
              message: `${limits.length} samples with a value given only as a limit were left out of the trend`,
            },
          ],
  };
}
