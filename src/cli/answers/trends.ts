import * as z from "zod";
import { MEASURES } from "../../fitness/index.js";
import { assumptions, cautions, day, fluidSpecification, sourceKey } from "./fields.js";
import { event, limit } from "./samples.js";

const measure = z.enum(MEASURES).describe("What is followed; particles by their size in µm(c).");

export const crossing = z
  .object({
    measure,
    on: day.describe("Most likely day."),
    earliest: day.describe("Beginning of its interval."),
    latest: day.optional().describe("End of its interval; absent where it has none."),
    beforeNextSample: z
      .enum(["expected", "possible", "no"])
      .describe("Whether that is before the next sample is due: expected, possible at the earliest, or not."),
  })
  .meta({ id: "Crossing", description: "A limit that the trend says will be crossed." });

const suggestion = z
  .object({
    code: z.enum(["hydrolysis", "silting", "wear-or-sampling", "water-entered", "cross-mixing-of-circuits"]),
    reading: z.string().describe("What it may mean."),
    because: z.array(z.string()).describe("The numbers that brought it up."),
    confirmedBy: z.array(z.string()).describe("What would confirm it or rule it out."),
    source: sourceKey,
  })
  .meta({ id: "Suggestion", description: "What a pattern of results may mean. It is never a diagnosis." });

export const outlook = z
  .object({
    nextSampleBy: day,
    because: z.enum(["interval", "trend", "fluid-change"]).describe("What calls for it."),
    crossings: z.array(crossing).describe("Soonest first."),
    overdue: z
      .array(
        z.object({
          measure,
          drawnOn: day.describe("The last sample with a result of it."),
          dueOn: day.describe("When the next one was due."),
          chance: z.number().describe("Probability that the limit was crossed by then, 0 to 1."),
          crossedBy: day.optional().describe("The day by which it was crossed, by the end of the interval."),
        }),
      )
      .describe("Measures whose trend called for a sample that was not drawn."),
    suggestions: z.array(suggestion),
    rises: z
      .array(z.object({ measure, perYear: z.number() }))
      .describe("Measures that surely rise, in the unit of each."),
    assumptions: assumptions.optional(),
  })
  .meta({ id: "Outlook", description: "What is to come for a circuit." });

const slopeInterval = z
  .union([
    z.object({ kind: z.literal("interval"), low: z.number(), high: z.number(), level: z.number() }),
    z.object({ kind: z.literal("unbounded"), level: z.number() }),
  ])
  .meta({
    id: "SlopeInterval",
    description: "An interval that has the true value with the probability `level`.",
  });

const robustSlope = z
  .union([
    z.object({
      kind: z.literal("slope"),
      n: z.number(),
      limited: z.number().describe('How many of them are limit values such as "< 50".'),
      slope: z.number().describe("Change per year, in the unit of the name."),
      interval: slopeInterval,
      intercept: z.number().describe("Value of the line where its time is 0."),
    }),
    z.object({
      kind: z.literal("cannot-tell"),
      n: z.number(),
      needed: z.number().describe("Measured values on this many days are needed."),
      why: z.enum(["too-few-measured", "mostly-limits", "no-order"]),
    }),
  ])
  .meta({ id: "RobustSlope", description: "A robust line through observations, or why it is not known." });

export const circuitTrends = z
  .object({ waterPpmPerYear: robustSlope, acidMgKohPerGPerYear: robustSlope, assumptions })
  .meta({
    id: "CircuitTrends",
    description: "Where water and acid are heading since the fluid was last new.",
  });

const threeLevels = z.object({ attention: z.number(), alert: z.number(), alarm: z.number() });

const fleetLevels = z.object({
  fluid: fluidSpecification,
  measure,
  circuits: z.number(),
  levels: z.union([
    z.object({
      kind: z.literal("levels"),
      n: z.number(),
      median: z.number(),
      percentiles: threeLevels.describe("Values that 80, 90 and 98 of 100 results stay within."),
      robust: threeLevels.describe("Median and 1, 2 and 3 robust standard deviations."),
    }),
    z.object({ kind: z.literal("cannot-tell"), n: z.number(), needed: z.number() }),
  ]),
  limited: z.number().describe("Results known only as limits, which counted at their limit."),
});

const reading = {
  sample: z.string(),
  drawnOn: day,
  drawnTime: z.string().optional(),
  value: z.number().describe("In the unit of the measure; particles as a continuous ISO 4406 code."),
  limit: limit.optional(),
  port: z.enum(["upstream", "downstream"]).optional().describe("The side of the element it was drawn on."),
};

const trendReading = z
  .object(reading)
  .meta({ id: "TrendReading", description: "A value of one sample as it takes part in a trend." });

