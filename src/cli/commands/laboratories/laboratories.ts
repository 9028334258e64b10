import { Book, laboratorySamplesOf } from "../../../book/index.js";
import {
  compareLaboratories,
  describeLaboratories,
  hasComparison,
  hasDifference,
  type LaboratoryComparison,
} from "../../../laboratories/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { describeAssumptions, describeMore, drawLines, drawTable } from "../../text.js";

/** Options of `siltbook laboratories`. */
export interface LaboratoriesOptions {
  readonly book: string;
  readonly reference?: string;
  readonly sameDay?: boolean;
  readonly byMap?: boolean;
  readonly explain?: boolean;
  readonly json?: boolean;
}

/** Prints whether the laboratories of a book agree. */
export function runLaboratories(options: LaboratoriesOptions, io: Io): ExitCode {
  const comparison = compare(options);
  const { answer, findings, ...table } = describeLaboratories(comparison);
  if (options.json) printJson(io, answerOf("laboratories", { answer, findings, ...comparison }));
  else io.out(`${answer}\n${drawLines(findings)}${describe(comparison, table, options)}`);
  return hasComparison(comparison) && !hasDifference(comparison) ? 0 : 1;
}

function compare({ book: path, reference, sameDay, byMap }: LaboratoriesOptions): LaboratoryComparison {
  const book = Book.open(path);
  try {
    return compareLaboratories(laboratorySamplesOf(book, { byMap: byMap ?? false }), { reference, sameDay });
  } catch (error) {
    if (reference !== undefined && error instanceof RangeError)
      throw new UsageError(`--reference: ${error.message}`);
    throw error;
  } finally {
    book.close();
  }
}

function describe(
  { assumptions }: LaboratoryComparison,
  { head, rows, cover }: Pick<ReturnType<typeof describeLaboratories>, "head" | "rows" | "cover">,
  { explain }: LaboratoriesOptions,
): string {
  const table = rows.length === 0 ? "" : drawTable(head, rows, 2);
  if (!explain) {
    const more =
      cover.length === 0
        ? describeMore("what was left out of the comparison")
        : describeMore("a spread that covers every laboratory", assumptions);
    return table + more;
  }
  const covered =
    cover.length === 0 ? "" : `A standard uncertainty that covers every laboratory:\n${drawLines(cover)}`;
  return table + covered + describeAssumptions(assumptions);
}
