import { join } from "node:path";
import { afterAll } from "vitest";
import { startKernel } from "../../notebooks/running/execute.js";
import { codeCells, type Notebook, readNotebook } from "../../notebooks/running/notebook-file.js";

const NOTEBOOKS = join(import.meta.dirname, "..", "..", "notebooks");

// Starting one takes longer than most notebooks do.
const kernel = startKernel(NOTEBOOKS);
afterAll(() => kernel.stop());

/**
 * Runs a notebook with another first code cell, as a reader would change it.
 *
 * @param name - of the notebook, without ending
 * @param inputs - a constant for each name; one that is absent here stays as the committed cell has it
 * @returns the cell that failed, if one did, and what each cell showed, by its id
 */
export async function runWith(name: string, inputs: Record<string, unknown>) {
  const path = join(NOTEBOOKS, `${name}.ipynb`);
  const committed = await readNotebook(path);
  const notebook: Notebook = {
    ...committed,
    cells: committed.cells.map((cell) =>
      cell.id === "inputs" ? { ...cell, source: changed(cell.source, inputs) } : cell,
    ),
  };
  const { notebook: fresh, failure } = await kernel.run(notebook);
  const shown = new Map(
    codeCells(fresh).map(({ id, outputs }) => [
      id,
      outputs.flatMap((output) => ("text" in output ? [output.text] : Object.values(output.data))).join("\n"),
    ]),
  );
  return { failure, shown };
}

/** The cell with other values; every name must be in it, so that a renamed input is found out. */
function changed(source: string, inputs: Record<string, unknown>): string {
  return Object.entries(inputs).reduce((text, [name, value]) => {
    const line = new RegExp(`^const ${name}(: [^=]+)? = [\\s\\S]*?;$`, "m");
    if (!line.test(text)) throw new Error(`the inputs cell has no constant ${name}`);
    return text.replace(
      line,
      (_, type: string | undefined) => `const ${name}${type ?? ""} = ${JSON.stringify(value)};`,
    );
  }, source);
}
