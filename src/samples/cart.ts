import * as z from "zod";
import { withMeanBelow } from "../cleanliness/index.js";
import { KNOWN_FLUIDS } from "../fluids/index.js";
import { joinAssumptions } from "../provenance/index.js";
import {
  formatQuantity,
  hosesVolumeL,
  type ShownIn,
  shownAsTyped,
  shownInSystem,
  type UnitSystem,
} from "../units/index.js";
import { fluidSchema } from "./fluid-name.js";
import { hoseSchema } from "./hoses.js";
import { confusedPairs } from "./names/names.js";
import {
  cartStateSchema,
  circuitEventSchema,
  deliverySchema,
  type FilterElement,
  filterElementSchema,
  ingressSchema,
  nameSchema,
  quantity,
  withAssumptions,
} from "./parts-of-circuit.js";

/** The units in which people read: of a fleet, a cart or a circuit. */
const unitsSchema = z.enum(["metric", "us"]);

/** A zone that trades more than this in a pass is no slow one. */
const MAX_EXCHANGE_PER_PASS = 10;

/** More than this is no settled dirt but another fluid than that of the sample. */
const MAX_SETTLED = 10;

/** An element that cleans: what it retains below its rating counts, and is said. What one keeps from an aircraft rests on no such value. */
function ofCirculation(element: FilterElement): FilterElement {
  if (element.assumptions !== undefined) return element;
  const { betas, assumptions } = withMeanBelow(element.position, element.betas);
  return withAssumptions({ ...element, betas }, assumptions);
}

/** One fluid circuit of a cart. */
export const circuitSchema = z
  .strictObject({
    circuit: nameSchema,
    /** The units in which it is answered; those it is typed in when absent. */
    units: unitsSchema.optional(),
    /** The aircraft system that this circuit is connected to, by the name its requirement uses. */
    serves: nameSchema,
    fluid: fluidSchema(KNOWN_FLUIDS),
    /** Reservoir, hoses and piping together, for example "60 L"; without the hoses where `hoses` lists them. */
    volume: quantity("volume"),
    /** Hoses and lines of the loop. What they hold is added to the volume. */
    hoses: z.array(hoseSchema).min(1).optional(),
    /** Temperature of the coldest fluid in the loop while it circulates, in °C. */
    coldestC: z.number().min(-60).max(135).optional(),
    /** Flow through the filter while self-circulating, for example "45 L/min". A path that only delivers has none. */
    flow: quantity("flow").optional(),
    /** In the path of self-circulation; of a path that only delivers, that of its delivery when absent. */
    element: filterElementSchema.transform(ofCirculation).optional(),
    delivery: deliverySchema.optional(),
    /** Share of the flow that a bypass valve lets around the element, as a fraction. */
    bypass: z.number().min(0).max(1).optional(),
    /** Share of the flow that gets past the seal of the element, as a fraction. */
    leakage: z.number().min(0).lt(1).optional(),
    /** The part of the volume that hardly moves, as a fraction, and what it trades with the rest per pass; 0 of it is well mixed. */
    slowZone: z
      .strictObject({
        fraction: z.number().min(0).lt(1),
        exchangePerPass: z.number().min(0).max(MAX_EXCHANGE_PER_PASS),
      })
      .optional(),
    /** Dirt that lies settled at the start and that the flow stirs up, as a fraction of what the sample shows; 0.5 for half as much again. */
    settled: z.number().min(0).max(MAX_SETTLED).optional(),
    /** Particles entering while circulating; none is assumed when absent, and the result says so. */
    ingress: z.array(ingressSchema).optional(),
    events: z.array(circuitEventSchema).default([]),
    /** What a technician found last. */
    state: cartStateSchema.optional(),
    /** Share of the circuit's fluid that one drain takes out, as a fraction; all of it is assumed when absent. */
    drained: z.number().gt(0).max(1).optional(),
  })
  .superRefine(({ flow, element, delivery }, context) => {
    const expect = (field: string, expected: string) =>
      context.addIssue({ code: "custom", path: [field], message: `is missing, expected ${expected}` });
    const isCircuit = delivery?.returns !== false;
    const only =
      '; only a path that fills an aircraft\'s reservoir ("returns": false in its delivery) goes without';
    if (flow === undefined && isCircuit)
      expect("flow", `the flow through the filter while self-circulating, such as "45 L/min"${only}`);
    if (element === undefined && (isCircuit || delivery?.element === undefined))
      expect(
        "element",
        `the filter element with its position and betas${isCircuit ? only : ", here or in delivery"}`,
      );
  })
  .transform(({ volume, flow, element, ...circuit }) => {
    const typed = shownAsTyped([
      [volume.text, "volume"],
      ...(flow === undefined ? [] : ([[flow.text, "flow"]] as const)),
    ]);
    const { delivery, events, units } = circuit;
    const read = {
      ...circuit,
      volumeL: volume.value + hosesVolumeL(circuit.hoses ?? []),
      ...(flow !== undefined && { flowLpm: flow.value }),
      element: element ?? (circuit.delivery?.element as FilterElement),
      ...asShownIn(units === undefined ? typed : shownInSystem(units)),
    };
    return withAssumptions(
      read,
      joinAssumptions(
        volume.assumptions,
        flow?.assumptions ?? [],
        delivery?.assumptions ?? [],
        ...events.map(({ assumptions = [] }) => assumptions),
      ),
    );
  })
  .superRefine(({ circuit, volumeL, events, shownIn }, context) => {
    for (const [index, { kind, on, addedL }] of events.entries()) {
      if (kind === "fluid-change" || addedL === undefined || addedL <= volumeL) continue;
      context.addIssue({
        code: "custom",
        path: ["events", index, "added"],
        message:
          `expected at most the ${formatQuantity("volume", volumeL, shownIn)} that circuit "${circuit}" holds, found ` +
          `${formatQuantity("volume", addedL, shownIn)} topped up on ${on}; ` +
          'enter "fluid-change" where all of the fluid was replaced',
      });
    }
  });

