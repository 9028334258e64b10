import { readTarget } from "../../../src/cleanliness/index.js";
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

const target = (text: string): Partial<Requirement> => ({ cleanliness: [readTarget(text)] });

// NAS 1638 class 5 per 100 mL: 8000, 1425, 253, 45, 8. Cumulated from the top: 8, 53, 306, 1731, 9731.
const NAS_5 = target("NAS 1638 5");
// AS4059 cumulative class 6, unrounded, per 100 mL: A 78 000 above 4, B 19 462 above 6, C 3462 above 14.
const AS4059_6 = target("AS4059 cumulative 6B-C");

const VISCOSITY = { viscosity40Mm2PerS: { min: 12, max: 15 } };
const CHLORINE = { chlorinePpmMax: 200 };
const METALS = { metalsPpmMax: { calcium: 50, iron: 20 } };
// Saturation 300 ppm at 20 °C and half of it allowed there: 150 ppm.
const SATURATION: Partial<Requirement> = {
  waterSaturation: {
    shareMax: 0.5,
    lowestTemperatureC: 20,
    measured: [
      { temperatureC: 20, waterPpm: 300 },
      { temperatureC: 60, waterPpm: 900 },
    ],
  },
};

/** Each limit exactly met, one step inside and one step outside. Steps are one particle, or the last digit reported. */
export const LIMIT_CASES: readonly Case[] = [
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
    asking({ cleanliness: [readTarget("17/15/12"), readTarget("16/15/12")] }),
    "circulate",
    "particles-outside",
  ],
  [
    "of two targets both are met",
    asking({ cleanliness: [readTarget("17/15/12"), readTarget("18/16/13")] }),
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
    "resample",
    "particles-not-measured",
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
  ["water one ppm inside", sample({ waterPpm: { value: 199 } }), "fit", "water-inside"],
  ["water exactly at its limit", sample({ waterPpm: { value: 200 } }), "fit", "water-inside"],
  ["water one ppm outside", sample({ waterPpm: { value: 201 } }), "exchange-fluid", "water-outside"],
  ["water not a number", sample({ waterPpm: { value: Number.NaN } }), "exchange-fluid", "water-outside"],
  [
    "water below the limit value 200",
    sample({ waterPpm: { value: 200, limit: "below" } }),
    "fit",
    "water-inside",
  ],
  ["water at most 200", sample({ waterPpm: { value: 200, limit: "at-most" } }), "fit", "water-inside"],
  ["water below 250", sample({ waterPpm: { value: 250, limit: "below" } }), "resample", "water-not-known"],
  [
    "water at least 200",
    sample({ waterPpm: { value: 200, limit: "at-least" } }),
    "resample",
    "water-not-known",
  ],
  [
    "water at least 201",
    sample({ waterPpm: { value: 201, limit: "at-least" } }),
    "exchange-fluid",
    "water-outside",
  ],
  [
    "water above 200",
    sample({ waterPpm: { value: 200, limit: "above" } }),
    "exchange-fluid",
    "water-outside",
  ],
  ["water above 199", sample({ waterPpm: { value: 199, limit: "above" } }), "resample", "water-not-known"],
  ["no water result", { samples: [without(CLEAN, "waterPpm")] }, "resample", "water-not-measured"],
  [
    "water 149 with 150 of saturation allowed",
    asking(SATURATION, { waterPpm: { value: 149 } }),
    "fit",
    "saturation-inside",
  ],
  [
    "water 151 with 150 of saturation allowed",
    asking(SATURATION, { waterPpm: { value: 151 } }),
    "exchange-fluid",
    "saturation-outside",
  ],
  [
    "water below 180 with 150 of saturation allowed",
    asking(SATURATION, { waterPpm: { value: 180, limit: "below" } }),
    "resample",
    "saturation-not-known",
  ],
  ["acid one step inside", sample({ acidMgKohPerG: { value: 0.19 } }), "fit", "acid-inside"],
  ["acid exactly at its limit", sample({ acidMgKohPerG: { value: 0.2 } }), "fit", "acid-inside"],
  ["acid one step outside", sample({ acidMgKohPerG: { value: 0.21 } }), "exchange-fluid", "acid-outside"],
  ["acid above 0.1", sample({ acidMgKohPerG: { value: 0.1, limit: "above" } }), "resample", "acid-not-known"],
  ["acid not a number", sample({ acidMgKohPerG: { value: Number.NaN } }), "exchange-fluid", "acid-outside"],
  ["no acid result", { samples: [without(CLEAN, "acidMgKohPerG")] }, "resample", "acid-not-measured"],
  [
    "viscosity exactly at its lower limit",
    asking(VISCOSITY, { viscosity40Mm2PerS: { value: 12 } }),
    "fit",
    "viscosity-inside",
  ],
  [
    "viscosity one step above its lower limit",
    asking(VISCOSITY, { viscosity40Mm2PerS: { value: 12.1 } }),
    "fit",
    "viscosity-inside",
  ],
  [
    "viscosity one step below its lower limit",
    asking(VISCOSITY, { viscosity40Mm2PerS: { value: 11.9 } }),
    "exchange-fluid",
    "viscosity-outside",
  ],
  [
    "viscosity exactly at its upper limit",
    asking(VISCOSITY, { viscosity40Mm2PerS: { value: 15 } }),
    "fit",
    "viscosity-inside",
  ],
  [
    "viscosity one step above its upper limit",
    asking(VISCOSITY, { viscosity40Mm2PerS: { value: 15.1 } }),
    "exchange-fluid",
    "viscosity-outside",
  ],
  [
    "viscosity below 13, which may be below 12",
    asking(VISCOSITY, { viscosity40Mm2PerS: { value: 13, limit: "below" } }),
    "resample",
    "viscosity-not-known",
  ],
  ["viscosity asked for and not measured", asking(VISCOSITY), "resample", "viscosity-not-measured"],
  [
    "chlorine exactly at its limit",
    asking(CHLORINE, { chlorinePpm: { value: 200 } }),
    "fit",
    "chlorine-inside",
  ],
  ["chlorine one ppm inside", asking(CHLORINE, { chlorinePpm: { value: 199 } }), "fit", "chlorine-inside"],
  [
    "chlorine one ppm outside",
    asking(CHLORINE, { chlorinePpm: { value: 201 } }),
    "exchange-fluid",
    "chlorine-outside",
  ],
  [
    "chlorine below 300",
    asking(CHLORINE, { chlorinePpm: { value: 300, limit: "below" } }),
    "resample",
    "chlorine-not-known",
  ],
  ["chlorine asked for and not measured", asking(CHLORINE), "resample", "chlorine-not-measured"],
  [
    "metals exactly at their limits",
    asking(METALS, { metalsPpm: { calcium: { value: 50 }, iron: { value: 20 } } }),
    "fit",
    "metals-inside",
  ],
  [
    "one metal one ppm outside",
    asking(METALS, { metalsPpm: { calcium: { value: 51 }, iron: { value: 20 } } }),
    "exchange-fluid",
    "metals-outside",
  ],
  [
    "one metal one ppm inside",
    asking(METALS, { metalsPpm: { calcium: { value: 49 }, iron: { value: 20 } } }),
    "fit",
    "metals-inside",
  ],
  [
    "one metal only known to be below 60",
    asking(METALS, { metalsPpm: { calcium: { value: 60, limit: "below" }, iron: { value: 20 } } }),
    "resample",
    "metals-not-known",
  ],
  [
    "one metal of two not measured",
    asking(METALS, { metalsPpm: { calcium: { value: 10 } } }),
    "resample",
    "metals-not-measured",
  ],
  ["a metal that no limit is set for", sample({ metalsPpm: { tin: { value: 900 } } }), "fit", "water-inside"],
];
