import type { CircuitCase } from "../../../src/fitness/index.js";
import type { Circuit, Requirement, Sample } from "../../../src/samples/index.js";
import { asking, type Case, CIRCUIT, CLEAN, countedIn, counts, events, inState, sample } from "./bases.js";

const FLUID_WAIVED: Partial<Requirement> = { after: [{ event: "fluid-change", sample: false }] };
const TOP_UP_WAIVED: Partial<Requirement> = { after: [{ event: "top-up", sample: false }] };
const changed = (...days: string[]) => events(...days.map((on) => ({ kind: "fluid-change" as const, on })));
const toppedUp = (...tops: (readonly [on: string, addedL?: number])[]) =>
  events(
    ...tops.map(([on, addedL]) => ({
      kind: "top-up" as const,
      on,
      ...(addedL !== undefined && { addedL }),
    })),
  );
const required = (requirement: Partial<Requirement>, more: Partial<CircuitCase>) => ({
  ...asking(requirement),
  ...more,
});

const used = (elementUsed: number, ...list: Circuit["events"]) => {
  const { circuit } = inState({ elementUsed });
  return { circuit: { ...CIRCUIT, ...circuit, events: list } };
};

/** Asks for 95 % and says nothing of how laboratories scatter. */
const SURE: Partial<Requirement> = { confidence: { probability: 0.95 } };
const scattering = (rsd: number): Partial<Requirement> => ({
  confidence: { probability: 0.95, counts: { reproducibility: { kind: "relative", rsd } } },
});
const unstated = (requirement: Partial<Requirement>, ...perMl: number[]) =>
  asking(requirement, {
    counts: countedIn(undefined, ...perMl),
    waterPpm: { value: 50 },
    acidMgKohPerG: { value: 0.05 },
  });

/** Water every thirty days up to 4 March 2026, the last value last. */
export function waterSeries(...ppm: number[]): Sample[] {
  return ppm.map((value, index) => ({
    ...CLEAN,
    sample: `S-${index}`,
    drawnOn: new Date(Date.UTC(2026, 2, 4) - (ppm.length - 1 - index) * 30 * 86_400_000)
      .toISOString()
      .slice(0, 10),
    waterPpm: { value },
  }));
}

/** 20 ppm a month up to 195: 5 ppm are 7.5 days, so that the limit of 200 is met on 11 or 12 March. */
const STEEP = waterSeries(115, 135.5, 155, 175.5, 195);
const SLOW = waterSeries(160, 172, 165, 180, 178, 190, 183, 194, 192);
/** 5 ppm a month up to 180: four months to the limit. */
const GENTLE = waterSeries(160, 165.2, 170, 175.1, 180);

