import { marked } from "marked";
import type { Notebook, Output } from "../../notebooks/running/notebook-file.js";
import { escapeHtml } from "./page.js";

/**
 * Writes a notebook as HTML: its text, its code, and what the code showed when it was committed.
 *
 * @param notebook - a notebook as read
 * @returns HTML for the body of a page
 */
export function notebookPage(notebook: Notebook): string {
  return notebook.cells
    .map((cell) =>
      cell.cell_type === "markdown"
        ? marked.parse(cell.source, { async: false })
        : `<pre tabindex="0"><code>${escapeHtml(cell.source)}</code></pre>\n${shown(cell.outputs)}`,
    )
    .join("\n");
}

function shown(outputs: readonly Output[]): string {
  return outputs.length === 0 ? "" : `<div class="shown">${outputs.map(outputAsHtml).join("\n")}</div>`;
}

function outputAsHtml(output: Output): string {
  if (output.output_type === "stream") return `<pre tabindex="0">${escapeHtml(output.text)}</pre>`;
  const { "text/html": html, "text/markdown": markdown, "text/plain": plain } = output.data;
  if (html !== undefined) return html;
  if (markdown !== undefined) return marked.parse(markdown, { async: false });
  return `<pre tabindex="0">${escapeHtml(plain ?? "")}</pre>`;
}
