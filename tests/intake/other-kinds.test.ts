import { gzipSync, strToU8, zipSync } from "fflate";
import { describe, expect, test } from "vitest";
import { readLabFile } from "../../src/intake/index.js";

const TABLE = "sample,cart,circuit,drawn on,water (mg/kg)\nS-1,QB-01,1,2026-03-04,90\n";
const bytes = (...numbers: number[]) => Uint8Array.from(numbers);
const archive = (...names: string[]) =>
  zipSync(Object.fromEntries(names.map((name) => [name, strToU8("<x/>")])));

/** A tar archive of one file, without its sums. */
function tarOf(text: string): Uint8Array {
  const packed = new Uint8Array(1536);
  packed.set(strToU8("lab.csv"));
  packed.set(strToU8("ustar"), 257);
  packed.set(strToU8(text), 512);
  return packed;
}

describe("a file of another kind is refused by its name, and the message says what to do", () => {
  test.each([
    [
      "lab.ods",
      archive("mimetype", "content.xml", "META-INF/manifest.xml"),
      "an OpenDocument file (ods or odt); save it as xlsx",
    ],
    [
      "lab.docx",
      archive("[Content_Types].xml", "word/document.xml"),
      "a text document (docx); save its table as text or xlsx",
    ],
    [
      "lab.pptx",
      archive("[Content_Types].xml", "ppt/presentation.xml"),
      "a presentation (pptx); save its table as text or xlsx",
    ],
    [
      "lab.xlsb",
      archive("[Content_Types].xml", "xl/workbook.bin"),
      "a binary workbook (xlsb); save it as xlsx",
    ],
    ["lab.zip", archive("lab.csv"), "a zip archive; unpack it"],
    ["lab.csv.gz", gzipSync(strToU8(TABLE)), "a file packed with gzip; unpack it"],
    ["lab.7z", bytes(0x37, 0x7a, 0xbc, 0xaf, 0x27, 0x1c), "an archive (7z); unpack it"],
    ["lab.xls", bytes(0xd0, 0xcf, 0x11, 0xe0), "an old binary workbook; save it as xlsx"],
    ["lab.pdf", strToU8("\n%PDF-1.4"), "a PDF; ask the laboratory for its data file"],
    [
      "lab.png",
      bytes(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10),
      "an image; ask the laboratory for its data file",
    ],
    ["lab.jpg", bytes(0xff, 0xd8, 0xff, 0xe0), "an image; ask the laboratory for its data file"],
    ["lab.tif", bytes(0x49, 0x49, 0x2a, 0), "an image; ask the laboratory for its data file"],
    ["lab.heic", strToU8("\0\0\0\u0018ftypheic"), "an image or a film; ask the laboratory for its data file"],
    ["lab.html", strToU8("<!DOCTYPE html><table><tr><td>sample"), "a web page; open it in a spreadsheet"],
    ["lab.xls", strToU8("\ufeff\n<html xmlns:x='urn:x'><table>"), "a web page; open it in a spreadsheet"],
    ["lab.xml", strToU8('<?xml version="1.0"?><Workbook/>'), "XML; save it as xlsx or text"],
    ["lab.rtf", strToU8("{\\rtf1 sample"), "a text document (rtf); save its table as text or xlsx"],
    ["lab.rar", strToU8("Rar!\u001a"), "an archive (rar); unpack it"],
    ["lab.tar", tarOf(TABLE), "an archive (tar); unpack it"],
    ["lab.bin", bytes(...Array(40).fill(0)), "a file that holds no text; export the results as text or xlsx"],
    ["lab.msg", bytes(0xd0, 0xcf, 0x11, 0xe0), "a mail (msg); save the file that is attached to it"],
    [
      "lab.eml",
      strToU8(`Return-Path: <a@example.org>\r\nReceived: from a\r\n\tby b; 10:00\r\nTo: b\r\n\r\n${TABLE}`),
      "a mail; save the file that is attached to it",
    ],
    [
      "lab.eml",
      strToU8(`From: a@example.org\nTo: b@example.org\nSubject: results\n\n${TABLE}`),
      "a mail; save the file that is attached to it",
    ],
    [
      "lab.eml",
      strToU8(`From: a@example.org\nMIME-Version: 1.0\n\n${TABLE}`),
      "a mail; save the file that is attached to it",
    ],
    [
      "base.siltbook",
      strToU8("SQLite format 3\0"),
      "a database, such as a sample book; name a book with --book",
    ],
  ])("%s", async (name, content, found) => {
    await expect(readLabFile(name, content)).rejects.toThrow(
      `${name}: expected text, xlsx or JSON, found ${found}`,
    );
  });
});

test.each([
  ["BM Laboratory\n", "text that begins with the letters of an image"],
  ["<5 is below the limit of the method\n", "text that begins with a sign"],
  ["mime types: none\n", "text with a colon"],
])("%j: %s", async (above) => {
  expect((await readLabFile("lab.csv", strToU8(`${above}${TABLE}`))).samples).toHaveLength(1);
});

test.each([
  ["an empty file", "", "the file is empty;"],
  ["a byte order mark alone", "\ufeff", "the file is empty;"],
  ["blanks alone", "  \n\t\n \n", "the file is empty but for blanks;"],
])("%s is refused with what to do", async (_, text, found) => {
  await expect(readLabFile("lab.csv", strToU8(text))).rejects.toThrow(
    `lab.csv: expected a header, found none: ${found} export it again, or ask the laboratory for it`,
  );
});

test("labels that a mail has as well make no mail of a sample", async () => {
  const lines = [
    "Sample: S-1",
    "Cart: QB-01",
    "Circuit: fore",
    "Drawn: 2026-03-04",
    "Received: 2026-03-05",
    "Water: 90 ppm",
  ];
  expect((await readLabFile("lab.txt", strToU8(lines.join("\n")))).samples).toHaveLength(1);
});
