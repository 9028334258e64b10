import * as z from "zod";
import { TRACED } from "../../fitness/index.js";
import { assumptions, cautions, day, shownIn } from "./fields.js";
import { event, sampleRef } from "./samples.js";

const traced = z.enum(TRACED);

const amount = z.object({
  what: z.string().describe('"water", "acid" or "particles > 4 µm(c)".'),
  unit: z.enum(["g", "g KOH", "particles"]),
  atMost: z.number().describe("The most that can have been carried over."),
  ifMixed: z.number().optional().describe("The same where both volumes are well mixed, where that is known."),
  rise: z
    .object({
      unit: z.enum(["ppm by mass", "mg KOH/g", "per mL"]),
      atMost: z.number(),
      ifMixed: z.number().optional(),
    })
    .describe("By how much it can raise the level in the aircraft."),
});

const carryOver = z
  .object({
    litres: z.number().describe("Fluid of the circuit in the aircraft, at most, in L."),
    share: z
      .number()
      .optional()
      .describe("The same as a share of the aircraft's fluid, 0 to 1, where known."),
    boundBy: z.enum(["pumped", "circuit", "aircraft", "serviced"]).describe("What sets the bound."),
    amounts: z.array(amount).describe("Contaminants; none where no sample is bad."),
    missing: z.array(z.string()).describe("What is not known, and what the bound is without it."),
    shownIn: shownIn.optional(),
    assumptions,
  })
  .meta({ id: "CarryOver", description: "What a hookup can have carried to an aircraft." });

const span = {
  lastGood: sampleRef.optional().describe("The last good sample before it; absent where none came before."),
  firstBad: sampleRef.optional(),
  lastBad: sampleRef.optional(),
  nextGood: sampleRef.optional().describe("The good sample that ends it; absent where none does."),
};

const when = z
  .enum(["before-bad", "after-bad", "not-known"])
  .optional()
  .describe("Against the first bad sample; absent where none is bad.");

const logged = { cart: z.string(), circuit: z.string(), event };

const tracedSpan = z
  .object({
    ...span,
    hookups: z
      .array(z.object({ ...logged, when, carried: carryOver }))
      .describe("In the order in which they happened."),
  })
  .meta({
    id: "TracedSpan",
    description: "The hookups of a stretch in which a quantity was not known to be good.",
  });

const shows = z.enum(["good", "bad", "open"]);

const tracedCircuit = z.object({
  cart: z.string(),
  circuit: z.string(),
  serves: z.string(),
  on: day,
  hookups: z.array(z.object(logged)).describe("All hookups in the log until then."),
  samples: z
    .array(z.object({ sample: z.string(), drawnOn: day, shows: z.partialRecord(traced, shows) }))
    .describe("Oldest first, each with what it shows by itself of each quantity."),
  quantities: z.array(
    z.object({
      quantity: traced,
      state: z.enum(["good", "bad", "not-shown"]).describe("By the last sample that is good or bad."),
      now: tracedSpan.describe("The stretch that is open on the day of asking."),
      earlier: z.array(tracedSpan).describe("Stretches of the past that had a bad sample, newest first."),
    }),
  ),
  onward: z
    .array(z.object({ aircraft: z.string(), ...logged }))
    .describe("Other circuits that were connected to the aircraft afterwards."),
  notes: assumptions,
});

const says = z.array(z.string()).describe("The answers in sentences.");

/** The answer of `trace --cart`. */
export const cartTrace = {
  says,
  cart: z.string(),
  on: day,
  circuits: z.array(tracedCircuit),
  notes: assumptions,
  cautions,
};

/** The answer of `trace --aircraft`. */
export const aircraftTrace = {
  says,
  aircraft: z.string().describe("As it was asked for."),
  on: day,
  hookups: z
    .array(
      z.object({
        ...logged,
        bad: z.array(z.object({ quantity: traced, ...span, when, carried: carryOver })),
        waiting: z.array(traced).describe("Quantities that no later sample has shown to be good."),
      }),
    )
    .describe("Oldest first."),
  similar: z.array(z.string()).describe("Registers in the logs that could be the same aircraft."),
  notes: assumptions,
  cautions,
};