const comparison = z
  .object({
    outcome: z.enum(["different", "not-different", "cannot-tell"]),
    difference: z.number().describe("Larger less smaller, in the unit of the measure."),
    allowed: z.number().optional().describe("What one pair in twenty exceeds though the fluid is the same."),
    assumptions,
  })
  .meta({ id: "Comparison", description: "Whether two results differ by more than the method scatters." });

const line = {
  n: z.number(),
  slopePerYear: z.number().nullable().describe("Change per year, in the unit of the measure."),
  slopeInterval: z.tuple([z.number(), z.number()]).nullable().describe("Its 90 % interval."),
};

const trendOfMeasure = {
  measure,
  unit: z.string(),
  on: day,
  ...line,
  pValue: z.number().nullable().describe("Probability of such a trend by chance, 0 to 1."),
  limits: z.array(
    z.object({ limit: z.number(), towards: z.enum(["above", "below"]).describe("The side not wanted.") }),
  ),
  beyondNow: z.boolean().nullable().describe("Whether the line is beyond a limit on the day of judging."),
  latestBeyond: z.boolean().describe("Whether the latest result is beyond a limit."),
  chanceNow: z.number().nullable().describe("Probability that the limit is crossed by now, 0 to 1."),
  segments: z.array(
    z.object({
      startedBy: event.nullable().describe("What began it; null for the first."),
      from: day.nullable(),
      to: day.nullable(),
      ...line,
    }),
  ),
  steps: z
    .array(
      z.union([
        z.object({ kind: z.literal("known"), event }),
        z.object({
          kind: z.literal("found"),
          after: day.describe("Day of the sample before it."),
          before: day.describe("Day of the sample after it."),
          size: z.number().describe("In the unit of the measure."),
          pAtMost: z.number().describe("Probability of such a step by chance, at most, 0 to 1."),
        }),
      ]),
    )
    .describe("Jumps within the current segment."),
  outliers: z.array(
    z.object({ ...reading, score: z.number().describe("Distance in robust standard deviations.") }),
  ),
  forecast: z.object({
    kind: z.enum(["crosses", "beyond-horizon", "no-trend", "cannot-tell"]),
    date: day.nullable().describe("When the limit is crossed, most likely."),
    earliest: day.nullable(),
    latest: day.nullable(),
  }),
  nextSampleBecause: z.enum([
    "risk",
    "longest-interval",
    "risk-already-reached",
    "latest-beyond",
    "no-sample",
  ]),
  generation: z
    .object({ perYear: z.number(), interval: slopeInterval })
    .nullable()
    .describe("What comes in without the dilution by top-ups."),
  overHours: z
    .union([
      z.object({
        kind: z.literal("hours"),
        n: z.number().describe("Samples of the current segment whose running hours are known."),
        without: z.number().describe("Samples of it whose running hours are not known."),
        notRead: z.array(z.string()).describe("Hour-meter readings that are no plain number of hours."),
        last: z.object({ on: day, hours: z.number() }).describe("The last reading of the hour-meter."),
        slopePerHour: z.number().describe("Change per running hour, in the unit of the measure."),
        slopeInterval: z.tuple([z.number(), z.number()]).nullable().describe("Its 90 % interval."),
        forecast: z.object({
          kind: z.enum(["crosses", "beyond-horizon", "no-trend", "no-limit"]),
          hours: z.number().nullable().describe("What the hour-meter shows when the limit is crossed."),
          earliest: z.number().nullable(),
          latest: z.number().nullable(),
        }),
      }),
      z.object({ kind: z.literal("cannot-tell"), n: z.number(), why: z.string() }),
    ])
    .nullable()
    .describe("The same over the running hours of the cart; null where no hour-meter reading is known."),
  lastChange: z
    .object({
      from: trendReading,
      to: trendReading,
      sameLaboratory: comparison.describe("If one laboratory made both."),
      differentLaboratories: comparison.describe("If two laboratories made them."),
    })
    .nullable()
    .describe("The last two results."),
};

/** The answer of `trend`: what is not known is null. */
export const trend = {
  cart: z.string(),
  circuit: z.string(),
  horizonDays: z.number().describe("How many days are looked ahead."),
  risk: z.number().describe("Probability of crossing a limit that calls for a sample, 0 to 1."),
  longestDays: z.number().describe("The longest interval between two samples, in days."),
  ...trendOfMeasure,
  nextSampleDue: day.nullable(),
  channels: z
    .array(z.object({ ...trendOfMeasure, nextSampleDue: day }))
    .optional()
    .describe("Each size, where particles were asked for."),
  fleet: z.array(fleetLevels).describe("What is usual for circuits of the same fluid; never a limit."),
  suggestions: z.array(suggestion),
  notes: assumptions,
  cautions,
};
