import { join } from "node:path";
import ts from "typescript";
import { formatCell } from "./compare.js";
import { type CodeCell, codeCells, type Notebook } from "./notebook-file.js";

const ROOT = join(import.meta.dirname, "..", "..");

/** A notebook and where it is. */
export interface PlacedNotebook {
  readonly path: string;
  readonly notebook: Notebook;
}

/** The code of a notebook as one module, with the line that each cell starts at. */
interface JoinedCells {
  readonly path: string;
  readonly text: string;
  readonly starts: readonly { readonly cell: CodeCell; readonly line: number }[];
}

/**
 * Checks the joined code cells of notebooks with the project's own strict compiler: the kernel's is older and lets a
 * missing value pass for a number.
 *
 * @param notebooks - notebooks with absolute paths
 * @returns a line for each error: file, cell, line in the cell and message; empty when all is well
 */
export function checkTypes(notebooks: readonly PlacedNotebook[]): string[] {
  const modules = new Map(notebooks.map((placed) => [`${placed.path}.ts`, joinCells(placed)]));
  const options = readOptions();
  const host = ts.createCompilerHost(options);
  const disk = { fileExists: host.fileExists, readFile: host.readFile };
  host.fileExists = (file) => modules.has(file) || disk.fileExists(file);
  host.readFile = (file) => modules.get(file)?.text ?? disk.readFile(file);
  const program = ts.createProgram([...modules.keys()], options, host);
  return ts.getPreEmitDiagnostics(program).map((diagnostic) => {
    const message = ts.flattenDiagnosticMessageText(diagnostic.messageText, "\n");
    const joined = modules.get(diagnostic.file?.fileName ?? "");
    if (joined === undefined || diagnostic.file === undefined || diagnostic.start === undefined) {
      return `${diagnostic.file?.fileName ?? "compiler"}: ${message}`;
    }
    const { line } = diagnostic.file.getLineAndCharacterOfPosition(diagnostic.start);
    const start = joined.starts.findLast((entry) => entry.line <= line);
    const where = start === undefined ? "" : ` ${formatCell(start.cell)} line ${line - start.line + 1}`;
    return `${joined.path}${where}: ${message}`;
  });
}

function joinCells({ path, notebook }: PlacedNotebook): JoinedCells {
  const starts: { cell: CodeCell; line: number }[] = [];
  let lines: string[] = [];
  for (const cell of codeCells(notebook)) {
    starts.push({ cell, line: lines.length });
    lines = [...lines, ...cell.source.split("\n")];
  }
  // A module even where no cell imports anything, so that cells may wait at the top level.
  return { path, text: [...lines, "export {};"].join("\n"), starts };
}

/** The project's options; a module in a notebook's folder is an ES module because the package is one. */
function readOptions(): ts.CompilerOptions {
  const file = join(ROOT, "tsconfig.json");
  const { config, error } = ts.readConfigFile(file, ts.sys.readFile);
  if (error !== undefined) throw new Error(ts.flattenDiagnosticMessageText(error.messageText, "\n"));
  return ts.convertCompilerOptionsFromJson(config.compilerOptions, ROOT, file).options;
}
