import { describe, expect, test } from "vitest";
import {
  type CartTrace,
  describeCircuitTrace,
  type TraceCase,
  type Traced,
  traceCart,
} from "../../src/fitness/index.js";
import type { CircuitEvent, Requirement, Sample } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, counts, REQUIREMENT, without } from "../support/fitness/bases.js";

/** Days of March 2026. */
const day = (number: number) => `2026-03-${String(number).padStart(2, "0")}`;

/** A hookup of a day to an aircraft, or to one that is not named. */
const to = (number: number, aircraft?: string, more: Partial<CircuitEvent> = {}): CircuitEvent => ({
  on: day(number),
  kind: "hookup",
  ...(aircraft !== undefined && { aircraft }),
  ...more,
});

/** A bottle of a day, named by it, good unless something is said of it. */
const bottle = (number: number, more: Partial<Sample> = {}): Sample => ({
  ...CLEAN,
  sample: `S${number}`,
  drawnOn: day(number),
  ...more,
});
const WET = { waterPpm: { value: 255 } };

interface World extends Partial<TraceCase> {
  readonly events?: readonly CircuitEvent[];
  readonly circuit?: object;
  readonly limits?: Partial<Requirement>;
}

function trace({ events = [], circuit = {}, limits = {}, ...more }: World): CartTrace["circuits"][number] {
  const own = { ...CIRCUIT, ...circuit, events: [...events] };
  const fleet: TraceCase = {
    carts: [{ cart: "C-1", circuits: [own] }],
    requirements: [{ ...REQUIREMENT, ...limits }],
    samples: [],
    unread: [],
    on: day(28),
    ...more,
  };
  return traceCart(fleet, "C-1").circuits[0] as CartTrace["circuits"][number];
}

/** "bad since S1 by S5: X-1 before-bad", as short as it can be compared. */
function short(world: World, quantity: Traced): string {
  const found = trace(world).quantities.find((one) => one.quantity === quantity);
  if (found === undefined) return "not traced";
  const { lastGood, firstBad, hookups } = found.now;
  const by = firstBad === undefined ? "" : ` by ${firstBad.sample}`;
  const who = hookups.map(
    ({ event, when }) => `${event.aircraft ?? "?"}${when === undefined ? "" : ` ${when}`}`,
  );
  return `${found.state} since ${lastGood?.sample ?? "the log"}${by}: ${who.join(", ") || "none"}`;
}

type Row = readonly [title: string, World, Traced, string];

