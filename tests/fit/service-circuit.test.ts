import { describe, expect, test } from "vitest";
import { judgeCircuit, type ReasonCode, type VerdictName } from "../../src/fitness/index.js";
import { parseCartsFile } from "../../src/intake/index.js";
import { type Circuit, cartsFileSchema, circulates, type Sample } from "../../src/samples/index.js";
import { CLEAN, caseOf, counts, REQUIREMENT, without } from "../support/fitness/bases.js";

const ELEMENT = { position: "service", betas: [{ sizeUmC: 4, beta: 200 }] };
const SERVICE = {
  ...{ circuit: "1", serves: "main system", fluid: "MIL-PRF-83282", volume: "20 L" },
  delivery: { flow: "8 L/min", returns: false, element: ELEMENT },
};

function read(change: object): Circuit | undefined {
  const carts = [{ cart: "C-1", circuits: [{ ...SERVICE, ...change }] }];
  const file = cartsFileSchema.safeParse({ carts });
  return file.success ? file.data.carts[0]?.circuits[0] : undefined;
}

const DELIVERS_ONLY = read({}) as Circuit;

function judge(sample: Sample, change: Parameters<typeof caseOf>[0] = {}) {
  const { verdict, reasons, circulation, goBy, next, assumptions } = judgeCircuit(
    caseOf({ circuit: DELIVERS_ONLY, samples: [sample], ...change }),
  );
  const codes = reasons.flatMap(({ code, callsFor }) => (callsFor === "fit" ? [] : [code]));
  return { verdict, codes, circulation, goBy, next, assumed: assumptions.map(({ code }) => code) };
}

describe("a path that only delivers needs no flow of its own", () => {
  test("it is read without one, and its element is the one of its delivery", () => {
    expect(DELIVERS_ONLY).toMatchObject({ volumeL: 20, element: ELEMENT });
    expect(circulates(DELIVERS_ONLY)).toBe(false);
  });

  test.each<[string, object, boolean]>([
    ["one that circulates besides", { flow: "15 L/min", element: ELEMENT }, true],
    ["a circuit that returns, without a flow", { delivery: { flow: "8 L/min", element: ELEMENT } }, false],
    ["a circuit of which no delivery is described", { delivery: undefined, element: ELEMENT }, false],
    ["no element anywhere", { delivery: { returns: false } }, false],
    ["an element of its own", { element: ELEMENT, delivery: { returns: false } }, true],
    ["a flow of nothing", { flow: "0 L/min" }, false],
  ])("%s", (_, change, isRead) => {
    expect(read(change) !== undefined).toBe(isRead);
  });

  test("what is missing is named with its place", () => {
    const carts = { carts: [{ cart: "C-1", circuits: [{ ...SERVICE, delivery: { returns: true } }] }] };
    expect(() => parseCartsFile("carts.json", JSON.stringify(carts))).toThrow(
      /flow: is missing, expected the flow through the filter while self-circulating, such as "45 L\/min"/s,
    );
  });
});

describe("the verdict on it asks for nothing that it cannot do", () => {
  test.each<[string, Sample, VerdictName, ReasonCode[]]>([
    ["clean fluid", CLEAN, "fit", []],
    [
      "dirty fluid",
      { ...CLEAN, counts: counts(20_000, 5000, 640) },
      "do-not-connect",
      ["particles-out-of-reach", "particles-outside"],
    ],
    ["wet fluid", { ...CLEAN, waterPpm: { value: 400 } }, "exchange-fluid", ["water-outside"]],
    ["a bottle from after its element", { ...CLEAN, samplePoint: "downstream-of-element" }, "fit", []],
    ["no counts", without(CLEAN, "counts"), "resample", ["particles-not-measured"]],
  ])("%s", (_, sample, verdict, codes) => {
    const judged = judge(sample);
    expect(judged).toMatchObject({ verdict, codes });
    expect([judged.circulation, judged.goBy]).toEqual([undefined, undefined]);
  });

  test("a dirty patch is not sent to circulate either", () => {
    const requirement = {
      ...REQUIREMENT,
      cleanliness: [],
      patchTest: { standard: "NAS 1638", classMax: 6 } as const,
    };
    const sample: Sample = {
      ...without(CLEAN, "counts"),
      patchTest: { class: { value: 8 }, standard: "NAS 1638" },
    };
    expect(judge(sample, { requirement }).codes).toEqual(["particles-out-of-reach", "patch-outside"]);
  });

  test("fluid that is too close to its limit to be sure is counted again", () => {
    const confidence = { probability: 0.95 };
    const sample = { ...CLEAN, counts: counts(1299, 319, 39) };
    expect(judge(sample, { requirement: { ...REQUIREMENT, confidence } }).verdict).toBe("resample");
  });

  test("minutes that a requirement asks for are pumped into a can", () => {
    const requirement = {
      ...REQUIREMENT,
      after: [{ event: "element-change" as const, sample: true, circulatedMinutesMin: 10 }],
    };
    const changed = { on: "2026-03-01", kind: "element-change" as const };
    const pumped = { on: "2026-03-02", kind: "circulation" as const, minutes: 10 };
    const withEvents = (...events: Circuit["events"]) => ({
      circuit: { ...DELIVERS_ONLY, events },
      requirement,
    });
    const before = judge(CLEAN, withEvents(changed));
    expect(before).toMatchObject({ verdict: "circulate", codes: ["not-circulated-since"] });
    expect(before.next.steps[0]?.text).toContain("pumped into a clean can");
    expect(judge(CLEAN, withEvents(changed, pumped))).toMatchObject({ verdict: "fit", codes: [] });
  });

  test("the same fluid in a circuit that circulates is circulated", () => {
    const circuit = read({ flow: "15 L/min", element: ELEMENT }) as Circuit;
    const judged = judge({ ...CLEAN, counts: counts(20_000, 5000, 640) }, { circuit });
    expect(judged).toMatchObject({ verdict: "circulate", codes: ["particles-outside"] });
    expect(judged.goBy?.kind).toBe("minutes");
  });
});
