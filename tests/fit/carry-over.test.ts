import { describe, expect, test } from "vitest";
import { parseTarget } from "../../src/cleanliness/index.js";
import {
  type AircraftTrace,
  type CarryOver,
  describeAircraftHookups,
  describeAircraftTrace,
  type TraceCase,
  type Traced,
  traceAircraft,
  traceCart,
} from "../../src/fitness/index.js";
import type { Circuit, CircuitEvent, Requirement, Sample } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, counts, REQUIREMENT, without } from "../support/fitness/bases.js";

const HOOKUP: CircuitEvent = { on: "2026-03-06", kind: "hookup", aircraft: "A", minutes: 2 };
const BEFORE: Sample = { ...CLEAN, sample: "S1", drawnOn: "2026-03-04", waterPpm: { value: 90 } };
const AFTER: Sample = {
  ...CLEAN,
  sample: "S2",
  drawnOn: "2026-03-12",
  counts: counts(8000, 1000, 100),
  waterPpm: { value: 450 },
  acidMgKohPerG: { value: 0.5 },
};

interface World {
  readonly event?: Partial<CircuitEvent>;
  readonly events?: readonly CircuitEvent[];
  readonly circuit?: Partial<Circuit>;
  readonly limits?: Partial<Requirement>;
  readonly samples?: readonly Sample[];
}

/** The circuit holds 60 L and delivers 20 L/min to a system of 90 L. */
function carried(
  { event = {}, events = [], circuit = {}, limits = {}, samples = [BEFORE, AFTER] }: World,
  quantity: Traced = "water",
): CarryOver {
  const own: Circuit = {
    ...CIRCUIT,
    delivery: { flowLpm: 20 },
    ...circuit,
    events: [{ ...HOOKUP, ...event }, ...events],
  };
  const fleet: TraceCase = {
    carts: [{ cart: "C-1", circuits: [own] }],
    requirements: [{ ...REQUIREMENT, volumeL: 90, ...limits }],
    samples,
    unread: [],
    on: "2026-03-28",
  };
  const found = traceCart(fleet, "C-1").circuits[0]?.quantities.find((one) => one.quantity === quantity);
  return found?.now.hookups[0]?.carried as CarryOver;
}

/** The upper end of the usual density of MIL-PRF-83282, from memory: 857 kg/m³. */
const KG_PER_L = 0.857;