describe("what a circuit served since its last good sample", () => {
  test.each<Row>([
    ["neither samples nor hookups", {}, "water", "not-shown since the log: none"],
    [
      "no sample: everything in the log",
      { events: [to(1, "A"), to(9, "B")] },
      "water",
      "not-shown since the log: A, B",
    ],
    ["the day after", { samples: [bottle(4)], events: [to(5, "A")] }, "water", "good since S4: A"],
    ["the day before", { samples: [bottle(4)], events: [to(3, "A")] }, "water", "good since S4: none"],
    [
      "the same day, no times: it may have been after",
      { samples: [bottle(4)], events: [to(4, "A")] },
      "water",
      "good since S4: A",
    ],
    [
      "the same day, an hour before",
      { samples: [bottle(4, { drawnTime: "10:00" })], events: [to(4, "A", { at: "09:00" })] },
      "water",
      "good since S4: none",
    ],
    [
      "the same day, an hour after",
      { samples: [bottle(4, { drawnTime: "10:00" })], events: [to(4, "A", { at: "11:00" })] },
      "water",
      "good since S4: A",
    ],
    [
      "the same day, connected while the sample was drawn",
      { samples: [bottle(4, { drawnTime: "10:00" })], events: [to(4, "A", { at: "09:30", minutes: 45 })] },
      "water",
      "good since S4: A",
    ],
    [
      "the same day, a time of the sample alone",
      { samples: [bottle(4, { drawnTime: "10:00" })], events: [to(4, "A")] },
      "water",
      "good since S4: A",
    ],
    [
      "the same day, and the log names the sample as drawn after it",
      { samples: [bottle(4)], events: [to(4, "A", { beforeSample: "S4" })] },
      "water",
      "good since S4: none",
    ],
    [
      "two good samples: since the later",
      { samples: [bottle(8), bottle(4)], events: [to(5, "A"), to(9, "B")] },
      "water",
      "good since S8: B",
    ],
    [
      "a later bottle for water alone: water since that one",
      { samples: [bottle(4), without(bottle(8), "counts")], events: [to(5, "A"), to(9, "B")] },
      "water",
      "good since S8: B",
    ],
    [
      "and particles since the former",
      { samples: [bottle(4), without(bottle(8), "counts")], events: [to(5, "A"), to(9, "B")] },
      "particles",
      "good since S4: A, B",
    ],
    [
      "fluid changed since, and not sampled: the new fluid is not shown to be good",
      { samples: [bottle(4)], events: [{ on: day(6), kind: "fluid-change" }, to(7, "A")] },
      "water",
      "good since S4: A",
    ],
    [
      "a hookup of a day to come is left out",
      { samples: [bottle(4)], events: [to(27, "A"), to(29, "B")] },
      "water",
      "good since S4: A",
    ],
    [
      "a sample of a day to come is left out",
      { samples: [bottle(4), bottle(29)], events: [to(27, "A")] },
      "water",
      "good since S4: A",
    ],
    [
      "asked as of an earlier day",
      { samples: [bottle(4), bottle(8, WET)], events: [to(5, "A"), to(9, "B")], on: day(7) },
      "water",
      "good since S4: A",
    ],
    [
      "hookups are in the order of their times, whatever the order of the log",
      {
        samples: [bottle(4)],
        events: [to(9, "B", { at: "12:00" }), to(9, "A", { at: "08:00" }), to(5, "C")],
      },
      "water",
      "good since S4: C, A, B",
    ],
    [
      "an aircraft that is not named is listed",
      { samples: [bottle(4)], events: [to(5)] },
      "water",
      "good since S4: ?",
    ],
    [
      "a limit that the document does not set is not traced",
      { limits: { acidMgKohPerGMax: "not-limited" }, samples: [bottle(4)] },
      "acid",
      "not traced",
    ],
    [
      "a limited quantity that no sample reports is not passed over",
      { samples: [without(bottle(4), "acidMgKohPerG")], events: [to(3, "A")] },
      "acid",
      "not-shown since the log: A",
    ],
  ])("%s", (_title, world, quantity, expected) => {
    expect(short(world, quantity)).toBe(expected);
  });
});

