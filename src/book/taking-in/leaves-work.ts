import type { QuarantinedRow } from "../../intake/index.js";
import type { BroughtBook } from "../joining/bring-in.js";
import type { FileReport } from "./take-in.js";

/** Whether what was brought in leaves work for a person: rows that wait, or files to import again. */
export function leavesWork({
  setAside,
  files,
  books,
}: {
  readonly setAside: readonly QuarantinedRow[];
  readonly files: readonly Pick<FileReport, "quarantined">[];
  readonly books: readonly Pick<BroughtBook, "waiting" | "importAgain">[];
}): boolean {
  return (
    setAside.length > 0 ||
    files.some(({ quarantined }) => quarantined > 0) ||
    books.some(({ waiting, importAgain }) => waiting > 0 || importAgain.length > 0)
  );
}
