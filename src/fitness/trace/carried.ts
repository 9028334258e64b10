import {
  type FluidCarried,
  fluidCarried,
  getsThrough,
  type Hookup,
  levelCarried,
} from "../../circulation/index.js";
import { usualDensities } from "../../fluids/index.js";
import { type Assumption, joinAssumptions } from "../../provenance/index.js";
import type { Circuit, CircuitEvent, Requirement } from "../../samples/index.js";
import { formatQuantity, type ShownIn } from "../../units/index.js";
import { type Contaminant, type LevelDuring, levelDuring } from "./level-during.js";
import type { Shown, SizeLevel, Traced } from "./shows.js";

/** One contaminant that a hookup can have carried over. */
export interface CarriedAmount {
  /** "water", "acid" or "particles > 4 µm(c)". */
  readonly what: string;
  readonly unit: "g" | "g KOH" | "particles";
  /** The most that can have been carried over. */
  readonly atMost: number;
  /** The same where both volumes are well mixed; absent where volume, flow or minutes are not known. */
  readonly ifMixed?: number;
  /** By how much it can raise the level of the aircraft's fluid. */
  readonly rise: {
    readonly unit: "ppm by mass" | "mg KOH/g" | "per mL";
    readonly atMost: number;
    readonly ifMixed?: number;
  };
}

/** What a hookup can have carried from a circuit to an aircraft. */
export interface CarryOver extends Pick<FluidCarried, "litres" | "share" | "boundBy"> {
  /** Contaminants; none where no sample is bad for what is traced, or where it does not mix in proportion. */
  readonly amounts: readonly CarriedAmount[];
  /** What is not known, and what the bound is without it. */
  readonly missing: readonly string[];
  /** The units in which the circuit is answered; metric when absent. */
  readonly shownIn?: ShownIn;
  readonly assumptions: readonly Assumption[];
}

/** What a carry-over is worked out from. */
export interface CarryCase {
  readonly circuit: Circuit;
  readonly event: CircuitEvent;
  readonly requirements: readonly Requirement[];
  /** What each sample of the circuit shows. */
  readonly shown: readonly Shown[];
}

/** The most fluid that one hookup can have carried over. */
export function fluidCarriedBy({ circuit, event, requirements }: CarryCase): CarryOver {
  const { missing, ...fluid } = fluidCarried(hookupOf(circuit, event, requirements));
  const { shownIn } = circuit;
  return {
    ...fluid,
    amounts: [],
    missing: describeMissing(missing, fluid, shownIn),
    ...(shownIn && { shownIn }),
  };
}

/** The same with the contaminant that is traced. */
export function carriedBy(input: CarryCase, traced: Traced): CarryOver {
  const fluid = fluidCarriedBy(input);
  if (traced !== "particles" && traced !== "water" && traced !== "acid") return fluid;
  const { circuit, event, requirements, shown } = input;
  const level = levelDuring(event, traced, shown, circuit.events);
  const { amounts, assumptions } = amountsOf(circuit, hookupOf(circuit, event, requirements), traced, level);
  return {
    ...fluid,
    amounts,
    missing: [...fluid.missing, ...level.missing],
    assumptions: joinAssumptions(fluid.assumptions, level.assumptions, assumptions),
  };
}

function hookupOf(
  { volumeL, delivery, serves }: Circuit,
  { minutes, servicedL, system }: CircuitEvent,
  requirements: readonly Requirement[],
): Hookup {
  const connected = requirements.find((entry) => entry.system === (system ?? serves));
  return {
    circuitL: volumeL,
    aircraftL: connected?.volumeL,
    flowLpm: delivery?.flowLpm,
    minutes,
    servicedL,
    returns: delivery?.returns ?? true,
  };
}

const NOT_STATED: Readonly<Record<FluidCarried["missing"][number], string>> = {
  aircraftL: "the volume of the aircraft's system",
  flowLpm: "the flow of the circuit to the aircraft",
  minutes: "the minutes of the hookup",
  servicedL: "the litres serviced",
};

const BOUND_BY: Readonly<Record<FluidCarried["boundBy"], string>> = {
  pumped: "what was pumped",
  circuit: "all that the circuit holds",
  aircraft: "all that the aircraft's system holds",
  serviced: "what was filled in",
};