describe("what a hookup can have carried over", () => {
  test("water by hand: 40 L of at most 450 ppm into 90 L are 15.4 g, and raise it by 200 ppm", () => {
    const { litres, share, boundBy, amounts, missing } = carried({});
    expect({ litres, boundBy, missing }).toEqual({ litres: 40, boundBy: "pumped", missing: [] });
    expect(share).toBeCloseTo(4 / 9, 12);
    const mixed = 180 * (1 - Math.exp(-10 / 9));
    expect(amounts).toEqual([
      {
        what: "water",
        unit: "g",
        atMost: expect.closeTo((40 * KG_PER_L * 450) / 1000, 9),
        ifMixed: expect.closeTo((90 * KG_PER_L * mixed) / 1000, 9),
        rise: { unit: "ppm by mass", atMost: 200, ifMixed: expect.closeTo(mixed, 9) },
      },
    ]);
  });

  test("acid by hand: 40 L of 0.5 mg KOH/g hold 17.1 g KOH", () => {
    expect(carried({}, "acid").amounts).toMatchObject([
      {
        what: "acid",
        unit: "g KOH",
        atMost: expect.closeTo(40 * KG_PER_L * 0.5, 9),
        rise: { atMost: expect.closeTo(2 / 9, 9) },
      },
    ]);
  });

  test("particles by hand: 40 L of 8000 per mL hold 320 million larger than 4 µm(c)", () => {
    expect(
      carried({}, "particles").amounts.map(({ what, atMost, rise }) => [what, atMost, rise.atMost]),
    ).toEqual([
      ["particles > 4 µm(c)", 3.2e8, expect.closeTo(8000 * (4 / 9), 6)],
      ["particles > 6 µm(c)", 4e7, expect.closeTo(1000 * (4 / 9), 6)],
      ["particles > 14 µm(c)", 4e6, expect.closeTo(100 * (4 / 9), 6)],
    ]);
  });

  test("an element on the way is credited at its rated sizes, and not below", () => {
    const element = { position: "delivery", betas: [{ sizeUmC: 6, beta: 100 }] };
    const { amounts, assumptions } = carried(
      { circuit: { delivery: { flowLpm: 20, element } } },
      "particles",
    );
    expect(amounts.map(({ atMost }) => atMost)).toEqual([3.2e8, 4e5, expect.closeTo(4e4, 6)]);
    expect(assumptions.map(({ code }) => code)).toContain("delivery-element-as-rated");
    expect(
      carried({ circuit: { delivery: { flowLpm: 20, element } } }, "water").amounts[0]?.rise.atMost,
    ).toBe(200);
  });

  test.each<[string, World, number, string]>([
    [
      "minutes",
      { event: { minutes: undefined } },
      60,
      "the minutes of the hookup are not stated: the bound is all that the circuit holds, 60 L",
    ],
    [
      "flow",
      { circuit: { delivery: { returns: true } } },
      60,
      "the flow of the circuit to the aircraft is not stated: the bound is all that the circuit holds, 60 L",
    ],
    [
      "flow, and the aircraft holds less",
      { circuit: { delivery: { returns: true } }, limits: { volumeL: 30 } },
      30,
      "the flow of the circuit to the aircraft is not stated: the bound is all that the aircraft's system holds, 30 L",
    ],
    [
      "volume of the aircraft",
      { limits: { volumeL: undefined } },
      40,
      "the volume of the aircraft's system is not stated: the bound is what was pumped, 40 L",
    ],
    [
      "everything",
      {
        limits: { volumeL: undefined },
        event: { minutes: undefined },
        circuit: { delivery: { returns: true } },
      },
      60,
      "the volume of the aircraft's system, the flow of the circuit to the aircraft and the minutes of the hookup are not stated: the bound is all that the circuit holds, 60 L",
    ],
    [
      "a system that no requirement names",
      { event: { system: "utility" } },
      40,
      "the volume of the aircraft's system is not stated: the bound is what was pumped, 40 L",
    ],
    [
      "litres serviced by a path that does not return",
      { circuit: { delivery: { returns: false, flowLpm: 20 } } },
      40,
      "the litres serviced are not stated: the bound is what was pumped, 40 L",
    ],
  ])("without %s the bound is larger, and it says so", (_title, world, litres, words) => {
    const found = carried(world);
    expect(found.litres).toBe(litres);
    expect(found.missing).toEqual([words]);
  });

  test("an aircraft of unknown volume can rise to the level of the circuit", () => {
    expect(carried({ limits: { volumeL: undefined } }).amounts[0]?.rise).toEqual({
      unit: "ppm by mass",
      atMost: 450,
    });
  });

  test("the path that fills a reservoir delivers and does not return: 3 L of 450 ppm into 90 L", () => {
    const { litres, amounts, assumptions, missing } = carried({
      event: { servicedL: 3, minutes: undefined },
      circuit: { delivery: { returns: false } },
    });
    expect(litres).toBe(3);
    expect(amounts[0]?.rise).toEqual({ unit: "ppm by mass", atMost: 15 });
    expect(assumptions.map(({ code }) => code)).toContain("delivers-only");
    expect(missing).toEqual([]);
  });

  test("the system that was connected tells the volume, not the one that the circuit serves", () => {
    const found = carried(
      { event: { system: "main system" }, circuit: { serves: "another system" } },
      "fluid",
    );
    expect(found.share).toBeCloseTo(4 / 9, 12);
  });

  test.each<[string, World, Traced, number | undefined]>([
    ["the sample after is higher", {}, "water", 450],
    [
      "the sample before is higher",
      { samples: [{ ...BEFORE, waterPpm: { value: 900 } }, AFTER] },
      "water",
      900,
    ],
    [
      "later samples do not count",
      {
        samples: [
          BEFORE,
          AFTER,
          { ...AFTER, sample: "S3", drawnOn: "2026-03-20", waterPpm: { value: 2000 } },
        ],
      },
      "water",
      450,
    ],
    [
      "earlier samples do not count",
      {
        samples: [
          { ...BEFORE, sample: "S0", drawnOn: "2026-03-01", waterPpm: { value: 2000 } },
          BEFORE,
          AFTER,
        ],
      },
      "water",
      450,
    ],
    [
      "a sample of the day of the hookup counts, whichever came first",
      {
        samples: [BEFORE, { ...AFTER, sample: "S3", drawnOn: "2026-03-06", waterPpm: { value: 700 } }, AFTER],
      },
      "water",
      700,
    ],
    [
      "a limit value is taken at its limit",
      { samples: [{ ...BEFORE, waterPpm: { value: 600, limit: "below" } }, AFTER] },
      "water",
      600,
    ],
    [
      "a value without an upper end gives no amount",
      { samples: [without(BEFORE, "waterPpm"), { ...AFTER, waterPpm: { value: 450, limit: "above" } }] },
      "water",
      undefined,
    ],
    [
      "a value without an upper end is not hidden by the sample before",
      { samples: [BEFORE, { ...AFTER, waterPpm: { value: 450, limit: "above" } }] },
      "water",
      undefined,
    ],
  ])("the level during the hookup: %s", (_title, world, quantity, level) => {
    const rise = carried(world, quantity).amounts[0]?.rise.atMost;
    if (level === undefined) expect(rise).toBeUndefined();
    else expect(rise).toBeCloseTo((level * 4) / 9, 9);
  });

  const AT: readonly [string, World, Traced, string][] = [
    [
      "no sample since",
      { samples: [BEFORE, { ...AFTER, drawnOn: "2026-03-05" }] },
      "water",
      "no sample that reports water was drawn since: it may have been higher",
    ],
    [
      "a result without an upper end",
      { samples: [BEFORE, { ...AFTER, waterPpm: { value: 450, limit: "at-least" } }] },
      "water",
      'sample S2 of 2026-03-12 gives water only as "more than": the level has no upper end',
    ],
    [
      "a count without an upper end",
      {
        samples: [
          BEFORE,
          { ...AFTER, limitedCounts: [{ sizeUm: 2, volumeMl: 1, count: 1e5, limit: "above" }] },
        ],
      },
      "particles",
      'sample S2 of 2026-03-12 gives particles at 2 µm(c) only as "more than": the level has no upper end',
    ],
    [
      "circulated since",
      { events: [{ on: "2026-03-08", kind: "circulation", minutes: 30 }] },
      "particles",
      "circulation of 2026-03-08, before sample S2, may have lowered particles: it may have been higher",
    ],
    [
      "dried since",
      { events: [{ on: "2026-03-08", kind: "dehydration" }] },
      "water",
      "dehydration of 2026-03-08, before sample S2, may have lowered water: it may have been higher",
    ],
    [
      "fluid changed since",
      { events: [{ on: "2026-03-08", kind: "fluid-change" }] },
      "acid",
      "fluid change of 2026-03-08, before sample S2, may have lowered acid: it may have been higher",
    ],
  ];
  test.each(AT)("what may have been higher is said: %s", (_title, world, quantity, words) => {
    expect(carried(world, quantity).missing).toContain(words);
  });

  test.each<[string, World, Traced]>([
    [
      "circulating takes no water out",
      { events: [{ on: "2026-03-08", kind: "circulation", minutes: 30 }] },
      "water",
    ],
    ["what was done before the hookup", { events: [{ on: "2026-03-05", kind: "fluid-change" }] }, "water"],
    ["what was done after the sample", { events: [{ on: "2026-03-14", kind: "fluid-change" }] }, "water"],
  ])("and not where it was not: %s", (_title, world, quantity) => {
    expect(carried(world, quantity).missing).toEqual([]);
  });

  test("a class without counts gives the most that it allows", () => {
    const stated = {
      ...without(AFTER, "counts"),
      reportedClasses: [{ standard: "ISO 4406" as const, class: "19/17/14" }],
    };
    const found = carried({ samples: [BEFORE, stated] }, "particles");
    expect(found.amounts.map(({ what, atMost }) => [what, atMost])).toEqual([
      ["particles > 4 µm(c)", 40 * 1000 * 5000],
      ["particles > 6 µm(c)", 40 * 1000 * 1300],
      ["particles > 14 µm(c)", 40 * 1000 * 160],
    ]);
  });

  test.each<[string, Partial<Sample>, readonly string[]]>([
    ["a size that only the sample before reports", { counts: counts(8000, 1000) }, ["4", "6"]],
    [
      "a size that the sample after gives as more than",
      { limitedCounts: [{ sizeUm: 4, volumeMl: 1, count: 1e5, limit: "above" }] },
      ["6", "14"],
    ],
  ])("%s has no amount", (_title, change, sizes) => {
    const found = carried({ samples: [BEFORE, { ...AFTER, ...change }] }, "particles");
    expect(found.amounts.map(({ what }) => what)).toEqual(sizes.map((size) => `particles > ${size} µm(c)`));
  });

  test("sizes that one of the samples reports alone are named: counts before, a class in ranges after", () => {
    const ranges = { cleanliness: [parseTarget("NAS 1638 7")] };
    const classOnly = {
      ...without(AFTER, "counts"),
      reportedClasses: [{ standard: "NAS 1638" as const, class: "10" }],
    };
    const samples = [{ ...BEFORE, counts: counts(1300, 320, 40, 5, 1, 0) }, classOnly];
    const found = carried({ samples, limits: ranges }, "particles");
    expect(found.amounts.map(({ what }) => what)).toEqual(["particles > 70 µm(c)"]);
    expect(found.missing).toEqual([
      "no amount of particles at 4, 6, 14, 21, 38, 6 to 14, 14 to 21, 21 to 38, 38 to 70 µm(c) is given: sample S1 of 2026-03-04 and sample S2 of 2026-03-12 do not both give a count there",
    ]);
  });

  test("what does not mix in proportion has litres and no amount, and so has what is not bad", () => {
    const other = { ...AFTER, fluid: "MIL-PRF-5606" };
    expect(carried({ samples: [BEFORE, other] }, "fluid")).toMatchObject({ litres: 40, amounts: [] });
    expect(carried({ samples: [BEFORE] }, "water")).toMatchObject({ litres: 40, amounts: [] });
  });
});

