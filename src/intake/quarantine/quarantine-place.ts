import { describePlaces, isColumn, readPlaces } from "../../provenance/index.js";

/** Where a quarantined row stands: enough to find it again in the book. */
export interface QuarantinePlace {
  /** The first digits of the file's SHA-256. */
  readonly sha256Start: string;
  readonly sheet?: string;
  readonly rows: readonly number[];
}

const DIGITS = 12;

/** The names of a file and a sheet, and the rows of a sample, are never longer together. */
const MAX_PLACE_LENGTH = 10_000;

/**
 * Writes the place of quarantined rows, for a person and for the way back.
 *
 * @example
 * formatPlace("march.csv", "3f2a9c1b2d3e4f50", undefined, [41]); // => "march.csv row 41 #3f2a9c1b2d3e"
 */
export function formatPlace(
  file: string,
  sha256: string,
  sheet: string | undefined,
  rows: readonly number[],
): string {
  const place = sheet === undefined ? file : `${file} sheet "${sheet}"`;
  const columns = rows.filter(isColumn);
  const where = columns.length > 0 ? describePlaces(columns) : `row ${rows.join("+")}`;
  return `${place} ${where} #${sha256.slice(0, DIGITS)}`;
}

/** Reads what {@link formatPlace} wrote; undefined for any other text. */
export function readPlace(text: string): QuarantinePlace | undefined {
  if (text.length > MAX_PLACE_LENGTH) return undefined;
  const match = /(?: sheet "(.*)")? ((?:row|column) [A-Z\d+]+(?: from row \d+)?) #([0-9a-f]{12})$/.exec(text);
  const [, sheet, places = "", sha256Start = ""] = match ?? [];
  const rows = readPlaces(places);
  return rows && { sha256Start, ...(sheet !== undefined && { sheet }), rows };
}
