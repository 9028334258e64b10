import { LONGEST_DATE } from "../dates.js";
import * as cellBytes from "./cell-bytes.js";
import { MARK } from "./marks.js";
import { type ByteNames, NOT_PLAIN } from "./names.js";
import { NONE } from "./scanned.js";
import type { CellColumn } from "./split.js";
import type { SettledDay, Texts } from "./texts.js";

// A constant of the module itself is compiled in; an imported one is looked up for every cell.
const { DAY_LENGTH, dayAt, isDash, isPlainText, isTimeMark, QUOTE, SPACE } = cellBytes;

/** Bytes of a number of a sample that need not be looked at: printable and no blanks. */
const IN_WORD = Uint8Array.from({ length: 256 }, (_, byte) =>
  byte !== SPACE && isPlainText(Uint8Array.of(byte), 0, 1) ? 1 : 0,
);

/** Reads columns of names, days, times and classes that have one reading by themselves from the bytes of their cells. */
export class TextReader {
  // Where the text of the cell that is being read begins and ends, without quotation marks and blanks.
  #from = 0;
  #to = 0;
  // What the day that was read last tells besides: its time of day, and what its row is marked with.
  #clock: number = NONE;
  #mark = 0;

  /** @param texts - what the texts of the file are */
  constructor(private readonly texts: Texts) {}

  /** Reads the numbers of samples: where each begins and ends. */
  readSampleNumbers(cells: CellColumn, starts: Int32Array, ends: Int32Array, marks: Uint8Array): void {
    const { bytes, size } = cells;
    for (let index = 0; index < size; index += 1) {
      this.#find(cells, index);
      const to = this.#to;
      let at = this.#from;
      starts[index] = at;
      ends[index] = to;
      const isBlank = at === to;
      while (at < to && IN_WORD[bytes[at] as number] === 1) at += 1;
      if (isBlank || (at < to && !isPlainText(bytes, this.#from, to))) leave(marks, index);
    }
  }

  /**
   * Reads names of carts, circuits or fluids: their places in the list of names.
   *
   * @param mayLack - whether a cell may be blank
   */
  readNames(cells: CellColumn, mayLack: boolean, places: Int32Array, marks: Uint8Array): void {
    const { bytes, size } = cells;
    const { names } = this.texts;
    // Rows that follow each other often have the same name; then it need not be looked up again.
    let [lastFrom, lastLength, lastPlace] = [0, -1, NONE];
    for (let index = 0; index < size; index += 1) {
      this.#find(cells, index);
      const from = this.#from;
      const to = this.#to;
      if (to - from !== lastLength || !isRepeated(bytes, lastFrom, from, lastLength)) {
        lastPlace = from === to && mayLack ? NONE : plainPlace(names, bytes, from, to);
        lastFrom = from;
        lastLength = to - from;
      }
      if (lastPlace === REFUSED) leave(marks, index);
      else places[index] = lastPlace;
    }
  }

  /**
   * Reads times of day, classes that a laboratory reported, or what it says in words: their places in a list. What stands
   * there already stays where a cell is blank.
   *
   * @param mayBeDash - whether a dash stands for a blank cell
   */
  readTexts(
    cells: CellColumn,
    known: ByteNames<unknown>,
    mayBeDash: boolean,
    places: Int32Array,
    marks: Uint8Array,
  ): void {
    const { bytes, size } = cells;
    for (let index = 0; index < size; index += 1) {
      this.#find(cells, index);
      if (this.#from === this.#to || (mayBeDash && isDash(bytes, this.#from, this.#to))) continue;
      const place = plainPlace(known, bytes, this.#from, this.#to);
      if (place === REFUSED) leave(marks, index);
      else places[index] = place;
    }
  }

  /**
   * Reads days as numbers, 20260314 for 2026-03-14; 0 where a cell is blank. What is there already was read before.
   *
   * @param times - where the time of day goes that stands behind a day of drawing; absent for other days, which may be blank
   */
  readDays(cells: CellColumn, times: Int32Array | undefined, days: Int32Array, marks: Uint8Array): void {
    const { bytes, size } = cells;
    for (let index = 0; index < size; index += 1) {
      if (days[index] !== 0) continue;
      this.#find(cells, index);
      const from = this.#from;
      const to = this.#to;
      if (from === to && times === undefined) continue;
      let day = to - from === DAY_LENGTH ? dayAt(bytes, from, to) : 0;
      if (day === 0) {
        day = this.#day(bytes, from, to);
        marks[index] = (marks[index] as number) | this.#mark;
        // A time in a column of its own comes before one that stands behind the day.
        if (times?.[index] === NONE) times[index] = this.#clock;
      }
      if (day === REFUSED) leave(marks, index);
      else days[index] = day;
    }
  }

  #day(bytes: Uint8Array, from: number, to: number): number {
    const { times, days } = this.texts;
    this.#clock = NONE;
    this.#mark = 0;
    if (to - from > LONGEST_DATE) return REFUSED;
    // Behind a day written year first there may be a time of day.
    const mayHaveTime = to - from > DAY_LENGTH + 1 && isTimeMark(bytes[from + DAY_LENGTH]);
    const day = mayHaveTime ? dayAt(bytes, from, from + DAY_LENGTH) : 0;
    if (day !== 0) {
      this.#clock = plainPlace(times, bytes, from + DAY_LENGTH + 1, to);
      return this.#clock === REFUSED ? REFUSED : day;
    }
    if (!this.texts.daysAreSettled) return REFUSED;
    const place = plainPlace(days, bytes, from, to);
    if (place === REFUSED) return REFUSED;
    const settled = days.values[place] as SettledDay;
    if (settled.byOthers) this.#mark = MARK.byOtherDays;
    return settled.day;
  }

  /** Finds the text of a cell. */
  #find({ bytes, before, ends }: CellColumn, index: number): void {
    let from = (before[index] as number) + 1;
    let to = ends[index] as number;
    if (bytes[from] === QUOTE) {
      from += 1;
      to -= 1;
    }
    while (from < to && bytes[from] === SPACE) from += 1;
    while (to > from && bytes[to - 1] === SPACE) to -= 1;
    this.#from = from;
    this.#to = to;
  }
}

/** What a cell becomes that has no plain reading; −1 is a cell without a text. */
const REFUSED = -2;

function plainPlace(texts: ByteNames<unknown>, bytes: Uint8Array, from: number, to: number): number {
  const place = texts.idOf(bytes, from, to);
  return place === NOT_PLAIN ? REFUSED : place;
}

function leave(marks: Uint8Array, index: number): void {
  marks[index] = (marks[index] as number) | MARK.oddCell;
}

/** Whether the bytes at two places are the same. */
function isRepeated(bytes: Uint8Array, one: number, other: number, length: number): boolean {
  for (let place = 0; place < length; place += 1) {
    if (bytes[one + place] !== bytes[other + place]) return false;
  }
  return true;
}
