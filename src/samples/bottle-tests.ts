import * as z from "zod";
import { MAX_VOLUME_ML } from "../counts/index.js";
import { measuredSchema } from "./measured.js";

/** Standards whose classes patches are compared with. */
export const PATCH_STANDARDS = ["NAVAIR 01-1A-17", "NAS 1638"] as const;

/** See {@link PATCH_STANDARDS}. */
export type PatchStandard = (typeof PATCH_STANDARDS)[number];

/** The dirtiest class of a standard that a patch is compared with. */
export const MAX_PATCH_CLASS: Readonly<Record<PatchStandard, number>> = {
  "NAVAIR 01-1A-17": 6,
  "NAS 1638": 12,
};

/** Larger pores hold back nothing that a class counts. */
const MAX_PORE_UM = 100;

const volumeSchema = z.number().positive().max(MAX_VOLUME_ML);
const poreSchema = z.number().positive().max(MAX_PORE_UM);

/** A membrane through which fluid of the bottle was drawn, as a person sees it. */
export const patchTestSchema = z
  .strictObject({
    /** By comparison with patches of known classes; a limit such as "> 6" where it is beyond them. */
    class: measuredSchema.optional(),
    standard: z.enum(PATCH_STANDARDS).optional(),
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
  .refine((patch) => Object.keys(patch).length > 0, "expected at least one finding");

/** See {@link patchTestSchema}. */
export type PatchTest = z.infer<typeof patchTestSchema>;

/** What simple tests of a bottle found: fields of a sample. */
export const bottleTestsShape = {
  patchTest: patchTestSchema.optional(),
  /** Whether the fluid crackled on a hot plate, which only free or emulsified water does. */
  crackle: z.enum(["none", "crackles"]).optional(),
  smell: z.enum(["normal", "unusual"]).optional(),
};

/** A limit that is written in patches. Particle counts never meet it, and a patch never meets a limit for counts. */
export const patchLimitSchema = z
  .strictObject({
    standard: z.enum(PATCH_STANDARDS),
    classMax: z.number().int().nonnegative(),
    /** The least volume that must have been filtered. */
    volumeMlMin: volumeSchema.optional(),
    /** The largest pores that the membrane may have. */
    poreUmMax: poreSchema.optional(),
  })
  .refine(({ standard, classMax }) => classMax < MAX_PATCH_CLASS[standard], {
    path: ["classMax"],
    message: "the last class of the standard or a class beyond it limits nothing",
  });
