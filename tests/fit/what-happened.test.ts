import { describe, expect, test } from "vitest";
import { effectOf } from "../../src/fitness/evidence/event-effects.js";
import type { Result } from "../../src/fitness/evidence/results.js";
import { judgeCircuit, type ReasonCode, type VerdictName, validUntil } from "../../src/fitness/index.js";
import {
  type CircuitEvent,
  circuitSchema,
  EVENT_KINDS,
  eventsInOrder,
  mayFollow,
  mayPrecede,
  type Requirement,
  type Sample,
} from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, caseOf, counts, REQUIREMENT, without } from "../support/fitness/bases.js";

/** The complete bottle is of 4 March; the circuit is judged on 14 March. */
const DAY = "2026-03-04";
const event = (kind: CircuitEvent["kind"], on: string, more: Partial<CircuitEvent> = {}): CircuitEvent => ({
  kind,
  on,
  ...more,
});
const judge = (events: CircuitEvent[], samples: Sample[] = [CLEAN], requirement: Partial<Requirement> = {}) =>
  judgeCircuit(
    caseOf({ circuit: { ...CIRCUIT, events }, samples, requirement: { ...REQUIREMENT, ...requirement } }),
  );

/** A later bottle that was counted, and measured for nothing else. */
const COUNTED: Sample = {
  ...without(CLEAN, "waterPpm", "acidMgKohPerG"),
  sample: "S-2",
  drawnOn: "2026-03-10",
};
const WATER: Sample = { ...without(CLEAN, "counts", "acidMgKohPerG"), sample: "S-3", drawnOn: "2026-03-10" };
const AT_TEN: Sample = { ...CLEAN, drawnTime: "10:00" };

type Case = readonly [string, ReturnType<typeof judge>, VerdictName, ReasonCode];

