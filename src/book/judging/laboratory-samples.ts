import type { LaboratorySample } from "../../laboratories/index.js";
import type { Book } from "../book.js";

/** How the samples of a book are taken for comparing laboratories. */
export interface LaboratorySamplesOptions {
  /**
   * The name of the column map that a file was read with names its laboratory, where its report does not. A map that siltbook
   * wrote is named after its file.
   */
  readonly byMap?: boolean;
}

/** The samples of a book with who measured each, for comparing laboratories. */
export function laboratorySamplesOf(
  book: Pick<Book, "circuits" | "history">,
  { byMap = false }: LaboratorySamplesOptions = {},
): LaboratorySample[] {
  return book.circuits().flatMap(({ cart, circuit }) =>
    book.history(cart, circuit).map(({ sample, source: { columnMap } }) => ({
      sample,
      ...(byMap && columnMap !== undefined && { otherwise: { laboratory: columnMap } }),
    })),
  );
}
