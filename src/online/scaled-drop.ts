import { cleanDrop, type RatedDrop } from "../circulation/index.js";
import { viscosityAt } from "../fluids/index.js";
import { type Assumption, frozen } from "../provenance/index.js";
import type { ElementInLine } from "./element-in-line.js";
import type { DropMinute } from "./running-minutes.js";

/** The drop of a minute, compared with that of the clean element. */
export interface ScaledDrop {
  /** Running hours since the log began. */
  readonly hours: number;
  /** The element's own part of the drop, as a multiple of the clean one. */
  readonly times: number;
  readonly flowLpm: number;
  readonly mm2PerS: number;
  /** Whether the flow was taken as stated. */
  readonly isStated: boolean;
  readonly assumptions: readonly Assumption[];
}

/** A drop as a multiple of that of the clean element at the same flow and viscosity. */
export function scaleDrop(
  { hours, dropBar, temperatureC, flowLpm }: DropMinute,
  element: ElementInLine,
): ScaledDrop {
  const { value: mm2PerS, assumptions } = viscosityAt(element.viscosity, temperatureC);
  const flow = flowLpm ?? (element.statedLpm as number);
  return {
    hours,
    times: timesClean(dropBar, flow, mm2PerS, element.rated),
    flowLpm: flow,
    mm2PerS,
    isStated: flowLpm === undefined,
    assumptions: assumptions.map((one) => (one.code === "viscosity-extrapolated" ? EXTRAPOLATED : one)),
  };
}

/** How many times that of the clean element the element's own part of a drop is. */
export function timesClean(dropBar: number, flowLpm: number, mm2PerS: number, rated: RatedDrop): number {
  const housing = cleanDrop({ ...rated, elementBar: 0 }, flowLpm, mm2PerS);
  return (dropBar - housing) / cleanDrop({ ...rated, housingBar: 0 }, flowLpm, mm2PerS);
}

const EXTRAPOLATED: Assumption = frozen({
  code: "viscosity-extrapolated",
  message: "some minutes lie outside the two temperatures that the viscosity is known at",
  source: "ASTM-D341",
});