const AFTER: readonly Case[] = [
  ["an element change", judge([event("element-change", "2026-03-06")]), "resample", "drawn-before-event"],
  [
    "an element change and a bottle for particles since",
    judge([event("element-change", "2026-03-06")], [CLEAN, COUNTED]),
    "fit",
    "sample-recent",
  ],
  [
    "an element change and a bottle for water since: the particles are of before",
    judge([event("element-change", "2026-03-06")], [CLEAN, WATER]),
    "resample",
    "drawn-before-event",
  ],
  [
    "an element change and a bottle for particles before it",
    judge([event("element-change", "2026-03-11")], [CLEAN, COUNTED]),
    "resample",
    "drawn-before-event",
  ],
  [
    "an element change after which the document wants a sample: of everything",
    judge([event("element-change", "2026-03-06")], [CLEAN, COUNTED], {
      after: [{ event: "element-change", sample: true }],
    }),
    "resample",
    "drawn-before-event",
  ],
  [
    "an element change for which the document waives the sample",
    judge([event("element-change", "2026-03-06")], [CLEAN], {
      after: [{ event: "element-change", sample: false }],
    }),
    "fit",
    "sample-recent",
  ],
  ["an opened line", judge([event("opening", "2026-03-06")]), "resample", "drawn-before-event"],
  [
    "an opened line and particles counted since: the water is of before",
    judge([event("opening", "2026-03-06")], [CLEAN, COUNTED]),
    "resample",
    "drawn-before-event",
  ],
  [
    "an opened line, particles counted and water measured since: acid does not change by that",
    judge([event("opening", "2026-03-06")], [CLEAN, COUNTED, WATER]),
    "fit",
    "sample-recent",
  ],
  ["a fluid change", judge([event("fluid-change", "2026-03-06")]), "resample", "no-evidence"],
  [
    "a fluid change and particles counted since: acid of the former fluid is none",
    judge([event("fluid-change", "2026-03-06")], [CLEAN, COUNTED]),
    "resample",
    "acid-not-measured",
  ],
  [
    "a fluid change, and a complete bottle since",
    judge([event("fluid-change", "2026-03-06")], [CLEAN, { ...CLEAN, sample: "S-2", drawnOn: "2026-03-07" }]),
    "fit",
    "sample-recent",
  ],
  ["a circulation", judge([event("circulation", "2026-03-06", { minutes: 30 })]), "fit", "sample-recent"],
  ["drying", judge([event("dehydration", "2026-03-06")]), "fit", "sample-recent"],
  ["a hookup", judge([event("hookup", "2026-03-06")]), "fit", "sample-recent"],
  [
    "a hookup to an aircraft that was found clean",
    judge([event("hookup", "2026-03-06", { aircraft: "X-1", aircraftFound: "clean" })]),
    "fit",
    "sample-recent",
  ],
  [
    "a hookup to an aircraft that was found dirty",
    judge([event("hookup", "2026-03-06", { aircraft: "X-1", aircraftFound: "dirty" })]),
    "resample",
    "drawn-before-event",
  ],
  [
    "a dirty aircraft although the document waives the sample after a hookup",
    judge([event("hookup", "2026-03-06", { aircraftFound: "dirty" })], [CLEAN], {
      after: [{ event: "hookup", sample: false }],
    }),
    "resample",
    "drawn-before-event",
  ],
  [
    "a dirty aircraft, and particles counted since: water and acid are of before",
    judge([event("hookup", "2026-03-06", { aircraftFound: "dirty" })], [CLEAN, COUNTED]),
    "resample",
    "drawn-before-event",
  ],
  [
    "a dirty aircraft, a complete bottle, and clean aircraft since",
    judge(
      [event("hookup", "2026-03-06", { aircraftFound: "dirty" }), event("hookup", "2026-03-12")],
      [CLEAN, { ...CLEAN, sample: "S-2", drawnOn: "2026-03-08" }],
    ),
    "fit",
    "sample-recent",
  ],
  [
    "a dirty aircraft is not hidden by a clean one of a later day",
    judge([event("hookup", "2026-03-06", { aircraftFound: "dirty" }), event("hookup", "2026-03-12")]),
    "resample",
    "drawn-before-event",
  ],
  [
    "a hookup after which the document wants a sample",
    judge([event("hookup", "2026-03-06")], [CLEAN], { after: [{ event: "hookup", sample: true }] }),
    "resample",
    "drawn-before-event",
  ],
  [
    "4 L topped up since the water, 4 L more since the acid: the acid is of other fluid",
    judge(
      [event("top-up", "2026-03-06", { addedL: 4 }), event("top-up", "2026-03-11", { addedL: 4 })],
      [CLEAN, COUNTED, WATER],
    ),
    "resample",
    "topped-up-beyond-share",
  ],
  [
    "8 L topped up before every bottle that counts",
    judge(
      [event("top-up", "2026-03-06", { addedL: 8 })],
      [CLEAN, { ...CLEAN, sample: "S-2", drawnOn: "2026-03-07" }],
    ),
    "fit",
    "sample-recent",
  ],
  [
    "a top-up without litres between the acid and the rest",
    judge([event("top-up", "2026-03-06")], [CLEAN, COUNTED, WATER]),
    "resample",
    "top-up-not-entered",
  ],
];

