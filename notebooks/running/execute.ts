import { fork } from "node:child_process";
import { once } from "node:events";
import { dirname, join } from "node:path";
import { type CodeCell, codeCells, type Notebook, type Output } from "./notebook-file.js";

/** What the cells of a notebook showed, and the cell that failed, where one did. */
export interface Execution {
  /** The notebook with fresh outputs; cells after a failure have none. */
  readonly notebook: Notebook;
  readonly failure?: { readonly cell: CodeCell; readonly message: string };
}

/** What the kernel process answers for a cell. */
interface Answer {
  readonly ok: boolean;
  readonly outputs: readonly Output[];
}

const KERNEL = join(import.meta.dirname, "kernel.mjs");

/** A kernel process whose working folder is that of its notebooks. */
export interface Kernel {
  /** Runs the code cells of a notebook from top to bottom, up to the first that fails, without what ran before it. */
  run(notebook: Notebook): Promise<Execution>;
  stop(): Promise<void>;
}

/** Starts a kernel process in a folder. Stop it when done. */
export function startKernel(folder: string): Kernel {
  const kernel = fork(KERNEL, {
    cwd: folder,
    // A loader of the calling process must not reach the packages that the cells import.
    execArgv: ["--disable-warning=ExperimentalWarning"],
    env: { ...process.env, NODE_OPTIONS: "" },
    stdio: ["ignore", "ignore", "inherit", "ipc"],
  });
  const ended = once(kernel, "exit");
  return {
    run: async (notebook) => {
      kernel.send({ forget: true });
      const fresh = new Map<string, CodeCell>();
      for (const [index, cell] of codeCells(notebook).entries()) {
        kernel.send({ code: cell.source });
        const [answer] = (await Promise.race([once(kernel, "message"), ended.then(() => [ENDED])])) as [
          Answer,
        ];
        const outputs = joinStreams(answer.outputs);
        fresh.set(cell.id, { ...cell, execution_count: index + 1, outputs });
        if (!answer.ok) {
          const failure = { cell, message: describePrinted(outputs) };
          return { notebook: withCells(notebook, fresh), failure };
        }
      }
      return { notebook: withCells(notebook, fresh) };
    },
    stop: async () => {
      kernel.kill();
      await ended;
    },
  };
}

/**
 * Runs the code cells of a notebook from top to bottom in a fresh process whose working folder is the notebook's.
 *
 * @param path - where the notebook is
 * @param notebook - the notebook as read
 * @returns fresh outputs, up to the first cell that fails
 */
export async function executeNotebook(path: string, notebook: Notebook): Promise<Execution> {
  const kernel = startKernel(dirname(path));
  try {
    return await kernel.run(notebook);
  } finally {
    await kernel.stop();
  }
}

const ENDED: Answer = {
  ok: false,
  outputs: [{ output_type: "stream", name: "stderr", text: "the cell ended the process" }],
};

function withCells(notebook: Notebook, fresh: ReadonlyMap<string, CodeCell>): Notebook {
  return {
    ...notebook,
    cells: notebook.cells.map((cell) =>
      cell.cell_type === "code"
        ? (fresh.get(cell.id) ?? { ...cell, execution_count: null, outputs: [] })
        : cell,
    ),
  };
}

/** Texts printed one after the other are one output, as a notebook editor keeps them. */
function joinStreams(outputs: readonly Output[]): Output[] {
  const joined: Output[] = [];
  for (const output of outputs) {
    const last = joined.at(-1);
    if (last?.output_type === "stream" && output.output_type === "stream" && last.name === output.name) {
      joined.splice(-1, 1, { ...last, text: last.text + output.text });
    } else joined.push(output);
  }
  return joined;
}

function describePrinted(outputs: readonly Output[]): string {
  const printed = outputs.flatMap((output) => (output.output_type === "stream" ? [output.text] : []));
  return printed.join("").trimEnd();
}
