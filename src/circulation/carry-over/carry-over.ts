import { checkNumbers } from "../../numeric/index.js";
import { type Assumption, frozen } from "../../provenance/index.js";
import type { RatedBeta } from "../../samples/index.js";
import { checkBetas } from "../model/removal.js";
import { levelsAfter } from "./two-volumes.js";

/** What is known of a hookup. What is absent is not known, and the bound does without it. */
export interface Hookup {
  /** The circuit's fluid, hoses included. */
  readonly circuitL: number;
  /** The fluid of the aircraft's system. */
  readonly aircraftL?: number | undefined;
  /** The most flow from the circuit to the aircraft. */
  readonly flowLpm?: number | undefined;
  readonly minutes?: number | undefined;
  /** Fluid that went into the aircraft and stayed there. */
  readonly servicedL?: number | undefined;
  /** Whether the fluid comes back; a path that fills a reservoir delivers and does not return. */
  readonly returns: boolean;
}

/** The most fluid of a circuit that can be in an aircraft after a hookup. */
export interface FluidCarried {
  /** Litres of the circuit's own fluid in the aircraft, at most. */
  readonly litres: number;
  /** What sets the bound: what was pumped, what the circuit or the aircraft holds, or what was filled in. */
  readonly boundBy: "pumped" | "circuit" | "aircraft" | "serviced";
  /** The same as a share of the aircraft's fluid, 0 to 1; absent where its volume is not known. */
  readonly share?: number;
  /** What was not stated and would make the bound smaller. */
  readonly missing: readonly ("aircraftL" | "flowLpm" | "minutes" | "servicedL")[];
  readonly assumptions: readonly Assumption[];
}

/**
 * The most fluid of a circuit that can be in an aircraft after a hookup, however the two mix.
 *
 * Without mixing, each litre that is pumped over may be the circuit's own and may push out a litre of the aircraft's. So no more
 * of it is in the aircraft than was pumped, than the circuit held, and than the aircraft holds. Any mixing sends some of it back
 * and leaves less. A path that does not return leaves what was filled in.
 *
 * @param hookup - see {@link Hookup}
 * @throws RangeError naming the argument that makes no sense
 * @source MASS-BALANCE
 * @example
 * fluidCarried({ circuitL: 60, aircraftL: 90, flowLpm: 20, minutes: 2, returns: true }).litres; // => 40
 */
export function fluidCarried(hookup: Hookup): FluidCarried {
  const { circuitL, aircraftL, flowLpm, minutes, servicedL, returns } = hookup;
  checkHookup(hookup);
  const pumped =
    flowLpm === undefined || minutes === undefined ? undefined : Math.max(flowLpm * minutes, servicedL ?? 0);
  const isFilled = !returns && servicedL !== undefined;
  const bounds: readonly (readonly [FluidCarried["boundBy"], number | undefined])[] = isFilled
    ? [["serviced", servicedL]]
    : [
        ["pumped", pumped],
        ["aircraft", aircraftL],
        ["circuit", circuitL],
      ];
  const known = bounds.flatMap(([boundBy, litres]) => (litres === undefined ? [] : [{ boundBy, litres }]));
  const least = known.reduce((one, other) => (other.litres < one.litres ? other : one));
  const wanted = isFilled
    ? { aircraftL }
    : { aircraftL, ...(returns ? {} : { servicedL }), flowLpm, minutes };
  return {
    ...least,
    ...(aircraftL !== undefined && { share: Math.min(1, least.litres / aircraftL) }),
    missing: (Object.keys(wanted) as (keyof typeof wanted)[]).filter((name) => wanted[name] === undefined),
    assumptions: [isFilled ? FILLED : ANY_MIXING],
  };
}

const ANY_MIXING: Assumption = frozen({
  code: "any-mixing",
  message:
    "the bound holds however the two volumes mix: no more of the circuit's fluid is in the aircraft than was pumped, than the " +
    "circuit held or than the aircraft holds; it rests on the stated volumes, the stated most flow and the minutes in the log",
  source: "MASS-BALANCE",
});

