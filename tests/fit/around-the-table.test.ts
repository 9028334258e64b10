// What stands around a table and in columns of other titles decides a verdict as it does in a column of its own.
import { describe, expect, test } from "vitest";
import {
  blockFile,
  CARTS,
  CLEAN,
  longFile,
  oneCircuit,
  REQUIREMENT,
  wideFile,
} from "../support/one-circuit.js";

const one = oneCircuit();
const verdictOf = async (text: string, ...more: string[]) => (await one.judge(text, ...more)).verdict;

describe("how the bottles were filled, and their colour", () => {
  test.each([
    ["Sampling point: drain"],
    ["Sampling point: filter bowl"],
    ["Sampling point,drum"],
    ["Probenahmestelle: Ablass"],
    ["Flowing: no"],
    ["Colour: black"],
    ["Farbe: schwarz"],
  ])("%s: prevents fit, above a table and below it", async (line) => {
    expect(await verdictOf(`${line}\n${wideFile({})}`)).not.toBe("fit");
    expect(await verdictOf(`${wideFile({})}${line}\n`)).not.toBe("fit");
  });

  test.each([
    ["Sampling point: pressure line"],
    ["Flowing: yes"],
    ["Colour: red"],
    ["Colour: by eye"],
    ["Colour: ASTM D1500"],
  ])("%s: sends nobody away", async (line) => {
    expect(await verdictOf(`${line}\n${wideFile({})}`)).toBe("fit");
    expect(await verdictOf(`${wideFile({})}${line}\n`)).toBe("fit");
  });

  test("the colour of another fluid above a table is that of its samples", async () => {
    expect((await one.judge(`Colour: purple\n${wideFile({})}`)).codes).toContain("colour-of-another-fluid");
  });
});

describe("lists of texts next to the samples of a document", () => {
  const [titles = [], cells = []] = wideFile({})
    .trim()
    .split("\n")
    .map((row) => row.split(","));
  const sample = Object.fromEntries(titles.map((title, at) => [title, cells[at]]));
  const judged = (document: object) => verdictOf(JSON.stringify(document));

  test.each([
    [{ notes: ["Counted by ISO 11500"] }],
    [{ attachments: [] }],
    [{ notes: ["Counted twice", "Water in duplicate"] }],
  ])("%j says nothing of them", async (more) => {
    expect(await judged({ ...more, samples: [sample] })).toBe("fit");
  });

  test("what is wrong there is of every sample", async () => {
    expect(await judged({ notes: ["Counted twice", "Bottles leaked"], samples: [sample] })).toBe("resample");
  });

  test("two lists of objects are named, and neither is chosen", async () => {
    const file = one.write("two.json", JSON.stringify({ first: [sample], second: [sample] }));
    const { err, code } = await one.run("columns", file);
    expect([code, err]).toEqual([2, expect.stringContaining('found lists "first", "second"')]);
  });
});

describe("rows of a long file that say twice when a bottle came in", () => {
  const received = (...days: string[]) =>
    longFile({}) + days.map((day) => [...CLEAN.slice(0, 5), "Date received", day, ""].join(",")).join("\n");

  test.each([[["2026-03-05"]], [["2026-03-05", "2026-03-05"]]])("%j is one day", async (days) => {
    expect(await verdictOf(received(...days))).toBe("fit");
  });

  test.each([[["2026-03-05", "2026-03-09"]], [["2026-03-05", "2026-03-01"]]])("%j waits", async (days) => {
    const { verdict, quarantine } = await one.judge(received(...days));
    expect([verdict, quarantine.map(({ code }: { code: string }) => code)]).toEqual([
      "resample",
      ["repeated-measurand", "repeated-measurand"],
    ]);
  });
});

describe("a report that names its fluid under another title", () => {
  const [system] = REQUIREMENT.systems;
  const labelled = { ...REQUIREMENT, systems: [{ ...system, sampling: { labelled: true } }] };
  const judged = async (title: string, fluid: string) => {
    const files = {
      carts: one.write("own-carts.json", JSON.stringify(CARTS)),
      requirement: one.write("labelled.json", JSON.stringify(labelled)),
      lab: one.write(
        "oil.csv",
        wideFile({}).replace(",fluid,", `,${title},`).replace("MIL-PRF-83282", fluid),
      ),
    };
    const { out } = await one.run(
      ...["judge", files.lab, "--carts", files.carts, "--requirement", files.requirement],
      ...["--on", "2026-03-14", "--json"],
    );
    const [circuit] = JSON.parse(out).circuits;
    return { ...circuit, said: circuit.reasons.map(({ code }: { code: string }) => code) };
  };

  test.each(["Oil", "Öl", "Huile", "Lubricant", "Product"])("%s", async (title) => {
    expect(await judged(title, "MIL-PRF-83282")).toMatchObject({ verdict: "fit" });
    expect((await judged(title, "MIL-PRF-5606")).verdict).not.toBe("fit");
  });

  test.each([
    ["Oil", "clear"],
    ["Approved oil", "MIL-PRF-83282"],
    ["Method", "MIL-PRF-83282"],
  ])("%s: %s names none", async (title, cell) => {
    expect((await judged(title, cell)).said).toContain("fluid-not-stated");
  });
});

test.each([
  ["Diagnosis", "fluid must be replaced"],
  ["Remarks", "metal chips in all bottles"],
  ["Data source", "values entered by hand, not checked"],
])("%s: %s holds in a column, in a block and in a line", async (title, text) => {
  for (const file of [
    wideFile({ [title]: text }),
    blockFile({ [title]: text }),
    `${wideFile({})}"${title}: ${text}"\n`,
  ])
    expect(await verdictOf(file)).not.toBe("fit");
});

test.each([
  ["Footnote", "Abnormal results are reported by telephone"],
  ["Remarks", "Abnormal results are reported by telephone"],
  ["Sample type", "resample"],
  ["Task", "change filter"],
  ["Weight lost (%)", "0.1"],
  ["Sample description", "training cart"],
])("%s: %s sends nobody away", async (title, text) => {
  expect(await verdictOf(wideFile({ [title]: text }))).toBe("fit");
});
