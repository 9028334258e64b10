import * as z from "zod";

/** The counts of a run are the mean of at most this many of its last minutes, so that they are those of its end. */
export const COUNTED_MINUTES = 10;

/**
 * How a counter in the line was followed in the minutes that a run ends with, and what it showed. A sample that has this was
 * counted in the line; one that has not is a bottle, also where a portable counter printed its counts.
 */
export const counterRunSchema = z.strictObject({
  /** Whether the sequential rule called the circuit clean in each of these minutes. */
  isClean: z.boolean(),
  /** The last minutes of the run, all counted, and none showing what the one before it showed. */
  minutes: z.number().int().positive(),
  /** As reported in these minutes; the coldest and the least and most flow of them. */
  lowestTemperatureC: z.number(),
  lowestFlowLpm: z.number().nonnegative(),
  highestFlowLpm: z.number().nonnegative(),
  /** What the rule was held to. */
  confidence: z.number().gt(0).lt(1),
  repeatability: z.number().nonnegative(),
  bias: z.number().nonnegative(),
  limits: z
    .array(
      z.strictObject({
        fromUm: z.number().positive(),
        toUm: z.number().positive().optional(),
        perMl: z.number().nonnegative(),
      }),
    )
    .min(1),
});

/** See {@link counterRunSchema}. */
export type CounterRun = z.infer<typeof counterRunSchema>;

/**
 * That a counter in the line may show particles, with its own precision. A document that has no such field takes bottles only.
 * Water, acid and all else need a bottle whatever it says.
 */
export const counterInLineSchema = z.strictObject({
  /** Relative scatter of the counter from minute to minute, as a fraction. */
  repeatability: z.number().nonnegative().max(1),
  /** Relative standard deviation of what it lastingly shows too much or too little, as a fraction; no counter has none. */
  bias: z.number().positive().max(1),
  /** The least warm minutes with flow at the end of the run in which the circuit was shown to be clean. */
  minutesMin: z.number().int().min(5),
  /** How old the run may be. */
  ageDaysMax: z.number().int().positive().max(366),
});
