/** Metals that laboratories report in hydraulic fluid, by the names of the elements. */
export const METALS = [
  "aluminium",
  "calcium",
  "chromium",
  "copper",
  "iron",
  "lead",
  "magnesium",
  "nickel",
  "potassium",
  "silicon",
  "silver",
  "sodium",
  "tin",
  "titanium",
  "zinc",
] as const;

/** See {@link METALS}. */
export type Metal = (typeof METALS)[number];
