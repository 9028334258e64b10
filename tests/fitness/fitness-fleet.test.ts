import { describe, expect, test } from "vitest";
import { cartsTogether, casesOf, FLEET_COLUMNS, fleetRows, judgeCarts } from "../../src/fitness/index.js";
import type { Cart, Circuit, Requirement, Sample } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, countedIn, counts, REQUIREMENT, SOUND } from "../support/fitness/bases.js";

const named = (circuit: string, change: Partial<Circuit> = {}): Circuit => ({
  ...CIRCUIT,
  circuit,
  ...change,
});
const of = (cart: string, circuit: string, change: Partial<Sample> = {}): Sample => ({
  ...CLEAN,
  cart,
  circuit,
  ...change,
});
const ESTER: Requirement = {
  ...REQUIREMENT,
  system: "ester system",
  fluids: ["AS1241 Type IV"],
  waterPpmMax: 8000,
  acidMgKohPerGMax: 1.5,
  aircraft: "fleet A",
};
const requirements: Requirement[] = [
  { ...REQUIREMENT, aircraft: "fleet A" },
  { ...REQUIREMENT, system: "third system", aircraft: "fleet A" },
  ESTER,
];

const judge = (carts: readonly Cart[], samples: readonly Sample[], on = "2026-03-14") =>
  judgeCarts({ carts, requirements, samples, unread: [], on });

describe("a cart as a whole", () => {
  const cart: Cart = {
    cart: "C-1",
    circuits: [named("1"), named("2", { serves: "ester system", fluid: "AS1241 Type IV" })],
  };
  const judged = judge(
    [cart],
    [of("C-1", "1"), of("C-1", "2", { fluid: "AS1241 Type IV", waterPpm: { value: 9000 } })],
  );
  const [whole] = cartsTogether(judged, requirements);

  test("the strictest verdict of its circuits is that of the cart", () => {
    expect(judged.map(({ verdict }) => verdict.verdict)).toEqual(["fit", "exchange-fluid"]);
    expect(whole?.verdict).toBe("exchange-fluid");
  });

  test("wherever in the cart it stands, and not beyond the cart", () => {
    const wet = { waterPpm: { value: 9000 } };
    const two = judge(
      [
        { cart: "C-1", circuits: [named("1"), named("2")] },
        { cart: "C-2", circuits: [named("1")] },
      ],
      [of("C-1", "1", wet), of("C-1", "2"), of("C-2", "1")],
    );
    const carts = cartsTogether(two, [...requirements, { ...REQUIREMENT, aircraft: "fleet B" }]);
    expect(carts.map(({ cart, verdict, circuits }) => [cart, verdict, circuits.length])).toEqual([
      ["C-1", "exchange-fluid", 2],
      ["C-2", "fit", 1],
    ]);
    expect(carts[1]?.pairings).toMatchObject([
      { aircraft: "fleet A", systems: [{ verdict: "fit" }, {}, { system: "ester system" }] },
    ]);
    expect(carts[1]?.pairings[0]?.systems).toHaveLength(3);
  });

  test("its circuits are paired with the systems of an aircraft by name, and a system without a circuit is shown", () => {
    expect(whole?.pairings).toEqual([
      {
        aircraft: "fleet A",
        systems: [
          { system: "main system", circuit: "1", verdict: "fit" },
          { system: "third system" },
          { system: "ester system", circuit: "2", verdict: "exchange-fluid" },
        ],
      },
    ]);
  });

  test("circuits of phosphate ester and of hydrocarbon must never meet; two of one base are not named", () => {
    expect(whole?.neverMeet).toEqual([["1", "2"]]);
    const same: Cart = { cart: "C-2", circuits: [named("1"), named("2")] };
    expect(cartsTogether(judge([same], []), requirements)[0]?.neverMeet).toEqual([]);
    const swapped: Cart = {
      cart: "C-3",
      circuits: [named("2", { serves: "ester system", fluid: "AS1241 Type IV" }), named("1")],
    };
    expect(cartsTogether(judge([swapped], []), requirements)[0]?.neverMeet).toEqual([["2", "1"]]);
  });

  test("a requirement that names no aircraft pairs with none", () => {
    const plain = judgeCarts({
      carts: [cart],
      requirements: [REQUIREMENT],
      samples: [],
      unread: [],
      on: "2026-03-14",
    });
    expect(cartsTogether(plain, [REQUIREMENT])[0]?.pairings).toEqual([]);
  });
});

