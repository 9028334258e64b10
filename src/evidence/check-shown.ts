import { VERSION } from "../provenance/index.js";
import { contentFiles } from "./content.js";
import { DATA_PACKAGE } from "./data-package.js";
import { type EvidenceMisfit, MANIFEST } from "./manifest.js";
import { isSame, type PackFile } from "./pack-file.js";
import { type ReadContent, shownFiles, VERDICT_FILE } from "./shown-files.js";

/**
 * Makes all files again, and compares them to the last byte. What is shown to a person or to other programs may look otherwise
 * in a pack of another version of siltbook: such a file may be sound or forged, so it is listed by itself.
 */
export async function checkShown(
  read: ReadContent,
  files: readonly PackFile[],
): Promise<{ readonly misfits: readonly EvidenceMisfit[]; readonly notMadeAgain: readonly string[] }> {
  const contents = contentFiles(read.content);
  const made = [...contents, ...(await shownFiles(read, contents))];
  const looksAlike = new Set([...contents.map(({ path }) => path), VERDICT_FILE]);
  const others = pathsThatDiffer(files, made);
  const isOfOther = read.content.siltbook !== VERSION;
  const [notMadeAgain, wrong] = [
    others.filter((path) => isOfOther && !looksAlike.has(path)),
    others.filter((path) => !isOfOther || looksAlike.has(path)),
  ];
  // A description differs too when a file that it describes does.
  const first = wrong.find((path) => path !== DATA_PACKAGE) ?? wrong[0];
  if (first === undefined) return { misfits: [], notMadeAgain };
  const isPresent = files.some(({ path }) => path === first);
  const message = isPresent ? "it is not what siltbook makes of the rest of the pack" : "it is missing";
  return { misfits: [{ file: first, message }], notMadeAgain };
}

/** Files that are in only one of the two, or with other bytes; the manifest, which follows from the others, is left out. */
function pathsThatDiffer(files: readonly PackFile[], made: readonly PackFile[]): string[] {
  const bytesOf = (all: readonly PackFile[]) => new Map(all.map(({ path, bytes }) => [path, bytes]));
  const [present, again] = [bytesOf(files), bytesOf(made)];
  return [...new Set([...again.keys(), ...present.keys()])].filter((path) => {
    const [one, other] = [present.get(path), again.get(path)];
    return path !== MANIFEST && !(one !== undefined && other !== undefined && isSame(one, other));
  });
}
