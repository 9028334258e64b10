import { unzipSync } from "fflate";
import { IntakeError } from "../issue.js";

/** A sheet that unpacks to more would not fit into memory beside the workbook reader's own copy. */
const LARGEST_UNPACKED_BYTES = 300_000_000;

/** The unpacked parts of a workbook by their names in the archive. */
export type Parts = ReturnType<typeof unzipSync>;

/**
 * Finds the cells of a workbook that hold an error, such as #N/A or #DIV/0!.
 *
 * The workbook reader leaves such cells blank; blank means "not measured", and that is not what stands there.
 *
 * @returns for each sheet that has any, by its name, the error's text by "row,column" (row from 1, column from 0)
 */
export function errorCellsOf(parts: Parts): Map<string, ReadonlyMap<string, string>> {
  const targets = new Map(
    [...tagsOf(parts, "xl/_rels/workbook.xml.rels", "Relationship")].map((tag) => [
      attribute(tag, "Id"),
      attribute(tag, "Target"),
    ]),
  );
  const found = new Map<string, ReadonlyMap<string, string>>();
  for (const tag of tagsOf(parts, "xl/workbook.xml", "sheet")) {
    const target = targets.get(attribute(tag, "r:id"))?.replace(/^\/?(xl\/)?/, "xl/") ?? "";
    const cells = errorsIn(textOfPart(parts, target));
    if (cells.size > 0) found.set(plain(attribute(tag, "name")), cells);
  }
  return found;
}

/**
 * Unpacks a workbook.
 *
 * @param bytes - an xlsx file
 * @throws IntakeError when the bytes are no sound zip archive or unpack to more than 300 MB
 */
export function unpackWorkbook(file: string, bytes: Uint8Array): Parts {
  let unpacked = 0;
  try {
    return unzipSync(bytes, {
      filter: ({ name, originalSize }) => {
        unpacked += originalSize;
        if (unpacked > LARGEST_UNPACKED_BYTES) throw new RangeError("it unpacks to more than 300 MB");
        return /\.(xml|rels)$/.test(name);
      },
    });
  } catch (error) {
    throw new IntakeError(`${file}: expected a workbook (xlsx): ${(error as Error).message}`, {
      cause: error,
    });
  }
}

function textOfPart(parts: Parts, name: string): string {
  return Object.hasOwn(parts, name) ? new TextDecoder().decode(parts[name]) : "";
}

function* tagsOf(parts: Parts, part: string, tag: string): Generator<string> {
  for (const match of textOfPart(parts, part).matchAll(new RegExp(`<${tag} ([^>]*)>`, "g"))) {
    yield match[1] ?? "";
  }
}

function attribute(attributes: string, name: string): string {
  return new RegExp(`(?:^|\\s)${name}="([^"]*)"`).exec(attributes)?.[1] ?? "";
}

function plain(text: string): string {
  return text
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("&apos;", "'")
    .replaceAll("&amp;", "&");
}

function errorsIn(sheet: string): Map<string, string> {
  const cells = new Map<string, string>();
  for (const match of sheet.matchAll(
    /<c ([^>]*\bt="e"[^>]*)>(?:<f[^>]*>[^<]*<\/f>|<f[^>]*\/>)?<v>([^<]*)<\/v>/g,
  )) {
    const [, letters = "", row = ""] = /([A-Z]+)(\d+)/.exec(attribute(match[1] ?? "", "r")) ?? [];
    const column = [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1;
    cells.set(`${row},${column}`, match[2] ?? "");
  }
  return cells;
}
