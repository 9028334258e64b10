import type { OnlineAnswer } from "./answer.js";
import { Following, type FollowingSettings } from "./following.js";
import { checkReading, meanOfMinute, minuteOf, type OnlineReading } from "./minute.js";
import type { OnlineOutlook } from "./outlook.js";
import { SensorLines } from "./sensor-lines.js";

/** What became of the lines of an instrument. */
export type OnlineEvent =
  | { readonly kind: "answer"; readonly answer: OnlineAnswer; readonly outlook?: OnlineOutlook | undefined }
  | { readonly kind: "not-read"; readonly line: number; readonly expected: string; readonly found: string }
  | { readonly kind: "clock-set-back"; readonly minutes: number };

/** A line of a minute that is over is late; one that is further back than this is of a clock that was set back. */
const LATE_MINUTES = 5;
/** Lines that are remembered, to know one that comes again. */
const REMEMBERED = 2000;

/** Follows an instrument line by line, as they come; nothing is lost, and a line that comes again counts once. */
export class OnlineStream {
  private readonly lines = new SensorLines();
  private readonly recent = new Set<string>();
  private following: Following;
  private open: OnlineReading[] = [];
  private read = 0;
  private counters = { repeated: 0, late: 0, notRead: 0 };

  constructor(private readonly settings: FollowingSettings) {
    this.following = new Following(settings);
  }

  /** Lines that changed nothing, by why. */
  get unused(): { readonly repeated: number; readonly late: number; readonly notRead: number } {
    return { ...this.counters };
  }

  /**
   * Takes a line.
   *
   * @param now - milliseconds since 1970, for moments that are relative to it
   * @param asksOutlook - whether the minute that this line may end is to be looked ahead from
   */
  take(line: string, now: number, asksOutlook = true): OnlineEvent[] {
    this.read += 1;
    if (line.trim() === "") return [];
    const said = this.lines.read(line, now);
    // The moments are part of it: the same value a minute later is another one, although the line may not say when.
    if (this.isRepeated(JSON.stringify([line, said]))) return [];
    if (said.kind === "not-read") {
      this.counters.notRead += 1;
      return [{ kind: "not-read", line: this.read, expected: said.expected, found: said.found }];
    }
    return said.readings.flatMap((reading) => this.add(reading, asksOutlook));
  }

  /** Takes what an instrument shows at one moment, such as a row of a log. */
  takeReadings(readings: readonly OnlineReading[], asksOutlook = true): OnlineEvent[] {
    for (const reading of readings) checkReading(reading);
    if (this.isRepeated(JSON.stringify(readings))) return [];
    return readings.flatMap((reading) => this.add(reading, asksOutlook));
  }

  /** The minute that is still open, when nothing more comes. */
  end(): OnlineEvent[] {
    return this.close(true);
  }

  private isRepeated(key: string): boolean {
    if (this.recent.has(key)) {
      this.counters.repeated += 1;
      return true;
    }
    this.recent.add(key);
    if (this.recent.size > REMEMBERED) this.recent.delete(this.recent.values().next().value as string);
    return false;
  }

  private add(reading: OnlineReading, asksOutlook: boolean): OnlineEvent[] {
    const [first] = this.open;
    const ahead = first === undefined ? 0 : minuteOf(reading.at) - minuteOf(first.at);
    if (ahead < -LATE_MINUTES) {
      const events = [...this.close(asksOutlook), { kind: "clock-set-back", minutes: -ahead } as const];
      this.following = new Following(this.settings);
      this.open = [reading];
      return events;
    }
    if (ahead < 0) {
      this.counters.late += 1;
      return [];
    }
    const events = ahead > 0 ? this.close(asksOutlook) : [];
    this.open.push(reading);
    return events;
  }

  private close(asksOutlook: boolean): OnlineEvent[] {
    if (this.open.length === 0) return [];
    const answer = this.following.take(meanOfMinute(this.open));
    this.open = [];
    const outlook = asksOutlook && answer.state === "not-yet" ? this.following.outlook() : undefined;
    return [{ kind: "answer", answer, outlook }];
  }
}