const ON_ONE_DAY: readonly Case[] = [
  [
    "element changed, circulated and sampled, with times",
    judge(
      [
        event("element-change", DAY, { at: "08:00" }),
        event("circulation", DAY, { at: "08:30", minutes: 30 }),
      ],
      [AT_TEN],
    ),
    "fit",
    "sample-recent",
  ],
  [
    "the element was changed after the sample",
    judge([event("element-change", DAY, { at: "11:00" })], [AT_TEN]),
    "resample",
    "drawn-before-event",
  ],
  [
    "the element was changed in the minute of the sample",
    judge([event("element-change", DAY, { at: "10:00" })], [AT_TEN]),
    "resample",
    "drawn-before-event",
  ],
  [
    "the change has a time and the sample has none",
    judge([event("element-change", DAY, { at: "08:00" })]),
    "resample",
    "drawn-before-event",
  ],
  [
    "the sample has a time and the change has none",
    judge([event("element-change", DAY)], [AT_TEN]),
    "resample",
    "drawn-before-event",
  ],
  [
    "the log names the bottle that was drawn after the change",
    judge([event("element-change", DAY, { beforeSample: "S-1" })]),
    "fit",
    "sample-recent",
  ],
  [
    "the log names another bottle",
    judge([event("element-change", DAY, { beforeSample: "S-9" })]),
    "resample",
    "drawn-before-event",
  ],
  [
    "the log names the bottle, and the times say otherwise",
    judge([event("element-change", DAY, { beforeSample: "S-1", at: "11:00" })], [AT_TEN]),
    "resample",
    "drawn-before-event",
  ],
  [
    "the log names the bottle of a day before",
    judge([event("element-change", "2026-03-05", { beforeSample: "S-1" })]),
    "resample",
    "drawn-before-event",
  ],
  [
    "the fluid was changed in the morning and sampled",
    judge([event("fluid-change", DAY, { at: "08:00" })], [AT_TEN]),
    "fit",
    "sample-recent",
  ],
  [
    "the fluid was changed in the evening",
    judge([event("fluid-change", DAY, { at: "18:00" })], [AT_TEN]),
    "resample",
    "no-evidence",
  ],
  [
    "a dirty aircraft was still connected when the bottle was drawn",
    judge([event("hookup", DAY, { at: "09:30", minutes: 60, aircraftFound: "dirty" })], [AT_TEN]),
    "resample",
    "drawn-before-event",
  ],
  [
    "a dirty aircraft was disconnected an hour before",
    judge([event("hookup", DAY, { at: "08:00", minutes: 60, aircraftFound: "dirty" })], [AT_TEN]),
    "fit",
    "sample-recent",
  ],
  [
    "both times have zones: 08:00 in UTC is 10:00 two hours east",
    judge([event("element-change", DAY, { at: "08:00Z" })], [{ ...CLEAN, drawnTime: "10:00+02:00" }]),
    "resample",
    "drawn-before-event",
  ],
  [
    "both times have zones: 07:00 in UTC is before it",
    judge([event("element-change", DAY, { at: "07:00Z" })], [{ ...CLEAN, drawnTime: "10:00+02:00" }]),
    "fit",
    "sample-recent",
  ],
  [
    "one time has a zone and the other has none",
    judge([event("element-change", DAY, { at: "07:00Z" })], [AT_TEN]),
    "resample",
    "drawn-before-event",
  ],
  [
    "8 L topped up in the morning before the sample",
    judge([event("top-up", DAY, { at: "08:00", addedL: 8 })], [AT_TEN]),
    "fit",
    "sample-recent",
  ],
  [
    "8 L topped up in the evening",
    judge([event("top-up", DAY, { at: "18:00", addedL: 8 })], [AT_TEN]),
    "resample",
    "topped-up-beyond-share",
  ],
];

const THIRTY = { after: [{ event: "element-change" as const, sample: true, circulatedMinutesMin: 30 }] };
const CIRCULATED: readonly Case[] = [
  [
    "30 min in two circulations",
    judge(
      [
        event("element-change", DAY, { at: "08:00" }),
        event("circulation", DAY, { at: "08:30", minutes: 10 }),
        event("circulation", DAY, { at: "09:00", minutes: 20 }),
      ],
      [AT_TEN],
      THIRTY,
    ),
    "fit",
    "sample-recent",
  ],
  [
    "29 min",
    judge(
      [
        event("element-change", DAY, { at: "08:00" }),
        event("circulation", DAY, { at: "08:30", minutes: 29 }),
      ],
      [AT_TEN],
      THIRTY,
    ),
    "circulate",
    "not-circulated-since",
  ],
  [
    "30 min before the change",
    judge(
      [
        event("circulation", DAY, { at: "07:00", minutes: 30 }),
        event("element-change", DAY, { at: "08:00" }),
      ],
      [AT_TEN],
      THIRTY,
    ),
    "circulate",
    "not-circulated-since",
  ],
  [
    "30 min listed after the change of the same day, without times",
    judge(
      [event("element-change", "2026-03-03"), event("circulation", "2026-03-03", { minutes: 30 })],
      [CLEAN],
      THIRTY,
    ),
    "fit",
    "sample-recent",
  ],
  [
    "30 min listed before the change of the same day, without times",
    judge(
      [event("circulation", "2026-03-03", { minutes: 30 }), event("element-change", "2026-03-03")],
      [CLEAN],
      THIRTY,
    ),
    "circulate",
    "not-circulated-since",
  ],
  [
    "30 min that are planned",
    judge(
      [event("element-change", "2026-03-03"), event("circulation", "2026-03-20", { minutes: 30 })],
      [CLEAN],
      THIRTY,
    ),
    "circulate",
    "not-circulated-since",
  ],
];