/** Does the verdict rest on the fluid that is in the circuit now? */
export const EVIDENCE_CASES: readonly Case[] = [
  [
    "a fluid change after the sample where the requirement asks for none",
    required(FLUID_WAIVED, changed("2026-03-05")),
    "resample",
    "no-evidence",
  ],
  [
    "a fluid change on the day of the sample where the requirement asks for none",
    required(FLUID_WAIVED, changed("2026-03-04")),
    "resample",
    "no-evidence",
  ],
  [
    "a fluid change the day before the sample where the requirement asks for none",
    required(FLUID_WAIVED, changed("2026-03-03")),
    "fit",
    "particles-inside",
  ],
  [
    "a fluid change on the day of judging where the requirement asks for none",
    required(FLUID_WAIVED, changed("2026-03-14")),
    "resample",
    "no-evidence",
  ],
  [
    "two fluid changes, one of them after the sample",
    required(FLUID_WAIVED, changed("2026-02-01", "2026-03-05")),
    "resample",
    "no-evidence",
  ],
  [
    "a fluid change after the sample that was circulated for as long as required",
    required(
      { after: [{ event: "fluid-change", sample: false, circulatedMinutesMin: 30 }] },
      events({ kind: "fluid-change", on: "2026-03-05", circulatedMinutes: 45 }),
    ),
    "resample",
    "no-evidence",
  ],
  [
    "a fluid change after the sample, not circulated for as long as required",
    required(
      { after: [{ event: "fluid-change", sample: false, circulatedMinutesMin: 30 }] },
      events({ kind: "fluid-change", on: "2026-03-05", circulatedMinutes: 10 }),
    ),
    "resample",
    "no-evidence",
  ],
  ["a fluid change after the sample by the usual rule", changed("2026-03-05"), "resample", "no-evidence"],
  [
    "a fluid change after the only sample, which is of tomorrow",
    required(FLUID_WAIVED, { ...changed("2026-03-13"), samples: [{ ...CLEAN, drawnOn: "2026-03-15" }] }),
    "resample",
    "sample-after-judging-date",
  ],
  [
    "a fluid change to come where the requirement asks for no sample: its year may be wrong",
    required(FLUID_WAIVED, changed("2026-05-01")),
    "resample",
    "drawn-before-event",
  ],
  [
    "a clean sample of the old fluid and a wet one of the new",
    required(FLUID_WAIVED, {
      ...changed("2026-03-05"),
      samples: [CLEAN, { ...CLEAN, sample: "S-2", drawnOn: "2026-03-06", waterPpm: { value: 900 } }],
    }),
    "exchange-fluid",
    "water-outside",
  ],
  [
    "two bottles of one day, one without counts",
    {
      samples: [CLEAN, { ...CLEAN, sample: "S-2", counts: undefined } as unknown as Sample],
    },
    "fit",
    "particles-inside",
  ],
  [
    "a newer bottle that holds water alone",
    {
      samples: [
        CLEAN,
        {
          sample: "S-2",
          cart: "C-1",
          circuit: "1",
          drawnOn: "2026-03-10",
          fluid: "MIL-PRF-83282",
          waterPpm: { value: 50 },
          origin: [{ file: "b.csv", rows: [2] }],
        },
      ],
    },
    "fit",
    "acid-inside",
  ],

  ["6 L of 60 L topped up: exactly the share", toppedUp(["2026-03-05", 6]), "fit", "sample-recent"],
  [
    "a little more than 6 L of 60 L topped up",
    toppedUp(["2026-03-05", 6.01]),
    "resample",
    "topped-up-beyond-share",
  ],
  [
    "three top-ups that add up to exactly the share, whatever the last digit of their sum",
    toppedUp(["2026-03-05", 1.8], ["2026-03-07", 1.2], ["2026-03-09", 3]),
    "fit",
    "sample-recent",
  ],
  [
    "four top-ups of 2 L each",
    toppedUp(["2026-03-05", 2], ["2026-03-06", 2], ["2026-03-07", 2], ["2026-03-08", 2]),
    "resample",
    "topped-up-beyond-share",
  ],
  [
    "a top-up of 7 L on the day of the sample",
    toppedUp(["2026-03-04", 7]),
    "resample",
    "topped-up-beyond-share",
  ],
  ["a top-up of 30 L the day before the sample", toppedUp(["2026-03-03", 30]), "fit", "sample-recent"],
  [
    "a top-up of 5 L before and one of 5 L after the sample",
    toppedUp(["2026-03-01", 5], ["2026-03-06", 5]),
    "fit",
    "sample-recent",
  ],
  [
    "a top-up of 30 L where the requirement asks for no sample after one",
    required(TOP_UP_WAIVED, toppedUp(["2026-03-05", 30])),
    "resample",
    "topped-up-beyond-share",
  ],
  [
    "a top-up of 12 L where the requirement allows a quarter",
    required({ topUpShareMax: 0.25 }, toppedUp(["2026-03-05", 12])),
    "fit",
    "sample-recent",
  ],
  [
    "a top-up of 1 L where the requirement allows none",
    required({ topUpShareMax: 0 }, toppedUp(["2026-03-05", 1])),
    "resample",
    "topped-up-beyond-share",
  ],
  ["a top-up without its litres", toppedUp(["2026-03-05"]), "resample", "top-up-not-entered"],
  [
    "a top-up without its litres where the requirement asks for no sample after one",
    required(TOP_UP_WAIVED, toppedUp(["2026-03-05"])),
    "resample",
    "top-up-not-entered",
  ],
  ["a top-up without its litres before the sample", toppedUp(["2026-03-03"]), "fit", "sample-recent"],
  ["a top-up of 20 L of a day to come", toppedUp(["2026-12-05", 20]), "resample", "topped-up-beyond-share"],

  [
    "20 L of 60 L that came in with an element change for which no sample is asked",
    required(
      { after: [{ event: "element-change", sample: false }] },
      events({ kind: "element-change", on: "2026-03-05", addedL: 20 }),
    ),
    "resample",
    "topped-up-beyond-share",
  ],
  [
    "2 L that came in with the same element change",
    required(
      { after: [{ event: "element-change", sample: false }] },
      events({ kind: "element-change", on: "2026-03-05", addedL: 2 }),
    ),
    "fit",
    "sample-recent",
  ],
  [
    "4 L at a hookup for which no sample is asked, and 4 L topped up",
    required(
      { after: [{ event: "hookup", sample: false }] },
      events(
        { kind: "hookup", on: "2026-03-06", addedL: 4 },
        { kind: "top-up", on: "2026-03-07", addedL: 4 },
      ),
    ),
    "resample",
    "topped-up-beyond-share",
  ],
  [
    "20 L that came in with drying after the sample",
    events({ kind: "dehydration", on: "2026-03-05", addedL: 20 }),
    "resample",
    "topped-up-beyond-share",
  ],
  [
    "60 L of a fluid change before the sample are no top-up",
    events({ kind: "fluid-change", on: "2026-03-03", addedL: 60 }),
    "fit",
    "sample-recent",
  ],

  ["an element at 99 % of its pressure drop", used(0.99), "fit", "sample-recent"],
  ["an element at its permissible pressure drop", used(1), "do-not-connect", "element-loaded"],
  ["an element beyond its permissible pressure drop", used(1.3), "do-not-connect", "element-loaded"],
  [
    "a loaded element that was changed the day after it was entered, before the sample",
    {
      ...used(1, { kind: "element-change", on: "2026-03-14" }),
      samples: [{ ...CLEAN, drawnOn: "2026-03-15" }],
      on: "2026-03-16",
    },
    "fit",
    "sample-recent",
  ],
  [
    "a loaded element that was changed on the day it was entered: the order is not known",
    {
      ...used(1, { kind: "element-change", on: "2026-03-13" }),
      samples: [{ ...CLEAN, drawnOn: "2026-03-14" }],
      on: "2026-03-16",
    },
    "do-not-connect",
    "element-loaded",
  ],
  [
    "a loaded element and dirty fluid: it is not circulated through",
    { ...used(1), ...sample({ counts: counts(20000, 5000, 640) }) },
    "do-not-connect",
    "element-loaded",
  ],

  [
    "an indicator that stayed out before the element was changed, and a sample since",
    {
      circuit: {
        ...CIRCUIT,
        ...inState({ indicator: "persistent" }).circuit,
        events: [{ kind: "element-change", on: "2026-03-14" }],
      },
      samples: [{ ...CLEAN, drawnOn: "2026-03-15" }],
      on: "2026-03-16",
    },
    "fit",
    "sample-recent",
  ],
  [
    "an indicator that stayed out on the day of the element change: the order is not known",
    {
      circuit: {
        ...CIRCUIT,
        ...inState({ indicator: "persistent" }).circuit,
        events: [{ kind: "element-change", on: "2026-03-13" }],
      },
      samples: [{ ...CLEAN, drawnOn: "2026-03-14" }],
      on: "2026-03-16",
    },
    "do-not-connect",
    "indicator-persistent",
  ],
  [
    "damaged seals before the element was changed",
    {
      circuit: {
        ...CIRCUIT,
        ...inState({ seals: "damaged" }).circuit,
        events: [{ kind: "element-change", on: "2026-03-14" }],
      },
      samples: [{ ...CLEAN, drawnOn: "2026-03-15" }],
      on: "2026-03-16",
    },
    "do-not-connect",
    "seals-damaged",
  ],
  [
    "an indicator found clear before the element was changed, where the state is required: nobody has looked since",
    {
      ...asking({ cartState: { ageDaysMax: 5 } }),
      circuit: {
        ...CIRCUIT,
        ...inState({}).circuit,
        events: [{ kind: "element-change", on: "2026-03-14" }],
      },
      samples: [{ ...CLEAN, drawnOn: "2026-03-15" }],
      on: "2026-03-16",
    },
    "do-not-connect",
    "cart-state-not-entered",
  ],

  // One particle in the 0.125 mL in which 8 per mL are one: 8 of 40 per mL leave room for five, and Γ(1.5) is below 5 with 98 %.
  [
    "counts far below their limits, their volume not stated",
    unstated(SURE, 250, 60, 8),
    "fit",
    "particles-inside",
  ],
  [
    "counts far below their limits, their volume not stated, by a laboratory that scatters by 15 %",
    unstated(scattering(0.15), 250, 60, 4),
    "fit",
    "particles-inside",
  ],
  // 20 per mL are one particle in 0.05 mL, where the limit is two: Γ(1.5) is below 2 with 74 %.
  [
    "counts at half their limits, their volume not stated",
    unstated(SURE, 650, 160, 20),
    "resample",
    "particles-not-sure",
  ],
  // 0.02 per mL above 38 µm(c) are a particle in 50 mL: 1000 where 2000 are allowed.
  [
    "counts at half their limits with a coarse size that shows how much was counted",
    unstated(SURE, 650, 160, 20, 2, 0.02),
    "fit",
    "particles-inside",
  ],
  [
    "counts below their limits by less than the laboratory scatters: no volume would do",
    unstated(scattering(0.3), 1200, 300, 37, 2, 0.02),
    "circulate",
    "particles-too-close",
  ],
  ["no particle at all, the volume not stated", unstated(SURE, 0, 0, 0), "resample", "particles-not-sure"],

  [
    "a limit crossed since the sample by the whole interval of its trend",
    { samples: STEEP, on: "2026-03-30" },
    "resample",
    "trend-past-limit",
  ],
  [
    "the day after the trend's next sample was due",
    { samples: STEEP, on: "2026-03-13" },
    "resample",
    "sample-overdue-by-trend",
  ],
  ["the day of the sample, whatever its trend", { samples: STEEP, on: "2026-03-04" }, "fit", "sample-recent"],
  [
    "a sample drawn today, inside, where the trend had the limit crossed",
    {
      samples: [...STEEP, { ...CLEAN, sample: "S-9", drawnOn: "2026-03-30", waterPpm: { value: 150 } }],
      on: "2026-03-30",
    },
    "fit",
    "sample-recent",
  ],
  [
    "a sample drawn today, outside: the trend has nothing to add",
    {
      samples: [...STEEP, { ...CLEAN, sample: "S-9", drawnOn: "2026-03-30", waterPpm: { value: 215 } }],
      on: "2026-03-30",
    },
    "exchange-fluid",
    "water-outside",
  ],
  [
    "a sample beyond its limit some days ago: still to be exchanged",
    { samples: waterSeries(135, 155.5, 175, 195.5, 215), on: "2026-03-20" },
    "exchange-fluid",
    "water-outside",
  ],
  ["a rise with months to go", { samples: GENTLE, on: "2026-03-30" }, "fit", "sample-recent"],
  [
    "scattered results near the limit without a trend",
    { samples: waterSeries(170, 190, 160, 195, 180, 192), on: "2026-03-30" },
    "fit",
    "sample-recent",
  ],
  [
    "four results, too few for a trend, near the limit",
    { samples: waterSeries(150, 190, 165, 195), on: "2026-03-30" },
    "fit",
    "sample-recent",
  ],
  // Two of the six pairs fall, so that a rise is as likely as not without any trend.
  [
    "four scattered results at half the limit",
    { samples: waterSeries(90, 120, 85, 112), on: "2026-03-30" },
    "fit",
    "sample-recent",
  ],
  // In order by chance once in 24 times.
  [
    "four results that rise by 28 ppm a month to 195, of which the next was due on 9 March",
    { samples: waterSeries(110, 138, 167, 195), on: "2026-03-30" },
    "resample",
    "sample-overdue-by-trend",
  ],
  [
    "five results that fall from the limit by 4 ppm a month",
    { samples: waterSeries(199, 192, 190, 186, 180), on: "2026-03-30" },
    "fit",
    "sample-recent",
  ],
  // About 4 ppm a month with a scatter of 4 ppm: the level, 194 on the day of the sample, has some chance to be 200 already.
  [
    "a slow rise near the limit, the day after its sample",
    { samples: SLOW, on: "2026-03-05" },
    "fit",
    "sample-recent",
  ],
  [
    "the same rise where nearly the whole interval has passed",
    { samples: SLOW, on: "2026-03-30" },
    "resample",
    "sample-overdue-by-trend",
  ],
  [
    "a rise that passed the limit before, the last result just inside, the day after its sample",
    { samples: waterSeries(150, 165, 175, 185, 198, 206, 210, 199), on: "2026-03-05" },
    "resample",
    "sample-overdue-by-trend",
  ],
  [
    "a steep rise of fluid that was dried after the sample",
    { samples: STEEP, on: "2026-03-30", ...events({ kind: "dehydration", on: "2026-03-05" }) },
    "fit",
    "sample-recent",
  ],
  [
    "particles that double every month, the last at 95 % of the limit",
    {
      samples: [80, 161, 318, 640, 1235].map((at4, index) => ({
        ...(waterSeries(100, 100, 100, 100, 100)[index] as Sample),
        counts: counts(at4, 60, 8),
      })),
      on: "2026-03-30",
    },
    "resample",
    "trend-past-limit",
  ],

  [
    "a plan that needs ingress at a size that was not given",
    {
      ...sample({ counts: counts(20000, 5000, 640) }),
      circuit: { ...CIRCUIT, ingress: [{ sizeUmC: 6, particlesPerMin: 1e6 }] },
    },
    "do-not-connect",
    "cannot-be-judged",
  ],
  [
    "the same circuit with clean fluid, which needs no plan",
    { circuit: { ...CIRCUIT, ingress: [{ sizeUmC: 6, particlesPerMin: 1e6 }] } },
    "fit",
    "particles-inside",
  ],
  [
    "4 and 14 µm(c) not counted and 6 µm(c) outside",
    sample({ counts: { ...counts(1, 1), counts: [{ sizeUm: 6, count: 5000 }] } }),
    "circulate",
    "sizes-not-counted",
  ],
  [
    "14 µm(c) estimated and 4 µm(c) outside",
    sample({
      counts: {
        ...counts(1, 1),
        counts: [
          { sizeUm: 4, count: 20000 },
          { sizeUm: 6, count: 300 },
          { sizeUm: 14, count: 30, basis: "estimated" },
        ],
      },
    }),
    "circulate",
    "sizes-not-counted",
  ],
  [
    "outside by an estimate alone is not known to be dirty",
    sample({
      counts: {
        ...counts(1, 1),
        counts: [
          { sizeUm: 4, count: 1000 },
          { sizeUm: 6, count: 300 },
          { sizeUm: 14, count: 60, basis: "estimated" },
        ],
      },
    }),
    "resample",
    "particles-estimated",
  ],
  [
    "known to be dirty, a size not counted, and water not measured",
    sample({ counts: counts(20000, 320), waterPpm: undefined as never }),
    "resample",
    "water-not-measured",
  ],
];
