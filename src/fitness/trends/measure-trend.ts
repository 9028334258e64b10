import { compareResults } from "../../fluids/index.js";
import { joinAssumptions } from "../../provenance/index.js";
import {
  blockLines,
  chanceBeyond,
  isBeyond,
  type Observation,
  type RobustSlope,
  theilSen,
} from "../../trend/index.js";
import { checkCircuit } from "../check-case.js";
import { circuitUntil } from "../checks/happened.js";
import { JudgingDay } from "../judging-day.js";
import { generationOf } from "./generation.js";
import { headingOf, INTERVAL_LEVEL } from "./heading.js";
import { MEASURE_KINDS, type Measure, type Reading } from "./measures.js";
import { overHoursOf } from "./over-hours.js";
import { dayOf, observationsOf, type Segment, yearsBetween } from "./segments.js";
import type { MeasureTrend, TrendCase } from "./trend-case.js";
import { notesOf } from "./trend-notes.js";

/**
 * Says where one measure of a circuit is heading, how surely, when a limit is crossed and when to sample next.
 *
 * Only the current segment, since the fluid was last new to this measure, makes the slope; future events cut
 * nothing; jumps by events and steps that were found make no slope; limit values take part as limits; outliers are flagged and kept.
 *
 * @param required - circuit, samples and limits; see {@link TrendCase}
 * @throws RangeError for a risk that does not lie between 0 and 1, or a horizon or longest interval that is not
 *   positive or is longer than a hundred years
 * @example
 * const circuit = { circuit: "main", serves: "main system", fluid: "MIL-PRF-83282", volumeL: 60, events: [] };
 * const values = [100, 120, 131, 152, 170];
 * const samples = values.map((value, month) => ({ drawnOn: `2026-0${month + 1}-01`, waterPpm: { value } }));
 * const limit = { bounds: [{ limit: 300, towards: "above" }], horizonDays: 365, longestDays: 90, risk: 0.05 };
 * const trend = measureTrend({ circuit, samples, measure: "water", on: "2026-05-02", ...limit });
 * trend.forecast.on; // => "2026-12-11"
 */
export function measureTrend(required: TrendCase): MeasureTrend {
  checkCircuit(required.circuit);
  const day = new JudgingDay(required.on);
  const input = { ...required, circuit: circuitUntil(required.circuit, day) };
  const { heading, current, observations, first, assumptions } = headingOf({ ...input, day });
  const { bound, line, segments, slope } = heading;
  const { circuit, measure, on } = input;
  const today = yearsBetween(first, on);
  const generation = generationOf(input, current, circuit.events);
  const overHours = overHoursOf(input, current);
  const lastChange = lastChangeOf(measure, current.readings);
  const base = {
    ...heading,
    on,
    segments: segments.map((segment) => ({
      ...segment,
      slope: segment === current ? slope : slopeOfSegment(measure, segment, input),
    })),
    lines: slope.kind === "slope" ? linesOf(observations, slope.slope, first) : [],
    ...(line &&
      bound && {
        beyondNow: input.bounds.some((entry) => isBeyond(line, entry, today)),
        chanceNow: chanceBeyond(line, bound.limit, bound.towards, today),
      }),
    ...(generation && { generation }),
    ...(overHours && { overHours }),
    ...(lastChange && { lastChange }),
  };
  return { ...base, notes: joinAssumptions(notesOf(input, base, observations), assumptions) };
}

function slopeOfSegment(measure: Measure, segment: Segment, { circuit }: TrendCase): RobustSlope {
  return theilSen(observationsOf(measure, segment, circuit.events).observations, INTERVAL_LEVEL);
}

function linesOf(observations: readonly Observation[], slope: number, first: string): MeasureTrend["lines"] {
  return blockLines(observations, slope).map(({ from, to, intercept }) => ({
    from: dayOf(from, first),
    to: dayOf(to, first),
    startsAt: intercept + slope * from,
    endsAt: intercept + slope * to,
  }));
}

function lastChangeOf(measure: Measure, readings: readonly Reading[]): MeasureTrend["lastChange"] {
  const { method } = MEASURE_KINDS[measure];
  const [from, to] = readings.filter((reading) => reading.limit === undefined).slice(-2);
  if (method === undefined || from === undefined || to === undefined) return undefined;
  return {
    from,
    to,
    sameLaboratory: compareResults(from.value, to.value, method, "same"),
    differentLaboratories: compareResults(from.value, to.value, method, "different"),
  };
}