function describeMissing(
  missing: FluidCarried["missing"],
  { boundBy, litres }: Pick<FluidCarried, "boundBy" | "litres">,
  shownIn: ShownIn | undefined,
): string[] {
  if (missing.length === 0) return [];
  const names = missing.map((name) => NOT_STATED[name]);
  const verb = missing.length === 1 && missing[0] !== "minutes" && missing[0] !== "servicedL" ? "is" : "are";
  const list = names.length === 1 ? names[0] : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;
  return [
    `${list} ${verb} not stated: the bound is ${BOUND_BY[boundBy]}, ${formatQuantity("volume", litres, shownIn)}`,
  ];
}

interface Amounts {
  readonly amounts: readonly CarriedAmount[];
  readonly assumptions: readonly Assumption[];
}

function amountsOf(circuit: Circuit, hookup: Hookup, traced: Contaminant, level: LevelDuring): Amounts {
  if (traced === "particles") return particlesOf(circuit, hookup, level.particles ?? []);
  const held = level[traced];
  if (held === undefined) return { amounts: [], assumptions: [] };
  const densityKgPerL = Math.max(...usualDensities(circuit.fluid).map(({ max }) => max)) / 1000;
  // ppm by mass is mg/kg: litres · kg/L · mg/kg is mg. mg KOH/g is a thousand times that.
  const grams = traced === "water" ? densityKgPerL / 1000 : densityKgPerL;
  const amount =
    traced === "water"
      ? amountOf("water", ["g", "ppm by mass"], levelCarried(hookup, held), grams)
      : amountOf("acid", ["g KOH", "mg KOH/g"], levelCarried(hookup, held), grams);
  return {
    amounts: [amount],
    assumptions: [
      {
        code: "density-upper-end",
        message: `the fluid was taken to weigh ${densityKgPerL} kg/L, the upper end of what is usual for ${circuit.fluid}`,
        source: "FLUID-DENSITY-RANGES",
      },
    ],
  };
}

const ML_PER_L = 1000;

function particlesOf({ delivery }: Circuit, hookup: Hookup, levels: readonly SizeLevel[]): Amounts {
  const element = delivery?.element;
  // A bound rests on no β that nobody stated: an element may do less than its rating, or a usual value, suggests.
  const isCredited = element !== undefined && (element.assumptions ?? []).length === 0;
  const amounts = levels.map(({ sizeUm, toUm, perMl }) => {
    const through = isCredited ? getsThrough(element.betas, sizeUm) : 1;
    const what = toUm === undefined ? `particles > ${sizeUm} µm(c)` : `particles ${sizeUm} to ${toUm} µm(c)`;
    return amountOf(what, ["particles", "per mL"], levelCarried(hookup, perMl, through), ML_PER_L);
  });
  if (element === undefined || amounts.length === 0) return { amounts, assumptions: [] };
  return {
    amounts,
    assumptions: [isCredited ? asRated(element.position) : notCredited(element.position)],
  };
}

function asRated(position: string): Assumption {
  return {
    code: "delivery-element-as-rated",
    message:
      `the ${position} element on the way to the aircraft is credited with the rating at the next smaller rated size, ` +
      "with no bypass and a fluid whose particles are spread over the sizes as in the test dust",
    source: "ISO-16889",
  };
}

function notCredited(position: string): Assumption {
  return {
    code: "delivery-element-not-credited",
    message: `no β is stated of the ${position} element on the way to the aircraft, so the bound takes it as holding nothing back; state its β for a smaller bound`,
    source: "MASS-BALANCE",
  };
}

function amountOf(
  what: string,
  [unit, riseUnit]: readonly [CarriedAmount["unit"], CarriedAmount["rise"]["unit"]],
  { amount, rise, ifMixed }: ReturnType<typeof levelCarried>,
  perLitre: number,
): CarriedAmount {
  return {
    what,
    unit,
    atMost: amount * perLitre,
    ...(ifMixed && { ifMixed: ifMixed.amount * perLitre }),
    rise: { unit: riseUnit, atMost: rise, ...(ifMixed && { ifMixed: ifMixed.rise }) },
  };
}
