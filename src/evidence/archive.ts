import { zipSync } from "fflate";
import { unpackArchive } from "../intake/index.js";
import { MANIFEST } from "./manifest.js";
import type { PackFile } from "./pack-file.js";

/** What a pack may hold when it is read. */
export const PACK_LIMITS = { members: 5000, unpackedBytes: 512_000_000 } as const;

/** The same date in every pack, so that the same files give the same bytes; zip archives begin with this date. */
const FIXED_DATE = new Date(1980, 0, 1);

/** The files of a pack as one zip archive. */
export function packAsZip(files: readonly PackFile[]): Uint8Array {
  return zipSync(Object.fromEntries(files.map(({ path, bytes }) => [path, bytes])), {
    mtime: FIXED_DATE,
    level: 6,
  });
}

/**
 * The files of a pack that is a zip archive, made by siltbook or by any other program from its folder.
 *
 * @throws RangeError when it is not an archive, holds too much, or a name that leads out of it
 */
export function packFromZip(bytes: Uint8Array): PackFile[] {
  const members = unpackArchive(bytes, (name) => !name.endsWith("/"), {
    ...PACK_LIMITS,
    refusesStrays: true,
  });
  return withoutFolder([...members].map(([path, content]) => ({ path, bytes: content })));
}

/** Other programs put the folder itself into the archive. */
function withoutFolder(files: readonly PackFile[]): PackFile[] {
  const folder = files.find(({ path }) => /^[^/]+\/[^/]+$/.test(path) && path.endsWith(`/${MANIFEST}`));
  const start = folder?.path.slice(0, -MANIFEST.length) ?? "";
  if (files.some(({ path }) => !path.startsWith(start))) return [...files];
  return files.map(({ path, bytes }) => ({ path: path.slice(start.length), bytes }));
}
