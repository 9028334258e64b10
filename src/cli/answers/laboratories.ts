import * as z from "zod";
import { assumptions } from "./fields.js";

const materials = z.number().describe("Fluids that it shares with another laboratory.");

const compared = {
  against: z.string().describe('The reference: a laboratory, or "the mean of all".'),
  estimate: z.number().describe("Of counts a factor, otherwise a difference in `unit`."),
  materials,
  differs: z.boolean().describe("Whether the laboratory differs from the reference."),
};

const bias = z
  .union([
    z.object({
      kind: z.literal("compared"),
      ...compared,
      low: z.number(),
      high: z.number(),
      median: z.number().optional().describe("Median over the fluids that both measured."),
    }),
    z.object({ kind: z.literal("no-scatter"), ...compared }),
    z.object({ kind: z.literal("reference"), materials }),
    z.object({ kind: z.literal("too-few"), materials, needed: z.number() }),
  ])
  .meta({ id: "Bias", description: "How one laboratory reads against the reference." });

const degreesOfFreedom = z.number().describe("Differences that it was worked out from.");

const countingSd = z.number().optional().describe("The part of it that counting few particles explains.");

const spread = z
  .union([
    z.object({
      kind: z.literal("measured"),
      sd: z.number().describe("Standard deviation: of counts relative, otherwise in `unit`."),
      low: z.number(),
      high: z.number(),
      degreesOfFreedom,
      countingSd,
    }),
    z.object({ kind: z.literal("all-equal"), degreesOfFreedom, countingSd }),
    z.object({
      kind: z.literal("too-few"),
      degreesOfFreedom,
      needed: z.number(),
      countingSd,
    }),
  ])
  .meta({ id: "LaboratorySpread", description: "How results of one fluid scatter." });

/** The answer of `laboratories`. */
export const laboratories = {
  answer: z.string().describe("Whether the laboratories agree, in one sentence."),
  findings: z.array(z.string()).describe("What was found, in words."),
  confidence: z.number().describe("With which all intervals of one quantity hold together, 0 to 1."),
  quantities: z.array(
    z.object({
      quantity: z.string().describe("What is compared, in words."),
      field: z
        .enum(["counts", "waterPpm", "acidMgKohPerG", "viscosity40Mm2PerS"])
        .describe("The field of a sample."),
      sizeUm: z.number().optional().describe("Size in µm(c), of counts."),
      base: z
        .enum(["phosphate ester", "hydrocarbon", "fluid not stated"])
        .optional()
        .describe("What the fluids are made of."),
      unit: z
        .string()
        .optional()
        .describe("Unit of a difference; absent of counts, of which the ratio is compared."),
      laboratories: z
        .array(
          z.object({
            laboratory: z.string().describe("The laboratory, with its counter where that is known."),
            bias,
            bottles: spread.describe("From several bottles of one fluid."),
            runs: spread.optional().describe("From several counts of one bottle."),
          }),
        )
        .describe("Each laboratory by itself."),
      scatter: spread.optional().describe("Scatter of one result about fluid and laboratory."),
      coverAll: z.number().optional().describe("Standard uncertainty that covers every laboratory."),
    }),
  ),
  assumptions,
};
