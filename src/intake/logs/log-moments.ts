import type { Assumption } from "../../provenance/index.js";
import { readClock } from "../../samples/index.js";
import { type DateRule, readDate } from "../cells/dates.js";

const EXPECTED_TIME = "a day with a time, such as 2026-03-14 09:30:15, or a time of day";
const LIKE_A_DAY = /^\d{1,4}[./-]\d/;
const DAY_MS = 86_400_000;

/** Reads the moments of the rows of a log, in their order. */
export class LogMoments {
  private last: number | undefined;
  private days = 0;
  private noZone = false;
  private noDay = false;

  /**
   * @param rule - in which order days are written
   * @param zone - of times that name none
   */
  constructor(
    private readonly rule: DateRule | (() => DateRule),
    private readonly zone: string | undefined,
  ) {}

  /**
   * Reads one row.
   *
   * @param texts - a moment, or a day and a time of day in cells of their own
   * @returns milliseconds since 1970, or what was expected
   */
  read(texts: readonly string[]): number | string {
    const written = texts.filter((text) => text !== "");
    const dates = written.map((text) => readDate(text, this.rule));
    const found = dates.find((date) => date.kind === "read");
    const clocks = written.flatMap((text) => readClock(text) ?? []);
    const isMidnight = written.some((text) => /\d\D+0?0:00(:00)?/.test(text));
    if (found?.kind === "read") {
      const clock = found.moment.time ?? clocks[0] ?? (isMidnight ? "00:00" : undefined);
      return clock === undefined ? EXPECTED_TIME : this.at(found.moment.day, clock);
    }
    const [clock] = clocks;
    if (clock !== undefined && written.length === 1) return this.ofDay(clock);
    const [day] = dates;
    return day !== undefined && day.kind !== "read" && LIKE_A_DAY.test(written[0] ?? "")
      ? day.expected
      : EXPECTED_TIME;
  }

  /** What the moments rest on. */
  get assumptions(): Assumption[] {
    return [
      ...(this.noDay
        ? [{ code: "log-without-days", message: "the log names no day: its times were taken as of one run" }]
        : []),
      ...(this.noZone
        ? [
            {
              code: "log-without-zone",
              message: "times that name no zone are printed as in the log",
            },
          ]
        : []),
    ];
  }

  private at(day: string, clock: string): number {
    const isZoned = /(Z|[+-]\d{2}:\d{2})$/.test(clock);
    if (!isZoned && this.zone === undefined) this.noZone = true;
    return Date.parse(`${day}T${clock}${isZoned ? "" : (this.zone ?? "Z")}`);
  }

  /** A time of day alone: a run goes on past midnight. */
  private ofDay(clock: string): number {
    this.noDay = true;
    const at = this.at("1970-01-01", clock);
    if (this.last !== undefined && at + this.days * DAY_MS < this.last - DAY_MS / 2) this.days += 1;
    this.last = at + this.days * DAY_MS;
    return this.last;
  }
}
