import { parseTarget } from "../../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../../src/counts/index.js";
import type { Requirement } from "../../../src/samples/index.js";
import { asking, type Case, CIRCUIT, CLEAN, counts, sample, without } from "./bases.js";

/** Counts per 100 mL at 6, 14, 21, 38 and 70 µm(c). */
function per100(...values: number[]) {
  const sizes = [6, 14, 21, 38, 70];
  return cumulativeCounts(
    values.map((count, index) => ({ sizeUm: sizes[index] as number, count })),
    100,
  );
}

const target = (text: string): Partial<Requirement> => ({ cleanliness: [parseTarget(text)] });

// NAS 1638 class 5 per 100 mL: 8000, 1425, 253, 45, 8. Cumulated from the top: 8, 53, 306, 1731, 9731.
const NAS_5 = target("NAS 1638 5");
// AS4059 cumulative class 6, unrounded, per 100 mL: A 78 000 above 4, B 19 462 above 6, C 3462 above 14.
const AS4059_6 = target("AS4059 cumulative 6B-C");

/** Each particle limit exactly met, one particle inside and one outside. */
export const PARTICLE_CASES: readonly Case[] = [
  ["everything exactly at its limit", {}, "fit", "particles-inside"],
  [
    "4 µm(c) one particle per mL inside",
    sample({ counts: counts(1299, 320, 40) }),
    "fit",
    "particles-inside",
  ],
  [
    "4 µm(c) one particle per mL outside",
    sample({ counts: counts(1301, 320, 40) }),
    "circulate",
    "particles-outside",
  ],
  [
    "6 µm(c) one particle per mL inside",
    sample({ counts: counts(1300, 319, 40) }),
    "fit",
    "particles-inside",
  ],
  [
    "6 µm(c) one particle per mL outside",
    sample({ counts: counts(1300, 321, 40) }),
    "circulate",
    "particles-outside",
  ],
  [
    "14 µm(c) one particle per mL inside",
    sample({ counts: counts(1300, 320, 39) }),
    "fit",
    "particles-inside",
  ],
  [
    "14 µm(c) one particle per mL outside",
    sample({ counts: counts(1300, 320, 41) }),
    "circulate",
    "particles-outside",
  ],
  [
    "14 µm(c) a hundredth of a particle outside",
    sample({ counts: counts(1300, 320, 40.01) }),
    "circulate",
    "particles-outside",
  ],
  [
    "NAS 1638 exactly at class 5 in every range",
    asking(NAS_5, { counts: per100(9731, 1731, 306, 53, 8) }),
    "fit",
    "particles-inside",
  ],
  [
    "NAS 1638 one particle inside class 5 in 6-14",
    asking(NAS_5, { counts: per100(9730, 1731, 306, 53, 8) }),
    "fit",
    "particles-inside",
  ],
  [
    "NAS 1638 one particle over class 5 in 6-14",
    asking(NAS_5, { counts: per100(9732, 1731, 306, 53, 8) }),
    "circulate",
    "particles-outside",
  ],
  [
    "NAS 1638 one particle over class 5 in 14-21",
    asking(NAS_5, { counts: per100(9732, 1732, 306, 53, 8) }),
    "circulate",
    "particles-outside",
  ],
  [
    "NAS 1638 one particle over class 5 in 38-70",
    asking(NAS_5, { counts: per100(9733, 1733, 307, 54, 8) }),
    "circulate",
    "particles-outside",
  ],
  [
    "NAS 1638 one particle over class 5 above 70",
    asking(NAS_5, { counts: per100(9732, 1732, 307, 54, 9) }),
    "circulate",
    "particles-outside",
  ],
  [
    "AS4059 6B-C exactly at both limits",
    asking(AS4059_6, { counts: per100(19462, 3462, 0, 0, 0) }),
    "fit",
    "particles-inside",
  ],
  [
    "AS4059 6B-C one particle inside in C",
    asking(AS4059_6, { counts: per100(19462, 3461, 0, 0, 0) }),
    "fit",
    "particles-inside",
  ],
  [
    "AS4059 6B-C one particle outside in B",
    asking(AS4059_6, { counts: per100(19463, 3462, 0, 0, 0) }),
    "circulate",
    "particles-outside",
  ],
  [
    "AS4059 6B-C one particle outside in C",
    asking(AS4059_6, { counts: per100(19462, 3463, 0, 0, 0) }),
    "circulate",
    "particles-outside",
  ],
  [
    "of two targets the stricter decides",
    asking({ cleanliness: [parseTarget("17/15/12"), parseTarget("16/15/12")] }),
    "circulate",
    "particles-outside",
  ],
  [
    "of two targets both are met",
    asking({ cleanliness: [parseTarget("17/15/12"), parseTarget("18/16/13")] }),
    "fit",
    "particles-inside",
  ],
  [
    "a target whose ranges were not all counted",
    asking(target("AS4059 differential 12")),
    "resample",
    "particles-not-measured",
  ],
  ["14 µm(c) not counted", sample({ counts: counts(1300, 320) }), "resample", "particles-not-measured"],
  [
    "14 µm(c) not counted and 4 µm(c) outside",
    sample({ counts: counts(20000, 320) }),
    "circulate",
    "sizes-not-counted",
  ],
  ["no counts", { samples: [without(CLEAN, "counts")] }, "resample", "particles-not-measured"],
  [
    "14 µm(c) estimated between two counted sizes",
    sample({
      counts: cumulativeCounts(
        [
          { sizeUm: 4, count: 1000 },
          { sizeUm: 6, count: 300 },
          { sizeUm: 14, count: 30, basis: "estimated" },
        ],
        1,
      ),
    }),
    "resample",
    "particles-estimated",
  ],
  [
    "4 µm(c) converted from the older scale",
    sample({
      counts: cumulativeCounts(
        [
          { sizeUm: 4, count: 1000, basis: "converted" },
          { sizeUm: 6, count: 300 },
          { sizeUm: 14, count: 30 },
        ],
        1,
      ),
    }),
    "resample",
    "particles-estimated",
  ],
  [
    "an estimated size that no target asks for",
    sample({
      counts: cumulativeCounts(
        [
          { sizeUm: 4, count: 1000 },
          { sizeUm: 6, count: 300 },
          { sizeUm: 10, count: 80, basis: "estimated" },
          { sizeUm: 14, count: 30 },
        ],
        1,
      ),
    }),
    "fit",
    "particles-inside",
  ],
  [
    "ingress that holds the floor above the limit",
    {
      ...sample({ counts: counts(20000, 320, 40) }),
      circuit: {
        ...CIRCUIT,
        ingress: [
          { sizeUmC: 4, particlesPerMin: 1e8 },
          { sizeUmC: 6, particlesPerMin: 0 },
        ],
      },
    },
    "do-not-connect",
    "particles-out-of-reach",
  ],
];
