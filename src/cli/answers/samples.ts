import * as z from "zod";
import { EVENT_KINDS, limitSchema, measuredSchema, sampleSchema } from "../../samples/index.js";
import { assumptions, day } from "./fields.js";

export const measured = measuredSchema.meta({
  id: "Measured",
  description: "A result, or the limit that the laboratory gave instead of one.",
});

export const limit = limitSchema.describe(
  'Where the report gives a limit: "< 50" is the value 50 with the limit "below".',
);

export const sample = sampleSchema.meta({
  id: "Sample",
  description: "One bottle drawn from one circuit, with the results that were reported for it.",
});

export const sampleRef = z
  .object({ sample: z.string(), drawnOn: day })
  .meta({ id: "SampleRef", description: "Number and day of a sample." });

export const event = z
  .object({
    on: day,
    at: z.string().optional().describe("Time of day at which it began, with its zone where one is known."),
    beforeSample: z
      .string()
      .optional()
      .describe("A sample drawn after it on the same day, where the times are not known."),
    kind: z.enum(EVENT_KINDS),
    minutes: z.number().optional().describe("How long it circulated, or was connected, in minutes."),
    flowLpm: z.number().optional().describe("Flow of a circulation in L/min, where it was stated."),
    hourMeterH: z.number().optional(),
    fluidTemperatureC: z.number().optional(),
    circulatedMinutes: z.number().optional().describe("Minutes of self-circulation since."),
    addedL: z.number().optional().describe("New fluid that was added with it, in L."),
    servicedL: z.number().optional().describe("Fluid that went into the aircraft, in L."),
    aircraft: z.string().optional(),
    system: z.string().optional(),
    aircraftFound: z
      .enum(["clean", "dirty"])
      .optional()
      .describe("What the aircraft's fluid was found to be."),
    note: z.string().optional(),
    assumptions: assumptions.optional(),
  })
  .meta({ id: "CircuitEvent", description: "Something that happened to a circuit, as its log has it." });
