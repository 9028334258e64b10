import { readFile, writeFile } from "node:fs/promises";
import * as z from "zod";

/** Text as notebooks keep it: one string, or a list of lines that keep their line ends. */
const textSchema = z
  .string()
  .or(z.array(z.string()))
  .transform((text) => (typeof text === "string" ? text : text.join("")));

const outputSchema = z.discriminatedUnion("output_type", [
  z.strictObject({
    output_type: z.literal("stream"),
    name: z.enum(["stdout", "stderr"]),
    text: textSchema,
  }),
  z.strictObject({
    output_type: z.literal("display_data"),
    data: z.record(z.string(), textSchema),
    metadata: z.record(z.string(), z.unknown()),
  }),
]);

const sharedByCells = {
  id: z.string().regex(/^[\w-]{1,64}$/),
  metadata: z.record(z.string(), z.unknown()),
  source: textSchema,
};

const cellSchema = z.discriminatedUnion("cell_type", [
  z.strictObject({ cell_type: z.literal("markdown"), ...sharedByCells }),
  z.strictObject({
    cell_type: z.literal("code"),
    ...sharedByCells,
    execution_count: z.number().int().positive().nullable(),
    outputs: z.array(outputSchema),
  }),
]);

const notebookSchema = z.strictObject({
  cells: z.array(cellSchema).refine((cells) => new Set(cells.map(({ id }) => id)).size === cells.length, {
    error: "two cells have the same id",
  }),
  metadata: z.record(z.string(), z.unknown()),
  nbformat: z.literal(4),
  nbformat_minor: z.literal(5),
});

/** A notebook of format 4.5 whose cells and outputs are those that the TypeScript kernel makes. */
export type Notebook = z.infer<typeof notebookSchema>;
/** A cell of a notebook. */
export type Cell = Notebook["cells"][number];
/** A cell that is run. */
export type CodeCell = Extract<Cell, { cell_type: "code" }>;
/** What a cell showed: printed text, or one thing in one or more media types. */
export type Output = z.infer<typeof outputSchema>;

/**
 * Reads a notebook.
 *
 * @throws Error naming the file and the place in it that is not as format 4.5 asks
 */
export async function readNotebook(path: string): Promise<Notebook> {
  const result = notebookSchema.safeParse(JSON.parse(await readFile(path, "utf8")));
  if (result.success) return result.data;
  throw new Error(`${path}: ${z.prettifyError(result.error)}`);
}

/** Writes a notebook the way the usual editors do, so that their changes and ours make small differences. */
export async function writeNotebook(path: string, notebook: Notebook): Promise<void> {
  await writeFile(path, `${JSON.stringify(asLines(notebook), null, 1)}\n`);
}

function asLines(notebook: Notebook): object {
  return {
    ...notebook,
    cells: notebook.cells.map((cell) => ({
      ...cell,
      ...(cell.cell_type === "code" && { outputs: cell.outputs.map(outputAsLines) }),
      source: linesOf(cell.source),
    })),
  };
}

function outputAsLines(output: Output): object {
  if (output.output_type === "stream") return { ...output, text: linesOf(output.text) };
  const data = Object.entries(output.data).map(([type, text]) => [type, linesOf(text)]);
  return { ...output, data: Object.fromEntries(data) };
}

function linesOf(text: string): string[] {
  return text === "" ? [] : text.split(/(?<=\n)/);
}

/** The cells that are run, in order. */
export function codeCells(notebook: Notebook): CodeCell[] {
  return notebook.cells.filter((cell) => cell.cell_type === "code");
}
