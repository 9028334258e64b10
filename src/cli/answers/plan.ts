import * as z from "zod";
import { assumptions, sourceKey, why } from "./fields.js";

/** A plan: what has no answer is null. */
export const plan = {
  reachable: z.boolean().describe("Whether circulating gets there at all."),
  passes: z.number().nullable().describe("Circuit volumes through the element, by the stated values."),
  minutes: z.number().nullable().describe("Minutes by the stated values; `quoted` is the time to go by."),
  governing: z.string().describe("The channel that takes longest."),
  obstacle: z.string().nullable().describe("Why it cannot be reached."),
  mixing: z.enum(["well-mixed", "two-zone", "plug"]).describe("How the circuit was taken to mix."),
  leavesAfterMinutes: z
    .number()
    .nullable()
    .describe("Minutes after which dirt from outside makes it leave the target again."),
  channels: z.array(
    z.object({
      channel: z.string(),
      sizeUmC: z.number(),
      toUmC: z.number().nullable().describe("Upper size of a range in µm(c)."),
      start: z.number().describe("Particles per mL at the start."),
      limit: z.number().describe("Most particles per mL."),
      floor: z.number().nullable().describe("Particles per mL below which circulating does not get."),
      removal: z.number().describe("Part of the particles that one pass takes out, 0 to 1."),
      passes: z.number().nullable(),
      minutes: z.number().nullable(),
    }),
  ),
};

const leastTime = z
  .object({
    rule: z.enum(["requirement", "one-pass", "five-minutes"]),
    minutes: z.number(),
    meaning: z.string(),
    source: sourceKey,
  })
  .meta({ id: "LeastTime", description: "A time that a rule asks for before a verifying bottle is drawn." });

export const goBy = z
  .object({
    minutes: z.number().describe("Minutes from now on."),
    passes: z.number(),
    doneMinutes: z
      .number()
      .optional()
      .describe("Minutes circulated since the sample, which are not to be run again."),
    confidence: z.number().describe("Probability that a verifying bottle drawn then is accepted, 0 to 1."),
    basis: z.string().describe("Why this time, in words."),
    governs: z
      .enum(["requirement", "acceptance", "one-pass", "five-minutes"])
      .describe("What makes it so long."),
    leastTimes: z.array(leastTime),
  })
  .meta({ id: "GoBy", description: "The time to go by." });

const exchangeNeed = z
  .union([
    z.object({
      kind: z.literal("litres"),
      litres: z.number().describe("Fresh fluid in L."),
      times: z.number().optional().describe("How many drains; absent for the ways that have no repeats."),
      leaves: z.number().describe("Value that is left, in the unit of the quantity."),
    }),
    z.object({ kind: z.literal("out-of-reach"), why }),
  ])
  .meta({ id: "ExchangeNeed", description: "Fresh fluid that one way of exchanging needs." });

/** The ways of exchanging fluid, each by itself. */
export const waysToExchange = {
  once: exchangeNeed.describe("One drain of just enough, filled up with fresh fluid."),
  repeated: exchangeNeed.describe("Drains of the given fraction, each filled up and mixed."),
  feedAndBleed: exchangeNeed.describe("Fresh fluid fed in while mixed fluid runs out."),
};

const inUnit = (what: string) => z.number().describe(`${what}, in \`unit\`.`);

const contaminant = z.object({
  name: z.enum(["water", "acid"]),
  unit: z.string(),
  present: inUnit("What the fluid holds now"),
  limit: inUnit("The most that is allowed"),
  aim: inUnit("What the exchange is to reach"),
  fresh: inUnit("What the fresh fluid holds"),
  ...waysToExchange,
  drying: z
    .union([
      z.object({ kind: z.literal("hours"), hours: z.number() }),
      z.object({ kind: z.literal("out-of-reach"), why }),
    ])
    .nullable()
    .describe("Time on a dehydrator, where one is given."),
});

/** The answer of `exchange`, without its cautions. */
export const exchanged = {
  volumeL: z.number().describe("Volume of the circuit in L."),
  drainFraction: z.number().describe("Part of the circuit that one drain takes out, 0 to 1."),
  contaminants: z.array(contaminant),
  assumptions,
};
