import { frozen, type SourceKey } from "../../provenance/index.js";
import { type ComparedLimit, compareWithLimits, type ParticleLimit } from "../particle-limit.js";
import type { TableCounts } from "../size-pairs.js";

/** Particle limits that a specification sets for fluid as delivered. */
export interface NewFluidLimits {
  readonly specification: string;
  readonly source: SourceKey;
  /** What is doubtful about the numbers, where something is. */
  readonly doubt?: string;
  readonly limits: readonly ParticleLimit[];
}

type Row = readonly [channel: string, fromUm: number, toUm: number | undefined, limit: number];

const RANGES = { "5-15": [6, 14], "15-25": [14, 21], "25-50": [21, 38], "50-100": [38, 70] } as const;

function rangesOf(limits: Partial<Record<keyof typeof RANGES, number>>, over100: number): ParticleLimit[] {
  const rows: Row[] = Object.entries(limits).map(([name, limit]) => [
    name,
    ...RANGES[name as keyof typeof RANGES],
    limit,
  ]);
  return [...rows, [">100", 70, undefined, over100] as const].map(([channel, fromUm, toUm, limit]) => ({
    channel,
    fromUm,
    ...(toUm !== undefined && { toUm }),
    limit,
    volumeMl: 100,
  }));
}

/**
 * Particle limits of new fluid, per 100 mL between two sizes by microscope, each with how well it is confirmed.
 *
 * Channels are named as printed; where a page prints 16-25 for the range after 5-15 it is the range 15-25. In µm(c) they
 * are read at the sizes AS4059 pairs with theirs. None of these is a limit for fluid in service.
 */
export const NEW_FLUID_LIMITS: readonly NewFluidLimits[] = frozen([
  {
    specification: "MIL-H-5606, MIL-H-27601A and MIL-H-81019A",
    source: "NEW-FLUID-GUIDE",
    limits: rangesOf({ "5-15": 2500, "15-25": 1000, "25-50": 250, "50-100": 25 }, 0),
  },
  {
    specification: "MIL-PRF-5606H",
    source: "NEW-FLUID-GUIDE",
    doubt: "the 25 particles for 50-100 µm are doubtful: 20 is recalled",
    limits: rangesOf({ "5-15": 10_000, "15-25": 1000, "25-50": 150, "50-100": 25 }, 5),
  },
  {
    specification: "MIL-PRF-6083",
    source: "MIL-PRF-6083",
    doubt:
      "the rows between 15 and 100 µm were not legible, so fluid within these two limits may still be outside",
    limits: rangesOf({ "5-15": 10_000 }, 10),
  },
  {
    specification: "MIL-PRF-83282 and MIL-PRF-87257",
    source: "MIL-PRF-83282-LIMITS",
    doubt: "all of these limits are from memory; look them up in the specification",
    limits: rangesOf({ "5-15": 10_000, "15-25": 1000, "25-50": 150, "50-100": 20 }, 5),
  },
  {
    specification: "MIL-DTL-197L general oils",
    source: "MIL-DTL-197L",
    doubt:
      "the first row is printed 5-15, and its number is the one for all particles of 5 µm and larger at level 100",
    limits: rangesOf({ "5-15": 1785, "15-25": 265, "25-50": 78, "50-100": 11 }, 0),
  },
  {
    specification: "MIL-DTL-197L instrument oils",
    source: "MIL-DTL-197L",
    limits: rangesOf({ "5-15": 150, "15-25": 45, "25-50": 23, "50-100": 10 }, 0),
  },
]);

/** Counts compared with the limits of new fluid of one specification. */
export interface HeldNewFluid {
  readonly specification: string;
  readonly source: SourceKey;
  readonly doubt?: string;
  /** "outside" when one limit is exceeded, "inside" when all were measured and met, otherwise "not-known". */
  readonly outcome: "inside" | "outside" | "not-known";
  readonly held: readonly ComparedLimit[];
}

/**
 * Holds counts against the limits of new fluid of every specification listed.
 *
 * @param counts - counts in either form, by microscope or on a scale that is paired with it
 * @returns one entry for each specification of which at least one channel was counted
 */
export function compareWithNewFluid(counts: TableCounts): HeldNewFluid[] {
  return NEW_FLUID_LIMITS.flatMap(({ limits, ...named }) => {
    const held = compareWithLimits(counts, limits);
    if (held.every((entry) => entry.outcome === "not-measured")) return [];
    const outside = held.some((entry) => entry.outcome === "outside");
    // Limits that are known to be incomplete can show that a fluid is outside, never that it is inside.
    const complete = held.every((entry) => entry.outcome === "inside") && limits.length === 5;
    return [{ ...named, outcome: outside ? "outside" : complete ? "inside" : "not-known", held }];
  });
}
