// Opens the notebooks in Jupyter with the project's kernel: `npm run lab`. Arguments after -- go to Jupyter.
import { spawnSync } from "node:child_process";
import { delimiter, join } from "node:path";

/** The project's folder, so that notebooks in a folder of the reader's own are in reach too. */
const FOLDER = join(import.meta.dirname, "..");

process.exitCode = openLab(process.argv.slice(2));

/** Starts the first of JupyterLab and the plain notebook that is there, and waits for it. */
function openLab(more: readonly string[]): number {
  const face = ["lab", "notebook"].find((name) => isThere(name));
  if (face === undefined) {
    console.error(
      "Jupyter is not installed: install it with `python3 -m pip install jupyterlab`, or run the notebooks without it by `npm run notebooks`",
    );
    return 2;
  }
  // The kernel comes with the project's packages; Jupyter only has to be told where.
  const kernels = [join(FOLDER, ".jupyter"), process.env.JUPYTER_PATH].filter(Boolean).join(delimiter);
  const { status } = spawnSync("jupyter", [face, ...more, FOLDER], {
    stdio: "inherit",
    env: { ...process.env, JUPYTER_PATH: kernels },
  });
  return status ?? 1;
}

function isThere(face: string): boolean {
  return spawnSync("jupyter", [face, "--version"], { stdio: "ignore" }).status === 0;
}