const FILLED: Assumption = frozen({
  code: "delivers-only",
  message:
    "the circuit delivers and does not return: what was filled in stays in the aircraft, as many litres as the log says",
  source: "MASS-BALANCE",
});

function checkHookup({ returns: _returns, ...numbers }: Hookup): void {
  for (const [name, value = 1] of Object.entries(numbers)) {
    const least = name === "circuitL" || name === "aircraftL" ? "above 0" : "0 or more";
    const isAllowed = Number.isFinite(value) && (least === "above 0" ? value > 0 : value >= 0);
    if (!isAllowed) throw new RangeError(`${name} must be ${least}, not ${value}`);
  }
}

/** A level of the circuit as it arrives in the aircraft. */
export interface LevelCarried {
  /** By how much the level of the aircraft's fluid can rise; where its volume is not known, to the whole level of the circuit. */
  readonly rise: number;
  /** Litres times level. */
  readonly amount: number;
  /** The same where both volumes are well mixed; absent where volume, flow or minutes are not known. */
  readonly ifMixed?: { readonly rise: number; readonly amount: number };
}

/**
 * The most of a contaminant that a hookup can carry over, in an aircraft that held none of it.
 *
 * @param hookup - see {@link Hookup}
 * @param level - in the circuit during the hookup, per litre of fluid
 * @param through - share that gets through a filter on the way to the aircraft; 1 for water and acid, which no filter removes
 * @source MASS-BALANCE
 * @example
 * levelCarried({ circuitL: 60, aircraftL: 90, flowLpm: 20, minutes: 2, returns: true }, 450).rise; // => 200
 */
export function levelCarried(hookup: Hookup, level: number, through = 1): LevelCarried {
  const { litres, share = 1 } = fluidCarried(hookup);
  if (!(level >= 0 && Number.isFinite(litres * level))) {
    throw new RangeError(`no amount follows from ${litres} L of fluid with a level of ${level}`);
  }
  checkNumbers("notNegative", { level });
  checkNumbers("share", { through });
  const ifMixed = mixed(hookup, level, through);
  return {
    rise: share * level * through,
    amount: litres * level * through,
    ...(ifMixed && { ifMixed }),
  };
}

function mixed({ circuitL, aircraftL, flowLpm, minutes, returns }: Hookup, level: number, through: number) {
  if (!returns || aircraftL === undefined || flowLpm === undefined || minutes === undefined) return undefined;
  const volumes = {
    circuitL,
    aircraftL,
    flowLpm,
    circuitLevel: level,
    aircraftLevel: 0,
    toAircraft: through,
  };
  const rise = levelsAfter(volumes, minutes).aircraft;
  return { rise, amount: rise * aircraftL };
}

/**
 * The share of the particles larger than a size that gets through an element, by the least that its ratings promise.
 *
 * The rating at the size or the next smaller one counts, and the lowest of those above it; below the smallest rated size nothing
 * is held back. No line is drawn between rated sizes, because a bound must not rest on one.
 *
 * @param betas - filtration ratios βx(c) at rated sizes
 * @param sizeUm - size in µm(c)
 * @throws RangeError for ratings that cannot be true
 * @source ISO-16889
 * @example
 * getsThrough([{ sizeUmC: 4, beta: 20 }, { sizeUmC: 14, beta: 1000 }], 6); // => 0.05
 */
export function getsThrough(betas: readonly RatedBeta[], sizeUm: number): number {
  checkNumbers("positive", { sizeUm });
  const rated = checkBetas(betas);
  const first = rated.findLastIndex(({ sizeUmC }) => sizeUmC <= sizeUm);
  if (first === -1) return 1;
  return 1 / Math.min(...rated.slice(first).map(({ beta }) => beta));
}