/** Five monthly samples of dirty fluid, then one with a hundredth of the particles. */
const CLEANED_UP: Sample[] = [
  ...[0, 1, 2, 3, 4].map((month) => ({
    ...CLEAN,
    sample: `D-${month}`,
    drawnOn: `2025-${String(month + 8).padStart(2, "0")}-04`,
    counts: counts(120_000, 30_000, 4000),
  })),
  { ...CLEAN, counts: counts(1200, 300, 40) },
];
const EXPLAINED: readonly Case[] = [
  ["nothing entered", judge([], CLEANED_UP), "resample", "counts-unlike-history"],
  // 60 L at 45 L/min: 30 min are 22.5 passes.
  [
    "a circulation of 30 min",
    judge([event("circulation", DAY, { minutes: 30 })], CLEANED_UP),
    "fit",
    "sample-recent",
  ],
  // 0.75 passes allow twice the thirtieth: a sixty-third part, and it is a hundredth.
  [
    "a circulation of 1 min",
    judge([event("circulation", DAY, { minutes: 1 })], CLEANED_UP),
    "resample",
    "counts-unlike-history",
  ],
  // 2 min and 1 min are 2.25 passes: e^2.25 = 9.5 times a thirtieth.
  [
    "two circulations of 2 and 1 min",
    judge([event("circulation", DAY, { minutes: 2 }), event("circulation", DAY, { minutes: 1 })], CLEANED_UP),
    "fit",
    "sample-recent",
  ],
  [
    "a circulation before the last dirty sample",
    judge([event("circulation", "2025-12-01", { minutes: 30 })], CLEANED_UP),
    "resample",
    "counts-unlike-history",
  ],
  [
    "a circulation after the clean sample",
    judge([event("circulation", "2026-03-06", { minutes: 30 })], CLEANED_UP),
    "resample",
    "counts-unlike-history",
  ],
];

describe.each([
  ["what happened after the sample", AFTER],
  ["what happened on the day of the sample", ON_ONE_DAY],
  ["minutes circulated since a change", CIRCULATED],
  ["what explains a hundredth of the particles", EXPLAINED],
])("%s", (_table, cases) => {
  test.each(cases)("%s", (_name, { verdict: found, reasons }, verdict, code) => {
    const codes = reasons.filter(({ callsFor }) => callsFor === verdict).map((one) => one.code);
    expect([found, codes]).toEqual([verdict, expect.arrayContaining([code])]);
  });
});

