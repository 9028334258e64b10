import { createHash } from "node:crypto";
import { canonicalJson } from "../fitness/index.js";

/** One file of an evidence pack. */
export interface PackFile {
  /** Its name within the pack, with "/" between folders. */
  readonly path: string;
  readonly bytes: Uint8Array;
}

/** A file of text, in UTF-8. */
export function textFile(path: string, text: string): PackFile {
  return { path, bytes: new TextEncoder().encode(text) };
}

/** A file that holds one JSON document, for a person to read. */
export function jsonFile(path: string, value: unknown): PackFile {
  return textFile(path, `${JSON.stringify(value, null, 2)}\n`);
}

/** The same with all names in order, for what is read again and written again. */
export function orderedJsonFile(path: string, value: unknown): PackFile {
  return jsonFile(path, JSON.parse(canonicalJson(value)));
}

/** A file of JSON Lines, with all names in order. */
export function jsonLinesFile(path: string, values: readonly unknown[]): PackFile {
  return textFile(path, values.map((value) => `${canonicalJson(value)}\n`).join(""));
}

/**
 * The text of a file.
 *
 * @throws TypeError when its bytes are not UTF-8
 */
export function textOf({ bytes }: PackFile): string {
  return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
}

/** SHA-256 in hexadecimal digits. */
export function sha256OfBytes(bytes: Uint8Array): string {
  return createHash("sha256").update(bytes).digest("hex");
}

/** The files by their paths. */
export function inOrder(files: readonly PackFile[]): PackFile[] {
  return [...files].sort((a, b) => (a.path < b.path ? -1 : 1));
}

/** Whether two runs of bytes are the same. */
export function isSame(one: Uint8Array, other: Uint8Array): boolean {
  return Buffer.compare(one, other) === 0;
}
