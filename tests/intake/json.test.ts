import { describe, expect, test } from "vitest";
import {
  describeIssue,
  parseCartsFile,
  parseColumnMap,
  parseRequirementsFile,
  readLabFile,
} from "../../src/intake/index.js";

const encode = (text: string) => new TextEncoder().encode(text);

/** A JSON document of one sample, and the same in JSON Lines beside a sound one. */
function filesWith(fields: string): [string, string][] {
  const entry = (sample: string, rest: string) =>
    `{"sample":${sample},"cart":"C-1","circuit":"fore","drawn on":"2026-03-04",${rest}}`;
  const sound = entry('"S-2"', '"4 µm(c) per mL":100');
  return [
    ["lab.json", `[${entry('"S-1"', fields)},${sound}]`],
    ["lab.jsonl", `${entry('"S-1"', fields)}\n${sound}\n`],
  ];
}

describe("a number that no computer holds as it is written is told as the file has it", () => {
  test.each(filesWith('"4 µm(c) per mL":1e999,"water (mg/kg)":-1E400'))("%s", async (file, text) => {
    const { samples, quarantine } = await readLabFile(file, encode(text));
    expect(samples.map(({ sample }) => sample)).toEqual(["S-2"]);
    expect(quarantine.flatMap(({ issues }) => issues.map(describeIssue))).toEqual([
      `${file} row 1, column "4 µm(c) per mL": expected a number of 0 or more and below 1.8e308, found "1e999"`,
      `${file} row 1, column "water (mg/kg)": expected a number of 0 or more, found "-1E400"`,
    ]);
    expect(quarantine[0]?.text).toContain("1e999");
    expect(quarantine[0]?.text).not.toContain("null");
  });

  test("in a row that is no object", async () => {
    const { quarantine } = await readLabFile(
      "lab.json",
      encode(filesWith('"note":1')[0]?.[1].replace("[", "[[1e999],") ?? ""),
    );
    expect(quarantine.map(({ text }) => text)).toEqual(['["1e999"]']);
  });

  test("beside texts and names that look the same, and after a text with quotes in it", async () => {
    const fields = String.raw`"note \" 1e999":"a \\","1e999":"\"1e999","water (mg/kg)":1e+0999`;
    for (const [file, text] of filesWith(fields)) {
      const { quarantine, unusedColumns } = await readLabFile(file, encode(text));
      expect(quarantine.flatMap(({ issues }) => issues.map(({ value }) => value))).toEqual(["1e+0999"]);
      expect(unusedColumns).toEqual(['note " 1e999', "1e999"]);
    }
  });

  test("in the same words in delimited text", async () => {
    const text = "sample,cart,circuit,drawn on,water (mg/kg)\nS-1,C-1,fore,2026-03-04,1e999\n";
    const { quarantine } = await readLabFile("lab.csv", encode(text));
    expect(quarantine.flatMap(({ issues }) => issues.map(describeIssue))).toEqual([
      'lab.csv row 2, column "water (mg/kg)": expected a number of 0 or more and below 1.8e308, found "1e999"',
    ]);
  });

  test("JSON Lines are told by their first line, whatever numbers are in it", async () => {
    const text = filesWith('"4 µm(c) per mL":1e999')[1]?.[1] ?? "";
    const { readAs, samples, quarantine } = await readLabFile("lab.json", encode(text));
    expect([readAs, samples.length, quarantine.length]).toEqual(["JSON Lines, UTF-8", 1, 1]);
  });

  test("no quotation marks of ours make JSON of what is none", async () => {
    const text = filesWith('"water (mg/kg)":01e999')[1]?.[1] ?? "";
    const { quarantine } = await readLabFile("lab.jsonl", encode(text));
    expect(quarantine[0]?.issues[0]?.code).toBe("row-not-split");
  });

  test("two long numbers of bottles that differ in their last figures stay two", async () => {
    const text = filesWith('"water (mg/kg)":120')[1]?.[1] ?? "";
    const numbered = text.replace('"S-1"', "12345678901234567891").replace('"S-2"', "12345678901234567892");
    const { samples } = await readLabFile("lab.jsonl", encode(numbered));
    expect(samples.map(({ sample }) => sample)).toEqual(["12345678901234567891", "12345678901234567892"]);
    expect(samples[0]?.waterPpm).toEqual({ value: 120 });
  });
});

const CIRCUIT = {
  circuit: "fore",
  serves: "main system",
  fluid: "MIL-PRF-83282",
  volume: "60 L",
  flow: "45 L/min",
  element: { position: "return", betas: [{ sizeUmC: 6, beta: 100 }] },
};

/** A carts file in which one text is in the place of another. */
function cartsWith(before: string, after: string): () => unknown {
  const right = JSON.stringify({ carts: [{ cart: "C-1", circuits: [CIRCUIT] }] });
  expect(() => parseCartsFile("carts.json", right)).not.toThrow();
  expect(right).toContain(before);
  return () => parseCartsFile("carts.json", right.replace(before, after));
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

test.each([
  [50, "is read"],
  [51, "carts.json: carts.0.circuits: expected a list of at most 50, found a list"],
])("a cart of %i circuits", (circuits, said) => {
  const all = Array.from({ length: circuits }, (_, place) => ({ ...CIRCUIT, circuit: `tank ${place}` }));
  const read = () =>
    parseCartsFile("carts.json", JSON.stringify({ carts: [{ cart: "C-1", circuits: all }] }));
  if (circuits > 50) expect(read).toThrow(said);
  else expect(read().carts[0]?.circuits).toHaveLength(circuits);
});

test("a place of a file is named as people know it as well, for it counts from 0", () => {
  const { element: _, ...bare } = CIRCUIT;
  const carts = [
    { cart: "C-1", circuits: [CIRCUIT] },
    { cart: "C-2", circuits: [bare] },
    { cart: "C-3", circuits: [] },
  ];
  expect(() => parseCartsFile("carts.json", JSON.stringify({ carts }))).toThrow(
    /carts\.1\.circuits\.0\.element: is missing, expected the filter element .* \(cart "C-2", circuit "fore"\)/,
  );
  expect(() => parseCartsFile("carts.json", JSON.stringify({ carts: 3 }))).toThrow(/found 3$/);
  const limits = { document: "limits", revision: "1", systems: [{ system: "main", waterPpmMax: -1 }] };
  expect(() => parseRequirementsFile("limits.json", JSON.stringify(limits))).toThrow(
    'systems.0.waterPpmMax: expected a number above 0, found -1 (system "main")',
  );
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
    return () => parseRequirementsFile("r.json", JSON.stringify({ document: "d", revision: "1", systems }));
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
    expect(() => parseColumnMap("m.json", map)).toThrow(
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
    expect(() => parseColumnMap("m.json", map)).toThrow(message);
  });

  test("a column map for another version", () => {
    const map = JSON.stringify({ siltbookColumnMap: 2, name: "n" });
    expect(() => parseColumnMap("m.json", map)).toThrow("m.json: siltbookColumnMap: expected 1, found 2");
  });
});
