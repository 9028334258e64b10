/** What a column holds. */
export type ColumnMeaning =
  | { readonly kind: "sample" | "cart" | "circuit" | "drawn" | "fluid" | "measurand" | "value" | "unit" }
  | Measurand;

/** A thing that is measured, with the unit or volume it is reported in. */
export type Measurand =
  | { readonly kind: "count"; readonly sizeUm: number; readonly volumeMl: number }
  | { readonly kind: "water"; readonly unit: string }
  | { readonly kind: "acid"; readonly unit: string }
  | { readonly kind: "viscosity40"; readonly unit: string };

/** Trade words for the columns that name a sample. Compared in lower case without marks. */
const NAMES: Record<Exclude<ColumnMeaning["kind"], Measurand["kind"]>, readonly string[]> = {
  sample: ["sample", "sample no", "sample number", "sample id", "bottle", "bottle no"],
  cart: ["cart", "cart no", "unit under test", "equipment", "equipment no", "gpu"],
  circuit: ["circuit", "circuit no", "system sampled"],
  drawn: ["drawn", "drawn on", "date drawn", "sampling date", "sampled", "sample date"],
  fluid: ["fluid", "fluid specification", "fluid type"],
  measurand: ["measurand", "test", "parameter", "property"],
  value: ["value", "result"],
  unit: ["unit", "units"],
};

/**
 * Says what a column holds, from its header.
 *
 * A count column must name its size in µm(c) and its volume: "4 µm(c) per mL", "> 6 um(c) /100 mL".
 *
 * @param header - the header as the file writes it
 * @returns the meaning, or undefined when the header is not recognised
 */
export function recogniseColumn(header: string): ColumnMeaning | undefined {
  const plain = header
    .toLowerCase()
    .replace(/[._:#]/g, " ")
    .replace(/\s+/g, " ")
    .trim();
  for (const [kind, names] of Object.entries(NAMES)) {
    if (names.includes(plain)) return { kind: kind as keyof typeof NAMES };
  }
  const [, name = "", unit = ""] = /^(.*?)(?:[([]\s*([^)\]]*)\s*[)\]])?$/.exec(header.trim()) ?? [];
  return recogniseMeasurand(name, unit) ?? recogniseMeasurand(header, "");
}

/**
 * Says what is measured, from its name and its unit as written.
 *
 * @param name - for example "Water", "> 4 µm(c)" or "4 µm(c) per 100 mL"
 * @param unit - for example "mg/kg", "1/mL" or "" when the name already holds it
 * @returns the measurand, or undefined when it is not recognised or its volume or unit is missing
 */
export function recogniseMeasurand(name: string, unit: string): Measurand | undefined {
  const written = `${name} ${unit}`.toLowerCase().replace(/[µμ]/g, "u").replace(/\s+/g, " ").trim();
  const size = /(\d+(?:\.\d+)?) ?um ?\(?c\)?/.exec(written);
  if (size !== null) {
    const volume = /(?:per|\/) ?(100 ?)?ml\b/.exec(written);
    if (volume === null) return undefined;
    return { kind: "count", sizeUm: Number(size[1]), volumeMl: volume[1] === undefined ? 1 : 100 };
  }
  const plainUnit = unit.trim();
  if (plainUnit === "") return undefined;
  if (/^(water|water content|h2o)$/.test(name.trim().toLowerCase()))
    return { kind: "water", unit: plainUnit };
  if (/^(acid|acid number|acid no|tan|neutralization number)$/.test(name.trim().toLowerCase())) {
    return { kind: "acid", unit: plainUnit };
  }
  if (/^(viscosity|kinematic viscosity)( at)? 40 ?°?c$/.test(name.trim().toLowerCase())) {
    return { kind: "viscosity40", unit: plainUnit };
  }
  return undefined;
}
