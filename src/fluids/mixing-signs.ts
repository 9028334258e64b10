import type { SourceKey } from "../provenance/index.js";
import { FLUID_BASES, type FluidSpecification, mayMeet } from "./families.js";
import { FLUID_DATA } from "./fluid-data.js";

/** What a sample shows when a second fluid has got into a circuit. */
export interface MixingSign {
  readonly sign: string;
  readonly source: SourceKey;
}

/**
 * What a circuit of one fluid looks like in a sample when another has got in.
 *
 * @param own - the fluid the circuit should hold
 * @param other - the fluid that may have got in
 * @returns signs, the most telling first; none for the same fluid
 * @source FTIR-MIXING
 * @source OIL-IN-ESTER
 */
export function signsOfMixing(own: FluidSpecification, other: FluidSpecification): MixingSign[] {
  const meeting = mayMeet(own, other);
  if (meeting.outcome === "same") return [];
  const esters = [own, other].filter((fluid) => FLUID_BASES[fluid] === "phosphate ester").length;
  const [ownViscosity, otherViscosity] = [own, other].map((fluid) => FLUID_DATA[fluid].viscosity[0].mm2PerS);
  const direction =
    (otherViscosity as number) > (ownViscosity as number)
      ? "rises"
      : (otherViscosity as number) < (ownViscosity as number)
        ? "falls"
        : undefined;
  const viscosity: MixingSign[] =
    direction === undefined
      ? []
      : [
          {
            sign: `viscosity at 40 °C ${direction} towards that of ${other} (recalled values)`,
            source: "FLUID-DATA",
          },
        ];
  if (esters !== 1) return viscosity;
  return [
    { sign: "cloudiness or two layers in the bottle: the fluids do not mix", source: meeting.source },
    { sign: "bands of the other fluid in an FTIR spectrum compared with both", source: "FTIR-MIXING" },
    ...(FLUID_BASES[own] === "phosphate ester"
      ? [
          {
            sign: "hydrocarbon content: watched from 2 %, abnormal from 3 %, condemned from 4 % in an industrial phosphate ester",
            source: "OIL-IN-ESTER" as const,
          },
        ]
      : []),
    ...viscosity,
  ];
}
