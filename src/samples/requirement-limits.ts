import * as z from "zod";
import { saturationCurve } from "../fluids/index.js";

/** A fluid holds no more than all of itself: a larger limit would limit nothing. */
const WHOLE_PPM = 1_000_000;

/** The most that is allowed of something, in ppm by mass. */
export const ppmMaxSchema = z.number().positive().max(WHOLE_PPM);

/** What stands for a limit that the document does not set. It has to be said, so that no limit is forgotten in silence. */
const NOT_LIMITED = "not-limited";

/** A limit, or {@link NOT_LIMITED}. */
export function orNotLimited(limit: z.ZodNumber) {
  return z.union([limit, z.literal(NOT_LIMITED)]);
}

/** A limit as a number; undefined where the document sets none. */
export function maximumOf(limit: number | typeof NOT_LIMITED): number | undefined {
  return limit === NOT_LIMITED ? undefined : limit;
}

/** A lower and an upper limit; one of the two may be left out. */
function rangeSchema(lowest: number, highest: number) {
  const end = z.number().min(lowest).max(highest);
  return z
    .strictObject({ min: end.optional(), max: end.positive().optional() })
    .refine(({ min, max }) => min !== undefined || max !== undefined, "min, max or both are needed")
    .refine(
      ({ min, max }) => min === undefined || max === undefined || min < max,
      "min must be less than max",
    )
    .refine(({ min, max }) => min !== 0 || max !== undefined, "a lower limit of 0 alone asks for nothing");
}

/** Viscosity at 40 °C in mm²/s; no fluid that a cart circulates is thicker. */
export const viscosityRangeSchema = rangeSchema(0, 1000);

/** Density at 15 °C in kg/m³: what lies beyond is a figure in another unit. */
const densityRangeSchema = rangeSchema(500, 2000);

const saturationPointSchema = z.strictObject({
  temperatureC: z.number(),
  waterPpm: ppmMaxSchema,
});

/** Water as a share of what the fluid dissolves at the lowest temperature it will see. */
export const saturationSchema = z
  .strictObject({
    /** The largest share, as a fraction. */
    shareMax: z.number().positive().max(1),
    /** Within the two temperatures of the measurement: beyond them saturation is not known. */
    lowestTemperatureC: z.number().gt(-273.15),
    /** Water dissolved at saturation in this fluid, measured at two temperatures. */
    measured: z.tuple([saturationPointSchema, saturationPointSchema]),
  })
  .superRefine(({ lowestTemperatureC, measured }, context) => {
    try {
      // The family does not matter here; that of the system is checked with the requirement.
      saturationCurve("MIL-PRF-5606", measured);
    } catch (error) {
      context.addIssue({ code: "custom", path: ["measured"], message: (error as Error).message });
      return;
    }
    const [from, to] = measured.map(({ temperatureC }) => temperatureC).sort((a, b) => a - b) as [
      number,
      number,
    ];
    if (lowestTemperatureC >= from && lowestTemperatureC <= to) return;
    context.addIssue({
      code: "custom",
      path: ["lowestTemperatureC"],
      message: `${lowestTemperatureC} °C is outside the two measured temperatures, ${from} and ${to} °C; have the saturation measured at or beyond it, or leave waterSaturation out and limit the water by waterPpmMax`,
    });
  });

/** What the fluid must look like in its results to be taken for what it is declared to be. */
export const identitySchema = z
  .strictObject({
    viscosity40Mm2PerS: viscosityRangeSchema.optional(),
    density15KgPerM3: densityRangeSchema.optional(),
    chlorinePpmMax: ppmMaxSchema.optional(),
    /** Colours of the fluid, in lower case. */
    colours: z
      .array(
        z
          .string()
          .min(1)
          .lowercase()
          .regex(/\p{L}{2}/u, "the name of a colour"),
      )
      .min(1)
      .optional(),
  })
  .refine(
    (identity) => Object.keys(identity).length > 0,
    "asks for nothing: expected a range, a limit or colours",
  );
