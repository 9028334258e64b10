import { join } from "node:path";
import { expect, test } from "vitest";
import { executeNotebook } from "../../notebooks/running/execute.js";
import { codeCells, type Notebook, readNotebook } from "../../notebooks/running/notebook-file.js";

const PATH = join(import.meta.dirname, "..", "..", "notebooks", "01-is-this-cart-fit-to-connect.ipynb");
const FLEET = join(import.meta.dirname, "..", "support", "fleet");

/** Runs the notebook with another first code cell, as a reader would change it. */
async function runWith(inputs: Record<string, unknown>) {
  const source = Object.entries(inputs).map(([name, value]) => `const ${name} = ${JSON.stringify(value)};`);
  const committed = await readNotebook(PATH);
  const notebook: Notebook = {
    ...committed,
    cells: committed.cells.map((cell) =>
      cell.id === "inputs" ? { ...cell, source: source.join("\n") } : cell,
    ),
  };
  const { notebook: fresh, failure } = await executeNotebook(PATH, notebook);
  const shown = new Map(
    codeCells(fresh).map(({ id, outputs }) => [
      id,
      outputs.flatMap((output) => ("text" in output ? [output.text] : Object.values(output.data))).join("\n"),
    ]),
  );
  return { failure, shown };
}

test("another fleet is judged by changing the first code cell and nothing else", async () => {
  const { failure, shown } = await runWith({
    folder: FLEET,
    labFiles: ["samples.csv"],
    judgedOn: "2026-03-14",
    cart: "C-1",
    circuit: "2",
  });
  expect(failure?.message).toBeUndefined();
  expect(shown.get("answer")).toContain("C-1, circuit 2: do not connect, because circulating through");
  expect(shown.get("plan")).toContain('The verdict is "do-not-connect". That comes first');
  expect(shown.get("hand")).toContain("There is nothing to work by hand for this circuit.");
});

test("a circuit that is fit asks for no circulation", async () => {
  const { failure, shown } = await runWith({
    folder: FLEET,
    labFiles: ["clean.csv"],
    judgedOn: "2026-03-14",
    cart: "C-1",
    circuit: "1",
  });
  expect(failure?.message).toBeUndefined();
  expect(shown.get("answer")).toContain("C-1, circuit 1: fit to connect to main system");
  expect(shown.get("plan")).toContain("No particle limit is exceeded: circulating is not asked for.");
  expect(shown.get("conclusion")).toContain("1 of 3 circuits are fit to connect (C-1 1)");
});

test("a circuit without a sample is told to draw one, and every cell still runs", async () => {
  const { failure, shown } = await runWith({
    folder: FLEET,
    labFiles: ["clean.csv"],
    judgedOn: "2026-03-14",
    cart: "C-1",
    circuit: "2",
  });
  expect(failure?.message).toBeUndefined();
  expect(shown.get("answer")).toContain("draw a new sample, because no sample of this circuit was given");
});

test("a cart that is not in the carts file stops at the answer, with its name", async () => {
  const { failure } = await runWith({
    folder: FLEET,
    labFiles: ["clean.csv"],
    judgedOn: "2026-03-14",
    cart: "C-9",
    circuit: "1",
  });
  expect(failure?.cell.id).toBe("answer");
  expect(failure?.message).toContain("the carts file has no cart C-9 with a circuit 1");
});