describe("when a result turns out bad", () => {
  test.each<Row>([
    [
      "between the last good and the bad sample, and after it",
      { samples: [bottle(4), bottle(12, WET)], events: [to(3, "A"), to(6, "B"), to(13, "C")] },
      "water",
      "bad since S4 by S12: B before-bad, C after-bad",
    ],
    [
      "the other quantities of that bottle are good",
      { samples: [bottle(4), bottle(12, WET)], events: [to(6, "B"), to(13, "C")] },
      "particles",
      "good since S12: C",
    ],
    [
      "no good sample came before: everything since the log begins",
      { samples: [bottle(12, WET)], events: [to(1, "A"), to(13, "B")] },
      "water",
      "bad since the log by S12: A before-bad, B after-bad",
    ],
    [
      "several bad samples: by the first",
      { samples: [bottle(4), bottle(12, WET), bottle(15, WET)], events: [to(13, "A")] },
      "water",
      "bad since S4 by S12: A after-bad",
    ],
    [
      "the hookup is of the day of the bad sample, without times",
      { samples: [bottle(4), bottle(12, WET)], events: [to(12, "A")] },
      "water",
      "bad since S4 by S12: A not-known",
    ],
    [
      "the hookup is of that day, an hour before",
      {
        samples: [bottle(4), bottle(12, { ...WET, drawnTime: "10:00" })],
        events: [to(12, "A", { at: "09:00" })],
      },
      "water",
      "bad since S4 by S12: A before-bad",
    ],
    [
      "a good and a bad bottle of one day without times: the good one clears nothing",
      { samples: [bottle(4), bottle(12), bottle(12, { ...WET, sample: "W" })], events: [to(6, "A")] },
      "water",
      "bad since S4 by W: A before-bad",
    ],
    [
      "a good one in the morning and a bad one at noon",
      {
        samples: [
          bottle(4),
          bottle(12, { drawnTime: "08:00" }),
          bottle(12, { ...WET, sample: "W", drawnTime: "12:00" }),
        ],
        events: [to(6, "A"), to(12, "B", { at: "10:00" })],
      },
      "water",
      "bad since S12 by W: B before-bad",
    ],
    [
      "a good one after the bad one: good again",
      { samples: [bottle(4), bottle(12, WET), bottle(16)], events: [to(6, "A"), to(17, "B")] },
      "water",
      "good since S16: B",
    ],
    [
      "a bottle that decides nothing lies between: the window reaches back over it",
      {
        samples: [bottle(4), bottle(8, { waterPpm: { value: 500, limit: "below" } }), bottle(12, WET)],
        events: [to(6, "A")],
      },
      "water",
      "bad since S4 by S12: A before-bad",
    ],
    [
      "the last result decides nothing: not good since the one before",
      { samples: [bottle(4), bottle(8, { waterPpm: { value: 500, limit: "below" } })], events: [to(6, "A")] },
      "water",
      "good since S4: A",
    ],
    [
      "inside, and not sure enough by the document: it is no good sample",
      {
        limits: { confidence: { probability: 0.95, water: { sd: 20 } } },
        samples: [bottle(4, { waterPpm: { value: 90 } }), bottle(8, { waterPpm: { value: 195 } })],
        events: [to(6, "A")],
      },
      "water",
      "good since S4: A",
    ],
    [
      "free water in the bottle is bad, whatever the number says",
      { samples: [bottle(4), bottle(12, { appearance: ["free-water"] })], events: [to(6, "A")] },
      "water",
      "bad since S4 by S12: A before-bad",
    ],
    [
      "another fluid on the label: the fluid is bad",
      { samples: [bottle(4), bottle(12, { fluid: "MIL-PRF-5606" })], events: [to(6, "A")] },
      "fluid",
      "bad since S4 by S12: A before-bad",
    ],
    [
      "and its water is what was measured",
      { samples: [bottle(4), bottle(12, { fluid: "MIL-PRF-5606" })], events: [to(6, "A")] },
      "water",
      "good since S12: none",
    ],
    [
      "two layers in the bottle: the fluid is bad",
      { samples: [bottle(4), bottle(12, { appearance: ["two-layers"] })], events: [to(6, "A")] },
      "fluid",
      "bad since S4 by S12: A before-bad",
    ],
    [
      "a bottle that tells nothing of its fluid is no good sample of it",
      { samples: [bottle(4), without(bottle(8), "fluid")], events: [to(6, "A")] },
      "fluid",
      "good since S4: A",
    ],
    [
      "the laboratory rejects the sample: bad for everything",
      {
        samples: [bottle(4), bottle(12, { laboratorySays: [{ column: "Remarks", text: "condemned" }] })],
        events: [to(6, "A")],
      },
      "acid",
      "bad since S4 by S12: A before-bad",
    ],
    [
      "the laboratory fails the sample for its water: the particles stay good",
      {
        samples: [
          bottle(4),
          bottle(12, { ...WET, laboratorySays: [{ column: "Status", text: "fail: water" }] }),
        ],
        events: [to(13, "A")],
      },
      "particles",
      "good since S12: A",
    ],
    [
      "the laboratory has doubts: neither good nor bad",
      {
        samples: [bottle(4), bottle(12, { laboratorySays: [{ column: "Remarks", text: "abnormal" }] })],
        events: [to(6, "A")],
      },
      "acid",
      "good since S4: A",
    ],
    [
      "drawn from a drain: no good sample, because it does not show the circuit",
      { samples: [bottle(4), bottle(8, { samplePoint: "drain" })], events: [to(6, "A")] },
      "water",
      "good since S4: A",
    ],
    [
      "drawn from a drain and too wet: bad all the same",
      { samples: [bottle(4), bottle(8, { ...WET, samplePoint: "drain" })], events: [to(6, "A")] },
      "water",
      "bad since S4 by S8: A before-bad",
    ],
    [
      "a class of the target's own standard is a good result",
      {
        samples: [
          bottle(4),
          { ...without(bottle(8), "counts"), reportedClasses: [{ standard: "ISO 4406", class: "16/14/11" }] },
        ],
        events: [to(6, "A"), to(9, "B")],
      },
      "particles",
      "good since S8: B",
    ],
    [
      "a dirtier class is a bad one",
      {
        samples: [
          bottle(4),
          { ...without(bottle(8), "counts"), reportedClasses: [{ standard: "ISO 4406", class: "19/17/14" }] },
        ],
        events: [to(6, "A"), to(9, "B")],
      },
      "particles",
      "bad since S4 by S8: A before-bad, B after-bad",
    ],
    [
      "a thirtieth of the usual counts: no good sample",
      {
        samples: [
          ...[1, 2, 3, 4].map((number) => bottle(number, { counts: counts(1200, 310, 38) })),
          bottle(8, { counts: counts(12, 3.1, 0.38) }),
        ],
        events: [to(6, "A")],
      },
      "particles",
      "good since S4: A",
    ],
    [
      "damaged seals on the cart make no sample bad",
      { circuit: { state: { on: day(20), seals: "damaged" } }, samples: [bottle(4)], events: [to(6, "A")] },
      "water",
      "good since S4: A",
    ],
    [
      "a document that wants the state of the cart makes no sample bad",
      { limits: { cartState: { ageDaysMax: 7 } }, samples: [bottle(4)], events: [to(6, "A")] },
      "water",
      "good since S4: A",
    ],
    [
      "a document that wants a sample after hookups makes no sample bad",
      { limits: { after: [{ event: "hookup", sample: true }] }, samples: [bottle(4)], events: [to(6, "A")] },
      "water",
      "good since S4: A",
    ],
  ])("%s", (_title, world, quantity, expected) => {
    expect(short(world, quantity)).toBe(expected);
  });

  test("a bad time of the past is kept: from the good sample before to the good one after, its days included", () => {
    const samples = [bottle(4), bottle(8, WET), bottle(10, WET), bottle(16), bottle(20)];
    const events = [to(3, "A"), to(4, "B"), to(6, "C"), to(9, "D"), to(16, "E"), to(17, "F")];
    const water = trace({ samples, events }).quantities.find(({ quantity }) => quantity === "water");
    expect(water?.state).toBe("good");
    const [earlier, ...others] = water?.earlier ?? [];
    expect(others).toEqual([]);
    expect(earlier).toMatchObject({
      lastGood: { sample: "S4" },
      firstBad: { sample: "S8" },
      lastBad: { sample: "S10" },
      nextGood: { sample: "S16" },
    });
    const said = earlier?.hookups.map(({ event, when }) => `${event.aircraft} ${when}`);
    expect(said).toEqual(["B before-bad", "C before-bad", "D after-bad", "E after-bad"]);
  });

  test("two bad times are two, the newer first", () => {
    const samples = [bottle(1), bottle(3, WET), bottle(5), bottle(7, WET), bottle(9)];
    const water = trace({ samples }).quantities.find(({ quantity }) => quantity === "water");
    expect(water?.earlier.map(({ firstBad }) => firstBad?.sample)).toEqual(["S7", "S3"]);
  });
});

