import type { DataFrame } from "danfojs";
import fc from "fast-check";
import { NAS_1638 } from "../../../src/cleanliness/index.js";
import { drawClassTable, isPicture, onPaper, renderPng } from "../../../src/figures/index.js";
import { renderFrame, samplesOfFrame } from "../../../src/frames/index.js";
import { sampleColumns } from "../../../src/frames/sample-columns.js";
import { richOf } from "../../../src/notebook/index.js";
import { sampleSchema } from "../../../src/samples/index.js";
import { attempt, mustBeFinite, mustBeForPeople, mustEqual } from "../claims.js";
import { SAMPLES } from "../documents.js";
import { editedText, ODD_TEXTS, oddName } from "../edits.js";
import { entry } from "../fuzzing.js";

/** A frame as the room of frames makes it, without the library, which takes seconds to load. */
const samples = SAMPLES.map((sample) => sampleSchema.parse(sample));
const COLUMNS = sampleColumns(samples);
const frame = {
  columns: COLUMNS.map(({ name }) => name),
  dtypes: COLUMNS.map(({ type }) => (type === "string" ? "string" : "float32")),
  index: samples.map((_, row) => row),
  shape: [samples.length, COLUMNS.length],
  values: samples.map((sample): unknown[] => COLUMNS.map((column) => column.of(sample) ?? null)),
};

const cell = fc.oneof(
  fc.constantFrom<unknown>(
    ...ODD_TEXTS,
    null,
    undefined,
    Number.NaN,
    Number.POSITIVE_INFINITY,
    -1,
    0,
    true,
    "{}",
    "[1]",
  ),
  fc.constantFrom(
    '{"4":5}',
    '{"4":"x"}',
    '[{"file":"a","rows":[0]}]',
    '{"__proto__":1}',
    "1e999",
    '"text"',
    "[[[[",
  ),
);
const place = fc.noBias(fc.nat(999_999));

/** A frame in which a person changed cells or titles, or took a column away. */
const changedFrame = fc
  .array(
    fc.record({ kind: fc.constantFrom("cell", "title", "take"), row: place, column: place, value: cell }),
    {
      maxLength: 4,
    },
  )
  .map((changes) => {
    const changed = { ...frame, columns: [...frame.columns], values: frame.values.map((row) => [...row]) };
    for (const { kind, row, column, value } of changes) {
      const at = column % changed.columns.length;
      if (kind === "cell") (changed.values[row % changed.values.length] as unknown[])[at] = value;
      else if (kind === "title") changed.columns[at] = String(value);
      else {
        changed.columns.splice(at, 1);
        for (const cells of changed.values) cells.splice(at, 1);
      }
    }
    return changed;
  });

/** Everything that is in a frame, as it shows it. */
const cellsOf = ({ columns, values, index }: typeof frame) => String([columns, values, index]);

const picture = drawClassTable(NAS_1638, "limits");

/** What comes in by a notebook, and what is drawn with a name from outside. */
export const SHOWN_ENTRIES = [
  entry({
    functions: ["siltbook/frames samplesOfFrame"],
    inputs: changedFrame,
    check: (changed) => {
      const read = attempt(() => samplesOfFrame(changed as unknown as DataFrame));
      if ("error" in read) {
        // A number without end in a frame is named as the frame shows it.
        mustBeForPeople(read.error.message, cellsOf(changed));
        return false;
      }
      mustBeFinite(read.value);
      mustEqual(
        read.value.map((sample) => sampleSchema.parse(sample)),
        read.value,
        "samples are samples",
      );
      return true;
    },
    runs: 150,
  }),
  entry({
    functions: ["siltbook/frames renderFrame", "siltbook/notebook richOf"],
    inputs: fc.tuple(changedFrame, oddName),
    check: ([changed, caption]) => {
      const html = attempt(() => renderFrame(changed, caption));
      if ("error" in html) throw html.error;
      if (/<(script|img|a )/i.test(html.value)) throw new Error("a tag from outside");
      const rows = changed.values.map((cells) =>
        Object.fromEntries(changed.columns.map((name, at) => [name, cells[at] as string])),
      );
      for (const shown of [changed, rows, [{ message: caption }], caption]) {
        const rich = attempt(() => richOf(shown, caption));
        if ("error" in rich) throw rich.error;
      }
      return true;
    },
    runs: 30,
  }),
  entry({
    functions: ["src/figures isPicture", "siltbook/figures onPaper"],
    inputs: editedText([
      picture,
      drawClassTable(NAS_1638, 'R&D "<b>'),
      "<svg></svg>",
      '<svg><a href="x">y</a></svg>',
      '<svg onload="x"></svg>',
    ]),
    check: (text) => {
      const is = attempt(() => isPicture(text));
      const paper = attempt(() => onPaper(text, "dark"));
      if ("error" in is || "error" in paper) throw new Error("neither may throw");
      if (is.value && /<(script|a|image|foreignObject)[\s>]|\son\w+=/i.test(text.replace(/>[^<]*</g, "><")))
        throw new Error("something that acts was taken for a picture");
      return is.value;
    },
    runs: 30,
  }),
  entry({
    functions: ["siltbook/figures drawClassTable", "siltbook/figures renderPng"],
    inputs: oddName,
    check: (title) => {
      const drawn = attempt(() => drawClassTable(NAS_1638, title));
      if ("error" in drawn) throw drawn.error;
      if (!isPicture(drawn.value)) throw new Error("no picture");
      const png = attempt(() => renderPng(drawn.value, { scale: 0.2 }));
      if ("error" in png) throw png.error;
      return true;
    },
    runs: 8,
  }),
];
