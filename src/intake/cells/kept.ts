import { METALS, type Measured, type Metal, type Sample } from "../../samples/index.js";
import type { QuantityName } from "../layout/meaning.js";

/** Where the quantities are kept in a sample that have a field of their own there. */
const FIELDS = {
  water: "waterPpm",
  acid: "acidMgKohPerG",
  viscosity40: "viscosity40Mm2PerS",
  temperature: "fluidTemperatureC",
  density15: "density15KgPerM3",
  chlorine: "chlorinePpm",
} as const satisfies Record<Exclude<QuantityName, Metal | "counted">, keyof Sample>;

/** See {@link KeptPlace}. */
type KeptField = (typeof FIELDS)[keyof typeof FIELDS];

/** Where a quantity is kept in a sample: in a field, or among its metals. */
export type KeptPlace =
  | { readonly field: KeptField; readonly metal?: never }
  | { readonly field: "metalsPpm"; readonly metal: Metal };

/** The measured part of a sample while it is put together. */
export type Kept = { -readonly [K in KeptPlace["field"]]?: Sample[K] };

const METAL_NAMES: ReadonlySet<string> = new Set(METALS);

/** A quantity that is kept in a sample by itself; the counted volume goes with the counts. */
type KeptQuantity = Exclude<QuantityName, "counted">;

function isMetal(name: KeptQuantity): name is Metal {
  return METAL_NAMES.has(name);
}

/** Where a quantity is kept. */
export function keptPlace(name: KeptQuantity): KeptPlace {
  return isMetal(name) ? { field: "metalsPpm", metal: name } : { field: FIELDS[name] };
}

/** Keeps a result at its place. A temperature has no limit. */
export function keep(kept: Kept, { field, metal }: KeptPlace, measured: Measured): void {
  if (field === "metalsPpm") kept.metalsPpm = { ...kept.metalsPpm, [metal]: measured };
  else if (field === "fluidTemperatureC") kept.fluidTemperatureC = measured.value;
  else kept[field] = measured;
}
