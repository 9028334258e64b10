// Particle limits of new fluid per 100 mL: membrane-filter monitoring guide (NEW-FLUID-GUIDE), pages of MIL-PRF-6083 and
// MIL-DTL-197L. Those of MIL-PRF-83282 and MIL-PRF-87257 are recalled (MIL-PRF-83282-LIMITS) and prove nothing.
import { expect, test } from "vitest";
import { compareWithNewFluid, NEW_FLUID_LIMITS } from "../../src/cleanliness/index.js";
import { intervalCounts } from "../../src/counts/index.js";
import { SOURCES } from "../../src/provenance/index.js";

const PRINTED = {
  "MIL-H-5606, MIL-H-27601A and MIL-H-81019A": [2500, 1000, 250, 25, 0],
  "MIL-PRF-5606H": [10_000, 1000, 150, 25, 5],
  "MIL-DTL-197L general oils": [1785, 265, 78, 11, 0],
  "MIL-DTL-197L instrument oils": [150, 45, 23, 10, 0],
};

const RANGES = [
  { fromUm: 5, toUm: 15 },
  { fromUm: 15, toUm: 25 },
  { fromUm: 25, toUm: 50 },
  { fromUm: 50, toUm: 100 },
  { fromUm: 100 },
];

function heldBy(specification: string, counts: readonly number[]) {
  const ranges = RANGES.map((range, place) => ({ ...range, count: counts[place] as number }));
  const held = compareWithNewFluid(intervalCounts(ranges, 100, "um-microscope"));
  return held.find((entry) => entry.specification === specification);
}

test.each(Object.entries(PRINTED))(
  "%s: counts on the printed limits are inside, one particle more in any range is outside",
  (specification, limits) => {
    expect(heldBy(specification, limits)?.outcome).toBe("inside");
    for (const place of RANGES.keys()) {
      const more = limits.map((limit, own) => (own === place ? limit + 1 : limit));
      expect(heldBy(specification, more)?.outcome).toBe("outside");
    }
  },
);

test("MIL-PRF-6083, of which two rows were legible, can be outside but never inside", () => {
  expect(heldBy("MIL-PRF-6083", [10_001, 0, 0, 0, 0])?.outcome).toBe("outside");
  expect(heldBy("MIL-PRF-6083", [0, 0, 0, 0, 11])?.outcome).toBe("outside");
  expect(heldBy("MIL-PRF-6083", [0, 0, 0, 0, 0])?.outcome).toBe("not-known");
});

test("recalled limits say that they are from memory, and doubtful ones say why", () => {
  const recalled = NEW_FLUID_LIMITS.filter(({ source }) => SOURCES[source].standing === "memory");
  expect(recalled.map((entry) => entry.specification)).toEqual(["MIL-PRF-83282 and MIL-PRF-87257"]);
  expect(recalled[0]?.doubt).toContain("from memory");
  expect(NEW_FLUID_LIMITS.find((entry) => entry.specification === "MIL-PRF-5606H")?.doubt).toContain("20");
});
