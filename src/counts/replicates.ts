import { gammaTails } from "../numeric/index.js";
import { CountError, type CountSet, cumulativeCounts, type SameScale, type SizeScale } from "./count-set.js";
import { rawParticles, readBetween, sampleSeenMl } from "./reading.js";

/** Whether replicate counts scatter more than particles counted at random would. */
export type Scatter =
  | {
      readonly kind: "as-random" | "more-than-random";
      /** Probability of scatter at least as large if it were random alone. */
      readonly probability: number;
      /** Relative standard deviation that must be added to random scatter to explain it, as a fraction; 0 when none. */
      readonly extraRsd: number;
    }
  | { readonly kind: "cannot-tell"; readonly why: string };

/** Replicate counts of one bottle as one count set. */
export interface PooledCounts<S extends SizeScale> {
  readonly counts: CountSet<S>;
  readonly scatter: readonly { readonly sizeUm: number; readonly scatter: Scatter }[];
}

/** Scatter this improbable is called more than random. */
const TOO_IMPROBABLE = 0.05;
/** Below this many expected particles a replicate, the chi-square law is a poor guide (common practice). */
const EXPECTED_MIN = 5;

/**
 * Pools replicate counts of one bottle, and tests whether they scatter more than Poisson allows.
 *
 * Raw particles are added up and divided by the whole volume that was counted. The scatter is judged size by size by
 * the index of dispersion, Σ (found − expected)² / expected, against chi-square with one degree of freedom less than
 * there are replicates.
 *
 * @param first - a count with its counted volume; the result stands for the same volume
 * @param others - one or more counts at the same sizes on the same scale, each with its counted volume
 * @returns the pooled counts, and the scatter at each size
 * @throws CountError when there are fewer than two, when scale, sizes or volume differ, or a counted volume is missing
 * @source INDEX-OF-DISPERSION
 * @example
 * const first = cumulativeCounts([{ sizeUm: 4, count: 1000 }], 1, "um(c)", { countedMl: 10 });
 * const second = cumulativeCounts([{ sizeUm: 4, count: 1010 }], 1, "um(c)", { countedMl: 10 });
 * poolReplicates(first, second).counts.counts; // => [{ sizeUm: 4, count: 1005 }]
 */
export function poolReplicates<S extends SizeScale>(
  first: CountSet<S>,
  ...others: readonly CountSet<SameScale<S>>[]
): PooledCounts<S> {
  if (others.length === 0) throw new CountError("pooling needs two or more replicates, not 1");
  const replicates = [first, ...others];
  for (const other of others) mustMatch(first, other);
  const seen = replicates.map((set, index) => {
    const seenMl = sampleSeenMl(set);
    if (seenMl === undefined)
      throw new CountError(`replicate ${index + 1} does not say how much was counted`);
    return seenMl;
  });
  const allSeenMl = seen.reduce((sum, seenMl) => sum + seenMl, 0);
  const rows = first.counts.map(({ sizeUm }) => {
    const raw = replicates.map((set) => {
      const reading = readBetween(set, sizeUm, undefined);
      return (reading && rawParticles(set, reading)) ?? Number.NaN;
    });
    const total = raw.reduce((sum, n) => sum + n, 0);
    const expected = seen.map((seenMl) => (total * seenMl) / allSeenMl);
    return { sizeUm, count: (total * first.volumeMl) / allSeenMl, scatter: scatterOf(raw, expected, total) };
  });
  return {
    counts: cumulativeCounts(
      rows.map(({ sizeUm, count }) => ({ sizeUm, count })),
      first.volumeMl,
      first.scale,
      { countedMl: allSeenMl },
    ),
    scatter: rows.map(({ sizeUm, scatter }) => ({ sizeUm, scatter })),
  };
}

function scatterOf(raw: readonly number[], expected: readonly number[], total: number): Scatter {
  const least = Math.min(...expected);
  if (!(least >= EXPECTED_MIN)) {
    const why = `only ${Number(least.toPrecision(3))} particles are expected in a replicate; ${EXPECTED_MIN} are needed`;
    return { kind: "cannot-tell", why };
  }
  const dispersion = expected.reduce((sum, e, index) => sum + ((raw[index] as number) - e) ** 2 / e, 0);
  const degreesOfFreedom = raw.length - 1;
  const probability = gammaTails(degreesOfFreedom / 2, dispersion / 2).upper;
  // With an extra relative scatter r the dispersion is expected at freedom + r² (total − Σ expected² / total).
  const leverage = total - expected.reduce((sum, e) => sum + e * e, 0) / total;
  return {
    kind: probability < TOO_IMPROBABLE ? "more-than-random" : "as-random",
    probability,
    extraRsd: Math.sqrt(Math.max(0, (dispersion - degreesOfFreedom) / leverage)),
  };
}

/**
 * Refuses two count sets that do not stand on the same basis.
 *
 * @throws CountError naming what differs
 */
export function mustMatch(a: CountSet<SizeScale>, b: CountSet<SizeScale>): void {
  if (a.scale !== b.scale) throw new CountError(`size scales are mixed: ${a.scale} and ${b.scale}`);
  const sizesA = a.counts.map((entry) => entry.sizeUm).join(", ");
  const sizesB = b.counts.map((entry) => entry.sizeUm).join(", ");
  if (sizesA !== sizesB)
    throw new CountError(`counts stand at different sizes: ${sizesA} µm and ${sizesB} µm`);
}
