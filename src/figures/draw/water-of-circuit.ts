import type { JudgedCircuit } from "../../fitness/index.js";
import { saturationCurve } from "../../fluids/index.js";
import type { ShownOn } from "../parts/shown-on.js";
import { drawWaterSaturation } from "./water-saturation.js";

/**
 * Draws the water of the sample that was judged against what the fluid dissolves, as the requirement has it measured.
 *
 * @param judged - a judged circuit
 * @param shownOn - how wide the picture is
 * @returns SVG text; undefined where the requirement gives no saturation of the fluid, the fluid is a phosphate ester, or
 *   water was not measured
 */
export function drawWaterOfCircuit(
  { circuit, requirement, verdict }: JudgedCircuit,
  shownOn: ShownOn = "page",
): string | undefined {
  const { sample } = verdict;
  const required = requirement?.waterSaturation;
  if (required === undefined || sample?.waterPpm === undefined) return undefined;
  const answer = saturationCurve(circuit.fluid, required.measured);
  if (answer.kind === "refused") return undefined;
  const level = { words: sample.sample, water: sample.waterPpm };
  return drawWaterSaturation(answer.curve, [level], `${verdict.cart}, circuit ${verdict.circuit}`, {
    measured: required.measured,
    allowed: required,
    shownOn,
    ...(circuit.shownIn && { shownIn: circuit.shownIn }),
  });
}
