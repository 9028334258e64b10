/** No time of day is written in more characters. */
const MAX_CLOCK_LENGTH = 40;
const ZONE = String.raw`(?: ?(z|utc|gmt|[+-]\d{2}:?\d{2}))?`;
const HALF = String.raw`(?: ?([ap])\. ?m\.?| ?([ap])m)?`;
const HOUR_WORD = "(?:uhr|hrs?|h|local(?: time)?|lt|l)";
/** "9:30", "09:30:15.2", "9:30 am", "09:30 Uhr". */
const WITH_COLON = new RegExp(
  String.raw`^(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,]\d+)?)?${HALF}(?: ?${HOUR_WORD})?${ZONE}$`,
  "i",
);
/** "0930", "0930 h": four figures, so that the hour is not in doubt. */
const FOUR_FIGURES = new RegExp(String.raw`^(\d{2})(\d{2})()()()(?: ?${HOUR_WORD})?${ZONE}$`, "i");
/** "9h30", "9 h 30", "9.30 Uhr", "9 Uhr 30", "9 Uhr", "9 am". */
const WITH_WORD = new RegExp(
  String.raw`^(\d{1,2})(?: ?(?:h|uhr) ?(\d{2})|\.(\d{2}) ?(?:uhr|h)| ?(?:uhr|h)| ?([ap])\. ?m\.?| ?([ap])m)${ZONE}$`,
  "i",
);

/**
 * Reads a time of day that has one meaning.
 *
 * Seconds of 00 are left out: 10:00 and 10:00:00 are one time.
 *
 * @returns such as "09:30", "09:30:15", "09:30Z" or "09:30+02:00"; undefined when it is not a time
 * @example
 * readClock("8.40 Uhr"); // => "08:40"
 */
export function readClock(text: string): string | undefined {
  if (text.length > MAX_CLOCK_LENGTH) return undefined;
  const found = WITH_COLON.exec(text) ?? FOUR_FIGURES.exec(text);
  const word = found === null ? WITH_WORD.exec(text) : null;
  if (found !== null) return clockOf(found[1], found[2], found[3], found[4] ?? found[5], found[6]);
  if (word === null) return undefined;
  return clockOf(word[1], word[2] ?? word[3] ?? "00", "", word[4] ?? word[5], word[6]);
}

function clockOf(hours = "", minute = "", second = "", half = "", zone = ""): string | undefined {
  let hour = Number(hours);
  if (half !== "") {
    if (!(hour >= 1 && hour <= 12)) return undefined;
    hour = (hour % 12) + (half.toLowerCase() === "p" ? 12 : 0);
  }
  if (!(hour <= 23 && Number(minute) <= 59 && Number(second) <= 59)) return undefined;
  const seconds = Number(second) === 0 ? "" : `:${second}`;
  const clock = `${String(hour).padStart(2, "0")}:${minute}${seconds}`;
  if (zone === "") return clock;
  return /^(z|utc|gmt)$/i.test(zone) ? `${clock}Z` : `${clock}${zone.slice(0, 3)}:${zone.slice(-2)}`;
}
