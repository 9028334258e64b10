import * as z from "zod";
import { MAX_VOLUME_ML } from "../counts/index.js";
import { expecting } from "./describe-problem.js";
import { measuredSchema } from "./measured.js";
import {
  isPatchCode,
  PATCH_LIMIT_STANDARDS,
  PATCH_STANDARDS,
  readPatchLimit,
  tryParsePatchStandard,
} from "./patch-class.js";

/** Larger pores hold back nothing that a class counts. */
const MAX_PORE_UM = 100;

const volumeSchema = z.number().positive().max(MAX_VOLUME_ML);
const poreSchema = z.number().positive().max(MAX_PORE_UM);

/** A membrane through which fluid of the bottle was drawn, as a person sees it. */
export const patchTestSchema = z
  .strictObject({
    /** By comparison with patches of known classes; a limit such as "> 6" where it is beyond them. */
    class: measuredSchema.optional(),
    /** The standard of the class. */
    standard: z.enum(PATCH_STANDARDS).optional(),
    /** By comparison as well, as a code of ISO 4406 such as "18/16/13". */
    code: z.string().refine(isPatchCode, expecting("a code of ISO 4406 such as 18/16/13")).optional(),
    /** Colour of the patch. */
    colour: z.string().min(1).optional(),
    stained: z.boolean().optional(),
    /** Whether free water was seen on the patch. */
    freeWater: z.boolean().optional(),
    /** Volume that was filtered. */
    volumeMl: volumeSchema.optional(),
    /** Pore size of the membrane in µm. */
    poreUm: poreSchema.optional(),
  })
  .refine((patch) => Object.keys(patch).length > 0, expecting("at least one finding"));

/** See {@link patchTestSchema}. */
export type PatchTest = z.infer<typeof patchTestSchema>;

/** What simple tests of a bottle found: fields of a sample. */
export const bottleTestsShape = {
  patchTest: patchTestSchema.optional(),
  /** Whether the fluid crackled on a hot plate, which only free or emulsified water does. */
  crackle: z.enum(["none", "crackles"]).optional(),
  smell: z.enum(["normal", "unusual"]).optional(),
};

/** A standard in any way that targets name it: "NAS", "navy", "iso 4406". */
const limitStandardSchema = z
  .preprocess(
    (text: unknown) => (typeof text === "string" ? (tryParsePatchStandard(text) ?? text) : text),
    z.enum(PATCH_LIMIT_STANDARDS),
  )
  .meta({ type: "string", enum: [...PATCH_LIMIT_STANDARDS] });

/** A limit that is written in patches. Particle counts never meet it, and a patch never meets a limit for counts. */
export const patchLimitSchema = z
  .strictObject({
    /** May be left out where the class names it. */
    standard: limitStandardSchema.optional(),
    /** A number, or as people write it: "7", "NAS 7", "18/16/13". */
    classMax: z.union([z.number().int().nonnegative(), z.string()]),
    /** The least volume that must have been filtered. */
    volumeMlMin: volumeSchema.optional(),
    /** The largest pores that the membrane may have. */
    poreUmMax: poreSchema.optional(),
  })
  .transform(({ standard, classMax, ...limit }, context) => {
    const read = readPatchLimit(standard, classMax);
    if (typeof read !== "string") return { ...read, ...limit };
    context.addIssue({ code: "custom", path: ["classMax"], message: read });
    return z.NEVER;
  });