describe("what the trace cannot know is said with it", () => {
  test.each<[string, World, string]>([
    ["no hookup in the log", { samples: [bottle(4)] }, "the log of circuit 1 has no hookup until 2026-03-28"],
    ["no requirement", { requirements: [] }, 'no requirement is named "main system"'],
    [
      "an aircraft not named",
      { events: [to(5), to(7, "A")] },
      "names no aircraft for the hookup of 2026-03-05",
    ],
    [
      "a hookup to come",
      { events: [to(29, "A")] },
      "has a hookup dated 2026-03-29, after 2026-03-28: it is left out",
    ],
    [
      "samples to come",
      { samples: [bottle(29)] },
      "samples of circuit 1 dated after 2026-03-28 are left out: 1",
    ],
    [
      "one aircraft written in two ways",
      { events: [to(5, "N 123AB"), to(6, "n123ab"), to(7, "N123AB8")] },
      'these were taken for one aircraft: "N 123AB" and "n123ab"',
    ],
    [
      "a row that could not be read",
      { unread: [{ cart: "C-1", circuit: "1", where: "lab.csv row 7" }] },
      "lab.csv row 7 could not be read and may hold a result of circuit 1",
    ],
  ])("%s", (_title, world, words) => {
    expect(
      trace(world)
        .notes.map(({ message }) => message)
        .join("\n"),
    ).toContain(words);
  });

  test("a row that a person settled is said with who settled it, and a log in order has no note", () => {
    const world = { samples: [bottle(4)], events: [to(5, "A")] };
    const settled = { cart: "C-1", circuit: "1", where: "lab.csv row 7", decided: "discarded by A. Person" };
    expect(trace({ ...world, unread: [settled] }).notes.map(({ message }) => message)).toEqual([
      "lab.csv row 7 may hold a result of circuit 1 and was discarded by A. Person",
    ]);
    expect(trace(world).notes).toEqual([]);
  });

  test("without a requirement no sample is good, and the whole log is listed", () => {
    expect(short({ requirements: [], samples: [bottle(4)], events: [to(3, "A")] }, "fluid")).toBe(
      "not-shown since the log: A",
    );
  });
});