describe("what an event does to an older result", () => {
  const QUANTITIES: Result[] = [
    "particles",
    "water",
    "acid number",
    "viscosity at 40 °C",
    "chlorine",
    "iron",
    "density at 15 °C",
    "colour",
  ];

  test.each([
    ["fluid-change", QUANTITIES],
    ["element-change", ["particles"]],
    ["opening", ["particles", "water"]],
    ["top-up", []],
    ["dehydration", []],
    ["hookup", []],
    ["circulation", []],
  ] as const)("%s", (kind, changed) => {
    expect(QUANTITIES.filter((quantity) => effectOf(event(kind, DAY), quantity) !== "stands")).toEqual(
      changed,
    );
  });

  test("every kind of event is in the list above, and particles never stay over what opens the circuit", () => {
    expect([...EVENT_KINDS].sort()).toEqual(
      ["circulation", "dehydration", "element-change", "fluid-change", "hookup", "opening", "top-up"].sort(),
    );
  });

  test("a message names the aircraft, the time, and what has to be shown", () => {
    const { reasons } = judge(
      [event("hookup", "2026-03-06", { at: "14:00", aircraft: "X-1", aircraftFound: "dirty", note: "silt" })],
      [CLEAN, COUNTED],
    );
    expect(reasons.filter(({ code }) => code === "drawn-before-event").map(({ message }) => message)).toEqual(
      [
        "sample S-1 was drawn on 2026-03-04; the circuit was connected to aircraft X-1, which was found dirty, on 2026-03-06 at 14:00 (silt) and no sample that shows water, acid number has been drawn since",
      ],
    );
  });

  test("of one day a message says how the order can be given", () => {
    const { reasons } = judge([event("element-change", DAY)]);
    expect(reasons.find(({ code }) => code === "drawn-before-event")?.message).toBe(
      'sample S-1 was drawn on 2026-03-04; the element was changed on 2026-03-04 and no sample that shows particles has been drawn since; if the sample was drawn afterwards, give both times of day, or enter "beforeSample": "S-1" with the event',
    );
  });

  test("of two times of which one has no zone a message says so", () => {
    const { reasons } = judge([event("element-change", DAY, { at: "08:00Z" })], [AT_TEN]);
    expect(reasons.find(({ code }) => code === "drawn-before-event")?.message).toBe(
      "sample S-1 was drawn on 2026-03-04; the element was changed on 2026-03-04 at 08:00Z and no sample that shows particles has been drawn since; of 08:00Z and 10:00, the time of the sample, one has no zone: give both with their zones",
    );
  });

  test("the first of them ends a verdict that rests on several bottles", () => {
    const until = (events: CircuitEvent[]) =>
      validUntil({ ...CIRCUIT, events }, REQUIREMENT, [COUNTED, CLEAN]);
    expect(until([])).toEqual({ on: "2026-04-03", because: "age" });
    expect(until([event("element-change", "2026-03-06")])).toEqual({ on: "2026-04-03", because: "age" });
    expect(until([event("element-change", "2026-03-12")])).toEqual({
      on: "2026-03-12",
      because: "element-change",
    });
    expect(until([event("top-up", "2026-03-06", { addedL: 7 })])).toEqual({
      on: "2026-03-06",
      because: "top-up",
    });
  });
});

describe("order within a day", () => {
  const sample = (drawnTime?: string) => ({ sample: "S-1", drawnOn: DAY, ...(drawnTime && { drawnTime }) });

  test.each([
    ["a day before", { on: "2026-03-03" }, undefined, false],
    ["a day after", { on: "2026-03-05" }, undefined, true],
    ["that day, nothing known", { on: DAY }, undefined, true],
    ["an hour before", { on: DAY, at: "09:00" }, "10:00", false],
    ["seconds before, in one minute", { on: DAY, at: "10:00:10" }, "10:00:50", true],
    ["the minute before", { on: DAY, at: "09:59" }, "10:00", false],
    ["until the minute of the sample", { on: DAY, at: "09:30", minutes: 30 }, "10:00", true],
    ["until the minute before it", { on: DAY, at: "09:30", minutes: 29 }, "10:00", false],
    ["late on the day before, as an instant", { on: "2026-03-03", at: "23:30-02:00" }, "01:00Z", true],
    [
      "in UTC the evening before, where it may be this morning",
      { on: "2026-03-03", at: "23:30Z" },
      "01:00",
      true,
    ],
    ["in UTC the morning before, anywhere on earth", { on: "2026-03-03", at: "08:00Z" }, "09:00", false],
    [
      "in UTC the noon before, and nothing known of the sample",
      { on: "2026-03-03", at: "12:00Z" },
      undefined,
      false,
    ],
    ["the evening before, and the sample in UTC", { on: "2026-03-03", at: "23:00" }, "01:00Z", true],
    ["the morning before, and the sample in UTC", { on: "2026-03-03", at: "08:00" }, "10:00Z", false],
    [
      "in UTC the evening before, and the log names the sample",
      { on: "2026-03-03", at: "23:30Z", beforeSample: "S-1" },
      "01:00",
      false,
    ],
    ["beyond midnight, as an instant", { on: "2026-03-05", at: "00:30+02:00" }, "23:00Z", false],
  ] as const)("%s", (_name, happened, drawnTime, expected) => {
    expect(mayFollow(happened, sample(drawnTime))).toBe(expected);
  });

  test.each([
    ["a day before", { on: "2026-03-03" }, undefined, true],
    ["a day after", { on: "2026-03-05" }, undefined, false],
    ["that day, nothing known", { on: DAY }, undefined, true],
    ["an hour after", { on: DAY, at: "11:00" }, "10:00", false],
    ["in the minute of the sample", { on: DAY, at: "10:00:50" }, "10:00:10", true],
    ["from before the sample until after it", { on: DAY, at: "09:30", minutes: 60 }, "10:00", true],
    [
      "late on the day before, as an instant after it",
      { on: "2026-03-03", at: "23:30-02:00" },
      "01:00Z",
      false,
    ],
    [
      "in UTC the next morning, where it may be this evening",
      { on: "2026-03-05", at: "01:00Z" },
      "20:00",
      true,
    ],
    ["in UTC the next evening, anywhere on earth", { on: "2026-03-05", at: "23:00Z" }, "09:00", false],
    ["the next morning, and the sample in UTC", { on: "2026-03-05", at: "06:00" }, "20:00Z", true],
    ["the next evening, and the sample in UTC", { on: "2026-03-05", at: "20:00" }, "01:00Z", false],
    ["that day, and the log names the sample", { on: DAY, beforeSample: "S-1" }, undefined, true],
  ] as const)("may have begun before the sample: %s", (_name, happened, drawnTime, expected) => {
    expect(mayPrecede(happened, sample(drawnTime))).toBe(expected);
  });

  test("events of a day are in the order of their times, and in that of the list where one has none", () => {
    const [a, b, c] = [{ on: DAY, at: "12:00" }, { on: DAY, at: "08:00" }, { on: DAY }];
    const before = { on: "2026-03-01", at: "20:00" };
    expect(eventsInOrder([a, b, before])).toEqual([before, b, a]);
    expect(eventsInOrder<{ on: string; at?: string }>([a, b, c])).toEqual([a, b, c]);
  });
});

