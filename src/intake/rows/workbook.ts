import { zipSync } from "fflate";
import readWorkbook from "read-excel-file/node";
import { allBytes, type ByteSource } from "../bytes/bytes.js";
import { IntakeError } from "../checks/issue.js";
import { type RawCell, type RawRow, type RowSource, withoutTextMark } from "./row.js";
import { otherwiseShown } from "./sheet-cells.js";
import { notAWorkbook, numberFormatsOf, type Parts, sheetPartsOf, unpackWorkbook } from "./workbook-parts.js";

/** A workbook must fit into memory. Larger tables come as text. */
const MAX_WORKBOOK_BYTES = 50_000_000;

/**
 * Opens a workbook (xlsx): every sheet with something on it is a table of its own.
 *
 * Merged cells hold their value in the first cell, and {@link filledDown} says what becomes of the others. Dates become text as ISO 8601 writes it. A cell with an error, such
 * as #N/A, keeps the error's text, and one with a formula that was never computed shows its formula, so that neither is
 * taken for a blank. A number that a cell shows with more than itself, as "<0.5", "120 ppm", "0.31%" or "S-0012",
 * becomes the text that a person sees, with all its figures.
 *
 * @throws IntakeError when the file is no workbook or is too large
 */
export async function openWorkbook(source: ByteSource): Promise<RowSource[]> {
  const { file } = source;
  if (source.size > MAX_WORKBOOK_BYTES) {
    throw new IntakeError(
      `${file}: expected a workbook of at most ${MAX_WORKBOOK_BYTES} bytes, found ${source.size}; export its sheets as text`,
    );
  }
  const parts = unpackWorkbook(file, allBytes(source));
  const { hidden, shown } = lookInto(file, parts);
  // The reader never answers when it is given a damaged archive, so it gets one that was unpacked and packed again.
  const sheets = await readSheets(file, Buffer.from(zipSync(Object.fromEntries(parts), { level: 0 })));
  return sheets
    .filter(({ data }) => data.length > 0)
    .map(({ sheet, data }) => {
      const { texts, mergedDown = [], mergedAcross = [] } = shown.get(sheet) ?? {};
      const rows = rowsOfSheet(`${file} sheet "${sheet}"`, data, texts);
      const isHidden = hidden.has(sheet);
      const shownNumber = firstShownNumber(data, texts);
      return {
        file,
        sheet,
        isHidden,
        mergedDown,
        mergedAcross,
        ...(shownNumber && { shownNumber }),
        format: "workbook",
        readAs: `sheet "${sheet}"`,
        rows: () => rows,
      };
    });
}

function lookInto(file: string, parts: Parts) {
  try {
    const sheets = sheetPartsOf(parts);
    const hidden = new Set(sheets.filter(({ isHidden }) => isHidden).map(({ name }) => name));
    return { hidden, shown: otherwiseShown(sheets, numberFormatsOf(parts)) };
  } catch (error) {
    throw notAWorkbook(file, error);
  }
}

type Sheets = Awaited<ReturnType<typeof readWorkbook>>;

async function readSheets(file: string, bytes: Buffer): Promise<Sheets> {
  try {
    return await readWorkbook(bytes);
  } catch (error) {
    throw notAWorkbook(file, error);
  }
}

/** The most characters that a cell of a workbook may hold; a longer one was made to fill the memory. */
const MAX_CELL_LENGTH = 32_767;

function rowsOfSheet(
  place: string,
  data: Sheets[number]["data"],
  shown: ReadonlyMap<string, string> | undefined,
): RawRow[] {
  const width = data.reduce((most, cells) => Math.max(most, cells.length), 0);
  return data.map((values, index) => {
    const row = index + 1;
    const cells = Array.from({ length: width }, (_, column): RawCell => {
      const otherwise = shown?.get(`${row},${column}`);
      if (otherwise !== undefined) return otherwise;
      const value = values[column];
      if (value === null || value === undefined) return "";
      if (value instanceof Date) return dayOf(value);
      if (typeof value === "string" && value.length > MAX_CELL_LENGTH) {
        throw new IntakeError(
          `${place} row ${row}: expected cells of at most ${MAX_CELL_LENGTH} characters, found ${value.length}`,
        );
      }
      return typeof value === "number" ? value : withoutTextMark(String(value));
    });
    const written = cells.slice(0, cells.findLastIndex((cell) => cell !== "") + 1);
    return { row, cells, text: written.join("\t") };
  });
}

/** The first number that its cell shows with more than itself. */
function firstShownNumber(
  data: Sheets[number]["data"],
  shown: ReadonlyMap<string, string> = new Map(),
): RowSource["shownNumber"] {
  for (const [place, shows] of shown) {
    const [row, column] = place.split(",").map(Number) as [number, number];
    const holds = data[row - 1]?.[column];
    if (typeof holds === "number") return { holds, shows };
  }
  return undefined;
}

/** A date as text; the time of day is left out at midnight, which is how a workbook keeps a day without a time. */
function dayOf(date: Date): string {
  // The reader turns days and fractions into milliseconds and may miss the second by a hair.
  const seconds = new Date(Math.round(date.getTime() / 1000) * 1000);
  if (Number.isNaN(seconds.getTime())) return "a date that cannot be";
  const [day = "", time = ""] = seconds.toISOString().split("T");
  return time.startsWith("00:00:00") ? day : `${day}T${time.slice(0, 8)}`;
}