describe("which carts an aircraft met", () => {
  const to = (on: string, aircraft: string | undefined, more: Partial<CircuitEvent> = {}): CircuitEvent => ({
    ...{ on, kind: "hookup", ...more },
    ...(aircraft !== undefined && { aircraft }),
  });
  const LOGS = {
    "C-1": [to("2026-03-06", "N 123AB", { minutes: 2 }), to("2026-03-13", "OTHER")],
    "C-2": [to("2026-03-05", "n123ab"), to("2026-03-07", "N123A8"), to("2026-03-15", "N-123AB")],
    "C-3": [to("2026-03-09", "N999"), to("2026-03-30", "N123AB")],
  };
  const of = (aircraft: string, logs: Record<string, CircuitEvent[]> = LOGS): AircraftTrace =>
    traceAircraft(
      {
        carts: Object.entries(logs).map(([cart, events]) => ({
          cart,
          circuits: [{ ...CIRCUIT, delivery: { flowLpm: 20 }, events }],
        })),
        requirements: [{ ...REQUIREMENT, volumeL: 90 }],
        samples: [
          BEFORE,
          { ...AFTER, counts: CLEAN.counts, acidMgKohPerG: { value: 0.1 } },
          ...["S3", "S4"].map((sample, place) => ({
            ...BEFORE,
            sample,
            cart: "C-2",
            drawnOn: place === 0 ? "2026-03-01" : "2026-03-12",
          })),
        ],
        unread: [],
        on: "2026-03-28",
      },
      aircraft,
    );
  const short = ({ hookups }: AircraftTrace) =>
    hookups.map(
      ({ cart, event, bad, waiting }) =>
        `${event.on} ${cart}: ${bad.map(({ quantity }) => quantity).join(", ") || "not bad"}${waiting.length > 0 ? ", waiting" : ""}`,
    );

  test("in any case, with spaces and dashes, oldest first; bad where the circuit was bad around that time", () => {
    expect(short(of("N123AB"))).toEqual([
      "2026-03-05 C-2: not bad",
      "2026-03-06 C-1: water",
      "2026-03-15 C-2: not bad, waiting",
    ]);
  });

  test("the carry-over goes with the quantity that was bad, by its samples", () => {
    const [bad] = of("N123AB").hookups[1]?.bad ?? [];
    expect(bad).toMatchObject({
      quantity: "water",
      when: "before-bad",
      lastGood: { sample: "S1" },
      firstBad: { sample: "S2" },
      carried: { litres: 40, amounts: [{ what: "water", rise: { atMost: 200 } }] },
    });
  });

  test("spellings that were taken for the aircraft, a hookup to come and a silent log are said", () => {
    const notes = of("N123AB", { ...LOGS, "C-4": [] }).notes.map(({ message }) => message);
    expect(notes).toEqual([
      '"n123ab", "N 123AB", "N-123AB" in the logs was taken for "N123AB"',
      "a hookup dated 2026-03-30, after 2026-03-28, is left out; correct the day where the year is wrong",
      "the log of C-4 1 has no hookup; a hookup that nobody entered is not traced",
    ]);
  });

  test("a hookup without a register may be of any aircraft", () => {
    const notes = of("N123AB", { "C-1": [to("2026-03-06", undefined)] }).notes.map(({ message }) => message);
    expect(notes).toEqual(["hookups that name no aircraft may be of this one: C-1 1 on 2026-03-06"]);
  });

  test("O for 0 and I for 1 are named and not taken", () => {
    const found = of("N1023", { "C-1": [to("2026-03-06", "N1O23"), to("2026-03-07", "N1024")] });
    expect(found.hookups).toEqual([]);
    expect(found.similar).toEqual(["N1O23"]);
    expect(describeAircraftTrace(found)).toBe(
      "No log has a hookup of N1023 until 2026-03-28. Registers that could be the same: N1O23.",
    );
  });

  test("a bad time of the past counts for the aircraft that was served in it", () => {
    const found = traceAircraft(
      {
        carts: [{ cart: "C-1", circuits: [{ ...CIRCUIT, events: [HOOKUP] }] }],
        requirements: [REQUIREMENT],
        samples: [
          BEFORE,
          { ...BEFORE, sample: "S2", drawnOn: "2026-03-12", waterPpm: { value: 450 } },
          { ...BEFORE, sample: "S3", drawnOn: "2026-03-14" },
        ],
        unread: [],
        on: "2026-03-28",
      },
      "A",
    );
    expect(found.hookups[0]).toMatchObject({
      bad: [{ quantity: "water", nextGood: { sample: "S3" } }],
      waiting: [],
    });
  });

  test("the answer in a sentence, and a line for each hookup", () => {
    const found = of("N123AB");
    expect(describeAircraftTrace(found)).toBe(
      "N123AB was connected to circuit 1 of C-2 and circuit 1 of C-1 in 3 hookups; bad around that time: circuit 1 of C-1 on 2026-03-06, water (sample S2 of 2026-03-12).",
    );
    expect(describeAircraftHookups(found).map(({ says }) => says)).toEqual([
      "2026-03-05, n123ab, by circuit 1 of C-2: good by the samples after it",
      "2026-03-06, N 123AB, 2 min, by circuit 1 of C-1: at most 40 L of its fluid, 44.5 % of what the aircraft's system holds",
      "2026-03-15, N-123AB, by circuit 1 of C-2: no later sample has shown particles, water, the acid number and the identity of the fluid",
    ]);
    expect(describeAircraftHookups(found)[1]?.amounts).toEqual([
      "water: at most 15.5 g, which raises the aircraft's fluid by 200 ppm by mass; if both mix, 9.32 g and 121 ppm by mass",
    ]);
  });

  test("an aircraft that no bad circuit met", () => {
    expect(describeAircraftTrace(of("N999"))).toBe(
      "N999 was connected to circuit 1 of C-3 in 1 hookup; no sample of them is known to be bad around that time.",
    );
  });
});
