import { createRequire } from "node:module";
import { richOf, type Showable } from "./rich.js";

/** Something was to be shown outside a notebook. */
export class NotebookError extends Error {
  override readonly name = "NotebookError";
}

/** What this module uses of the notebook's kernel. */
interface Kernel {
  readonly display: {
    readonly html: (text: string) => void;
    readonly markdown: (text: string) => void;
  };
}

/**
 * Shows a result below the cell of a notebook: `show(judged)`, `show(plan)`, `show(drawClassHistory(judged))`.
 *
 * @param value - a verdict, plan, list of circuits, data frame, picture, list of messages or table of one's own
 * @param caption - what is shown, in one line; where it is absent the result names itself
 * @throws NotebookError when the kernel of TypeScript notebooks is not installed
 */
export function show(value: Showable, caption?: string): void {
  const { kind, text } = richOf(value, caption);
  loadKernel().display[kind](text);
}

function loadKernel(): Kernel {
  try {
    return createRequire(import.meta.url)("tslab") as Kernel;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "MODULE_NOT_FOUND") throw error;
    throw new NotebookError(
      "show() needs the kernel of TypeScript notebooks, which siltbook does not bring along: npm install tslab@1.0.22",
      { cause: error },
    );
  }
}
