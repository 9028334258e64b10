import type { Confidence } from "../../../src/samples/index.js";
import { asking, type Case, CLEAN, countedIn } from "./bases.js";

/** Far inside in everything, with 10 mL counted: every case below moves one thing towards its limit. */
const EASY = {
  ...CLEAN,
  counts: countedIn(10, 600, 150, 10),
  waterPpm: { value: 100 },
  acidMgKohPerG: { value: 0.1 },
};

const sure = (confidence: Partial<Confidence>, change: Partial<typeof CLEAN> = {}) =>
  asking({ confidence: { probability: 0.95, ...confidence } }, { ...EASY, ...change });

const WATER = { water: { sd: 10 } };
const ACID = { acid: { sd: 0.01 } };
const SATURATION = {
  waterSaturation: {
    shareMax: 0.5,
    lowestTemperatureC: 20,
    measured: [
      { temperatureC: 20, waterPpm: 300 },
      { temperatureC: 60, waterPpm: 900 },
    ] as [{ temperatureC: number; waterPpm: number }, { temperatureC: number; waterPpm: number }],
  },
};
const confidence = (more: Partial<Confidence>): Confidence => ({ probability: 0.95, ...more });

/**
 * Deciding under uncertainty. The normal quantile of 95 % is 1.645, so that with a standard uncertainty of 10 ppm results up
 * to 200 − 16.45 = 183.55 ppm are accepted.
 */
