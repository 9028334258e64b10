import { frozen } from "../provenance/index.js";
import { METALS, type Metal } from "../samples/index.js";

/** What is known of a quantity that a requirement can limit. */
interface QuantityFacts {
  /** The reported result that the limit is compared with; two quantities may share one. */
  readonly result: string;
  /** The first part of the codes of its reasons: "water" of "water-outside". */
  readonly stem:
    | "particles"
    | "patch"
    | "water"
    | "saturation"
    | "acid"
    | "viscosity"
    | "chlorine"
    | "metals";
  /**
   * What fresh fluid holds of it: a measure that is given or recalled, nothing, or no answer because it does not mix in
   * proportion or because circulating removes it.
   */
  readonly inFreshFluid: "water" | "acid" | "nothing" | "no-answer";
}

/** Every quantity that a requirement can limit. The names are keys; nothing is read out of their letters. */
export const QUANTITIES = frozen({
  particles: { result: "particles", stem: "particles", inFreshFluid: "no-answer" },
  "class of the patch": { result: "patch", stem: "patch", inFreshFluid: "no-answer" },
  water: { result: "water", stem: "water", inFreshFluid: "water" },
  "water of saturation": { result: "water", stem: "saturation", inFreshFluid: "water" },
  "acid number": { result: "acid number", stem: "acid", inFreshFluid: "acid" },
  "viscosity at 40 °C": { result: "viscosity at 40 °C", stem: "viscosity", inFreshFluid: "no-answer" },
  chlorine: { result: "chlorine", stem: "chlorine", inFreshFluid: "nothing" },
  ...(Object.fromEntries(METALS.map((metal) => [metal, metalFacts(metal)])) as Record<Metal, MetalFacts>),
} as const satisfies Record<string, QuantityFacts>);

/** The name of a quantity; see {@link QUANTITIES}. */
export type Quantity = keyof typeof QUANTITIES;

type MetalFacts = ReturnType<typeof metalFacts>;

function metalFacts(metal: Metal) {
  return { result: metal, stem: "metals", inFreshFluid: "nothing" } as const;
}
