import { dayAfter, daysBetween, isDay } from "./days.js";

/**
 * The day of judging. Whatever a verdict asks of it, it asks here, so that it is known until when every answer stays the same.
 *
 * Nobody else compares a day with the day of judging: a verdict that is kept for the next day rests on what is noted here.
 */
export class JudgingDay {
  readonly #on: string;
  #mayChangeOn: string | undefined;

  /** @param on - as ISO 8601 calendar day */
  constructor(on: string) {
    this.#on = on;
    // What is not a day stays the same for no time at all.
    if (!isDay(on)) this.#mayChangeOn = on;
  }

  /** Whether a day is here or over. */
  hasCome(day: string): boolean {
    if (day <= this.#on) return true;
    this.#note(day, 0);
    return false;
  }

  /** Whether a day is over. */
  isAfter(day: string): boolean {
    if (day < this.#on) return true;
    this.#note(day, 1);
    return false;
  }

  /** Whether at most some days have gone by since a day. */
  isWithin(from: string, days: number): boolean {
    if (!(daysBetween(from, this.#on) <= days)) return false;
    this.#note(from, Math.floor(days) + 1);
    return true;
  }

  /** Whether at least some days have gone by since a day; they may be less than none. */
  isPast(from: string, days: number): boolean {
    if (daysBetween(from, this.#on) >= days) return true;
    this.#note(from, Math.ceil(days));
    return false;
  }

  /** The day itself, for a sentence that is another one on every day. */
  get text(): string {
    this.#noteDay(this.#tomorrow());
    return this.#on;
  }

  /** The first day on which one of the answers so far would be another; undefined where none will. */
  get mayChangeOn(): string | undefined {
    return this.#mayChangeOn;
  }

  #tomorrow(): string {
    return isDay(this.#on) ? dayAfter(this.#on, 1) : this.#on;
  }

  #note(from: string, days: number): void {
    // Nobody waits for it, and the calendar has no such day; no number is never reached.
    if (!(Math.abs(days) <= MAX_DAYS_AHEAD)) return;
    const day = isDay(from) ? dayAfter(from, days) : "";
    this.#noteDay(day > this.#on ? day : this.#tomorrow());
  }

  #noteDay(day: string): void {
    if (this.#mayChangeOn === undefined || day < this.#mayChangeOn) this.#mayChangeOn = day;
  }
}

/** A thousand years. */
const MAX_DAYS_AHEAD = 365_250;
