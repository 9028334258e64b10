import type { Assumption } from "../../provenance/index.js";
import type { Circuit, Sample } from "../../samples/index.js";
import { type RobustSlope, theilSen } from "../../trend/index.js";
import { type Measure, readingsOf } from "./measures.js";
import { observationsOf, type Segment, segmentsOf } from "./segments.js";

/** Where water and acid of a circuit are heading, per year, since the fluid was last new. */
export interface CircuitTrends {
  readonly waterPpmPerYear: RobustSlope;
  readonly acidMgKohPerGPerYear: RobustSlope;
  readonly assumptions: readonly Assumption[];
}

/**
 * Robust slopes of water and acid since the fluid was last new, so that a change never looks like a falling trend.
 *
 * Top-ups and steps that no event explains make no slope either. Limit values such as "< 50" take part as limits, and the
 * result says so.
 *
 * @param circuit - for its events
 * @param samples - samples of this circuit, in any order
 * @returns slopes per year, or "cannot-tell"; x = 0 of the lines is the day of the first sample used
 */
export function trendsOf(circuit: Circuit, samples: readonly Sample[]): CircuitTrends {
  const current = (measure: Measure) =>
    segmentsOf(measure, readingsOf(measure, samples), circuit.events).at(-1) as Segment;
  const slope = (measure: Measure) =>
    theilSen(observationsOf(measure, current(measure), circuit.events).observations);
  const limits = (["water", "acid"] as const).flatMap((measure) =>
    current(measure).readings.filter((reading) => reading.limit !== undefined),
  );
  return {
    waterPpmPerYear: slope("water"),
    acidMgKohPerGPerYear: slope("acid"),
    assumptions:
      limits.length === 0
        ? []
        : [
            {
              code: "limit-values",
              message: `${limits.length} values known only as limits took part in the trend where their order is sure`,
              source: "AKRITAS-THEIL-SEN",
            },
          ],
  };
}
