import { describe, expect, test } from "vitest";
import { parseCartsFile, readLabFile } from "../../src/intake/index.js";
import { readJsonText } from "../../src/intake/rows/json-text.js";

const CHANGED = [
  "1e999",
  "-1e999",
  "20260314000000000017",
  "-9007199254740993",
  "9".repeat(400),
  "1e-999",
  "-1E-400",
  `0.${"0".repeat(400)}1`,
];
const KEPT = [
  "0",
  "-0",
  "0.0",
  "0e5",
  "0.00E+9",
  "1.50",
  "1e300",
  "1e-300",
  "9007199254740992",
  "0.1000000000000000055",
  "1E+2",
];

const row = (number: string) =>
  `{"sample":${number},"cart":"C-1","circuit":"fore","drawn on":"2026-03-04","water (mg/kg)":120}`;
const read = (file: string, text: string) => readLabFile(file, new TextEncoder().encode(text));

describe("numbers of a JSON file that reading would change", () => {
  test.each(CHANGED)("%s is found, with its line", (written) => {
    const { numbersNotKept, data } = readJsonText(`{"a": 1,\n"b": [${written}]}`);
    expect(numbersNotKept).toEqual([{ written, line: 2 }]);
    expect(data).toEqual({ a: 1, b: [written] });
  });

  test.each(KEPT)("%s is kept", (written) => {
    expect(readJsonText(`[${written}]`).numbersNotKept).toEqual([]);
  });

  test("what is in quotation marks is no number", () => {
    const text = String.raw`{"1e999": "\" 1e999 \\", "b": "20260314000000000017"}`;
    expect(readJsonText(text).numbersNotKept).toEqual([]);
  });

  test("a million quotation marks that never close are no JSON", () => {
    expect(() => readJsonText(`"${'\\"'.repeat(1_000_000)}`)).toThrow(SyntaxError);
  });

  test("a sample number of many figures is kept as text, in a document and in JSON Lines", async () => {
    const [long, other] = [row("20260314000000000017"), row('"S-2"')];
    for (const [file, text] of [
      ["lab.json", `[${long},\n${other}]`],
      ["lab.jsonl", `${long}\n${other}\n`],
    ] as const) {
      const { samples, quarantine } = await read(file, text);
      expect(samples.map(({ sample }) => sample)).toEqual(["20260314000000000017", "S-2"]);
      expect(quarantine).toEqual([]);
    }
  });

  test("a carts file with one is refused with its line", () => {
    expect(() => parseCartsFile("carts.json", '{"carts":\n 1e999}')).toThrow(
      "carts.json: line 2: expected numbers that can be kept as they are written; a name of many figures in quotation marks, found 1e999",
    );
  });
});
