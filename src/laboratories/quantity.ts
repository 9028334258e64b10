import { median } from "../numeric/index.js";
import type { Bottle, ComparedIn, QuantityBottles } from "./results.js";
import { intervalOf, relativeSd } from "./spread.js";
import { type ComparedSpread, relative, spreadsOf } from "./spreads.js";
import {
  type Cell,
  type LaboratoryEffect,
  linkedLaboratories,
  type TwoWayLayout,
  twoWayLayout,
} from "./two-way.js";

/** How one laboratory reads against another, or against the mean of all: a factor for counts, otherwise a difference. */
export type Bias =
  | {
      readonly kind: "compared";
      readonly against: string;
      readonly estimate: number;
      readonly low: number;
      readonly high: number;
      /** Fluids that it shares with another laboratory. */
      readonly materials: number;
      readonly differs: boolean;
      /** Median over the fluids that both measured, which a few wild pairs do not move. */
      readonly median?: number;
    }
  /** The difference is the same to the last digit each time, so the scatter is hidden by rounding. */
  | {
      readonly kind: "no-scatter";
      readonly against: string;
      readonly estimate: number;
      readonly materials: number;
      readonly differs: boolean;
    }
  | { readonly kind: "reference"; readonly materials: number }
  | { readonly kind: "too-few"; readonly materials: number; readonly needed: number };

/** What is known of one laboratory in one quantity. */
export interface ComparedLaboratory {
  readonly laboratory: string;
  readonly bias: Bias;
  /** From several bottles of one fluid. */
  readonly bottles: ComparedSpread;
  /** From several counts of one bottle. */
  readonly runs?: ComparedSpread;
}

/** The laboratories of one quantity that shared fluids link. */
export interface ComparedQuantity extends ComparedIn {
  readonly laboratories: readonly ComparedLaboratory[];
  /** Scatter of one laboratory's result about fluid and laboratory; absent where nothing could be compared. */
  readonly scatter?: ComparedSpread;
  /**
   * Standard uncertainty that covers every laboratory: the furthest end of its interval about their mean, with the upper end
   * of the scatter. Of counts relative, as a fraction.
   */
  readonly coverAll?: number;
}

/** Of fewer shared fluids no bias is stated (common practice, no source). */
export const MIN_MATERIALS = 5;

/** Whether a laboratory, or a counter of it, is the one that was named. */
export function isReference(laboratory: string, reference: string): boolean {
  const [name, plain] = [laboratory.toLowerCase(), reference.trim().toLowerCase()];
  return name === plain || name.startsWith(`${plain} (counter `);
}

/** Compares the laboratories in one quantity: each group that shared fluids link by itself. */
export function compareIn(
  result: QuantityBottles,
  reference: string | undefined,
  confidence: number,
): ComparedQuantity[] {
  const { bottles, tooFewParticles: _, ...quantity } = result;
  const isRatio = quantity.field === "counts";
  const cells = cellsOf(bottles);
  const kept = withEnough(cells);
  const groups = linkedLaboratories(kept);
  const inGroups = new Set(groups.flat());
  const others = [...new Set(bottles.map(({ laboratory }) => laboratory))]
    .filter((name) => !inGroups.has(name))
    .sort();
  const own = (laboratory: string) =>
    spreadsOf(
      bottles.filter((bottle) => bottle.laboratory === laboratory),
      confidence,
      isRatio,
    );
  const alone = others.map(
    (laboratory): ComparedLaboratory => ({
      laboratory,
      bias: { kind: "too-few", materials: sharedBy(laboratory, cells), needed: MIN_MATERIALS },
      ...own(laboratory),
    }),
  );
  if (groups.length === 0) return [{ ...quantity, laboratories: alone }];
  return groups.map((group, index) => {
    const members = kept.filter(({ laboratory }) => group.includes(laboratory));
    const against = referenceOf(group, reference);
    const fitted = { layout: twoWayLayout(members, { reference: against, confidence }), members, isRatio };
    const compared = fitted.layout.laboratories.map((effect): ComparedLaboratory => {
      const { laboratory } = effect;
      return { laboratory, bias: biasOf(effect, against, fitted), ...own(laboratory) };
    });
    const scatter = scatterOf(fitted, confidence);
    return {
      ...quantity,
      laboratories: [...compared, ...(index === 0 ? alone : [])],
      scatter,
      ...(scatter.kind === "measured" && { coverAll: coverAllOf(members, confidence, isRatio) }),
    };
  });
}