export const CONFORMANCE_CASES: readonly Case[] = [
  [
    "no required confidence: water at its limit is taken as measured",
    asking({}, EASY),
    "fit",
    "water-inside",
  ],
  [
    "water inside the guard band's edge by 0.05 ppm",
    sure(WATER, { waterPpm: { value: 183.5 } }),
    "fit",
    "water-inside",
  ],
  [
    "water beyond the guard band's edge by 0.05 ppm",
    sure(WATER, { waterPpm: { value: 183.6 } }),
    "resample",
    "water-not-sure",
  ],
  [
    "water exactly at its limit is one half sure",
    sure(WATER, { waterPpm: { value: 200 } }),
    "resample",
    "water-not-sure",
  ],
  [
    "water outside stays outside, however little",
    sure(WATER, { waterPpm: { value: 200.1 } }),
    "exchange-fluid",
    "water-outside",
  ],
  [
    "at 99 % the guard band is 23.26 ppm: 176 ppm is accepted",
    sure({ ...WATER, probability: 0.99 }, { waterPpm: { value: 176 } }),
    "fit",
    "water-inside",
  ],
  [
    "at 99 % the guard band is 23.26 ppm: 177 ppm is not",
    sure({ ...WATER, probability: 0.99 }, { waterPpm: { value: 177 } }),
    "resample",
    "water-not-sure",
  ],
  [
    "water below 180, a limit value taken at its end",
    sure(WATER, { waterPpm: { value: 180, limit: "below" } }),
    "fit",
    "water-inside",
  ],
  [
    "water below 190, a limit value taken at its end",
    sure(WATER, { waterPpm: { value: 190, limit: "below" } }),
    "resample",
    "water-not-sure",
  ],
  // 5 % of the limit of 200 is 10 ppm again.
  [
    "a relative precision is taken of the limit: accepted",
    sure({ water: { rsd: 0.05 } }, { waterPpm: { value: 183 } }),
    "fit",
    "water-inside",
  ],
  [
    "a relative precision is taken of the limit: not sure",
    sure({ water: { rsd: 0.05 } }, { waterPpm: { value: 184 } }),
    "resample",
    "water-not-sure",
  ],
  // ISO 12937 at 200 ppm: R = 0.06877·√0.02 % = 97.3 ppm, guard 0.593 R = 57.7 ppm, so up to 142.3 ppm.
  [
    "water by ISO 12937 inside its guard band",
    sure({ water: { method: "ISO 12937" } }, { waterPpm: { value: 142 } }),
    "fit",
    "water-inside",
  ],
  [
    "water by ISO 12937 beyond its guard band",
    sure({ water: { method: "ISO 12937" } }, { waterPpm: { value: 143 } }),
    "resample",
    "water-not-sure",
  ],
  [
    "no precision of water given: taken as measured",
    sure({}, { waterPpm: { value: 200 } }),
    "fit",
    "water-inside",
  ],
  [
    "acid inside the guard band's edge",
    sure(ACID, { acidMgKohPerG: { value: 0.183 } }),
    "fit",
    "acid-inside",
  ],
  [
    "acid beyond the guard band's edge",
    sure(ACID, { acidMgKohPerG: { value: 0.184 } }),
    "resample",
    "acid-not-sure",
  ],
  [
    "water of saturation, 150 allowed: 133 is accepted",
    asking({ ...SATURATION, confidence: confidence(WATER) }, { ...EASY, waterPpm: { value: 133 } }),
    "fit",
    "saturation-inside",
  ],
  [
    "water of saturation, 150 allowed: 134 is not",
    asking({ ...SATURATION, confidence: confidence(WATER) }, { ...EASY, waterPpm: { value: 134 } }),
    "resample",
    "saturation-not-sure",
  ],
  [
    "viscosity 1.645·0.2 above its lower limit of 12 is accepted",
    asking(
      { viscosity40Mm2PerS: { min: 12, max: 15 }, confidence: confidence({ viscosity: { sd: 0.2 } }) },
      { ...EASY, viscosity40Mm2PerS: { value: 12.33 } },
    ),
    "fit",
    "viscosity-inside",
  ],
  [
    "viscosity a step closer to its lower limit is not",
    asking(
      { viscosity40Mm2PerS: { min: 12, max: 15 }, confidence: confidence({ viscosity: { sd: 0.2 } }) },
      { ...EASY, viscosity40Mm2PerS: { value: 12.32 } },
    ),
    "resample",
    "viscosity-not-sure",
  ],
  [
    "chlorine half a standard uncertainty inside",
    asking(
      { chlorinePpmMax: 200, confidence: confidence({ chlorine: { sd: 20 } }) },
      { ...EASY, chlorinePpm: { value: 190 } },
    ),
    "resample",
    "chlorine-not-sure",
  ],
  [
    "a metal half a standard uncertainty inside",
    asking(
      { metalsPpmMax: { calcium: 50 }, confidence: confidence({ metals: { sd: 4 } }) },
      { ...EASY, metalsPpm: { calcium: { value: 48 } } },
    ),
    "resample",
    "metals-not-sure",
  ],
  // 14 µm(c), 40 per mL allowed: 350 counted where 400 are allowed is (400 − 350.5)/18.7 = 2.6 standard deviations inside.
  [
    "35 per mL above 14 µm(c) in 10 mL is sure",
    sure({}, { counts: countedIn(10, 600, 150, 35) }),
    "fit",
    "particles-inside",
  ],
  // 390 where 400 are allowed is half a standard deviation.
  [
    "39 per mL above 14 µm(c) in 10 mL is not",
    sure({}, { counts: countedIn(10, 600, 150, 39) }),
    "resample",
    "particles-not-sure",
  ],
  // 364 of 400 is 1.86 standard deviations inside, 3094 of 3200 is 1.90: 0.969 and 0.971, together 0.94.
  [
    "one channel 1.86 standard deviations inside is sure",
    sure({}, { counts: countedIn(10, 600, 150, 36.4) }),
    "fit",
    "particles-inside",
  ],
  [
    "two channels about as far inside are not sure together",
    sure({}, { counts: countedIn(10, 600, 309.4, 36.4) }),
    "resample",
    "particles-not-sure",
  ],
  // In 1000 mL 39 000 where 40 000 are allowed is five standard deviations.
  [
    "39 per mL above 14 µm(c) in 1000 mL is sure",
    sure({}, { counts: countedIn(1000, 600, 150, 39) }),
    "fit",
    "particles-inside",
  ],
  [
    "41 per mL above 14 µm(c) in 10 mL is outside",
    sure({}, { counts: countedIn(10, 600, 150, 41) }),
    "circulate",
    "particles-outside",
  ],
  // A laboratory that scatters by 30 % leaves ln(40/35)/0.3 = 0.45 standard deviations.
  [
    "35 per mL above 14 µm(c) by a laboratory that scatters by 30 % is not sure",
    sure(
      { counts: { reproducibility: { kind: "relative", rsd: 0.3 } } },
      { counts: countedIn(10, 600, 150, 35) },
    ),
    "circulate",
    "particles-too-close",
  ],
  [
    "the counted volume not known: counts at their limits are not sure",
    sure({}, { counts: countedIn(undefined, 1300, 320, 40) }),
    "circulate",
    "particles-too-close",
  ],
  [
    "two replicates together are sure where one was not",
    sure(
      {},
      {
        counts: countedIn(10, 600, 150, 37),
        replicates: [countedIn(10, 600, 150, 37), countedIn(10, 600, 150, 37), countedIn(10, 600, 150, 37)],
      },
    ),
    "fit",
    "particles-inside",
  ],
  // 1 − 0.04 for water at 1.75 and for acid at 1.75 standard uncertainties inside: together 0.92.
  [
    "water and acid each sure, but not both together",
    sure({ ...WATER, ...ACID }, { waterPpm: { value: 182.5 }, acidMgKohPerG: { value: 0.1825 } }),
    "resample",
    "together-not-sure",
  ],
  ["water and acid both far inside", sure({ ...WATER, ...ACID }), "fit", "water-inside"],
  [
    "not sure of water and particles outside: the doubt goes first",
    sure(WATER, { waterPpm: { value: 195 }, counts: countedIn(10, 9000, 150, 10) }),
    "resample",
    "water-not-sure",
  ],
];
