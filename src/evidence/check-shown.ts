import { VERSION } from "../provenance/index.js";
import { contentFiles } from "./content.js";
import { DATA_PACKAGE, faultOfDescription } from "./data-package.js";
import { type EvidenceMisfit, MANIFEST } from "./manifest.js";
import { isSame, type PackFile } from "./pack-file.js";
import { type ReadContent, shownFiles } from "./shown-files.js";

/**
 * Makes everything for a person and for other programs again, and compares it to the last byte. What another version of siltbook
 * made may look otherwise, so of it only the description of the files is compared.
 */
export async function checkShown(
  read: ReadContent,
  files: readonly PackFile[],
): Promise<{ readonly misfits: readonly EvidenceMisfit[]; readonly notMadeAgain: readonly string[] }> {
  const contents = contentFiles(read.content);
  if (read.content.siltbook === VERSION) {
    return {
      misfits: misfitsOf(files, [...contents, ...(await shownFiles(read, contents))]),
      notMadeAgain: [],
    };
  }
  const own = new Set(contents.map(({ path }) => path));
  const shown = files.map(({ path }) => path).filter((path) => path !== MANIFEST && !own.has(path));
  return { misfits: misfitsOfDescription(files), notMadeAgain: shown };
}

function misfitsOf(files: readonly PackFile[], made: readonly PackFile[]): EvidenceMisfit[] {
  const present = new Set(files.map(({ path }) => path));
  const missing = made.find(({ path }) => !present.has(path));
  if (missing !== undefined) return [{ file: missing.path, message: "it is missing" }];
  const bytesOf = new Map(made.map(({ path, bytes }) => [path, bytes]));
  const others = files.filter(({ path, bytes }) => !isSame(bytesOf.get(path) ?? NO_BYTES, bytes));
  // What describes a file that was changed is another than it should be too.
  const first = others.find(({ path }) => path !== DATA_PACKAGE && path !== MANIFEST) ?? others[0];
  const message = "it is not what siltbook makes of the rest of the pack";
  return first === undefined ? [] : [{ file: first.path, message }];
}

const NO_BYTES = new Uint8Array();

function misfitsOfDescription(files: readonly PackFile[]): EvidenceMisfit[] {
  const description = files.find(({ path }) => path === DATA_PACKAGE);
  if (description === undefined) return [{ file: DATA_PACKAGE, message: "it is missing" }];
  const described = files.filter(({ path }) => path !== DATA_PACKAGE && path !== MANIFEST);
  const message = faultOfDescription(description, described);
  return message === undefined ? [] : [{ file: DATA_PACKAGE, message }];
}
