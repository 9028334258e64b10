import { join } from "node:path";
import fc from "fast-check";
import { beforeAll, describe, expect, test } from "vitest";
import { timeToGoBy } from "../../src/circulation/index.js";
import { formatTarget, limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { type CircuitCase, judgeCarts, VERDICTS, type VerdictOnCircuit } from "../../src/fitness/index.js";
import { freshnessOf } from "../../src/page/model/freshness.js";
import { type InterimFields, readInterim } from "../../src/page/model/interim.js";
import { circulationFieldsOf, minutesToGoBy, readChanges, withStart } from "../../src/page/model/minutes.js";
import { casesOn, holdsOn, judgeOn, type PageData } from "../../src/page/model/page-data.js";
import type { Reading } from "../../src/page/model/reading.js";
import { shownOf, shownOfTyped } from "../../src/page/model/shown.js";
import { caseOfTypedCart, readTypedCart } from "../../src/page/model/typed-cart.js";
import { readTypedSample, type SampleFields, withSample } from "../../src/page/model/typed-sample.js";
import { type Cart, cartsFileSchema, circulates, type Sample } from "../../src/samples/index.js";
import { DEMO_ARGUMENTS } from "../support/demo.js";
import { dataOfPage, writePageOfDemo } from "../support/page/page-of-demo.js";
import { run, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const ON = "2026-11-20";
const folder = temporaryFolder();
let demo: PageData;

beforeAll(async () => {
  demo = dataOfPage(await writePageOfDemo(folder));
});

const EMPTY: SampleFields = {
  ...{ counts: {}, code: "", countedMl: "", waterPpm: "", acidMgKohPerG: "", label: "", appearance: "" },
  ...{ samplePoint: "", flowing: "", drawnOn: ON, drawnTime: "" },
};

function taken<T>(reading: Reading<T>): T {
  if (reading.kind === "refused") throw new Error(reading.problems.join("; "));
  return reading.value;
}

function caseOf(data: PageData, cart: string, circuit: string, on = ON): CircuitCase {
  const found = casesOn(data, on).find((one) => one.cart === cart && one.circuit.circuit === circuit);
  if (found === undefined) throw new Error(`no ${cart} ${circuit}`);
  return found;
}

function minutesOf(input: CircuitCase): number | undefined {
  const found = minutesToGoBy(input);
  return found.kind === "minutes" ? found.goBy.minutes : undefined;
}

describe("the day of the data", () => {
  test.each([
    ["2026-11-20", "2026-11-20", { kind: "current", ageDays: 0 }],
    ["2026-11-20", "2026-11-27", { kind: "current", ageDays: 7 }],
    ["2026-11-20", "2026-11-28", { kind: "too-old", ageDays: 8 }],
    ["2026-11-20", "2027-11-20", { kind: "too-old", ageDays: 365 }],
    ["2026-11-20", "2026-11-19", { kind: "clock-wrong" }],
    ["2026-11-20", "1970-01-01", { kind: "clock-wrong" }],
    ["2026-02-25", "2026-03-04", { kind: "current", ageDays: 7 }],
    ["2026-02-25", "2026-03-05", { kind: "too-old", ageDays: 8 }],
    ["2028-02-25", "2028-03-04", { kind: "too-old", ageDays: 8 }],
    ["2026-11-20", "not a day", { kind: "clock-wrong" }],
    ["", "2026-11-20", { kind: "clock-wrong" }],
  ] as const)("data of %s on %s", (dataOn, deviceOn, expected) => {
    expect(freshnessOf(dataOn, deviceOn)).toEqual(expected);
  });

  test.each(["2026-11-19", "2026-11-28", "2026-12-20", "2020-01-01"])("nothing is called fit on %s", (on) => {
    const freshness = freshnessOf(demo.on, on);
    for (const input of casesOn(demo, on)) {
      const { sign } = shownOf(judgeOn(demo, input), freshness, demo.on);
      expect(sign, `${input.cart} ${input.circuit.circuit}`).not.toBe("fit");
    }
  });

  test("what is not fit keeps its verdict when the data are too old", () => {
    const on = "2026-11-28";
    const input = caseOf(demo, "QB-07", "main", on);
    expect(shownOf(judgeOn(demo, input), freshnessOf(ON, on), ON).sign).toBe("do-not-connect");
  });
});

describe("the page of the demonstration says what the command line says", () => {
  test("every verdict, every reason and the minutes to go by, on the day of the data", async () => {
    const { json } = await runJson("judge", ...DEMO_ARGUMENTS);
    const cases = casesOn(demo, ON);
    expect(cases).toHaveLength(json.circuits.length);
    for (const [index, input] of cases.entries()) {
      const expected = json.circuits[index];
      const { verdict, standing } = judgeOn(demo, input);
      expect({ cart: verdict.cart, circuit: verdict.circuit, verdict: verdict.verdict }).toEqual({
        ...{ cart: expected.cart, circuit: expected.circuit, verdict: expected.verdict },
      });
      expect(standing?.stands ?? verdict.verdict).toBe(expected.stands);
      expect(JSON.parse(JSON.stringify(verdict.reasons))).toEqual(expected.reasons);
      expect(minutesOf(input)).toBe(expected.circulation?.quoted?.minutes);
    }
  });

  test("the same a week later", async () => {
    const later = "2026-11-27";
    const { json } = await runJson("judge", ...DEMO_ARGUMENTS.map((text) => (text === ON ? later : text)));
    const verdicts = casesOn(demo, later).map((input) => judgeOn(demo, input).verdict.verdict);
    expect(verdicts).toEqual(json.circuits.map(({ verdict }: { verdict: string }) => verdict));
  });

  test("minutes of typed counts with another flow and element are those of circulate", async () => {
    const input = caseOf(demo, "QB-08", "main");
    const counts = { 4: "40000", 6: "12000", 14: "900", 21: "200", 38: "9", 70: "1" };
    const typed = taken(
      readTypedSample({ ...EMPTY, counts, countedMl: "30" }, { cart: "QB-08", circuit: input.circuit }),
    );
    const fields = {
      volume: "100 L",
      flow: "50 L/min",
      betas: { 4: "10", 6: "75", 14: "1000" },
      target: "18/16/13",
    };
    const { json } = await runJson(
      "circulate",
      ...["--volume", fields.volume, "--flow", fields.flow, "--beta", "4=10 6=75 14=1000"],
      ...["--start", "4=40000 6=12000 14=900 21=200 38=9 70=1", "--target", fields.target],
      ...["--uncertainty", "counted=30 mL"],
      ...(input.circuit.ingress === undefined
        ? []
        : [
            "--ingress",
            input.circuit.ingress.map((one) => `${one.sizeUmC}=${one.particlesPerMin}`).join(" "),
          ]),
    );
    const changed = taken(readChanges(fields, withStart(input, typed)));
    expect(json.quoted.minutes).toBeGreaterThan(0);
    expect(minutesOf(changed)).toBe(json.quoted.minutes);
  });

  const COUNTED = { counts: { 4: "7000", 6: "2000", 14: "150" }, class: "" };
  const PAIRS = "4=7000 6=2000 14=150";
  const START = { counts: { 4: "40000", 6: "12000", 14: "900" } };
  const WRITTEN = "4=40000 6=12000 14=900";

  test.each<[string, Partial<SampleFields>, string, string[], Omit<InterimFields, "minutes">, string]>([
    ["counts", START, WRITTEN, [], COUNTED, PAIRS],
    ["a code, of which only the upper end is known", { code: "22/21/17" }, "22/21/17", [], COUNTED, PAIRS],
    [
      "counts drawn downstream of the element",
      { ...START, samplePoint: "downstream-of-element" },
      WRITTEN,
      ["--port", "downstream"],
      COUNTED,
      PAIRS,
    ],
    ["counts, itself a code", START, WRITTEN, [], { counts: {}, class: "20/18/14" }, "20/18/14"],
  ])(
    "an interim sample after a start by %s says what it says to circulate",
    async (_, start, written, port, drawn, pairs) => {
      const input = caseOf(demo, "QB-08", "main");
      const typed = taken(readTypedSample({ ...EMPTY, ...start }, input));
      const fields = {
        ...{ volume: "100 L", flow: "50 L/min", target: "18/16/13" },
        betas: { 4: "10", 6: "75", 14: "1000" },
      };
      const changed = taken(readChanges(fields, withStart(input, typed)));
      const answer = taken(readInterim([{ minutes: "4", ...drawn }], changed, typed));
      const { json } = await runJson(
        "circulate",
        ...["--volume", fields.volume, "--flow", fields.flow, "--beta", "4=10 6=75 14=1000"],
        ...["--start", written, "--target", fields.target],
        ...["--interim", `4 min: ${pairs}`, ...port],
      );
      const { diagnosis, meaning, remaining, channels = [] } = answer.interim ?? {};
      const rates = (of: readonly { ratedRate: number }[]) => of.map(({ ratedRate }) => ratedRate);
      expect({ diagnosis, meaning, remaining, rates: rates(channels) }).toEqual({
        ...{ diagnosis: json.interim.diagnosis, meaning: json.interim.meaning },
        ...{ remaining: json.interim.remaining, rates: rates(json.interim.channels) },
      });
    },
  );

  test("an interim sample by a class of a table says what it says to circulate, and what a class leaves open", async () => {
    const reading = readInterim(
      [{ minutes: "8", counts: {}, class: "NAS 8" }],
      caseOf(demo, "QB-02", "fore"),
      undefined,
    );
    const { json } = await runJson(
      "circulate",
      ...[...DEMO_ARGUMENTS, "--cart", "QB-02", "--circuit", "fore", "--interim", "8 min: NAS 8"],
    );
    const { diagnosis, meaning, remaining } = json.interim;
    expect(reading).toMatchObject({
      kind: "read",
      value: { interim: { diagnosis, meaning, remaining } },
      assumptions: [{ code: "class-as-upper-edge" }],
    });
  });

  test.each<[string, Omit<InterimFields, "minutes">, RegExp]>([
    [
      "counts and a class",
      { counts: { 6: "300" }, class: "NAS 8" },
      /^Class: expected the counts or the class/,
    ],
    ["a word", { counts: {}, class: "clean" }, /^Class: .*"clean"/],
    [
      "counts that rise with size",
      { counts: { 6: "300", 14: "400", 21: "2", 38: "0", 70: "0" }, class: "" },
      /cannot rise with size: 400 at 14/,
    ],
  ])("an interim sample of %s is refused", (_, drawn, said) => {
    const input = caseOf(demo, "QB-02", "fore");
    const reading = readInterim([{ minutes: "8", ...drawn }], input, undefined);
    expect(reading).toMatchObject({ kind: "refused", problems: [expect.stringMatching(said)] });
  });
});

describe("200 generated circuits", () => {
  const REQUIREMENT = {
    system: "main system",
    fluids: ["MIL-PRF-83282" as const],
    cleanliness: [parseTarget("17/15/12")],
    waterPpmMax: 200,
    acidMgKohPerGMax: 0.2,
    sampleAgeDaysMax: 30,
  };
  // Around the limits 1300, 320 and 40 per mL, 200 ppm and 0.2 mg KOH/g, and well above the limits of particles.
  const near = (limit: number) =>
    fc.oneof(
      fc.constant(limit),
      fc.integer({ min: Math.ceil(limit / 4), max: limit }),
      fc.integer({ min: limit + 1, max: 20 * limit }),
    );
  const generated = fc.record({
    counts: fc.tuple(near(40), near(320), near(1300)),
    countedMl: fc.constantFrom(10, 25, 30, 100),
    water: fc.constantFrom(50, 120, 199, 200, 200, 201, 260),
    acid: fc.constantFrom(0.05, 0.1, 0.19, 0.2, 0.2, 0.21),
    volumeL: fc.integer({ min: 20, max: 300 }),
    flowLpm: fc.integer({ min: 10, max: 120 }),
    beta: fc.constantFrom(2, 10, 75, 200, 1000),
  });
  const cases = fc.sample(generated, { numRuns: 200, seed: 24 }).map((drawn) => {
    const [c14, c6, c4] = drawn.counts;
    const larger = Math.max(c6, c14);
    return { ...drawn, c4: Math.max(c4, larger), c6: larger, c14 };
  });

  function dataOf({ volumeL, flowLpm, beta }: (typeof cases)[number]): PageData {
    const circuit = {
      ...{ circuit: "main", serves: "main system", fluid: "MIL-PRF-83282" },
      ...{ volume: `${volumeL} L`, flow: `${flowLpm} L/min` },
      element: { position: "pressure", betas: [{ sizeUmC: 4, beta }] },
    };
    const { carts } = cartsFileSchema.parse({ carts: [{ cart: "C-1", circuits: [circuit] }] });
    const document = { document: "example limits", revision: "3" };
    const data = {
      on: ON,
      document,
      carts,
      requirements: [REQUIREMENT],
      samples: [],
      unread: [],
      decisions: [],
    };
    return JSON.parse(JSON.stringify(data));
  }

  function fieldsOf({ c4, c6, c14, countedMl, water, acid }: (typeof cases)[number]): SampleFields {
    return {
      ...EMPTY,
      counts: { 4: String(c4), 6: String(c6), 14: String(c14) },
      ...{ countedMl: String(countedMl), waterPpm: String(water), acidMgKohPerG: String(acid) },
    };
  }

  /** The same bottle as the library takes it, made without the page. */
  function sampleOf({ c4, c6, c14, countedMl, water, acid }: (typeof cases)[number]): Sample {
    const counts = [
      { sizeUm: 4, count: c4 },
      { sizeUm: 6, count: c6 },
      { sizeUm: 14, count: c14 },
    ];
    return {
      ...{ sample: "typed here", cart: "C-1", circuit: "main", drawnOn: ON, origin: [] },
      counts: cumulativeCounts(counts, 1, "um(c)", { countedMl }),
      ...{ waterPpm: { value: water }, acidMgKohPerG: { value: acid } },
    };
  }

  const judged = cases.map((drawn) => {
    const data = dataOf(drawn);
    const typed = taken(
      readTypedSample(fieldsOf(drawn), {
        cart: "C-1",
        circuit: (data.carts[0] as Cart).circuits[0] as never,
      }),
    );
    const input = withSample(caseOf(data, "C-1", "main"), typed.sample);
    return { drawn, data, input, verdict: judgeOn(data, input).verdict };
  });

  test("hold every verdict that a clean or dirty bottle can call for", () => {
    const seen = new Map<string, number>();
    for (const { verdict } of judged) seen.set(verdict.verdict, (seen.get(verdict.verdict) ?? 0) + 1);
    for (const verdict of ["fit", "circulate", "exchange-fluid"])
      expect(seen.get(verdict) ?? 0, verdict).toBeGreaterThan(9);
    expect([...seen.keys()].every((verdict) => (VERDICTS as readonly string[]).includes(verdict))).toBe(true);
  });

  test("typed on the page, each is judged as the library judges the bottle", () => {
    for (const { drawn, data, verdict } of judged) {
      const library = judgeCarts({ ...data, samples: [sampleOf(drawn)] })[0] as VerdictOnCircuit;
      expect(verdict, JSON.stringify(drawn)).toEqual(library.verdict);
    }
  });

  test("the fields as the carts file fills them give the minutes of the verdict, and those are the library's own", () => {
    let compared = 0;
    for (const { drawn, input, verdict } of judged) {
      const changed = taken(readChanges(circulationFieldsOf(input.circuit), input));
      const quoted = verdict.goBy?.kind === "minutes" ? verdict.goBy.minutes : undefined;
      expect(minutesOf(changed), JSON.stringify(drawn)).toBe(quoted);
      if (quoted === undefined || verdict.circulation === undefined || !circulates(input.circuit)) continue;
      const { volumeL, flowLpm, element } = input.circuit;
      const start = sampleOf(drawn).counts as NonNullable<Sample["counts"]>;
      const circuit = {
        volumeL,
        flowLpm,
        betas: element.betas,
        start,
        limits: limitsOfTarget(parseTarget("17/15/12")),
      };
      const { goBy } = timeToGoBy({
        ...{ circuit, plan: verdict.circulation },
        confidence: { uncertainty: { countedMl: drawn.countedMl } },
      });
      expect(goBy.kind === "minutes" && goBy.minutes, JSON.stringify(drawn)).toBe(quoted);
      compared += 1;
    }
    expect(compared).toBeGreaterThan(50);
  });

  test("none is called fit a week and a day later, or the day before", () => {
    for (const { drawn, data } of judged) {
      for (const on of ["2026-11-28", "2026-11-19"]) {
        const input = withSample(caseOf(data, "C-1", "main", on), { ...sampleOf(drawn), drawnOn: on });
        const { sign } = shownOfTyped(judgeOn(data, input), freshnessOf(ON, on), ON);
        expect(sign, `${on} ${JSON.stringify(drawn)}`).not.toBe("fit");
      }
    }
  });

  test("a milder target gives other minutes and never another verdict", () => {
    const dirty = judged.find(({ verdict }) => verdict.goBy?.kind === "minutes");
    if (dirty === undefined) throw new Error("none is dirty");
    const fields = { ...circulationFieldsOf(dirty.input.circuit), target: "24/24/24" };
    expect(minutesToGoBy(taken(readChanges(fields, dirty.input)))).toEqual({
      kind: "none",
      why: "the counts are within the target already",
    });
    expect(judgeOn(dirty.data, dirty.input).verdict.verdict).toBe(dirty.verdict.verdict);
  });
});

describe("a typed sample", () => {
  const read = (fields: Partial<SampleFields>) =>
    readTypedSample(
      { ...EMPTY, ...fields },
      { cart: "QB-08", circuit: caseOf(demo, "QB-08", "main").circuit },
    );

  test.each<[string, Partial<SampleFields>, RegExp]>([
    ["counts that rise with size", { counts: { 4: "100", 6: "200" } }, /Counts: /],
    [
      "a letter among figures",
      { counts: { 4: "1O4" } },
      /4 µm\(c\): expected a number such as 1200, found "1O4"/,
    ],
    ["a comma with three figures after it", { counts: { 4: "1,200" } }, /may be 1\.2 or 1200/],
    ["two commas", { counts: { 4: "1,200,000" } }, /expected a number such as 1200, found "1,200,000"/],
    ["no day", { counts: { 4: "5" }, drawnOn: "" }, /Drawn on: expected a day such as 2026-03-14/],
    ["a day that no month has", { counts: { 4: "5" }, drawnOn: "2026-02-30" }, /Drawn on: expected a day/],
    ["a time that no day has", { counts: { 4: "5" }, drawnTime: "24:30" }, /Drawn at: expected a time/],
    ["a number with two readings", { counts: { 4: "20.000" } }, /may be 20 or 20000/],
    ["a negative count", { counts: { 4: "-5" } }, /expected a number/],
    ["infinity", { counts: { 4: "Infinity" } }, /expected a number/],
    ["a code of another standard", { code: "NAS 1638 7" }, /Code: expected an ISO 4406 code/],
    ["a code with two numbers", { code: "16/13" }, /Code: .*two scale numbers/],
    [
      "a counted volume of 0",
      { counts: { 4: "5" }, countedMl: "0" },
      /Volume counted: expected a number above 0/,
    ],
    ["water in words", { waterPpm: "dry" }, /Water: expected a number/],
  ])("%s is refused, with what was expected", (_, fields, message) => {
    const reading = read(fields);
    expect(reading.kind === "refused" && reading.problems.join("\n")).toMatch(message);
  });

  test("several problems are all named", () => {
    const reading = read({ counts: { 4: "x", 6: "y" }, waterPpm: "z" });
    expect(reading.kind === "refused" && reading.problems).toHaveLength(3);
  });

  test.each([
    ["1 200", 1200],
    ["1200", 1200],
    ["0.5", 0.5],
    ["0,5", 0.5],
    ["0,150", 0.15],
    ["12,25", 12.25],
  ])("%j is %d", (text, count) => {
    expect(taken(read({ counts: { 4: text } })).sample.counts?.counts).toEqual([{ sizeUm: 4, count }]);
  });

  test("a limit value stays one: < 5 at 14 µm(c) is no count", () => {
    const { sample } = taken(read({ counts: { 4: "1200", 6: "300", 14: "< 5" } }));
    expect(sample.counts?.counts.map(({ sizeUm }) => sizeUm)).toEqual([4, 6]);
    expect(sample.limitedCounts).toEqual([{ sizeUm: 14, volumeMl: 1, count: 5, limit: "below" }]);
  });

  test("a code alone gives a verdict by the code and minutes from its upper end", () => {
    const input = caseOf(demo, "QB-08", "main");
    const typed = taken(read({ code: "21-19-16" }));
    expect(typed.sample).toMatchObject({ reportedClasses: [{ standard: "ISO 4406", class: "21/19/16" }] });
    expect(typed.sample.counts).toBeUndefined();
    // The upper ends of scale numbers 21, 19 and 16 of ISO 4406, per mL.
    expect(typed.start?.counts.counts.map(({ count }) => count)).toEqual([20000, 5000, 640]);
    const changed = taken(
      readChanges({ ...circulationFieldsOf(input.circuit), target: "18/16/13" }, withStart(input, typed)),
    );
    expect(minutesOf(changed)).toBeGreaterThan(0);
  });

  test("fit by what was typed says that the book does not hold it", () => {
    const input = caseOf(demo, "QB-08", "main");
    const judged = judgeOn(demo, withSample(input, taken(read({ waterPpm: "50" })).sample));
    expect(judged.verdict.verdict).toBe("fit");
    expect(shownOfTyped(judged, freshnessOf(ON, ON), ON).action).toMatch(
      /typed here; have it entered in the book/,
    );
  });
});

describe("no minutes are given", () => {
  test.each<[string, Partial<SampleFields>, string]>([
    ["without counts", { waterPpm: "50" }, "there are no counts to start from; type those of a new sample"],
    [
      "by a size that was not counted",
      { counts: { 4: "100" } },
      "no count is outside the target, and not every size that it limits was counted",
    ],
    [
      "by counts within the target",
      { counts: { 4: "100", 6: "50", 14: "10" } },
      "the counts are within the target already",
    ],
  ])("%s", (_, fields, why) => {
    const known = caseOf(demo, "QB-08", "main");
    const input = { ...known, samples: [] };
    const typed = taken(readTypedSample({ ...EMPTY, ...fields }, input));
    const changes = { ...circulationFieldsOf(input.circuit), target: "18/16/13" };
    const changed = taken(readChanges(changes, withStart(input, typed)));
    expect(minutesToGoBy(changed)).toEqual({ kind: "none", why });
  });
});

describe("a circuit that a person holds", () => {
  test("stays held, whatever is typed", async () => {
    const book = join(folder, "held.siltbook");
    const files = DEMO_ARGUMENTS.filter((text) => text !== "--on" && text !== ON);
    await run("import", "--book", book, ...files);
    const decision = [
      "--decision",
      "do-not-connect",
      "--person",
      "A. Person",
      "--reason",
      "bottle found open",
    ];
    const held = await run("override", "--book", book, "--cart", "QB-08", "--circuit", "main", ...decision);
    expect(held.err).toBe("");
    const path = join(folder, "held.html");
    await run("page", "--book", book, "--on", ON, "--out", path);
    const data = dataOfPage(path);
    const input = caseOf(data, "QB-08", "main");
    const typed = taken(readTypedSample({ ...EMPTY, waterPpm: "50" }, input));
    const shown = [judgeOn(data, input), judgeOn(data, withSample(input, typed.sample))].map((judged) =>
      shownOfTyped(judged, freshnessOf(ON, ON), ON),
    );
    expect(shown.map(({ sign }) => sign)).toEqual(["held", "held"]);
    expect(shown[0]?.why.join()).toContain("bottle found open");
    expect(holdsOn(data, [judgeOn(data, input)])).toHaveLength(1);
  });
});

describe("a typed cart", () => {
  const FIELDS = {
    ...{ cart: "ZZ-1", circuit: "main", serves: "fleet N main", fluid: "MIL PRF 87257" },
    ...{ volume: "16 US gal", flow: "12 US gpm", betas: { 4: "40", 6: "", 14: "" } },
  };

  test("is read by the rules of a carts file, gallons too", () => {
    const cart = taken(readTypedCart(FIELDS, demo));
    // 16 and 12 US gallons of 231 cubic inches are 60.5666 and 45.4249 L (NIST SP 811, appendix B.8).
    expect(cart.circuits[0]?.volumeL).toBeCloseTo(60.5666, 3);
    expect(cart.circuits[0]?.flowLpm).toBeCloseTo(45.4249, 3);
    expect(cart.circuits[0]?.fluid).toBe("MIL-PRF-87257");
  });

  test.each<[string, Partial<typeof FIELDS>, RegExp]>([
    ["the name of a cart in the data", { cart: "QB-01" }, /"QB-01" is in the data; pick it/],
    ["a name that could be taken for one", { cart: "qb 1" }, /"QB-01" is in the data; pick it/],
    ["no name", { cart: " " }, /Cart: /],
    ["a volume without a unit", { volume: "60" }, /Volume: expected/],
    ["a fluid that nobody knows", { fluid: "gravy" }, /Fluid: expected/],
    [
      "an element without a rating",
      { betas: { 4: "", 6: "", 14: "" } },
      /Element: expected its filtration ratio/,
    ],
    [
      "a ratio below 1",
      { betas: { 4: "0.5", 6: "", 14: "" } },
      /β at 4 µm\(c\): expected 1 or more, found 0.5/,
    ],
  ])("%s is refused, with what was expected", (_, fields, message) => {
    const reading = readTypedCart({ ...FIELDS, ...fields }, demo);
    expect(reading.kind === "refused" && reading.problems.join("\n")).toMatch(message);
  });

  test("without a sample it needs one; with a dirty one it is circulated", () => {
    const input = caseOfTypedCart(taken(readTypedCart(FIELDS, demo)), demo, ON);
    expect(judgeOn(demo, input).verdict.verdict).toBe("resample");
    const target = input.requirement?.cleanliness.map(formatTarget).join();
    const counts = { 4: "90000", 6: "30000", 14: "4000", 21: "900", 38: "60", 70: "9" };
    const fields = { ...EMPTY, counts, waterPpm: "50", acidMgKohPerG: "0.05", label: "MIL-PRF-87257" };
    const typed = taken(readTypedSample(fields, input));
    expect(judgeOn(demo, withSample(input, typed.sample)).verdict.verdict, target).toBe("circulate");
  });
});