describe("what each circuit is judged on", () => {
  const carts: Cart[] = [
    { cart: "C-1", circuits: [named("A"), named("B")] },
    { cart: "C-2", circuits: [named("A")] },
  ];

  test("are its own samples, oldest first and by name within a day, and the circuits beside it", () => {
    const samples = [
      of("C-1", "A", { drawnOn: "2026-03-04", sample: "S-3" }),
      of("C-1", "A", { drawnOn: "2026-03-04", sample: "S-2" }),
      of("C-2", "A", { sample: "S-9" }),
      of("C-1", "A", { drawnOn: "2026-01-04", sample: "S-8" }),
    ];
    const cases = casesOf({ carts, requirements, samples, unread: [], on: "2026-03-14" });
    const seen = cases.map(({ cart, circuit, samples: own, neighbours }) => [
      `${cart} ${circuit.circuit}`,
      own.map(({ sample }) => sample),
      neighbours?.map((other) => [other.circuit.circuit, other.samples.length]),
    ]);
    expect(seen).toEqual([
      ["C-1 A", ["S-8", "S-2", "S-3"], [["B", 0]]],
      ["C-1 B", [], [["A", 3]]],
      ["C-2 A", ["S-9"], undefined],
    ]);
    expect(cases[2]).not.toHaveProperty("neighbours");
  });

  test.each([
    [
      "its cart and circuit, in other letters and with other hyphens",
      { cart: "c 1", circuit: "a" },
      ["C-1 A"],
    ],
    ["its cart and no circuit", { cart: "C1" }, ["C-1 A", "C-1 B"]],
    ["its circuit and no cart", { circuit: "A" }, ["C-1 A", "C-2 A"]],
    ["a cart that nobody has and that may be either", { cart: "C-3", circuit: "A" }, ["C-1 A", "C-2 A"]],
    ["a circuit that its cart does not have", { cart: "C-1", circuit: "Z" }, ["C-1 A", "C-1 B"]],
    ["a cart that is like none", { cart: "X-9", circuit: "A" }, []],
    ["neither: it is nobody's", {}, []],
  ])("an unread row holds up a circuit when it names %s", (_, names, held) => {
    for (const more of [[], [{ cart: "X-9", circuit: "Z", where: "b.csv row 1" }]]) {
      const unread = [{ ...names, where: "a.csv row 9" }, ...more];
      const cases = casesOf({ carts, requirements, samples: [], unread, on: "2026-03-14" });
      expect(
        cases
          .filter((one) => one.unread.some(({ where }) => where === "a.csv row 9"))
          .map(({ cart, circuit }) => `${cart} ${circuit.circuit}`),
      ).toEqual(held);
      expect(cases.some((one) => one.unread.some(({ where }) => where === "b.csv row 1"))).toBe(false);
    }
  });

  test("data that cannot be planned with stop their own circuit, which says why, and no other", () => {
    const cart: Cart = { cart: "C-1", circuits: [named("A", { volumeL: 0 }), named("B")] };
    const dirty = of("C-1", "A", { counts: counts(20000, 5000, 640) });
    const [stopped, other] = judge([cart], [dirty, of("C-1", "B")]).map(({ verdict }) => verdict);
    expect(stopped?.reasons).toEqual([
      {
        code: "cannot-be-judged",
        callsFor: "do-not-connect",
        actor: "engineer",
        message:
          "the data of this circuit or its requirement cannot be judged with: volumeL must be more than 0, not 0",
      },
    ]);
    expect(other?.verdict).toBe("fit");
  });
});

