import { inOrder, type PackFile, sha256OfBytes, textFile } from "./pack-file.js";

/** The list of all files with their hashes, in the form that the general tool `sha256sum --check` reads. */
export const MANIFEST = "manifest-sha256.txt";

/** What is wrong with one file of a pack. */
export interface EvidenceMisfit {
  readonly file: string;
  readonly message: string;
}

/** The manifest of some files. */
export function manifestOf(files: readonly PackFile[]): PackFile {
  const lines = inOrder(files).map(({ path, bytes }) => `${sha256OfBytes(bytes)}  ${path}\n`);
  return textFile(MANIFEST, lines.join(""));
}

/** Files that are missing, that the manifest does not list, or whose hash is another. */
export function misfitsOfManifest(files: readonly PackFile[]): EvidenceMisfit[] {
  const manifest = files.find(({ path }) => path === MANIFEST);
  if (manifest === undefined) return [{ file: MANIFEST, message: "it is missing" }];
  const others = files.filter((file) => file !== manifest);
  const found = new Map(others.map(({ path, bytes }) => [path, sha256OfBytes(bytes)]));
  const text = Buffer.from(manifest.bytes).toString("utf8");
  const listed = new Map(
    [...text.matchAll(/^([0-9a-f]{64}) {2}(.+)$/gm)].map(([, hash = "", path = ""]) => [path, hash]),
  );
  const misfits = [
    ...[...listed].flatMap(([file, hash]) => {
      const own = found.get(file);
      if (own === undefined) return { file, message: "it is missing" };
      return own === hash ? [] : { file, message: "it was changed after it was packed" };
    }),
    ...[...found.keys()]
      .filter((file) => !listed.has(file))
      .map((file) => ({ file, message: "it is not in the manifest" })),
  ];
  const isAsWritten = Buffer.compare(manifestOf(others).bytes, manifest.bytes) === 0;
  return misfits.length > 0 || isAsWritten
    ? misfits
    : [{ file: MANIFEST, message: "it was changed after it was packed" }];
}