describe("a log in a carts file", () => {
  const read = (...events: object[]) =>
    circuitSchema.safeParse({
      ...{ circuit: "1", serves: "main", fluid: "MIL-PRF-83282", volume: "60 L", flow: "45 L/min" },
      element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
      events,
    });

  test("a hookup with all that is logged", () => {
    const hookup = {
      ...{ on: DAY, at: "14:05", kind: "hookup", aircraft: "X-1234", system: "main", aircraftFound: "clean" },
      ...{ minutes: 25, hourMeterH: 1203.4, fluidTemperatureC: 41, serviced: "2 US gal" },
    };
    expect(read(hookup).data?.events[0]).toMatchObject({ aircraft: "X-1234", servicedL: 7.570823568 });
    expect(read({ ...hookup, serviced: "0 L" }).data?.events[0]).toMatchObject({ servicedL: 0 });
  });

  test("a circulation at another flow than that of the circuit", () => {
    const circulation = { on: DAY, kind: "circulation", minutes: 30, flow: "10 US gpm" };
    expect(read(circulation).data?.events[0]).toMatchObject({ flowLpm: expect.closeTo(37.854, 3) });
    expect(read({ ...circulation, flow: undefined }).data?.events[0]).not.toHaveProperty("flowLpm");
  });

  test.each([
    ["litres serviced by no hookup", { kind: "top-up", serviced: "2 L" }, "expected with a hookup only"],
    ["an aircraft at no hookup", { kind: "element-change", aircraft: "X-1" }, "expected with a hookup only"],
    [
      "a flow of no circulation",
      { kind: "hookup", flow: "20 L/min" },
      "expected with a circulation only, found with hookup",
    ],
    ["a flow of 0", { kind: "circulation", minutes: 5, flow: "0 L/min" }, "expected a value above 0"],
    ["a circulation without minutes", { kind: "circulation" }, "expected the minutes circulated"],
    ["a time that is none", { kind: "hookup", at: "25:00" }, "Invalid"],
    ["litres without a unit", { kind: "hookup", serviced: "2" }, "expected"],
    ["a field that is not known", { kind: "hookup", tail: "X-1" }, "Unrecognized key"],
  ])("%s is refused", (_name, entry, expected) => {
    const { error } = read({ on: DAY, ...entry });
    expect(error?.issues[0]?.message).toContain(expected);
  });
});
