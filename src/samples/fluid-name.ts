import * as z from "zod";
import { type FluidSpecification, tryParseFluidSpecification } from "../fluids/index.js";

/**
 * A fluid of some families, written in any way that names one of them: "MIL PRF 83282", "MIL-PRF-83282D".
 *
 * @param families - those that may be named; another one is refused with this list
 */
export function fluidSchema<F extends FluidSpecification>(families: readonly F[]) {
  const family = z.enum(families as readonly [F, ...F[]]);
  return z
    .preprocess(
      (text: unknown) => (typeof text === "string" ? (tryParseFluidSpecification(text) ?? text) : text),
      family,
    )
    .meta({ type: "string", enum: [...families] });
}
