// Work that grows with the fleet times its rows is counted in what is read, never by the clock.
import { describe, expect, test } from "vitest";
import { evidenceOf } from "../../src/fitness/evidence/evidence.js";
import { decidedByPeople, describeUnread, formatPlaces } from "../../src/fitness/fleet/describe-unread.js";
import { type UnreadResult, unreadOfFleet } from "../../src/fitness/index.js";
import type { Circuit, Requirement, Sample } from "../../src/samples/index.js";

const CARTS = Array.from({ length: 40 }, (_, place) => ({
  cart: `QB-${place}`,
  circuits: [{ circuit: "fore" }, { circuit: "aft" }],
}));
const row = (place: number, names: object) => ({ where: `lab.csv row ${place}`, text: "", ...names });
const rows = (names: object) => Array.from({ length: 50 }, (_, place) => row(place + 2, names));

describe("rows without a cart that may be of every circuit of a name", () => {
  const unreadOf = unreadOfFleet(rows({ circuit: "fore" }), CARTS);

  test("are one list for all of them, which nobody can change", () => {
    const [first, ...others] = CARTS.map(({ cart }) => unreadOf.of(cart, "fore"));
    expect(first).toHaveLength(50);
    expect(others.every((list) => list === first)).toBe(true);
    expect([first, ...(first ?? [])].every(Object.isFrozen)).toBe(true);
    expect(unreadOf.of("QB-1", "aft")).toEqual([]);
  });

  test("a circuit with a row of its own has both, in the order of the file", () => {
    const own = [
      row(1, { cart: "QB-7", circuit: "fore" }),
      ...rows({ circuit: "fore" }),
      row(99, { cart: "QB-7" }),
    ];
    const places = unreadOfFleet(own, CARTS)
      .of("QB-7", "fore")
      .map(({ where }) => where);
    expect(places).toEqual(own.map(({ where }) => where));
  });
});

describe("what blocks a circuit", () => {
  /** Results that count how often somebody looks where they stand, and which samples they name. */
  function counted(names: object) {
    const looks = { at: 0, numbers: 0 };
    const results = rows(names).map(({ where, text: _, ...result }): object =>
      Object.freeze({
        ...result,
        get where() {
          looks.at += 1;
          return where;
        },
        get ofSamples() {
          looks.numbers += 1;
          return undefined;
        },
      }),
    );
    return { looks, results: results as UnreadResult[] };
  }
  const own = (place: number) => ({ cart: `QB-${place}`, circuit: "fore" });
  const sample = (drawnOn: string) => ({ drawnOn }) as Sample;

  test.each([
    ["no cart", { circuit: "fore" }],
    ["neither name", {}],
    ["another cart", { cart: "QB" }],
  ])("rows with %s are put together once for 40 circuits, by day", (_, names) => {
    const { looks, results } = counted({ ...names, drawnOn: "2026-03-04" });
    const list = Object.freeze(results);
    const said = CARTS.map((__, place) => describeUnread(list, own(place), sample("2026-03-04")));
    expect(said.map((reasons) => reasons.length)).toEqual(CARTS.map(() => 1));
    expect(looks.at).toBe(50);
    expect(describeUnread(list, own(1), sample("2026-03-05"))).toEqual([]);
    expect(looks.at).toBe(50);
    expect(describeUnread(list, own(1), undefined)).toHaveLength(1);
    expect(looks.at).toBe(100);
    // Of each of the two days every row once, and of each circuit the first row.
    expect(looks.numbers).toBeLessThanOrEqual(100 + 2 * 42);
  });

  test("a list that its caller may change is looked at again", () => {
    const results = rows({ circuit: "fore" });
    expect(describeUnread(results, own(1))[0]?.message).toContain("and 40 more are in quarantine");
    results.push(row(60, { circuit: "fore" }));
    expect(describeUnread(results, own(1))[0]?.message).toContain("and 41 more are in quarantine");
  });
});

describe("where rows stand", () => {
  test.each<readonly [string, readonly string[], string]>([
    ["one row", ["lab.csv row 4"], "lab.csv row 4"],
    ["rows of two files", ["a.csv row 4", "b.csv row 9", "a.csv row 5"], "a.csv rows 4, 5, b.csv row 9"],
    ["a file named like a row", ["lab row 4 row 5"], "lab row 4 row 5"],
    ["what is no row", ["lab.csv column 4", "lab.csv row A"], "lab.csv column 4, lab.csv row A"],
    [
      "eleven rows",
      Array.from({ length: 11 }, (_, at) => `a row ${at + 2}`),
      "a rows 2, 3, 4, 5, 6, 7, 8, 9, 10, 11 and 1 more",
    ],
  ])("%s", (_, places, said) => {
    expect(formatPlaces(places.map((where) => ({ where })))).toBe(said);
  });

  test("rows that a person discarded together are said once, those of another decision by themselves", () => {
    const settled = (at: number, decided?: string) => ({
      where: `lab.csv row ${at}`,
      ...(decided && { decided }),
    });
    const ofMay = "discarded by B. Ames on 2026-05-02: blank bottles";
    const said = decidedByPeople(
      [
        settled(2, ofMay),
        settled(3),
        settled(4, ofMay),
        settled(5, "discarded by C. Rao on 2026-05-03: twice"),
      ],
      "a result of it",
    );
    expect(said.map(({ message }) => message)).toEqual([
      `lab.csv rows 2, 4 may hold a result of it and were ${ofMay}`,
      "lab.csv row 5 may hold a result of it and was discarded by C. Rao on 2026-05-03: twice",
    ]);
  });
});

describe("which bottles a verdict rests on", () => {
  const circuit: Circuit = {
    circuit: "main",
    serves: "main system",
    fluid: "MIL-PRF-83282",
    volumeL: 60,
    flowLpm: 45,
    element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
    events: [],
  };
  const requirement: Requirement = {
    system: "main system",
    fluids: ["MIL-PRF-83282"],
    cleanliness: [],
    waterPpmMax: 200,
    acidMgKohPerGMax: 0.2,
    sampleAgeDaysMax: 30,
  };

  /** How often days of bottles are looked at: half of them of one day, half of the day before. */
  function looks(bottles: number, timeOf: (place: number) => string | undefined): number {
    let days = 0;
    const samples = Array.from({ length: bottles }, (_, place): Sample => {
      const drawnTime = timeOf(place);
      return {
        ...{ sample: `S-${place}`, cart: "C-1", circuit: "main", origin: [], waterPpm: { value: 90 } },
        acidMgKohPerG: { value: 0.1 },
        get drawnOn() {
          days += 1;
          return place % 2 === 0 ? "2026-03-04" : "2026-03-03";
        },
        ...(drawnTime && { drawnTime }),
      };
    });
    const { used, looked } = evidenceOf(circuit, requirement, samples);
    expect([used.length, looked.length]).toEqual([bottles / 2, bottles / 2]);
    return days;
  }

  // Sorting n bottles takes n log n comparisons, 2.2 times as many for twice the bottles; comparing each with each, 4 times.
  test.each([
    ["no bottle has a time", () => undefined],
    ["all of one minute", () => "08:00"],
  ])("twice the bottles of a day are less than three times the work: %s", (_, timeOf) => {
    expect(looks(400, timeOf) / looks(200, timeOf)).toBeLessThan(3);
  });
});
