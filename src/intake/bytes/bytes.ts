import { createHash } from "node:crypto";
import { closeSync, openSync, readSync, statSync } from "node:fs";
import { basename } from "node:path";
import { IntakeError } from "../checks/issue.js";

/** A file's content, in pieces, that can be gone through more than once. */
export interface ByteSource {
  /** Name for messages, without its folder. */
  readonly file: string;
  readonly size: number;
  /** What a piece holds is good until the next is required. */
  readonly chunks: () => Iterable<Uint8Array>;
}

const CHUNK_BYTES = 256 * 1024;

/** The bytes of a file that is in memory already. */
export function bytesInMemory(file: string, bytes: Uint8Array): ByteSource {
  function* chunks() {
    for (let at = 0; at < bytes.length; at += CHUNK_BYTES) yield bytes.subarray(at, at + CHUNK_BYTES);
  }
  return { file, size: bytes.length, chunks };
}

/**
 * The bytes of a file on disk, read piece by piece, so that memory does not grow with the file.
 *
 * @param path - where the file is
 * @throws IntakeError when the file cannot be opened, also later when it has become unreadable
 */
export function bytesOnDisk(path: string): ByteSource {
  if (path === "") throw new IntakeError('"": cannot be read: expected the name of a file');
  const file = basename(path);
  function* chunks() {
    const handle = attempt(path, () => openSync(path, "r"));
    const piece = new Uint8Array(CHUNK_BYTES);
    try {
      for (;;) {
        const length = attempt(path, () => readSync(handle, piece));
        if (length === 0) return;
        yield piece.subarray(0, length);
      }
    } finally {
      closeSync(handle);
    }
  }
  // Looked at before it is opened: opening a pipe that nobody writes to waits for ever.
  const stat = attempt(path, () => statSync(path));
  if (stat.isDirectory()) throw new IntakeError(`${path}: cannot be read: it is a folder`);
  if (!stat.isFile())
    throw new IntakeError(`${path}: cannot be read: it is a device or a pipe; save it as a file`);
  closeSync(attempt(path, () => openSync(path, "r")));
  return { file, size: stat.size, chunks };
}

function attempt<T>(path: string, act: () => T): T {
  try {
    return act();
  } catch (error) {
    const why =
      (error as NodeJS.ErrnoException).code === "ENOENT" ? "there is no such file" : (error as Error).message;
    throw new IntakeError(`${path}: cannot be read: ${why}`, { cause: error });
  }
}

/** All bytes of a source in one piece, for formats that cannot be read piece by piece. */
export function allBytes(source: ByteSource): Uint8Array {
  return Buffer.concat(Array.from(source.chunks(), (chunk) => chunk.slice()));
}

/** SHA-256 of a file's content in hexadecimal digits. */
export function sha256Of(source: ByteSource): string {
  const hash = createHash("sha256");
  for (const chunk of source.chunks()) hash.update(chunk);
  return hash.digest("hex");
}