describe("a cart with several circuits, a fleet with several carts", () => {
  const circuits = [
    { ...CIRCUIT, events: [to(5, "A"), to(6, "B")] },
    { ...CIRCUIT, circuit: "2", events: [to(5, "C"), to(7, "b"), to(4, "A")] },
  ];
  const fleet: TraceCase = {
    carts: [
      { cart: "C-1", circuits },
      { cart: "C-2", circuits: [{ ...CIRCUIT, events: [to(8, "A"), to(3, "B")] }] },
    ],
    requirements: [REQUIREMENT],
    samples: [bottle(1)],
    unread: [{ where: "lab.csv row 3" }],
    on: day(28),
  };

  test("each circuit has its own hookups and samples", () => {
    const served = traceCart(fleet, "C-1").circuits.map(({ circuit, hookups }) =>
      [circuit, ...hookups.map(({ event }) => event.aircraft)].join(" "),
    );
    expect(served).toEqual(["1 A B", "2 A C b"]);
    expect(traceCart(fleet, "C-1", "2").circuits.map(({ circuit }) => circuit)).toEqual(["2"]);
  });

  test("other circuits that met one of its aircraft on that day or later are named, of this cart and of others", () => {
    const [first] = traceCart(fleet, "C-1").circuits;
    const onward = first?.onward.map(
      ({ cart, circuit, aircraft, event }) => `${aircraft} ${cart} ${circuit} ${event.on}`,
    );
    expect(onward).toEqual(["b C-1 2 2026-03-07", "A C-2 1 2026-03-08"]);
  });

  test("a row of no cart may be of any of them", () => {
    expect(traceCart(fleet, "C-2").notes.map(({ message }) => message)).toEqual([
      expect.stringContaining("1 row could not be read and names no cart"),
    ]);
  });

  test("a cart or a circuit that is not there is an error", () => {
    expect(() => traceCart(fleet, "C-3")).toThrow('there is no cart "C-3"');
    expect(() => traceCart(fleet, "C-1", "3")).toThrow('there is no circuit "3" of cart "C-1"');
  });
});

