/** What the reading of its cells showed of a row, a bit each. */
export const MARK = {
  /** A cell needs the ordinary reader, and its reading may depend on the rest of the file. */
  oddCell: 1,
  /** What the row says may not be true: it needs the ordinary reader. */
  odd: 2,
  /** A number with a decimal point, or comma, that has no other reading. */
  point: 4,
  comma: 8,
  /** A number, or a day, that has one reading only because of others in the file. */
  byOtherNumbers: 16,
  byOtherDays: 32,
} as const;

/** The marks of a row that is left to the ordinary reader. */
export const LEFT = MARK.oddCell | MARK.odd;
