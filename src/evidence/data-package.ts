import { extname } from "node:path/posix";
import type { Table } from "../tables/index.js";
import { jsonFile, type PackFile, sha256OfBytes } from "./pack-file.js";

/** The description of the pack as a Data Package; the standard gives the name. */
export const DATA_PACKAGE = "datapackage.json";

/** Kinds of files by the end of their names. */
const KINDS: Readonly<Record<string, readonly [mediatype: string, isText: boolean]>> = {
  ".json": ["application/json", true],
  ".jsonl": ["application/jsonl", true],
  ".csv": ["text/csv", true],
  ".tsv": ["text/tab-separated-values", true],
  ".txt": ["text/plain", true],
  ".html": ["text/html", true],
  ".xlsx": ["application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", false],
};

/** The media type of a file, by the end of its name. */
export function mediatypeOf(path: string): string {
  return KINDS[extname(path).toLowerCase()]?.[0] ?? "application/octet-stream";
}

/** What a description says of the pack as a whole. */
export interface Described {
  readonly title: string;
  readonly description: string;
  /** As ISO 8601. */
  readonly created: string;
  readonly siltbook: string;
}

/**
 * Describes files as a Data Package, version 2 of the standard.
 *
 * @param tables - the tables among the files, by path
 */
export function dataPackageOf(
  { title, description, created, siltbook }: Described,
  files: readonly PackFile[],
  tables: ReadonlyMap<string, Table>,
): PackFile {
  return jsonFile(DATA_PACKAGE, {
    $schema: "https://datapackage.org/profiles/2.0/datapackage.json",
    name: "siltbook-evidence",
    title,
    description,
    created,
    contributors: [{ title: `siltbook ${siltbook}`, roles: ["creator"] }],
    resources: files.map((file) => resourceOf(file, tables.get(file.path))),
  });
}

function resourceOf(file: PackFile, table: Table | undefined) {
  const { path, bytes } = file;
  const [, isText = false] = KINDS[extname(path).toLowerCase()] ?? [];
  // What a laboratory delivered may be in any encoding.
  const isUtf8 = isText && !path.startsWith("laboratory/");
  return {
    name: path.toLowerCase().replace(/[^a-z0-9._-]/g, "-"),
    path,
    ...(table !== undefined && { type: "table" }),
    format: extname(path).slice(1).toLowerCase(),
    mediatype: mediatypeOf(path),
    ...(isUtf8 && { encoding: "utf-8" }),
    bytes: bytes.length,
    hash: `sha256:${sha256OfBytes(bytes)}`,
    ...(table !== undefined && {
      schema: { fields: table.columns.map(({ name, type }) => ({ name, type })), missingValues: [""] },
    }),
  };
}
