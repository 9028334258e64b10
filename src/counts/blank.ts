import { type Assumption, frozen } from "../provenance/index.js";
import { formatShare } from "../units/index.js";
import { CountError, type CountSet, cumulativeCounts, type SameScale, type SizeScale } from "./count-set.js";
import { bringToVolume, subtractAsWritten } from "./decimal.js";
import { mustMatch } from "./replicates.js";

/**
 * The largest share of a sample's particles that its bottle may bring in.
 *
 * @source ASTM-D6786
 */
export const BLANK_SHARE_MAX = 0.01;

/** A sample after its bottle blank was taken into account. */
export type BlankedSample<S extends SizeScale> =
  | {
      readonly kind: "subtracted";
      readonly counts: CountSet<S>;
      /** Blank divided by sample at each size; 0 where both are nothing. */
      readonly shares: readonly { readonly sizeUm: number; readonly share: number }[];
      readonly assumptions: readonly Assumption[];
    }
  | {
      readonly kind: "unusable";
      readonly why: string;
      readonly shares: readonly { readonly sizeUm: number; readonly share: number }[];
    };

/**
 * Subtracts a bottle blank, or finds the sample unusable.
 *
 * The published rule is that the bottle brings in less than 1 % of all particles. All particles are those larger than the
 * smallest counted size, so the rule is read there. A blank larger than the sample at some size, or one that leaves
 * counts that rise with size, makes the sample unusable as well.
 *
 * @param sample - cumulative counts
 * @param blank - cumulative counts of a clean bottle, at the same sizes on the same scale
 * @param shareMax - largest allowed share of the blank, as a fraction
 * @returns the net counts, which remember the blank, or why the sample is unusable
 * @throws CountError when scale or sizes differ
 * @source ASTM-D6786
 * @example
 * const sample = cumulativeCounts([{ sizeUm: 4, count: 15000 }], 100);
 * const bottle = cumulativeCounts([{ sizeUm: 4, count: 90 }], 100);
 * subtractBlank(sample, bottle).counts.counts; // => [{ sizeUm: 4, count: 14910, blank: 90 }]
 */
export function subtractBlank<S extends SizeScale>(
  sample: CountSet<S>,
  blank: CountSet<SameScale<S>>,
  shareMax = BLANK_SHARE_MAX,
): BlankedSample<S> {
  mustMatch(sample, blank);
  const rows = sample.counts.map((entry, index) => {
    const brought = bringToVolume(blank.counts[index]?.count ?? Number.NaN, blank.volumeMl, sample.volumeMl);
    const net = subtractAsWritten(entry.count, brought);
    return { ...entry, blank: brought, net, share: brought === 0 ? 0 : brought / entry.count };
  });
  const shares = rows.map(({ sizeUm, share }) => ({ sizeUm, share }));
  const smallest = rows[0] as (typeof rows)[number];
  if (!(smallest.share < shareMax)) {
    const why = `the bottle brings in ${formatShare(smallest.share)} of the particles above ${smallest.sizeUm} µm; less than ${shareMax * 100} % is allowed`;
    return { kind: "unusable", why, shares };
  }
  const more = rows.find(({ net }) => !(net >= 0));
  if (more !== undefined) {
    const why = `the blank holds more particles than the sample above ${more.sizeUm} µm: ${more.blank} and ${more.count}`;
    return { kind: "unusable", why, shares };
  }
  try {
    const counts = cumulativeCounts(
      rows.map(({ sizeUm, net, basis, blank: brought }) => ({
        sizeUm,
        count: net,
        blank: brought,
        ...(basis && { basis }),
      })),
      sample.volumeMl,
      sample.scale,
      sample.counting,
    );
    return { kind: "subtracted", counts, shares, assumptions: [SUBTRACTED] };
  } catch (error) {
    if (!(error instanceof CountError)) throw error;
    return { kind: "unusable", why: `after subtracting the blank, ${error.message}`, shares };
  }
}

const SUBTRACTED: Assumption = frozen({
  code: "blank-subtracted",
  message: "the bottle blank was subtracted at every size; its own counting scatter was left out",
  source: "ASTM-D6786",
});
