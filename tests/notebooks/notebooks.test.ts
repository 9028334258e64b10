import { basename } from "node:path";
import { describe, expect, test } from "vitest";
import { allNotebooks } from "../../notebooks/running/all-notebooks.js";
import { checkTypes } from "../../notebooks/running/check-types.js";
import { compareOutputs } from "../../notebooks/running/compare.js";
import { executeNotebook } from "../../notebooks/running/execute.js";
import { codeCells, type Output, readNotebook } from "../../notebooks/running/notebook-file.js";

const notebooks = await Promise.all(
  (await allNotebooks()).map(async (path) => ({ path, notebook: await readNotebook(path) })),
);

test("there is a notebook for the main job", () => {
  expect(notebooks.map(({ path }) => basename(path))).toContain("01-is-this-cart-fit-to-connect.ipynb");
});

test("the cells of every notebook pass the project's strict type check", () => {
  expect(checkTypes(notebooks)).toEqual([]);
});

describe.each(notebooks.map((placed) => ({ name: basename(placed.path), ...placed })))("$name", (placed) => {
  test("every cell runs, and shows what the notebook was committed with", async () => {
    const { notebook, failure } = await executeNotebook(placed.path, placed.notebook);
    expect(failure?.message).toBeUndefined();
    expect(compareOutputs(placed.notebook, notebook)).toEqual([]);
  });

  test("was committed after running its cells once, in order", () => {
    const cells = codeCells(placed.notebook);
    expect(cells.map((cell) => cell.execution_count)).toEqual(cells.map((_, index) => index + 1));
  });

  test("prints no warning or error", () => {
    const printed = outputsOf(placed).filter((output) => "name" in output && output.name === "stderr");
    expect(printed).toEqual([]);
  });

  test("its title is a question, and no sentence in it holds a number that the data gave", () => {
    const texts = placed.notebook.cells.filter((cell) => cell.cell_type === "markdown");
    expect(texts[0]?.source.split("\n")[0]).toMatch(/^# .*\?$/);
    // Numbers that belong to a standard, a formula or a unit may stand; anything else is computed in a cell.
    const prose = texts.map((cell) => cell.source).join("\n");
    const allowed = /ISO 4406|AS4059|NAS 1638|100 mL|1\/β|1 − /g;
    expect(prose.replace(allowed, "").match(/\d+/g) ?? []).toEqual([]);
  });

  test("no cell prints litres or L/min of its own: formatQuantity has the unit of the cart", () => {
    const written = codeCells(placed.notebook).flatMap(
      ({ source }) => source.match(/\} L(?:\/min)?\b.*/g) ?? [],
    );
    expect(written).toEqual([]);
  });

  test("shows the cautions and says who decides", () => {
    const shown = outputsOf(placed).map((output) =>
      "data" in output ? Object.values(output.data).join() : "",
    );
    expect(shown.join("\n")).toContain("Siltbook advises; it never releases.");
    expect(shown.join("\n")).toContain("draw the verifying sample while the fluid is flowing");
  });
});

function outputsOf({ notebook }: (typeof notebooks)[number]): Output[] {
  return codeCells(notebook).flatMap((cell) => cell.outputs);
}
