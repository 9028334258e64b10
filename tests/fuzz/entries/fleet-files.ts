import { writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import {
  casesOf,
  describeVerdict,
  judgeCarts,
  judgeCircuit,
  recompute,
  recordOf,
  traceAircraft,
  traceCart,
} from "../../../src/fitness/index.js";
import {
  columnMapSchema,
  parseCartsFile,
  parseColumnMap,
  parseRequirementsFile,
  readFleetFiles,
  readRequirementsFile,
  readSampleFiles,
  textOnDisk,
} from "../../../src/intake/index.js";
import { renderLabels, renderReport } from "../../../src/report/index.js";
import { cartsFileSchema, requirementsFileSchema, sampleSchema } from "../../../src/samples/index.js";
import { attempt, attemptLater, mustBeFinite, mustBeForPeople, mustEqual } from "../claims.js";
import { CARTS, COLUMN_MAP, LAB_TEXT, REQUIREMENTS, SAMPLES } from "../documents.js";
import { editedText } from "../edits.js";
import { entry } from "../fuzzing.js";
import { editedJson, mildlyEditedJson } from "../json-edits.js";
import { scratchFolder } from "../scratch.js";

/** JSON, or nothing where the text is none. */
function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** What a schema makes of a text, if anything; it never throws. */
function accepted<T>(schema: { safeParse(value: unknown): { data?: T | undefined } }, text: string) {
  const outcome = attempt(() => schema.safeParse(parsed(text)));
  if ("error" in outcome) throw outcome.error;
  mustBeFinite(outcome.value.data);
  return outcome.value.data;
}

/** A reader of a JSON file: read, or refused with the file's name and a place. */
function readsOrRefuses(text: string, read: (file: string, text: string) => unknown): boolean {
  const outcome = attempt(() => read("f.json", text));
  if ("value" in outcome) {
    mustBeFinite(outcome.value);
    return true;
  }
  const { message } = outcome.error;
  if (!message.startsWith("f.json: ")) throw new Error(`no file is named: ${message}`);
  mustBeForPeople(message, text);
  return false;
}

const carts = editedJson([CARTS]);
const requirements = editedJson([REQUIREMENTS]);
const lab = fc.oneof(fc.constant(LAB_TEXT), editedText([LAB_TEXT]));
const fleet = fc.tuple(
  mildlyEditedJson([CARTS]),
  mildlyEditedJson([REQUIREMENTS]),
  fc.array(mildlyEditedJson(SAMPLES), { minLength: 1, maxLength: 5 }),
  fc.constantFrom("2026-03-14", "2026-03-14", "2026-01-01", "2030-12-31"),
);

/** Everything that is read with a schema: the texts that are accepted are of use, the others are refused. */
export const FLEET_FILE_ENTRIES = [
  entry({
    functions: ["siltbook/intake parseCartsFile"],
    inputs: carts,
    check: (text) => readsOrRefuses(text, parseCartsFile),
    runs: 600,
  }),
  entry({
    functions: ["siltbook/intake parseRequirementsFile"],
    inputs: requirements,
    check: (text) => readsOrRefuses(text, parseRequirementsFile),
    runs: 600,
  }),
  entry({
    functions: ["siltbook/intake parseColumnMap", "siltbook/intake columnMapSchema"],
    inputs: editedJson([COLUMN_MAP]),
    check: (text) => {
      readsOrRefuses(text, parseColumnMap);
      const map = accepted(columnMapSchema, text);
      if (map === undefined) return false;
      mustEqual(accepted(columnMapSchema, JSON.stringify(map)), map, "read again");
      return true;
    },
    runs: 800,
  }),
  entry({
    functions: ["siltbook/samples sampleSchema"],
    inputs: editedJson(SAMPLES),
    check: (text) => {
      const sample = accepted(sampleSchema, text);
      if (sample === undefined) return false;
      mustEqual(accepted(sampleSchema, JSON.stringify(sample)), sample, "read again");
      return true;
    },
    runs: 800,
  }),
  entry({
    functions: [
      ...[
        "siltbook/samples cartsFileSchema",
        "siltbook/samples requirementsFileSchema",
        "siltbook judgeCarts",
      ],
      ...["siltbook judgeCircuit", "siltbook/fitness recordOf", "siltbook/fitness recompute"],
      ...["siltbook/fitness traceCart", "siltbook/fitness traceAircraft"],
    ],
    inputs: fleet,
    check: (input) => judge(input) !== undefined,
    runs: 120,
  }),
  entry({
    functions: ["siltbook/report renderReport", "siltbook/report renderLabels"],
    inputs: fleet,
    check: (input) => {
      const judged = judge(input);
      if (judged === undefined) return false;
      const quarantine = input[2].map((text, row) => ({ file: text, row, text, issues: [] }));
      const page = renderReport({ ...judged, on: input[3], quarantine });
      if (/<script/i.test(page)) throw new Error("a script in the report");
      const carts = accepted(cartsFileSchema, input[0])?.carts ?? [];
      const labels = attempt(() => renderLabels({ carts, first: "26-0401" }));
      if ("error" in labels) mustBeForPeople(withoutRefused(labels.error.message), ...input.flat());
      else if (/<script/i.test(labels.value)) throw new Error("a script in the labels");
      mustBeForPeople(withoutRefused(page.replace(/<[^>]*>/g, " ")), ...input.flat());
      return true;
    },
    runs: 20,
  }),
  entry({
    functions: [
      ...["siltbook/intake readFleetFiles", "siltbook/intake readSampleFiles"],
      ...["siltbook/intake readRequirementsFile", "src/intake textOnDisk"],
    ],
    inputs: fc.tuple(mildlyEditedJson([CARTS]), mildlyEditedJson([REQUIREMENTS]), lab, fc.nat(19)),
    check: async ([cartsText, requirementsText, labText, missing]) => {
      const folder = scratchFolder();
      const paths = ["carts.json", "requirement.json", "lab.csv"].map((name) => join(folder, name));
      const [cartsPath = "", requirement = "", lab = ""] = paths;
      [cartsText, requirementsText, labText].forEach((text, index) => {
        writeFileSync(paths[index] as string, text);
      });
      const gone = [folder, join(folder, "none"), "", "\0", join(lab, "x")][missing];
      const read = await attemptLater(() =>
        readFleetFiles({ carts: cartsPath, requirement, samples: [gone ?? lab] }),
      );
      await attemptLater(() => readSampleFiles({ carts: gone ?? cartsPath, samples: [lab] }));
      attempt(() => readRequirementsFile(gone ?? requirement));
      attempt(() => textOnDisk(gone ?? lab));
      return "value" in read;
    },
    runs: 60,
  }),
];

/** A volume of 1e308 mL is refused by the count per 100 mL that it comes to, which is named. */
const withoutRefused = (text: string) => text.replaceAll(/not (-?Infinity|NaN)/g, "");

function judge([cartsText, requirementsText, sampleTexts, on]: [string, string, string[], string]) {
  const cartsFile = accepted(cartsFileSchema, cartsText);
  const requirementsFile = accepted(requirementsFileSchema, requirementsText);
  if (cartsFile === undefined || requirementsFile === undefined) return undefined;
  const read = sampleTexts
    .map((text) => accepted(sampleSchema, text))
    .filter((sample) => sample !== undefined);
  const input = {
    carts: cartsFile.carts,
    requirements: requirementsFile.systems,
    samples: read,
    unread: [],
    on,
  };
  const judged = attempt(() => judgeCarts(input));
  if ("error" in judged) {
    mustBeForPeople(withoutRefused(judged.error.message), cartsText, requirementsText, ...sampleTexts);
    return undefined;
  }
  casesOf(input).forEach((circuitCase, index) => {
    const verdict = judged.value[index]?.verdict;
    if (verdict === undefined) throw new Error("a circuit without a verdict");
    mustBeFinite(verdict);
    mustBeForPeople(withoutRefused(describeVerdict(verdict)), cartsText, requirementsText, ...sampleTexts);
    const { inputs } = recordOf(circuitCase, verdict, requirementsFile);
    mustEqual(recompute(inputs), verdict, "judged again from the record");
    mustEqual(judgeCircuit(circuitCase), verdict, "judged by itself");
  });
  const traced = attempt(() => [
    ...input.carts.map(({ cart }) => traceCart(input, cart)),
    traceAircraft(input, "X-17"),
  ]);
  if ("value" in traced) mustBeFinite(traced.value);
  return { circuits: judged.value, requirements: requirementsFile };
}
