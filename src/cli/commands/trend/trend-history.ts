import { basename } from "node:path";
import { parseCartsFile, readRequirementsFile, readSampleFiles, textOnDisk } from "../../../intake/index.js";
import type { Cart, Requirement, Sample } from "../../../samples/index.js";
import { UsageError } from "../../io.js";
import type { TrendOptions } from "./trend-options.js";

/** What a trend is taken from. */
export interface History {
  readonly carts: readonly Cart[];
  readonly samples: readonly Sample[];
  readonly requirements: readonly Requirement[];
  /** Rows that could not be read and may hold a result of any circuit. */
  readonly unread: number;
}

/**
 * Reads the history from the book when one is named, otherwise from files.
 *
 * @throws UsageError when neither, or both, are named
 */
export async function readHistory(sampleFiles: readonly string[], options: TrendOptions): Promise<History> {
  const { book, carts, requirement } = options;
  const requirements = requirement === undefined ? undefined : readRequirementsFile(requirement).systems;
  if (book !== undefined) {
    if (sampleFiles.length > 0) {
      throw new UsageError(
        "expected --book or laboratory files, not both; import the files into the book first",
      );
    }
    return historyOfBook(book, carts, requirements);
  }
  if (carts === undefined || sampleFiles.length === 0) {
    throw new UsageError("expected --carts and laboratory files, or --book");
  }
  const held = await readSampleFiles({ carts, samples: sampleFiles });
  return { ...held, requirements: requirements ?? [], unread: held.quarantine.length };
}

async function historyOfBook(
  path: string,
  carts: string | undefined,
  requirements: readonly Requirement[] | undefined,
): Promise<History> {
  // The database is loaded for a book alone.
  const { Book } = await import("../../../book/index.js");
  const book = Book.open(path);
  try {
    return {
      carts: carts === undefined ? book.carts() : parseCartsFile(basename(carts), textOnDisk(carts)).carts,
      samples: [...book.samples()],
      requirements: requirements ?? book.requirements()?.systems ?? [],
      unread: book.quarantine().length,
    };
  } finally {
    book.close();
  }
}