describe("the fleet table", () => {
  const state = (elementUsed: number) => ({ state: { ...SOUND, elementUsed } });
  const cart: Cart = {
    cart: "C-1",
    circuits: [
      named("fit"),
      named("worn", state(0.8)),
      named("fresh", state(0.79)),
      named("sooner"),
      named("dirty"),
      named("wet"),
      named("bare"),
      named("lost", { serves: "nothing" }),
    ],
  };
  const samples = [
    of("C-1", "fit"),
    of("C-1", "worn"),
    of("C-1", "fresh"),
    of("C-1", "sooner", { drawnOn: "2026-03-01" }),
    of("C-1", "dirty", { counts: counts(20000, 5000, 640) }),
    of("C-1", "wet", { waterPpm: { value: 900 } }),
  ];
  const rows = fleetRows(judge([cart], samples));

  test("what needs doing first is at the top: strictest verdict, worn element, soonest sample, then by name", () => {
    expect(rows.map(({ circuit, verdict }) => [circuit, verdict])).toEqual([
      ["lost", "do-not-connect"],
      ["bare", "resample"],
      ["wet", "exchange-fluid"],
      ["dirty", "circulate"],
      ["worn", "fit"],
      ["sooner", "fit"],
      ["fit", "fit"],
      ["fresh", "fit"],
    ]);
  });

  test("a circuit for which no time is long enough goes with those that must not be connected", () => {
    // Ingress that holds the circuit at nine tenths of its limits and is known to half of itself.
    const ingress = [4, 6, 14].map((sizeUmC, index) => ({
      sizeUmC,
      particlesPerMin: 0.9 * ([1300, 320, 40][index] as number) * 45_000 * 0.95,
    }));
    const circuits = [...cart.circuits, named("stuck", { ingress })];
    const dirty = of("C-1", "stuck", { counts: countedIn(20, 5000, 1200, 160) });
    const found = fleetRows(judge([{ ...cart, circuits }], [...samples, dirty]));
    const verdictColumn = FLEET_COLUMNS.find(({ title }) => title === "verdict");
    const shown = found.map((row) => [row.circuit, row.verdict, verdictColumn?.of(row, "2026-03-14")]);
    expect(shown.slice(0, 4)).toEqual([
      ["lost", "do-not-connect", "do not connect"],
      ["stuck", "do-not-connect", "do not connect"],
      ["bare", "resample", "take a new sample"],
      ["wet", "exchange-fluid", "exchange the fluid"],
    ]);
    expect(found[1]?.brief.action).toBe(
      "do not connect: no time is long enough; find and stop what lets dirt in",
    );
    expect(found[1]?.brief.why[0]).toMatch(/^ISO 4406 17\/15\/12 is exceeded/);
  });

  test("an element is near its capacity from 80 % of its pressure drop", () => {
    expect(
      rows.filter(({ elementNearCapacity }) => elementNearCapacity).map(({ circuit }) => circuit),
    ).toEqual(["worn"]);
  });

  test("each row says when its sample is due and what decided", () => {
    expect(rows.find(({ circuit }) => circuit === "sooner")).toMatchObject({
      nextSampleBy: "2026-03-31",
      daysToSample: 17,
    });
    expect(rows.find(({ circuit }) => circuit === "bare")?.nextSampleBy).toBeUndefined();
    expect(rows.find(({ circuit }) => circuit === "wet")?.because[0]).toMatch(/^water is outside/);
  });

  test("a sample is due from the day on which the fluid was changed since the last one", () => {
    const changed = named("changed", { events: [{ on: "2026-03-10", kind: "fluid-change" }] });
    const [row] = fleetRows(judge([{ cart: "C-1", circuits: [changed] }], [of("C-1", "changed")]));
    expect(row).toMatchObject({ verdict: "resample", nextSampleBy: "2026-03-10", daysToSample: -4 });
    const before = named("changed", { events: [{ on: "2026-03-01", kind: "fluid-change" }] });
    const [fit] = fleetRows(judge([{ cart: "C-1", circuits: [before] }], [of("C-1", "changed")]));
    expect(fit).toMatchObject({ verdict: "fit", nextSampleBy: "2026-04-03" });
  });

  test("the verdict of the report before is next to the new one", () => {
    const before = (_cart: string, circuit: string) =>
      circuit === "dirty" ? ({ verdict: "fit", on: "2026-03-07" } as const) : undefined;
    const again = fleetRows(judge([cart], samples), before);
    expect(again.find(({ circuit }) => circuit === "dirty")).toMatchObject({
      before: "fit",
      beforeOn: "2026-03-07",
    });
    expect(again.find(({ circuit }) => circuit === "wet")?.before).toBeUndefined();
  });

  test("a circuit whose trend reaches a limit before the next sample stands above a worn element", () => {
    const days = ["2025-11-04", "2025-12-04", "2026-01-03", "2026-02-02", "2026-03-04"];
    const rising = (circuit: string, step: number, last: number) =>
      days.map((drawnOn, index) =>
        of("C-1", circuit, {
          drawnOn,
          sample: `${circuit}-${index}`,
          waterPpm: { value: last - step * (4 - index) },
        }),
      );
    const wet = [...rising("fresh", 20, 195), ...rising("fit", 1, 100)];
    // Water of 195 ppm that rises by 20 ppm a month has 7.5 days to its limit.
    const again = fleetRows(
      judge([cart], [...samples.filter(({ circuit }) => circuit === "worn"), ...wet], "2026-03-06"),
    );
    const fit = again.filter(({ verdict }) => verdict === "fit");
    expect(fit.map(({ circuit }) => circuit)).toEqual(["fresh", "worn", "fit"]);
    expect(fit.map(({ crossings }) => crossings.map(({ beforeNextSample }) => beforeNextSample))).toEqual([
      ["expected"],
      [],
      [],
    ]);
    expect(fit[1]).toMatchObject({ elementUsed: 0.8 });
    expect(fit[2]).not.toHaveProperty("elementUsed");
  });

  test("only what decides is given as the reason", () => {
    const wet = rows.find(({ circuit }) => circuit === "wet");
    expect(wet?.because).toEqual(["water is outside: 900 ppm by mass, limit 200; filters do not remove it"]);
  });

  test("the order of samples in files does not matter", () => {
    expect(fleetRows(judge([cart], [...samples].reverse()))).toEqual(rows);
  });
});
