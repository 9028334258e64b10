import {
  FLUID_DATA,
  type FluidSpecification,
  fluidDataAssumption,
  viscosityLine,
} from "../../fluids/index.js";
import { type Assumption, frozen, joinAssumptions } from "../../provenance/index.js";
import type { CirculatingCircuit, Hose } from "../../samples/index.js";
import { formatQuantity, hosesVolumeL, type ShownIn } from "../../units/index.js";
import { TYPICAL_UNCERTAINTY, type Uncertainty } from "../confidence/uncertainty.js";
import { type FlowRegime, flowRegime } from "../equipment/flow-regime.js";
import { formatCountFrom, WATCHED_FROM_C } from "../equipment/pressure-drop.js";
import type { CirculationInput } from "../model/circuit.js";

/** What a carts file states of the circulation of a circuit. */
export interface StatedCirculation {
  readonly circuit: Omit<CirculationInput, "start" | "limits">;
  /** The uncertainties that the carts file settles. */
  readonly uncertainty: Uncertainty;
  /** How the fluid flows in the hoses; absent where none are listed. */
  readonly flow?: FlowRegime;
  readonly assumptions: readonly Assumption[];
}

/**
 * The circulation of a circuit as its carts file states it: the one place where its fields become a circulation.
 *
 * A bypass valve and the seal let flow pass one after the other. Only the one that is stated is taken as known.
 */
export function statedCirculation(circuit: CirculatingCircuit): StatedCirculation {
  const { volumeL, flowLpm, element, ingress, bypass, leakage, slowZone, settled, hoses } = circuit;
  const around = 1 - (1 - (bypass ?? 0)) * (1 - (leakage ?? 0));
  const regime = hoses && flowIn({ ...circuit, hoses });
  return {
    circuit: {
      volumeL,
      flowLpm,
      betas: element.betas,
      ...((bypass ?? leakage) !== undefined && { bypass: around }),
      ...(slowZone && {
        mixing: {
          kind: "two-zone",
          slowFraction: slowZone.fraction,
          exchangePerPass: slowZone.exchangePerPass,
        },
      }),
      ...(settled !== undefined && { settled }),
      ...(ingress && { ingress }),
    },
    uncertainty: {
      ...(hoses && { hoses: 0 }),
      ...((bypass ?? leakage) !== undefined && {
        leakage: leakage === undefined ? TYPICAL_UNCERTAINTY.leakage : 0,
      }),
    },
    ...(regime && { flow: regime.flow }),
    assumptions: joinAssumptions(
      circuit.assumptions ?? [],
      element.assumptions ?? [],
      regime?.assumptions ?? [],
    ),
  };
}

/** Says what hoses add to the stated volume. */
function hosesInVolume(hoses: readonly Hose[], volumeL: number, shownIn: ShownIn | undefined): Assumption {
  const own = hosesVolumeL(hoses);
  const shown = (litres: number) => formatQuantity("volume", Number(litres.toPrecision(3)), shownIn);
  return {
    code: "hoses-in-volume",
    message: `the hoses hold ${shown(own)}, which was added to the stated ${shown(volumeL - own)}`,
  };
}

/** The hoses of a loop and the fluid in them. */
export interface FlowSettings {
  readonly fluid: FluidSpecification;
  readonly hoses: readonly Hose[];
  /** Temperature of the coldest fluid in them, in °C; where the minutes count from, when absent. */
  readonly coldestC?: number | undefined;
  /** The units in which it is answered; metric when absent. */
  readonly shownIn?: ShownIn | undefined;
}

/**
 * How the fluid flows in the hoses of a circuit, whose volume holds that of the hoses.
 *
 * @source ISO-23309
 */
export function flowIn({
  fluid,
  hoses,
  coldestC,
  shownIn,
  volumeL,
  flowLpm,
}: FlowSettings & { readonly volumeL: number; readonly flowLpm: number }): {
  readonly flow: FlowRegime;
  readonly assumptions: readonly Assumption[];
} {
  const flow = flowRegime({
    flowLpm,
    hoses,
    viscosity: viscosityLine(...FLUID_DATA[fluid].viscosity),
    coldestC: coldestC ?? WATCHED_FROM_C,
  });
  return {
    flow,
    assumptions: joinAssumptions(
      [hosesInVolume(hoses, volumeL, shownIn), fluidDataAssumption(fluid)],
      coldestC === undefined ? [COLDEST_TAKEN] : [],
      flow.assumptions,
    ),
  };
}

const COLDEST_TAKEN: Assumption = frozen({
  code: "coldest-fluid",
  message: `the coldest fluid in the hoses was taken at ${formatCountFrom(WATCHED_FROM_C)}, from which the minutes count; state it where it is colder`,
  source: "NAVEDTRA-14018-CIRCULATION",
});
