import { type IndicatorSettings, type RatedDrop, viscosityOf } from "../circulation/index.js";
import type { ViscosityLine } from "../fluids/index.js";
import type { Assumption } from "../provenance/index.js";

/** What is known of an element and of what its indicator trips at. */
export interface ElementInLine {
  /** Drop of the element when it is clean. */
  readonly rated: RatedDrop;
  readonly viscosity: ViscosityLine;
  /** Differential pressure that trips the indicator, in bar. */
  readonly indicatorBar: number;
  /** The flow that is taken where none is reported; without it nothing is said then. */
  readonly statedLpm?: number;
}

/**
 * An element in the line, from what is known of its indicator.
 *
 * @param statedLpm - the flow of the circuit; that of the stated drop where no other is given, and of minutes that report none
 * @throws RangeError where neither gives the flow of the stated drop
 */
export function elementInLine(
  { rated, viscosity, indicatorBar }: Omit<IndicatorSettings, "temperatureC">,
  statedLpm: number | undefined,
): { readonly element: ElementInLine; readonly assumptions: readonly Assumption[] } {
  const flowLpm = rated.flowLpm ?? statedLpm;
  if (flowLpm === undefined) throw new RangeError("the flow that the clean drop was measured at is needed");
  const { line, assumptions } = viscosityOf(viscosity);
  return {
    element: {
      rated: { ...rated, flowLpm },
      viscosity: line,
      indicatorBar,
      ...(statedLpm !== undefined && { statedLpm }),
    },
    assumptions,
  };
}