/** Nothing where everything is read in metric units. */
function asShownIn(shownIn: ShownIn): { readonly shownIn?: ShownIn } {
  return Object.keys(shownIn).length === 0 ? {} : { shownIn };
}

/**
 * A circuit that is answered in the units of its cart or fleet, unless it has its own.
 *
 * @param units - undefined leaves the circuit as it is
 */
function inUnitsOfCart(circuit: z.infer<typeof circuitSchema>, units: UnitSystem | undefined) {
  return units === undefined || circuit.units !== undefined ? circuit : inUnits(circuit, units);
}

/** A circuit that is answered in these units, whatever its carts file says. */
export function inUnits({ shownIn: _before, ...circuit }: Circuit, units: UnitSystem): Circuit {
  return { ...circuit, ...asShownIn(shownInSystem(units)) };
}

/** Far more than any cart has: each circuit is judged together with all others of its cart. */
const MAX_CIRCUITS = 50;

/** A hydraulic ground power cart. */
export const cartSchema = z
  .strictObject({
    cart: nameSchema,
    note: z.string().optional(),
    /** The units in which its circuits are answered, unless they have their own. */
    units: unitsSchema.optional(),
    circuits: z.array(circuitSchema).min(1).max(MAX_CIRCUITS),
  })
  .transform((cart) => ({
    ...cart,
    circuits: cart.circuits.map((circuit) => inUnitsOfCart(circuit, cart.units)),
  }));

/** A carts file. */
export const cartsFileSchema = z
  .strictObject({
    carts: z.array(cartSchema).min(1),
    /** The units in which all carts are answered, unless they have their own. */
    units: unitsSchema.optional(),
    /** Carts of other bases, by the names that laboratory files give them: their rows are none of ours. */
    otherCarts: z.array(nameSchema).optional(),
  })
  .superRefine(({ carts, otherCarts = [] }, context) => {
    const names = [...carts.map(({ cart }) => cart), ...otherCarts];
    for (const name of repeated(names)) {
      context.addIssue({ code: "custom", message: `the cart "${name}" is listed twice` });
    }
    for (const pair of confusedPairs(names)) {
      context.addIssue({ code: "custom", message: describeConfused("carts", pair) });
    }
    for (const cart of carts) {
      for (const name of repeated(cart.circuits.map((circuit) => circuit.circuit))) {
        context.addIssue({
          code: "custom",
          message: `the circuit "${name}" of cart "${cart.cart}" is listed twice`,
        });
      }
      for (const pair of confusedPairs(cart.circuits.map(({ circuit }) => circuit))) {
        context.addIssue({
          code: "custom",
          message: describeConfused(`circuits of cart "${cart.cart}",`, pair),
        });
      }
    }
  })
  .transform(({ units, ...file }) => ({
    ...file,
    carts: file.carts.map((cart) => ({
      ...cart,
      circuits: cart.circuits.map((circuit) => inUnitsOfCart(circuit, cart.units ?? units)),
    })),
  }));

/** Whether a circuit can circulate by itself; a path that only fills an aircraft's reservoir need not. */
export function circulates(circuit: Circuit): circuit is CirculatingCircuit {
  return circuit.flowLpm !== undefined;
}

/** The JSON Schema of a carts file, as a person writes it; names and volumes that contradict each other, and a flow or an element that only a path which delivers may leave out, are found when it is read. */
export function cartsJsonSchema(): object {
  return {
    $id: "https://siltbook.invalid/carts.schema.json",
    title: "siltbook carts file",
    ...z.toJSONSchema(cartsFileSchema, { io: "input" }),
  };
}

/**
 * Says that a person could take one name for another.
 *
 * @param what - such as "carts"
 */
export function describeConfused(what: string, [one, other]: readonly [string, string]): string {
  return `the ${what} "${one}" and "${other}" could be taken for one another; expected names that differ in more than case, dashes, spaces, leading zeros and letters that look alike`;
}

function repeated(names: readonly string[]): string[] {
  const seen = new Set<string>();
  return names.filter((name) => seen.size === seen.add(name).size);
}

/** See {@link cartSchema}. */
export type Cart = z.infer<typeof cartSchema>;
/** See {@link circuitSchema}. */
export type Circuit = z.infer<typeof circuitSchema>;
/** A circuit that can circulate by itself. */
export type CirculatingCircuit = Circuit & { readonly flowLpm: number };
