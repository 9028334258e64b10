import { frozen } from "../provenance/index.js";

/** Who can do something about a reason: the laboratory, the engineer who keeps limits and names, the crew at the cart. */
export const ACTORS = frozen(["laboratory", "engineer", "crew"] as const);

/** See {@link ACTORS}. */
export type Actor = (typeof ACTORS)[number];

/** By the codes of reasons; what is not listed is for the crew, who draw, look or enter. */
export const NOT_FOR_THE_CREW = {
  /** What is settled with the bottle or the report at hand: a cell, a count, a result, a statement. */
  laboratory: [
    "laboratory-rejects",
    "result-in-quarantine",
    "words-not-understood",
    "laboratory-doubts",
    "stated-class-outside",
    "stated-class-unexplained",
    "counts-unlike-history",
    "blank-not-counted",
    "replicates-missing",
    "replicates-scatter",
    "counted-volume-not-stated",
    "counted-volume-too-small",
    "calibration-not-stated",
    "calibration-overdue",
    "appearance-not-reported",
    "colour-not-reported",
    "colour-not-understood",
    "particles-not-measured",
    "patch-not-measured",
    "patch-unsuited",
    "patch-not-known",
    "particles-estimated",
    "particles-not-sure",
    "water-not-measured",
    "water-not-known",
    "water-not-sure",
    "saturation-not-known",
    "saturation-not-sure",
    "acid-not-measured",
    "acid-not-known",
    "acid-not-sure",
    "viscosity-not-measured",
    "viscosity-not-known",
    "viscosity-not-sure",
    "chlorine-not-measured",
    "chlorine-not-known",
    "chlorine-not-sure",
    "metals-not-measured",
    "metals-not-known",
    "metals-not-sure",
    "density-not-measured",
    "identity-not-known",
    "identity-in-doubt",
    "together-not-sure",
  ],
  /** What is settled in the files that the engineer keeps: names, labels, fluids, limits. */
  engineer: [
    "no-requirement",
    "cannot-be-judged",
    "fluid-not-allowed",
    "fluid-label-not-recognised",
    "sample-after-judging-date",
  ],
} as const;
