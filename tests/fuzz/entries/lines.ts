import fc from "fast-check";
import { SensorLines } from "../../../src/online/index.js";
import { mustBeFinite } from "../claims.js";
import { editedText } from "../edits.js";
import { entry } from "../fuzzing.js";
import { editedJson } from "../json-edits.js";

const AT = 1_773_500_000;
const DATASTREAM = { name: "particles > 4 µm(c)", unitOfMeasurement: { name: "per mL", symbol: "1/mL" } };
const LINES = [
  { n: "particles > 4 µm(c)", u: "1/mL", v: 900, t: AT },
  { n: "ISO 4406", vs: "18/16/13", t: AT },
  { bn: "cart/", bt: AT, bu: "Cel" },
  [
    { n: "temperature", u: "[degF]", v: 110, t: -3 },
    { n: "flow", u: "l/s", v: 0.5, t: 0 },
  ],
  { phenomenonTime: "2026-03-14T14:53:20Z", result: 41.5, Datastream: DATASTREAM },
];

export const LINE_ENTRIES = [
  entry({
    functions: ["siltbook/online SensorLines.read"],
    inputs: fc.oneof(editedJson(LINES), editedText(LINES.map((line) => JSON.stringify(line)))),
    check: (line) => {
      const said = new SensorLines().read(line, 1000 * AT);
      if (said.kind === "readings") mustBeFinite(said.readings);
      else if (said.expected === "") throw new Error("not read, and nothing was expected");
      return said.kind === "readings";
    },
    runs: 2000,
  }),
];
