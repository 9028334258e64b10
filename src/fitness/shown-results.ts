import { formatMeasured, type Measured } from "../samples/index.js";
import type { Verdict } from "./verdict.js";

type Shown = Pick<Verdict, "sample" | "otherSamples" | "assessed">;

/** The result that a verdict shows for water or acid: that of the quantity's own bottle, or what the last sample reports unasked. */
export function resultOf(
  { sample, assessed }: Shown,
  quantity: "water" | "acid number",
): Measured | undefined {
  if (sample === undefined) return undefined;
  const entry = assessed.find((one) => one.quantity === quantity);
  if (entry !== undefined && "measured" in entry) return entry.measured;
  return quantity === "water" ? sample.waterPpm : sample.acidMgKohPerG;
}

/** The same as text; undefined where nothing was measured. */
export function formatResult(verdict: Shown, quantity: "water" | "acid number"): string | undefined {
  const measured = resultOf(verdict, quantity);
  return measured && formatMeasured(measured);
}

/**
 * Says which quantities rest on another bottle than the sample that a verdict shows, and on which.
 *
 * @returns such as "acid number by sample S-1 of 2026-01-14"
 */
export function describeOtherBottles({ sample, otherSamples = [], assessed }: Shown): string[] {
  return otherSamples.flatMap((bottle) => {
    const own = assessed.filter((entry) => entry.sample === bottle.sample && entry.sample !== sample?.sample);
    const names = own.map(({ quantity }) => quantity);
    return names.length === 0 ? [] : [`${names.join(", ")} by sample ${bottle.sample} of ${bottle.drawnOn}`];
  });
}
