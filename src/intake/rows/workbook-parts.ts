import { type Members, unpackArchive } from "../bytes/archive.js";
import { kindOfArchive } from "../bytes/other-kinds.js";
import { IntakeError } from "../checks/issue.js";
import { type NumberFormat, readNumberFormat } from "./number-format.js";
import { attributesOf, LESS, type Tag, tagsOf } from "./xml-tags.js";

/** A workbook that unpacks to more would not fit into memory with the workbook reader's own copy. */
const LIMITS = { members: 10_000, unpackedBytes: 300_000_000 };

/**
 * What spreadsheets write unpacks to at most 44 times its size (rows with a height and nothing in them) and has at most two
 * brackets for each byte of it (equal figures). Beyond these a small file keeps a reader busy for long.
 */
const MAX_PER_BYTE = { unpacked: 60, brackets: 4 };
/** So much is read at once, whatever it was packed into. */
const MIN_LOOKED_AT = { unpacked: 10_000_000, brackets: 500_000 };

/** Parts that the workbook reader looks into; pictures, charts and the like stay packed. */
const WANTED =
  /^(\[Content_Types\]\.xml|_rels\/\.rels|xl\/(?!drawings\/|charts\/|media\/|theme\/|externalLinks\/|pivot).*\.(xml|rels))$/;

/** The unpacked parts of a workbook by their names in the archive. */
export type Parts = Members;

/** One sheet of a workbook: its name, and its part of the archive as text. */
export interface SheetPart {
  readonly name: string;
  /** Whether the workbook does not show it to a person. */
  readonly isHidden: boolean;
  readonly xml: string;
}

/**
 * Unpacks a workbook.
 *
 * @param bytes - an xlsx file
 * @throws IntakeError when the bytes are no sound zip archive, unpack to more than 300 MB, or a part is not in UTF-8
 */
export function unpackWorkbook(file: string, bytes: Uint8Array): Parts {
  try {
    const names: string[] = [];
    const parts = unpackArchive(
      bytes,
      (name) => {
        names.push(name);
        return WANTED.test(name);
      },
      LIMITS,
    );
    if (!parts.has("xl/workbook.xml")) throw new OtherKind(kindOfArchive(names));
    // Another encoding would hide from the checks what it shows to the reader.
    for (const [name, part] of parts) if (part.includes(0)) throw new RangeError(`"${name}" is not in UTF-8`);
    refuseGrown(bytes, parts);
    return parts;
  } catch (error) {
    if (error instanceof OtherKind) {
      throw new IntakeError(`${file}: expected text, xlsx or JSON, found ${error.message}`, { cause: error });
    }
    throw notAWorkbook(file, error);
  }
}

/** @throws RangeError when the parts are more than any program packs into so few bytes */
function refuseGrown(bytes: Uint8Array, parts: Parts): void {
  const most = (of: keyof typeof MAX_PER_BYTE) =>
    Math.max(MIN_LOOKED_AT[of], MAX_PER_BYTE[of] * bytes.length);
  const grown = `its ${bytes.length} bytes unpack to more than a spreadsheet packs into so few; export its sheets as text`;
  let unpacked = 0;
  let brackets = 0;
  for (const part of parts.values()) {
    unpacked += part.length;
    if (unpacked > most("unpacked")) throw new RangeError(grown);
    for (let at = part.indexOf(LESS); at !== -1; at = part.indexOf(LESS, at + 1)) {
      brackets += 1;
      if (brackets > most("brackets")) throw new RangeError(grown);
    }
  }
}

/** The archive is sound and no workbook. */
class OtherKind extends Error {}

/** An error of something below as an error that names the file. */
export function notAWorkbook(file: string, error: unknown): IntakeError {
  return new IntakeError(`${file}: expected a workbook (xlsx): ${(error as Error).message}`, {
    cause: error,
  });
}

/**
 * The sheets that a workbook lists, in its order.
 *
 * @throws RangeError for a part that is no sound XML, or declares entities or a type of document: which can bring in texts from
 *   elsewhere and to texts that grow without bound
 */
export function sheetPartsOf(parts: Parts): SheetPart[] {
  const targets = new Map<string, string>();
  for (const tag of tagsIn(parts, "xl/_rels/workbook.xml.rels")) {
    if (tag.name !== "Relationship") continue;
    const attributes = attributesOf(tag);
    targets.set(attributes.get("Id") ?? "", attributes.get("Target") ?? "");
  }
  const sheets: SheetPart[] = [];
  for (const tag of tagsIn(parts, "xl/workbook.xml")) {
    if (tag.name !== "sheet") continue;
    const attributes = attributesOf(tag);
    const target = targets.get(attributes.get("r:id") ?? "")?.replace(/^\/?(xl\/)?/, "xl/") ?? "";
    sheets.push({
      name: attributes.get("name") ?? "",
      isHidden: /hidden$/i.test(attributes.get("state") ?? ""),
      xml: textOfPart(parts, target),
    });
  }
  for (const name of parts.keys()) {
    if (/^xl\/(sharedStrings|styles)/.test(name)) for (const _tag of tagsIn(parts, name));
  }
  return sheets;
}

/** Formats that every workbook knows by their number, and that show more than a number. */
const KNOWN_FORMATS = { "9": "0%", "10": "0.00%" };

/** What the styles of cells that show more than a number make of it, by the number of the style. */
export function numberFormatsOf(parts: Parts): Map<string, NumberFormat> {
  const formats = new Map<string, NumberFormat | undefined>();
  for (const [id, code] of Object.entries(KNOWN_FORMATS)) formats.set(id, readNumberFormat(code));
  const ofStyles = new Map<string, NumberFormat>();
  let cellStyles = 0;
  let isOfCells = false;
  for (const tag of tagsIn(parts, "xl/styles.xml")) {
    if (tag.name === "numFmt") {
      const attributes = attributesOf(tag);
      formats.set(attributes.get("numFmtId") ?? "", readNumberFormat(attributes.get("formatCode") ?? ""));
    } else if (tag.name === "cellXfs") isOfCells = true;
    else if (tag.name === "cellStyles" || tag.name === "dxfs") isOfCells = false;
    else if (tag.name === "xf" && isOfCells) {
      const format = formats.get(attributesOf(tag).get("numFmtId") ?? "");
      if (format !== undefined) ofStyles.set(String(cellStyles), format);
      cellStyles += 1;
    }
  }
  return ofStyles;
}

function tagsIn(parts: Parts, name: string): Generator<Tag> {
  return tagsOf(textOfPart(parts, name));
}

function textOfPart(parts: Parts, name: string): string {
  return new TextDecoder().decode(parts.get(name));
}
