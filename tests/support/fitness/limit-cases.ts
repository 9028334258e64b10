import type { Requirement } from "../../../src/samples/index.js";
import { asking, type Case, CLEAN, sample, without } from "./bases.js";

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

/** Each limit exactly met, one step inside and one step outside. A step is the last digit reported. */
export const LIMIT_CASES: readonly Case[] = [
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
