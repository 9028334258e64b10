// Against SciPy; tests/reference/make-levels.py makes the values again.
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { averageOverLaboratory, cumulativeCounts, levelOf, poolReplicates } from "../../src/counts/index.js";

interface Reference {
  readonly levels: readonly { raw: number; rsd: number; factor: number; probability: number }[];
  readonly together: readonly {
    channels: { raw: number; limit: number }[];
    rsd: number;
    product: number;
    least: number;
  }[];
  readonly dispersion: readonly { raw: number[]; volumes: number[]; probability: number }[];
}

const reference: Reference = JSON.parse(readFileSync(new URL("levels.json", import.meta.url), "utf8"));

describe("the probability that the level is within a limit", () => {
  test.each(reference.levels)(
    "agrees with SciPy's adaptive quadrature to 8 decimals: $raw counted, RSD $rsd, limit at $factor of the count",
    ({ raw, rsd, factor, probability }) => {
      const atMost = levelOf({ raw, seenMl: 25, reproducibility: { kind: "relative", rsd } });
      expect(Math.abs(atMost(((raw + 0.5) * factor) / 25) - probability)).toBeLessThan(5e-9);
    },
  );
});

test.each(reference.together)(
  "averages over one laboratory factor agree with SciPy to 5 decimals: $channels, RSD $rsd",
  (row) => {
    const channels = row.channels.map(({ raw, limit }) => ({ raw, seenMl: 1, upToPerMl: limit }));
    const over = (combine: (probabilities: readonly number[]) => number) =>
      averageOverLaboratory(channels, { kind: "relative", rsd: row.rsd }, combine);
    expect(over((all) => all.reduce((product, one) => product * one, 1))).toBeCloseTo(row.product, 5);
    expect(over((all) => Math.min(...all))).toBeCloseTo(row.least, 5);
  },
);

test.each(reference.dispersion)(
  "replicates $raw in $volumes mL scatter with SciPy's chi-square probability",
  (row) => {
    const [first, ...others] = row.raw.map((raw, index) =>
      cumulativeCounts([{ sizeUm: 4, count: raw }], row.volumes[index] as number, "um(c)", {
        countedMl: row.volumes[index] as number,
      }),
    );
    const { scatter } = poolReplicates(first as NonNullable<typeof first>, ...others).scatter[0] ?? {};
    expect(scatter?.kind === "cannot-tell" ? undefined : scatter?.probability).toBeCloseTo(
      row.probability,
      10,
    );
  },
);
