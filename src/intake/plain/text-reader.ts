import { LONGEST_DATE } from "../dates.js";
import { dayAt, FEED, isBlank, isPlainText, isTimeMark, marked, QUOTE, RETURN, SPACE } from "./cell-bytes.js";
import { NOT_PLAIN } from "./names.js";
import { HOLDS } from "./plan.js";
import { NONE } from "./scanned.js";
import type { Texts } from "./texts.js";

/** What a cell becomes that has no plain reading; −1 is a cell without a text. */
const REFUSED = -2;

/** A day written year first, 2026-03-14, has so many characters. */
const DAY_LENGTH = 10;

/** Reads names, days, times and classes that have one reading by themselves from the bytes of their cells. */
export class TextReader {
  /** What the cell that was read last becomes in its column: where a sample's number begins, a day, or a place in a list. */
  value: number = NONE;
  /** Where the number of the sample that was read last ends. */
  numberEnd = 0;
  /** The time of day that stood behind the last day of drawing. Whoever asks sets it back. */
  timeOfDay: number = NONE;
  /** Bytes at which the text of a cell ends, or at which the row is left to the ordinary reader. */
  readonly #endsPlain: Uint8Array;
  readonly #endsQuoted = marked(QUOTE, FEED, RETURN);
  /** Bytes that a number of a sample as it mostly stands, without blanks and signs that have to be looked at, has not. */
  readonly #endsWord: Uint8Array;
  // Where the name that each column held last stands in the bytes, and its number.
  #lastBytes: Uint8Array | undefined;
  readonly #lastStart: Int32Array;
  readonly #lastLength: Int32Array;
  readonly #lastId: Int32Array;

  /**
   * @param separator - what stands between cells
   * @param texts - what the texts of the file are
   * @param columns - how many columns the file has
   */
  constructor(
    private readonly separator: number,
    private readonly texts: Texts,
    columns: number,
  ) {
    this.#endsPlain = marked(separator, QUOTE, FEED, RETURN);
    this.#endsWord = Uint8Array.from({ length: 256 }, (_, byte) =>
      byte !== separator && byte !== QUOTE && byte !== SPACE && isPlainText(Uint8Array.of(byte), 0, 1)
        ? 0
        : 1,
    );
    this.#lastStart = new Int32Array(columns);
    this.#lastLength = new Int32Array(columns);
    this.#lastId = new Int32Array(columns);
  }

  /**
   * Reads a text into `value`.
   *
   * @param kind - one of {@link HOLDS}, before the counts
   * @returns where it ends, blanks included, or −1 when it is not plain
   */
  read(kind: number, column: number, bytes: Uint8Array, start: number, quoted: boolean): number {
    const mark = quoted ? QUOTE : this.separator;
    // Numbers of samples and days are different in every row; written as they mostly are, they show their end themselves.
    if (kind === HOLDS.sample) {
      const end = this.#endOfWord(bytes, start);
      if (bytes[end] === mark && end > start) {
        this.value = start;
        this.numberEnd = end;
        return end;
      }
    } else if (kind === HOLDS.drawn && bytes[start + DAY_LENGTH] === mark) {
      const day = dayAt(bytes, start, start + DAY_LENGTH);
      if (day !== 0) {
        this.value = day;
        return start + DAY_LENGTH;
      }
    }
    const isName = kind <= HOLDS.fluid && kind >= HOLDS.cart;
    const repeated = isName ? this.#repeatedName(column, bytes, start) : 0;
    if (repeated > 0) {
      this.value = this.#lastId[column] as number;
      return start + repeated;
    }
    const ends = quoted ? this.#endsQuoted : this.#endsPlain;
    let end = start;
    while (ends[bytes[end] as number] === 0) end += 1;
    if (kind === HOLDS.nothing) return end;
    this.value = this.#text(kind, bytes, start, end);
    if (this.value === REFUSED) return NOT_PLAIN;
    if (isName) this.#rememberName(column, this.value, start, end);
    return end;
  }

  #endOfWord(bytes: Uint8Array, start: number): number {
    const ends = this.#endsWord;
    let end = start;
    while (ends[bytes[end] as number] === 0) end += 1;
    return end;
  }

  /** What the text of a cell becomes in its column; −1 when the cell is blank, −2 when it needs the ordinary reader. */
  #text(kind: number, bytes: Uint8Array, start: number, end: number): number {
    let from = start;
    let to = end;
    while (from < to && bytes[from] === SPACE) from += 1;
    while (to > from && bytes[to - 1] === SPACE) to -= 1;
    if (kind === HOLDS.sample) {
      this.numberEnd = to;
      return from < to && isPlainText(bytes, from, to) ? from : REFUSED;
    }
    if (kind === HOLDS.class)
      return isBlank(bytes, from, to) ? NONE : found(this.texts.classes.idOf(bytes, from, to));
    if (kind === HOLDS.drawn || kind === HOLDS.received || kind === HOLDS.reported) {
      if (from < to) return this.#day(kind, bytes, from, to);
      return kind === HOLDS.drawn ? REFUSED : 0;
    }
    if (from === to) return kind === HOLDS.cart || kind === HOLDS.circuit ? REFUSED : NONE;
    return found((kind === HOLDS["drawn-time"] ? this.texts.times : this.texts.names).idOf(bytes, from, to));
  }

  #day(kind: number, bytes: Uint8Array, from: number, to: number): number {
    const { times, days } = this.texts;
    if (to - from > LONGEST_DATE) return REFUSED;
    const day = dayAt(bytes, from, to);
    if (day !== 0) return day;
    // Behind a day written year first there may be a time of day.
    const mayHaveTime = to - from > DAY_LENGTH + 1 && isTimeMark(bytes[from + DAY_LENGTH]);
    const dayBefore = mayHaveTime ? dayAt(bytes, from, from + DAY_LENGTH) : 0;
    if (dayBefore !== 0) {
      const clock = times.idOf(bytes, from + DAY_LENGTH + 1, to);
      if (kind === HOLDS.drawn) this.timeOfDay = clock;
      return clock === NOT_PLAIN ? REFUSED : dayBefore;
    }
    const id = this.texts.daysAreSettled ? days.idOf(bytes, from, to) : NOT_PLAIN;
    return id === NOT_PLAIN ? REFUSED : (days.values[id] as number);
  }

  /**
   * Whether a cell holds the same name as the last one of its column that was looked up: rows that follow each other often
   * do, and then it need not be looked up again.
   *
   * @returns the length of the name; 0 when the cell holds another one
   */
  #repeatedName(column: number, bytes: Uint8Array, at: number): number {
    if (bytes !== this.#lastBytes) {
      this.#lastLength.fill(0);
      this.#lastBytes = bytes;
    }
    const start = this.#lastStart[column] as number;
    const length = this.#lastLength[column] as number;
    for (let place = 0; place < length; place += 1) {
      if (bytes[start + place] !== bytes[at + place]) return 0;
    }
    return bytes[at + length] === this.separator ? length : 0;
  }

  #rememberName(column: number, id: number, start: number, end: number): void {
    this.#lastStart[column] = start;
    this.#lastLength[column] = end - start;
    this.#lastId[column] = id;
  }
}

function found(id: number): number {
  return id === NOT_PLAIN ? REFUSED : id;
}
