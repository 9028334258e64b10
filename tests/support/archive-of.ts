import { deflateRawSync } from "node:zlib";
import ExcelJS from "exceljs";
import { unzipSync } from "fflate";

/** A member of an archive, and what the archive says of it where that is not true. */
export interface Member {
  readonly name: string;
  readonly content: string | Uint8Array;
  readonly stored?: boolean;
  /** The content as it is packed, where many members have the same. */
  readonly packed?: Uint8Array;
  readonly flags?: number;
  readonly saysUnpacked?: number;
  readonly saysPacked?: number;
  /** The number of an earlier member whose bytes this one claims to be. */
  readonly sameAs?: number;
}

/** Writes a zip archive, with as many untruths in it as are required. */
export function archiveOf(members: readonly Member[]): Uint8Array {
  const bodies: Buffer[] = [];
  const directory: Buffer[] = [];
  const places: { at: number; packed: Uint8Array }[] = [];
  let at = 0;
  for (const member of members) {
    const { name, content, stored, flags = 0, saysUnpacked, saysPacked, sameAs } = member;
    const bytes = Buffer.from(content as Uint8Array);
    const packed = sameAs === undefined ? packedOf(member, bytes) : place(places, sameAs).packed;
    const nameBytes = Buffer.from(name);
    const fields = Buffer.alloc(26);
    fields.writeUInt16LE(20, 0);
    fields.writeUInt16LE(flags, 2);
    fields.writeUInt16LE(stored ? 0 : 8, 4);
    fields.writeUInt32LE(saysPacked ?? packed.length, 14);
    fields.writeUInt32LE(saysUnpacked ?? bytes.length, 18);
    fields.writeUInt16LE(nameBytes.length, 22);
    const start = sameAs === undefined ? at : place(places, sameAs).at;
    places.push({ at: start, packed });
    if (sameAs === undefined) {
      const local = Buffer.concat([signature(0x04034b50), fields, nameBytes, packed]);
      bodies.push(local);
      at += local.length;
    }
    const rest = Buffer.alloc(14);
    rest.writeUInt32LE(start, 10);
    directory.push(Buffer.concat([signature(0x02014b50), Buffer.from([20, 0]), fields, rest, nameBytes]));
  }
  const list = Buffer.concat(directory);
  const end = Buffer.alloc(18);
  end.writeUInt16LE(Math.min(0xffff, members.length), 4);
  end.writeUInt16LE(Math.min(0xffff, members.length), 6);
  end.writeUInt32LE(list.length, 8);
  end.writeUInt32LE(at, 12);
  return Buffer.concat([...bodies, list, signature(0x06054b50), end]);
}

function packedOf({ stored, packed }: Member, bytes: Buffer): Uint8Array {
  return packed ?? (stored ? bytes : deflateRawSync(bytes));
}

function place(places: readonly { at: number; packed: Uint8Array }[], index: number) {
  return places[index] as { at: number; packed: Uint8Array };
}

function signature(value: number): Buffer {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32LE(value);
  return bytes;
}

export const TITLES = ["sample", "cart", "circuit", "drawn on", "4 µm(c) per mL", "water (mg/kg)"];

/** The parts of a sound workbook with one sheet, by name, for changing one of them. */
export async function workbookParts(
  rows: readonly (readonly (string | number)[])[] = [["S-1", "C-1", "fore", "2026-03-04", 1300, 120]],
  sheet = "results",
): Promise<Map<string, string>> {
  const book = new ExcelJS.Workbook();
  const page = book.addWorksheet(sheet);
  page.addRow(TITLES);
  for (const row of rows) page.addRow([...row]);
  const parts = unzipSync(new Uint8Array((await book.xlsx.writeBuffer()) as ArrayBuffer));
  return new Map(Object.entries(parts).map(([name, bytes]) => [name, new TextDecoder().decode(bytes)]));
}

/** The members of an archive from parts by name. */
export function membersOf(parts: ReadonlyMap<string, string>): Member[] {
  return [...parts].map(([name, content]) => ({ name, content }));
}

export const SHEET = "xl/worksheets/sheet1.xml";
export const STRINGS = "xl/sharedStrings.xml";
