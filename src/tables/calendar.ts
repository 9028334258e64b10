import type { DueSample } from "../fitness/index.js";

/** No line of a calendar has more bytes, its end aside. */
const MAX_BYTES = 75;

/**
 * The due samples as a calendar, an entry of a whole day for each; what is overdue stands on the day of the list.
 *
 * @param on - the day of the list
 * @source RFC-5545
 */
export function calendarOf(due: readonly DueSample[], on: string): string {
  const entries = due.flatMap(({ cart, circuit, serves, dueOn, daysOverdue, action }) => {
    const overdue = daysOverdue === 0 ? "" : ` (${daysOverdue} days overdue)`;
    // A slash in a name is written %2F, so no two circuits share an entry.
    const id = [cart, circuit, dueOn].map(encodeURIComponent).join("/");
    return [
      "BEGIN:VEVENT",
      `UID:${id}@siltbook.invalid`,
      `DTSTAMP:${plain(on)}T000000Z`,
      `DTSTART;VALUE=DATE:${plain(daysOverdue > 0 ? on : dueOn)}`,
      `SUMMARY:${escaped(`Sample due: ${cart} ${circuit}${overdue}`)}`,
      `DESCRIPTION:${escaped(`For ${serves}. By the verdict of ${on}: ${action}.`)}`,
      "TRANSP:TRANSPARENT",
      "END:VEVENT",
    ];
  });
  const head = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//siltbook//due samples//EN"];
  return [...head, ...entries, "END:VCALENDAR"].map((line) => `${folded(line)}\r\n`).join("");
}

function plain(day: string): string {
  return day.replaceAll("-", "");
}

/**
 * A text as a calendar writes it.
 *
 * @source RFC-5545
 * @example
 * escaped("Project XYZ Final Review\nRoom - 3B"); // => "Project XYZ Final Review\\nRoom - 3B"
 */
export function escaped(text: string): string {
  return text
    .replace(/[\\;,]/g, "\\$&")
    .replace(/\r\n|[\r\n]/g, "\\n")
    .replace(/\p{Cc}/gu, " ");
}

/**
 * A long line in pieces, each but the first after a blank; no character is cut.
 *
 * @source RFC-5545
 */
export function folded(line: string): string {
  const pieces: string[] = [];
  let piece = "";
  for (const character of line) {
    if (Buffer.byteLength(piece + character) > MAX_BYTES) {
      pieces.push(piece);
      piece = " ";
    }
    piece += character;
  }
  return [...pieces, piece].join("\r\n");
}
