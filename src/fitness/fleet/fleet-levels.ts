import type { FluidSpecification } from "../../fluids/index.js";
import type { Cart, Sample } from "../../samples/index.js";
import { type AlarmLevels, alarmLevels } from "../../trend/index.js";
import { type Measure, readingsOf } from "../trends/measures.js";

/** Alarm levels of the circuits that hold one fluid. They go with the requirement's limits and never replace them. */
export interface FleetLevels {
  readonly fluid: FluidSpecification;
  readonly measure: Measure;
  readonly circuits: number;
  readonly levels: AlarmLevels;
  /** Results known only as limits, which counted at their limit: levels near it are bounds. */
  readonly limited: number;
}

/**
 * Alarm levels of a measure from all samples of the circuits that hold one fluid.
 *
 * @param fluid - the family; circuits of other families take no part
 * @source ASTM-D7720
 */
export function fleetLevels(
  measure: Measure,
  fluid: FluidSpecification,
  { carts, samples }: { readonly carts: readonly Cart[]; readonly samples: readonly Sample[] },
): FleetLevels {
  const circuits = carts.flatMap(({ cart, circuits: own }) =>
    own
      .filter((circuit) => circuit.fluid === fluid)
      .map(({ circuit }) =>
        readingsOf(
          measure,
          samples.filter((sample) => sample.cart === cart && sample.circuit === circuit),
        ),
      ),
  );
  const readings = circuits.flat();
  return {
    fluid,
    measure,
    circuits: circuits.filter((own) => own.length > 0).length,
    levels: alarmLevels(readings.map((reading) => reading.value)),
    limited: readings.filter((reading) => reading.limit !== undefined).length,
  };
}
