import { createHash } from "node:crypto";
import type { PackFile } from "../../src/evidence/index.js";

const MANIFEST = "manifest-sha256.txt";

export function sha256(bytes: Uint8Array | string): string {
  return createHash("sha256").update(bytes).digest("hex");
}

export function textIn(files: readonly PackFile[], path: string): string {
  const file = files.find((one) => one.path === path);
  if (file === undefined) throw new Error(`the pack has no ${path}`);
  return Buffer.from(file.bytes).toString("utf8");
}

/** The pack with the text of one file edited, and the manifest left as it is. */
export function edited(files: readonly PackFile[], path: string, edit: (text: string) => string): PackFile[] {
  const before = textIn(files, path);
  const after = edit(before);
  if (after === before) throw new Error(`${path} was not edited`);
  return files.map((file) => (file.path === path ? { path, bytes: Buffer.from(after) } : file));
}

/** The pack with a manifest that fits its files again, as anybody can write it. */
export function withManifest(files: readonly PackFile[]): PackFile[] {
  const others = files.filter(({ path }) => path !== MANIFEST);
  const lines = others.map(({ path, bytes }) => `${sha256(bytes)}  ${path}\n`);
  lines.sort((a, b) => (a.slice(66) < b.slice(66) ? -1 : 1));
  return [...others, { path: MANIFEST, bytes: Buffer.from(lines.join("")) }];
}
