import type { UnreadResult } from "../../../fitness/index.js";
import { readRequirementsFile, readSampleFiles, unreadResults } from "../../../intake/index.js";
import type { Cart, Requirement, Sample } from "../../../samples/index.js";
import { readDay } from "../../day.js";
import { UsageError } from "../../io.js";
import { pathsIn } from "../judge/judgement.js";
import type { TrendOptions } from "./trend-options.js";

/** What a trend is taken from. */
export interface History {
  readonly carts: readonly Cart[];
  readonly samples: readonly Sample[];
  readonly requirements: readonly Requirement[];
  readonly knownCarts: readonly string[];
  /** What could not be read, or was taken back, and may be a result of a circuit. */
  readonly unread: readonly UnreadResult[];
}

/**
 * Reads the history from the book when one is named, otherwise from files.
 *
 * @throws UsageError when neither, or both, are named
 */
export async function readHistory(sampleFiles: readonly string[], options: TrendOptions): Promise<History> {
  const { book, carts, requirement } = options;
  if (book !== undefined) {
    if (sampleFiles.length > 0) {
      throw new UsageError(
        "expected --book or laboratory files, not both; import the files into the book first",
      );
    }
    // The database is loaded for a book alone.
    const { readHistoryOfBook } = await import("../../../book/index.js");
    return readHistoryOfBook(book, { ...pathsIn(options), on: readDay(options.on) });
  }
  if (carts === undefined || sampleFiles.length === 0) {
    throw new UsageError("expected --carts and laboratory files, or --book");
  }
  const held = await readSampleFiles({ carts, samples: sampleFiles });
  return {
    ...held,
    requirements: requirement === undefined ? [] : readRequirementsFile(requirement).systems,
    unread: unreadResults(held.quarantine, held.samples),
  };
}
