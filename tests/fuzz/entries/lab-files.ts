import { writeFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import {
  bytesInMemory,
  bytesOnDisk,
  type ColumnMap,
  describeIssue,
  describeMeaning,
  findTables,
  mapToEdit,
  openLabFile,
  parseColumnMap,
  quarantineFilesOf,
  readLabFile,
  sha256Of,
  understand,
} from "../../../src/intake/index.js";
import { sampleSchema } from "../../../src/samples/index.js";
import { plainSamples, twelveFiles } from "../../support/forty-samples.js";
import { attempt, attemptLater, mustBeFinite, mustBeForPeople, mustEqual } from "../claims.js";
import { COLUMN_MAP, LAB_TEXT, SAMPLES } from "../documents.js";
import { editedText, oddName } from "../edits.js";
import { entry } from "../fuzzing.js";
import { editedJson } from "../json-edits.js";
import { scratchFolder } from "../scratch.js";

const files = await twelveFiles(plainSamples(3));
const textFiles = files.filter(({ file }) => /\.(csv|txt)$/.test(file));
const asText = ({ bytes }: { bytes: Uint8Array }) => {
  const utf16 = bytes.indexOf(0);
  if (utf16 === -1) return new TextDecoder().decode(bytes);
  return new TextDecoder(utf16 % 2 === 0 ? "utf-16be" : "utf-16le").decode(bytes);
};

interface File {
  readonly file: string;
  readonly bytes: Uint8Array;
}
const named = (file: string) => (text: string) => ({ file, bytes: new TextEncoder().encode(text) });

/** Files whose text was edited before it was written; bytes are damaged in tests/properties. */
const labFile: fc.Arbitrary<File> = fc.oneof(
  editedText([LAB_TEXT, ...textFiles.map(asText)]).map(named("lab.csv")),
  editedText([LAB_TEXT]).map((text) => ({ file: "lab.txt", bytes: Buffer.from(text, "latin1") })),
  editedText([LAB_TEXT]).map((text) => ({ file: "lab.csv", bytes: Buffer.from(`\ufeff${text}`, "utf16le") })),
  editedJson([
    {
      samples: [
        {
          "sample no": "S-1",
          cart: "C-1",
          circuit: "fore",
          "date drawn": "2026-03-04",
          "water (ppm by mass)": 120,
          counts: { "4 µm(c) per mL": 900 },
        },
      ],
    },
  ]).map(named("lab.json")),
  editedJson([
    SAMPLES[0],
    { sample: "S-1", cart: "C-1", circuit: "1", drawn: "2026-03-04", "acid number (mg KOH/g)": "0,1" },
  ]).map((text) => named("lab.jsonl")(`${text}\n${text}\n`)),
  fc
    .tuple(
      fc.constantFrom("lab.xlsx", "lab.json", "lab.jsonl", "lab.csv", "lab.pdf", "lab"),
      fc.uint8Array({ maxLength: 60 }),
    )
    .map(([file, bytes]) => ({ file, bytes })),
);

const map: fc.Arbitrary<ColumnMap | undefined> = fc.oneof(
  { weight: 3, arbitrary: fc.constant(undefined) },
  {
    weight: 2,
    arbitrary: editedJson([COLUMN_MAP]).map((text) => {
      const outcome = attempt(() => parseColumnMap("map.json", text));
      return "value" in outcome ? outcome.value : undefined;
    }),
  },
);

const TODAY = "2026-12-31";

/** Files of laboratories: every row ends somewhere, every sample is one, and what is said can be read. */
export const LAB_FILE_ENTRIES = [
  entry({
    functions: ["siltbook/intake readLabFile", "src/intake openLabFile", "siltbook/intake describeIssue"],
    inputs: fc.tuple(labFile, map),
    check: async ([{ file, bytes }, columnMap]) => {
      const options = { today: TODAY, ...(columnMap && { map: columnMap }) };
      const read = await attemptLater(() => readLabFile(file, bytes, options));
      if ("error" in read) return refused(file, read.error.message, bytes);
      const { samples, quarantine, assumptions, notSamples } = read.value;
      mustBeFinite(read.value);
      for (const sample of samples) sampleSchema.parse(sample);
      const brought = [...quarantine, ...notSamples].map(({ text }) => text);
      for (const { issues } of quarantine)
        for (const issue of issues)
          mustBeForPeople(describeIssue(issue), ...brought, JSON.stringify(columnMap) ?? "");
      for (const { message } of assumptions) mustBeForPeople(message, textOf(bytes));
      const opened = await openLabFile(bytesInMemory(file, bytes), options);
      const fates = [...opened.fates()];
      const taken = fates.flatMap((fate) => (fate.kind === "sample" ? [fate.fate.sample] : []));
      mustEqual(taken, samples, "as a whole and row by row");
      return true;
    },
    runs: 150,
  }),
  entry({
    functions: ["src/intake understand", "src/intake mapToEdit"],
    inputs: fc.tuple(labFile, map),
    check: async ([{ file, bytes }, columnMap]) => {
      const tables = await attemptLater(() => understand(bytesInMemory(file, bytes), columnMap));
      if ("error" in tables) return refused(file, tables.error.message, bytes);
      for (const { columns } of tables.value)
        for (const { recognition } of columns)
          if (recognition.kind === "known")
            mustBeForPeople(describeMeaning(recognition.meaning), textOf(bytes));
      const written = JSON.stringify(mapToEdit(file, tables.value));
      const again = attempt(() => parseColumnMap("map.json", written));
      if ("error" in again && !/still open|differ only|__proto__/.test(again.error.message))
        throw again.error;
      return true;
    },
    runs: 100,
  }),
  entry({
    functions: ["src/intake findTables", "src/intake quarantineFilesOf"],
    inputs: fc.tuple(labFile, map),
    check: async ([{ file, bytes }, columnMap]) => {
      const options = columnMap && { map: columnMap };
      const source = bytesInMemory(file, bytes);
      const read = await attemptLater(() => readLabFile(file, bytes, options));
      const found = await attemptLater(() => findTables(source, columnMap));
      if ("error" in read || "error" in found) return false;
      for (const table of found.value.tables) {
        for (const made of quarantineFilesOf(table, read.value.quarantine, sha256Of(source), columnMap)) {
          const again = parseColumnMap("map.json", JSON.stringify(made.map));
          const back = await attemptLater(() =>
            readLabFile("q.csv", new TextEncoder().encode(made.csv), { map: again }),
          );
          if ("error" in back) {
            // A title that a person has to settle is in it as it stood before, and is required by name.
            if (/a column map has to|expected (?:a header with )?columns (?:for|of)/.test(back.error.message))
              continue;
            throw new Error(`cannot be fed back: ${back.error.message}`);
          }
          const lines = back.value.quarantine.length + back.value.samples.length;
          if (lines === 0) throw new Error("nothing comes back of a quarantine file");
        }
      }
      return read.value.quarantine.length > 0;
    },
    runs: 100,
  }),
  entry({
    functions: [...["siltbook/intake bytesInMemory", "siltbook/intake bytesOnDisk", "src/intake sha256Of"]],
    inputs: fc.tuple(fc.uint8Array({ maxLength: 300 }), oddName),
    check: ([bytes, path]) => {
      const kept = join(scratchFolder(), "bytes");
      writeFileSync(kept, bytes);
      mustEqual(sha256Of(bytesOnDisk(kept)), sha256Of(bytesInMemory("a", bytes)), "on disk and in memory");
      attempt(() => sha256Of(bytesOnDisk(join(scratchFolder(), "none", path))));
      attempt(() => sha256Of(bytesOnDisk(join(kept, path))));
      return true;
    },
    runs: 150,
  }),
];

/** The letters of a file, in any of the encodings that it is written in here. */
const textOf = (bytes: Uint8Array) => new TextDecoder().decode(bytes).replaceAll("\0", "");

function refused(file: string, message: string, bytes: Uint8Array): false {
  if (!message.includes(file)) throw new Error(`no file is named: ${message}`);
  mustBeForPeople(message, textOf(bytes));
  return false;
}
