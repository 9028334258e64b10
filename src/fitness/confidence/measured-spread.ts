import { TYPICAL_UNCERTAINTY } from "../../circulation/index.js";
import { FLUID_BASES } from "../../fluids/index.js";
import type { ComparedQuantity, LaboratoryComparison } from "../../laboratories/index.js";
import type { Assumption } from "../../provenance/index.js";
import { type Cart, maximumOf, type Precision, type Requirement } from "../../samples/index.js";
import { formatShare, inFourDigits } from "../../units/index.js";
import { relativeSd } from "./counting-conformance.js";
import { scatterAt } from "./laboratory.js";

/** Every target of cleanliness is read at sizes up to this one; larger sizes have few particles to compare. */
const MAX_SIZE_UM = 14;

/**
 * Widens the spread that requirements state to what the laboratories of a book show, where that is more.
 *
 * It never narrows: laboratories that agree may all be wrong alike, and two lucky pairs look narrow. Taken is what covers
 * every laboratory, which holds the ends of the intervals; where a requirement states no spread of counts, no less than the
 * customary one. A requirement that asks for no confidence stays as it is.
 *
 * @returns the same fleet with wider requirements; the circuits that serve them say what was taken in their assumptions
 */
export function withMeasuredSpread<
  F extends { readonly carts: readonly Cart[]; readonly requirements: readonly Requirement[] },
>(fleet: F, { quantities }: LaboratoryComparison): F {
  const widened = fleet.requirements.map((requirement) => widen(requirement, quantities));
  const assumed = new Map(widened.map(({ requirement, assumptions }) => [requirement.system, assumptions]));
  const carts = fleet.carts.map((cart) => ({
    ...cart,
    circuits: cart.circuits.map((circuit) => {
      const assumptions = assumed.get(circuit.serves) ?? [];
      return assumptions.length === 0
        ? circuit
        : { ...circuit, assumptions: [...(circuit.assumptions ?? []), ...assumptions] };
    }),
  }));
  return { ...fleet, carts, requirements: widened.map(({ requirement }) => requirement) };
}

interface Widened {
  readonly requirement: Requirement;
  readonly assumptions: readonly Assumption[];
}

function widen(requirement: Requirement, quantities: readonly ComparedQuantity[]): Widened {
  const { confidence } = requirement;
  if (confidence === undefined) return notUsed(requirement, "the requirement requires no confidence");
  const assumptions: Assumption[] = [];
  const stated = confidence.counts?.reproducibility;
  const counts = largest(quantities.filter(({ sizeUm = Number.POSITIVE_INFINITY }) => sizeUm <= MAX_SIZE_UM));
  const usual = stated === undefined ? TYPICAL_UNCERTAINTY.laboratory : relativeSd(stated);
  const isWider = counts !== undefined && (stated === undefined || !(counts <= usual));
  const rsd = Math.max(counts ?? 0, usual);
  if (isWider)
    assumptions.push(
      counts < usual ? customary(counts) : taken("counts", formatShare(rsd), stated && formatShare(usual)),
    );
  const precisionOf = (
    says: string,
    field: "waterPpm" | "acidMgKohPerG",
    unit: string,
    limits: readonly number[],
  ) => {
    const given = confidence[field === "waterPpm" ? "water" : "acid"];
    const measured = largest(quantities.filter((one) => one.field === field && isOf(one, requirement)));
    const most = widest(given, limits);
    if (measured === undefined || limits.length === 0 || measured <= most) return given;
    assumptions.push(
      taken(says, `${inFourDigits(measured)} ${unit}`, given && `${inFourDigits(most)} ${unit}`),
    );
    return { sd: measured };
  };
  const water = precisionOf("water", "waterPpm", "ppm", waterLimits(requirement));
  const acid = precisionOf("acid number", "acidMgKohPerG", "mg KOH/g", limitOf(requirement.acidMgKohPerGMax));
  if (assumptions.length === 0) {
    const isCompared = quantities.some(({ coverAll }) => coverAll !== undefined);
    return notUsed(
      requirement,
      isCompared ? "for its fluids they show no larger spread than it states" : "too few bottles are shared",
    );
  }
  return {
    requirement: {
      ...requirement,
      confidence: {
        ...confidence,
        ...(isWider && { counts: { ...confidence.counts, reproducibility: { kind: "relative", rsd } } }),
        ...(water && { water }),
        ...(acid && { acid }),
      },
    },
    assumptions,
  };
}

/** The largest of what covers all laboratories; undefined where no two could be compared. */
function largest(quantities: readonly ComparedQuantity[]): number | undefined {
  const known = quantities.flatMap(({ coverAll }) => coverAll ?? []);
  return known.length === 0 ? undefined : Math.max(...known);
}

/** Whether fluids of the requirement were compared in a quantity. */
function isOf({ base }: ComparedQuantity, { fluids }: Requirement): boolean {
  if (base === "fluid not stated") return false;
  return fluids.some((fluid) => (FLUID_BASES[fluid] === "phosphate ester") === (base === "phosphate ester"));
}

/** The stated scatter where it is largest, whichever limit the result is held against. */
function widest(precision: Precision | undefined, limits: readonly number[]): number {
  if (precision === undefined) return 0;
  return Math.max(0, ...limits.map((limit) => scatterAt(precision, limit).standardUncertainty));
}

/** The limits of water, and the most that a limit by saturation can be. */
function waterLimits({ waterPpmMax, waterSaturation }: Requirement): number[] {
  return [...limitOf(waterPpmMax), ...(waterSaturation?.measured.map(({ waterPpm }) => waterPpm) ?? [])];
}

function limitOf(limit: Parameters<typeof maximumOf>[0] | undefined): number[] {
  const maximum = limit === undefined ? undefined : maximumOf(limit);
  return maximum === undefined ? [] : [maximum];
}

function notUsed(requirement: Requirement, why: string): Widened {
  const message = `the spread between the laboratories of the book was not used: ${why}`;
  return { requirement, assumptions: [{ code: "laboratory-spread-not-taken", message }] };
}

function taken(says: string, measured: string, stated: string | undefined): Assumption {
  const instead = stated === undefined ? "the requirement states none" : `the requirement states ${stated}`;
  return {
    code: "laboratory-spread-from-book",
    message: `for ${says} the spread between the laboratories of the book was used, a standard uncertainty of ${measured}; ${instead}`,
  };
}

/** Laboratories that agree may all be wrong alike, so where nothing is stated the customary spread is the least. */
function customary(measured: number): Assumption {
  return {
    code: "laboratory-spread-not-taken",
    message:
      `for counts the customary spread of ${formatShare(TYPICAL_UNCERTAINTY.laboratory)} was used (common practice, no source): ` +
      `the requirement states none, and the laboratories of the book show only ${formatShare(measured)}`,
  };
}

/**
 * What was done with the spread between the laboratories of a book, each sentence once; nothing where it was not asked for.
 */
export function describeSpreadUsed(all: readonly Assumption[]): string[] {
  const about = all.filter(({ code }) => ABOUT_SPREAD.includes(code));
  return [...new Set(about.map(({ message }) => `${message[0]?.toUpperCase()}${message.slice(1)}.`))];
}

const ABOUT_SPREAD = ["laboratory-spread-from-book", "laboratory-spread-not-taken"];
