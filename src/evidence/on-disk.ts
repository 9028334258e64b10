import { lstatSync, readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { PACK_LIMITS, packFromZip } from "./archive.js";
import type { PackFile } from "./pack-file.js";

/**
 * Reads an evidence pack: a folder, or a zip archive of one.
 *
 * @throws RangeError when it cannot be read, holds too much, or holds what is neither a file nor a folder
 */
export function readEvidenceFiles(path: string): PackFile[] {
  try {
    if (statSync(path).isDirectory()) return filesIn(path);
    const { size } = statSync(path);
    if (size > PACK_LIMITS.unpackedBytes) throw new RangeError("it is larger than any evidence pack");
    return packFromZip(readFileSync(path));
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    const why = code === "ENOENT" ? "there is no such file or folder" : message;
    throw new RangeError(`${path}: cannot be read as an evidence pack: ${why}`, { cause: error });
  }
}

function filesIn(folder: string): PackFile[] {
  const files: PackFile[] = [];
  let left = PACK_LIMITS.unpackedBytes;
  const read = (within: string) => {
    for (const name of readdirSync(join(folder, within)).sort()) {
      const path = within === "" ? name : `${within}/${name}`;
      const own = join(folder, path);
      // A link could lead anywhere; no pack has one.
      const entry = lstatSync(own);
      if (entry.isDirectory()) {
        read(path);
        continue;
      }
      if (!entry.isFile()) throw new RangeError(`${path} is neither a file nor a folder`);
      left -= entry.size;
      if (left < 0 || files.length >= PACK_LIMITS.members)
        throw new RangeError("it holds more than any evidence pack");
      files.push({ path, bytes: readFileSync(own) });
    }
  };
  read("");
  return files;
}
