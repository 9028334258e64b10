import { describe, expect, test } from "vitest";
import {
  readCartsFile,
  readColumnMap,
  readLabFile,
  readRequirementsFile,
  sayIssue,
} from "../../src/intake/index.js";

const encode = (text: string) => new TextEncoder().encode(text);

test("a number too large for any is told in delimited text by what is too much about it", async () => {
  const text = "sample,cart,circuit,drawn on,water (mg/kg)\nS-1,C-1,fore,2026-03-04,1e999\n";
  const { quarantine } = await readLabFile("lab.csv", encode(text));
  expect(quarantine.flatMap(({ issues }) => issues.map(sayIssue))).toEqual([
    'lab.csv row 2, column "water (mg/kg)": expected a number of 0 or more and below 1.8e308, found "1e999"',
  ]);
});

const CIRCUIT = {
  circuit: "fore",
  serves: "main system",
  fluid: "MIL-PRF-83282",
  volume: "60 L",
  flow: "45 L/min",
  element: { position: "return", betas: [{ sizeUmC: 6, beta: 100 }] },
};

/** A carts file in which one text stands in the place of another. */
function cartsWith(before: string, after: string): () => unknown {
  const right = JSON.stringify({ carts: [{ cart: "C-1", circuits: [CIRCUIT] }] });
  expect(() => readCartsFile("carts.json", right)).not.toThrow();
  expect(right).toContain(before);
  return () => readCartsFile("carts.json", right.replace(before, after));
}

describe("a carts file says the place, what was expected there and what it has", () => {
  const AT = "carts.json: carts.0.circuits.0";
  test.each([
    ['"beta":100', '"beta":"100"', `${AT}.element.betas.0.beta: expected a number, found "100"`],
    ['"beta":100', '"beta":0.5', `${AT}.element.betas.0.beta: expected a number of 1 or more, found 0.5`],
    ['"sizeUmC":6', '"sizeUmC":0', `${AT}.element.betas.0.sizeUmC: expected a number above 0, found 0`],
    ['"fluid":"MIL-PRF-83282"', '"fluid":"red oil"', `${AT}.fluid: expected one of "AS1241 Type IV"`],
    ['"volume":"60 L"', '"volume":60', `${AT}.volume: expected a text, found 60`],
    ['"volume":"60 L",', "", `${AT}.volume: is missing, expected a text`],
    ['"serves":"main system"', '"serves":""', `${AT}.serves: expected a text that is not empty, found ""`],
    ['"serves":"main system"', '"serves":null', `${AT}.serves: expected a text, found null`],
    ['"circuit":"fore"', '"circuit":"fo\\u200bre"', `${AT}.circuit: expected readable characters`],
    [
      '"serves"',
      '"events":[{"on":"31.02.2026","kind":"top-up"}],"serves"',
      `${AT}.events.0.on: expected a day such as 2026-03-14, found "31.02.2026"`,
    ],
    ['"serves"', '"colour":"clear","serves"', `${AT}: "colour" is not known here`],
    ['[{"sizeUmC":6,"beta":100}]', "{}", `${AT}.element.betas: expected a list, found an object`],
    ['[{"sizeUmC":6,"beta":100}]', "[]", `${AT}.element.betas: expected a list of 1 or more, found a list`],
    [
      '{"position":"return","betas":[{"sizeUmC":6,"beta":100}]}',
      "[7]",
      `${AT}.element: expected an object, found a list`,
    ],
    ['"serves"', '"drained":2,"serves"', `${AT}.drained: expected a number of at most 1, found 2`],
  ])("%s made %s", (before, after, message) => {
    expect(cartsWith(before, after)).toThrow(message);
  });
});

describe("other files of JSON in the same words", () => {
  const limits = (more: object) => {
    const system = {
      system: "main system",
      fluids: ["MIL-PRF-83282"],
      cleanliness: ["17/15/12"],
      waterPpmMax: 200,
    };
    const systems = [{ ...system, acidMgKohPerGMax: 0.2, sampleAgeDaysMax: 90, ...more }];
    return () => readRequirementsFile("r.json", JSON.stringify({ document: "d", revision: "1", systems }));
  };

  test.each([
    [{ sampleAgeDaysMax: 1.5 }, "systems.0.sampleAgeDaysMax: expected a whole number, found 1.5"],
    [{ sampling: { flowing: false } }, "systems.0.sampling.flowing: expected true, found false"],
    [
      { confidence: { counts: { reproducibility: { kind: "some" } } } },
      'systems.0.confidence.counts.reproducibility.kind: expected one of "relative", "codes", found "some"',
    ],
    [
      { confidence: { counts: { reproducibility: {} } } },
      'systems.0.confidence.counts.reproducibility.kind: is missing, expected one of "relative", "codes"',
    ],
    [
      { confidence: { water: { sd: -1 } } },
      "systems.0.confidence.water.sd: expected a number above 0, found -1",
    ],
    [
      { confidence: { water: {} } },
      'systems.0.confidence.water: fits no form: (method: is missing, expected one of "',
    ],
    [
      { confidence: { water: {} } },
      ") or (sd: is missing, expected a number) or (rsd: is missing, expected a number)",
    ],
    [
      { identity: { colours: ["Amber"] } },
      'systems.0.identity.colours.0: expected a text in lower case, found "Amber"',
    ],
    [{ metalsPpmMax: { gold: 1 } }, 'systems.0.metalsPpmMax: "gold" is not known here'],
    [{ cleanliness: ["clean"] }, "systems.0.cleanliness.0: "],
  ])("a requirement with %j", (more, message) => {
    expect(limits({})).not.toThrow();
    expect(limits(more)).toThrow(message);
  });

  test("a column map with a zone that is none", () => {
    const map = JSON.stringify({ siltbookColumnMap: 1, name: "n", zone: "CET", columns: {} });
    expect(() => readColumnMap("m.json", map)).toThrow(
      'm.json: zone: expected Z or an offset such as +02:00, found "CET"',
    );
  });

  test.each([
    [
      { holds: "count", fromUm: 4, scale: "um", volumeMl: 1 },
      'm.json: columns.x.scale: expected one of "um(c)", "um-older", "um-microscope", found "um"',
    ],
    [
      { holds: "count", fromUm: "4" },
      'm.json: columns.x.fromUm: expected a number, found "4"; columns.x.scale: is missing',
    ],
    [{ holds: "counts", fromUm: 4 }, 'm.json: columns.x.holds: expected one of "count", "water", "acid", '],
    [{ holds: "water", unit: "buckets" }, 'found "buckets"'],
    [{ holds: "nothing", unit: "L" }, 'm.json: columns.x: "unit" is not known here'],
    [{}, 'm.json: columns.x.holds: is missing, expected one of "count", "water", "acid", '],
  ])("a column map with a meaning of %j", (meaning, message) => {
    const map = JSON.stringify({ siltbookColumnMap: 1, name: "n", columns: { x: meaning } });
    expect(() => readColumnMap("m.json", map)).toThrow(message);
  });

  test("a column map for another version", () => {
    const map = JSON.stringify({ siltbookColumnMap: 2, name: "n" });
    expect(() => readColumnMap("m.json", map)).toThrow("m.json: siltbookColumnMap: expected 1, found 2");
  });
});