describe("the answer in sentences", () => {
  const says = (world: World) => describeCircuitTrace(trace(world)).map((group) => group.says);

  test.each<[string, World, string[]]>([
    [
      "all good",
      { samples: [bottle(4)], events: [to(5, "A"), to(6, "B"), to(7, "a")] },
      ["Since the last good sample of 2026-03-04 (S4) circuit 1 of C-1 served 2 aircraft: A, B."],
    ],
    [
      "nothing served",
      { samples: [bottle(4)] },
      ["Since the last good sample of 2026-03-04 (S4) circuit 1 of C-1 served no aircraft."],
    ],
    [
      "some aircraft not named",
      { samples: [bottle(4)], events: [to(5, "A"), to(6), to(7)] },
      [
        "Since the last good sample of 2026-03-04 (S4) circuit 1 of C-1 served 1 aircraft: A; and 2 hookups that name none.",
      ],
    ],
    [
      "bad for water",
      { samples: [bottle(4), bottle(12, WET)], events: [to(5, "A"), to(12, "B"), to(13, "C")] },
      [
        "Circuit 1 of C-1: sample S12 of 2026-03-12 is bad for water. Since the last good sample, S4 of 2026-03-04, it served 3 aircraft: A, B, C (3 hookups: 1 before the bad sample, 1 on its day, before or after it, 1 after it).",
        "Circuit 1 of C-1: last good for particles, the acid number and the identity of the fluid in sample S12 of 2026-03-12; since then it served 2 aircraft: B, C.",
      ],
    ],
    [
      "bad from the first sample on",
      {
        limits: { acidMgKohPerGMax: "not-limited" },
        samples: [
          bottle(12, { ...WET, fluid: "MIL-PRF-5606", counts: counts(9000, 900, 90) }),
          bottle(14, { ...WET, fluid: "MIL-PRF-5606", counts: counts(9000, 900, 90) }),
        ],
        events: [to(13, "A")],
      },
      [
        "Circuit 1 of C-1: samples S12 of 2026-03-12 to S14 of 2026-03-14 are bad for particles, water and the identity of the fluid. Since its log begins, as no good sample came before, it served 1 aircraft: A (1 hookup: 1 after it).",
      ],
    ],
    [
      "no sample",
      { events: [to(5, "A")] },
      ["Circuit 1 of C-1: no sample shows it to be good. Since its log begins it served 1 aircraft: A."],
    ],
    [
      "bad in the past",
      { samples: [bottle(4), bottle(8, WET), bottle(16)], events: [to(5, "A")] },
      [
        "Since the last good sample of 2026-03-16 (S16) circuit 1 of C-1 served no aircraft.",
        "Earlier, circuit 1 of C-1: sample S8 of 2026-03-08 is bad for water. Between the last good sample, S4 of 2026-03-04, and the next good one, S16 of 2026-03-16, it served 1 aircraft: A (1 hookup: 1 before the bad sample).",
      ],
    ],
    [
      "bad in the past, and nothing was served",
      { samples: [bottle(4), bottle(8, WET), bottle(16)] },
      ["Since the last good sample of 2026-03-16 (S16) circuit 1 of C-1 served no aircraft."],
    ],
  ])("%s", (_title, world, expected) => {
    expect(says(world)).toEqual(expected);
  });
});
