import { basename } from "node:path";
import {
  type FleetFiles,
  IntakeError,
  readCartsFile,
  readRequirementsFile,
  textOnDisk,
  unreadResults,
} from "../intake/index.js";
import { Book } from "./book.js";

/** The files that take the place of what the book holds. */
export interface FleetOfBookPaths {
  readonly carts?: string;
  readonly requirement?: string;
}

/**
 * Reads everything that verdicts rest on from a book: carts, requirements, samples, and rows that nobody has read.
 *
 * @param path - the book
 * @param paths - a carts file or a requirements file to judge by instead of the book's own
 * @throws BookError when the book cannot be opened
 * @throws IntakeError when neither the book nor a file gives carts or requirements
 */
export function readFleetOfBook(path: string, paths: FleetOfBookPaths = {}): FleetFiles {
  const book = Book.open(path);
  try {
    const carts =
      paths.carts === undefined
        ? book.carts()
        : readCartsFile(basename(paths.carts), textOnDisk(paths.carts)).carts;
    const document =
      paths.requirement === undefined
        ? book.requirements()
        : readRequirementsFile(basename(paths.requirement), textOnDisk(paths.requirement));
    if (carts.length === 0) throw new IntakeError(`${path}: the book knows no carts; give a carts file`);
    if (document === undefined) {
      throw new IntakeError(`${path}: the book has no requirements; give a requirements file`);
    }
    const quarantine = book.quarantine();
    return {
      carts,
      requirements: document.systems,
      document,
      files: [],
      samples: [...book.samples()],
      quarantine,
      repeated: 0,
      unread: unreadResults(quarantine),
    };
  } finally {
    book.close();
  }
}