function biasOf(
  { laboratory, effect, low, high, materials }: LaboratoryEffect,
  reference: string | undefined,
  { layout, members, isRatio }: Fitted,
): Bias {
  if (laboratory === reference) return { kind: "reference", materials };
  const shown = (value: number) => (isRatio ? Math.exp(value) : value);
  const against = reference ?? MEAN_OF_ALL;
  const estimate = shown(effect);
  if (hasNoScatter(layout, members)) {
    return {
      kind: "no-scatter",
      against,
      estimate,
      materials,
      differs: Math.abs(effect) > ROUNDING * largestOf(members),
    };
  }
  const pairs = reference === undefined ? [] : differencesOf(members, laboratory, reference);
  return {
    kind: "compared",
    against,
    estimate,
    low: shown(low),
    high: shown(high),
    materials,
    differs: !(low <= 0 && high >= 0),
    ...(pairs.length >= MIN_MATERIALS && { median: shown(median(pairs)) }),
  };
}

/** The cells of linked laboratories and what was made of them. */
interface Fitted {
  readonly layout: TwoWayLayout;
  readonly members: readonly Cell[];
  readonly isRatio: boolean;
}

/** What a bias is stated against where no laboratory is the reference. */
export const MEAN_OF_ALL = "the mean of the laboratories";

/** The reference that was named, or of two laboratories the first by name; otherwise the mean. */
function referenceOf(group: readonly string[], reference: string | undefined): string | undefined {
  const named = reference === undefined ? [] : group.filter((name) => isReference(name, reference));
  if (named.length > 0) return named[0];
  return group.length === 2 ? group[0] : undefined;
}

/** A cell for each fluid and laboratory: the mean of its bottles. */
function cellsOf(bottles: readonly Bottle[]): Cell[] {
  const cells = new Map<string, Bottle[]>();
  for (const bottle of bottles) {
    const key = JSON.stringify([bottle.material, bottle.laboratory]);
    const cell = cells.get(key);
    if (cell === undefined) cells.set(key, [bottle]);
    else cell.push(bottle);
  }
  return [...cells.values()].map((cell) => {
    const { material, laboratory } = cell[0] as Bottle;
    return { material, laboratory, value: cell.reduce((sum, { value }) => sum + value, 0) / cell.length };
  });
}

/** The cells of laboratories that share enough fluids with each other; those of the others are taken out, again and again, as each may have lost its partner. */
function withEnough(cells: readonly Cell[]): Cell[] {
  const names = [...new Set(cells.map(({ laboratory }) => laboratory))];
  const enough = new Set(names.filter((name) => sharedBy(name, cells) >= MIN_MATERIALS));
  return enough.size === names.length
    ? [...cells]
    : withEnough(cells.filter(({ laboratory }) => enough.has(laboratory)));
}

function sharedBy(laboratory: string, cells: readonly Cell[]): number {
  const others = new Set(
    cells.filter((cell) => cell.laboratory !== laboratory).map(({ material }) => material),
  );
  return cells.filter((cell) => cell.laboratory === laboratory && others.has(cell.material)).length;
}

function differencesOf(cells: readonly Cell[], laboratory: string, against: string): number[] {
  const other = new Map(
    cells.filter((cell) => cell.laboratory === against).map(({ material, value }) => [material, value]),
  );
  return cells.flatMap((cell) => {
    const value = cell.laboratory === laboratory ? other.get(cell.material) : undefined;
    return value === undefined ? [] : [cell.value - value];
  });
}

/** What is smaller, against the results, is rounding of the computation. */
const ROUNDING = 1e-10;

function hasNoScatter({ residualSd }: TwoWayLayout, members: readonly Cell[]): boolean {
  return !(residualSd > ROUNDING * largestOf(members));
}

function largestOf(members: readonly Cell[]): number {
  return members.reduce((most, { value }) => Math.max(most, Math.abs(value)), 0);
}

/** The scatter that is left when fluids and laboratories are taken out, with the interval of chi-square. */
function scatterOf({ layout, members, isRatio }: Fitted, confidence: number): ComparedSpread {
  const { residualSd, degreesOfFreedom } = layout;
  if (hasNoScatter(layout, members)) return { kind: "all-equal", degreesOfFreedom };
  return relative(intervalOf(residualSd, degreesOfFreedom, confidence), isRatio);
}

function coverAllOf(members: readonly Cell[], confidence: number, isRatio: boolean): number {
  const layout = twoWayLayout(members, { confidence });
  const furthest = Math.max(...layout.laboratories.map(({ low, high }) => Math.max(-low, high)));
  const { high } = intervalOf(layout.residualSd, layout.degreesOfFreedom, confidence);
  const together = Math.hypot(furthest, high);
  return isRatio ? relativeSd(together) : together;
}
