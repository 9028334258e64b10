import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { checkTypes } from "../../notebooks/running/check-types.js";
import { compareOutputs } from "../../notebooks/running/compare.js";
import { executeNotebook, startKernel } from "../../notebooks/running/execute.js";
import {
  codeCells,
  type Notebook,
  type Output,
  readNotebook,
  writeNotebook,
} from "../../notebooks/running/notebook-file.js";

const at = (name: string) => join(import.meta.dirname, "fixtures", `${name}.ipynb`);

const kernel = startKernel(join(import.meta.dirname, "fixtures"));
afterAll(() => kernel.stop());

async function run(name: string) {
  const committed = await readNotebook(at(name));
  return { committed, ...(await kernel.run(committed)) };
}

const printed = (text: string): Output => ({ output_type: "stream", name: "stdout", text });

/** A notebook with one cell that shows these outputs. */
function showing(...outputs: Output[]): Notebook {
  const cell = {
    cell_type: "code",
    id: "only",
    metadata: {},
    source: "show();",
    execution_count: 1,
    outputs,
  } as const;
  return { cells: [cell], metadata: {}, nbformat: 4, nbformat_minor: 5 };
}

describe("running a notebook", () => {
  test("cells share what they declare, may wait, and work in the notebook's folder", async () => {
    const { committed, notebook, failure } = await run("sound");
    expect(failure).toBeUndefined();
    expect(compareOutputs(committed, notebook)).toEqual([]);
  });

  test("an output that is not the committed one is named with its cell, before and after", async () => {
    const { committed, notebook } = await run("wrong-output");
    expect(compareOutputs(committed, notebook)).toEqual([
      'cell "show" (console.log(formatIso4406(code));): output line 2 differs\n' +
        "  committed: 21/17/12\n  fresh:     21/17/13",
    ]);
  });

  test("a cell that throws stops the run and is named with its error", async () => {
    const { notebook, failure } = await run("throws");
    expect(failure?.cell.id).toBe("fails");
    expect(failure?.message).toContain('RangeError: "21/17" is not an ISO 4406 code');
    expect(codeCells(notebook).at(-1)).toMatchObject({ outputs: [], execution_count: null });
  });

  test("nothing that a notebook declared is there for the next", async () => {
    const { failure } = await run("sound");
    expect(failure).toBeUndefined();
    const sound = await readNotebook(at("sound"));
    const declared = codeCells(sound).findLast(({ source }) => source.includes("const "));
    const name = /const (\w+)/.exec(declared?.source ?? "")?.[1];
    const asking = {
      ...showing(),
      cells: showing().cells.map((cell) => ({ ...cell, source: `console.log(${name});` })),
    };
    const asked = await kernel.run(asking);
    expect(asked.failure?.message).toContain(`Cannot find name '${name}'`);
  });

  test("a cell that ends the process is a failure, never a silent end", async () => {
    const { failure } = await executeNotebook(at("ends"), await readNotebook(at("ends")));
    expect(failure).toMatchObject({ cell: { id: "leaves" }, message: "the cell ended the process" });
  });

  test("the kernel's older compiler knows the types of every public path and refuses a misuse", async () => {
    const { failure } = await run("kernel-types");
    const refused = [...(failure?.message ?? "").matchAll(/Type '(.*?)' is not assignable/g)];
    expect(refused.map(([, type]) => type)).toEqual([
      "Iso4406Code",
      "string",
      "number",
      "DataFrame",
      "(paths: FleetPaths) => Promise<FleetFiles>",
      "string",
      "string",
    ]);
  });
});

describe("checking the types of cells", () => {
  test("what the kernel lets pass is found, with file, cell and line", async () => {
    const { notebook, failure } = await run("type-error");
    expect(failure).toBeUndefined();
    expect(checkTypes([{ path: at("type-error"), notebook }])).toEqual([
      `${at("type-error")} cell "loose" (import { judgeCarts } from "siltbook";) line 4: 'first' is possibly 'undefined'.`,
    ]);
  });

  test("sound cells have no errors", async () => {
    expect(checkTypes([{ path: at("sound"), notebook: await readNotebook(at("sound")) }])).toEqual([]);
  });
});

describe("comparing outputs", () => {
  test("execution counts and metadata are noise", () => {
    const fresh = showing(printed("5\n"));
    const cells = codeCells(fresh).map((cell) => ({
      ...cell,
      execution_count: 7,
      metadata: { tags: ["x"] },
    }));
    expect(compareOutputs({ ...fresh, cells, metadata: { kernel: "other" } }, fresh)).toEqual([]);
  });

  test.each<[string, Output[], Output[], string]>([
    ["an output that is gone", [printed("5\n")], [], "committed: [stdout]\n  fresh:     (nothing)"],
    ["an output that is new", [], [printed("5\n")], "fresh:     [stdout]"],
    ["a line that is gone", [printed("5\n6\n")], [printed("5\n")], "committed: 6"],
    [
      "another stream",
      [printed("5\n")],
      [{ output_type: "stream", name: "stderr", text: "5\n" }],
      "committed: [stdout]\n  fresh:     [stderr]",
    ],
    [
      "another media type",
      [{ output_type: "display_data", data: { "text/html": "5" }, metadata: {} }],
      [{ output_type: "display_data", data: { "text/markdown": "5" }, metadata: {} }],
      "committed: [text/html]\n  fresh:     [text/markdown]",
    ],
    [
      "one digit far along a picture",
      [{ output_type: "display_data", data: { "text/html": `${"a".repeat(500)}1` }, metadata: {} }],
      [{ output_type: "display_data", data: { "text/html": `${"a".repeat(500)}2` }, metadata: {} }],
      `committed: …${"a".repeat(40)}1\n  fresh:     …${"a".repeat(40)}2`,
    ],
  ])("%s is a difference", (_, committed, fresh, expected) => {
    const [difference, ...more] = compareOutputs(showing(...committed), showing(...fresh));
    expect(difference).toContain(expected);
    expect(more).toEqual([]);
  });
});

describe("notebook files", () => {
  test("writing what was read changes nothing", async () => {
    const folder = await mkdtemp(join(tmpdir(), "siltbook-notebooks-"));
    try {
      const copy = join(folder, "copy.ipynb");
      await writeNotebook(copy, await readNotebook(at("sound")));
      expect(await readFile(copy, "utf8")).toBe(await readFile(at("sound"), "utf8"));
    } finally {
      await rm(folder, { recursive: true });
    }
  });

  test.each<[string, (text: string) => string, string]>([
    [
      "an older format",
      (text) => text.replace('"nbformat_minor": 5', '"nbformat_minor": 2'),
      "nbformat_minor",
    ],
    [
      "two cells of one id",
      (text) => text.replace('"id": "show"', '"id": "start"'),
      "two cells have the same id",
    ],
    ["a failed cell", (text) => text.replace('"stream"', '"error"'), "output_type"],
  ])("%s is refused with file and place", async (_, spoil, message) => {
    const folder = await mkdtemp(join(tmpdir(), "siltbook-notebooks-"));
    try {
      const spoilt = join(folder, "spoilt.ipynb");
      await writeFile(spoilt, spoil(await readFile(at("sound"), "utf8")));
      await expect(readNotebook(spoilt)).rejects.toThrow(spoilt);
      await expect(readNotebook(spoilt)).rejects.toThrow(message);
    } finally {
      await rm(folder, { recursive: true });
    }
  });
});
