import { daysIn } from "../dates.js";

export const FEED = 0x0a;
export const RETURN = 0x0d;
export const SPACE = 0x20;
export const QUOTE = 0x22;
export const COMMA = 0x2c;
export const DASH = 0x2d;
export const POINT = 0x2e;
export const ZERO = 0x30;
export const LESS = 0x3c;
export const EQUALS = 0x3d;
export const MORE = 0x3e;
const LAST_PRINTABLE = 0x7e;
const TIME_MARK = 0x54;

/** A limit as a number: its place in the list of limits of a block. */
export const LIMIT = { none: 0, below: 1, above: 2, atMost: 3, atLeast: 4 } as const;

/** Whether a measured value, or what its limit says, lies between two bounds; 0 always does. */
export function isPossible(
  value: number,
  limit: number,
  { least, most }: { readonly least: number; readonly most: number },
): boolean {
  if (value > 0 && value < least) return limit === LIMIT.above || limit === LIMIT.atLeast;
  if (value > most) return limit === LIMIT.below || limit === LIMIT.atMost;
  return true;
}

/** Whether a text is printable ASCII with single spaces, so that nothing in it has to be tidied or refused. */
export function isPlainText(bytes: Uint8Array, from: number, to: number): boolean {
  let before = 0;
  for (let at = from; at < to; at += 1) {
    const byte = bytes[at] as number;
    if (byte < SPACE || byte > LAST_PRINTABLE || (byte === SPACE && before === SPACE)) return false;
    before = byte;
  }
  return true;
}

/** Whether a text is a single dash. */
export function isDash(bytes: Uint8Array, from: number, to: number): boolean {
  return to === from + 1 && bytes[from] === DASH;
}

/** Whether a time of day may follow. */
export function isTimeMark(byte: number | undefined): boolean {
  return byte === SPACE || byte === TIME_MARK;
}

/** A day written year first, 2026-03-14, has so many characters. */
export const DAY_LENGTH = 10;

/** A day written as 2026-03-14, as 20260314; 0 when it is none. */
export function dayAt(bytes: Uint8Array, from: number, to: number): number {
  if (to - from !== DAY_LENGTH || bytes[from + 4] !== DASH || bytes[from + 7] !== DASH) return 0;
  const year = figuresAt(bytes, from) * 100 + figuresAt(bytes, from + 2);
  const month = figuresAt(bytes, from + 5);
  const date = figuresAt(bytes, from + 8);
  const isDay = year >= 1900 && month >= 1 && month <= 12 && date >= 1 && date <= daysIn(year, month);
  return isDay ? year * 10_000 + month * 100 + date : 0;
}

/** The number that two figures make; far below 0 when they are not figures. */
function figuresAt(bytes: Uint8Array, at: number): number {
  const tens = (bytes[at] as number) - ZERO;
  const ones = (bytes[at + 1] as number) - ZERO;
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? tens * 10 + ones : -1_000_000;
}
