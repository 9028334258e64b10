import { daysBetween } from "../../fitness/index.js";

/** How many days old the data of a page may be before it calls nothing fit any more (common practice, no source). */
export const MAX_DATA_AGE_DAYS = 7;

/** Whether the data of a page can still call a circuit fit on the day that the device shows. */
export type Freshness =
  | { readonly kind: "current"; readonly ageDays: number }
  | { readonly kind: "too-old"; readonly ageDays: number }
  /** The device shows a day before that of the data: its clock is wrong, and how old the data are is not known. */
  | { readonly kind: "clock-wrong" };

/**
 * Holds the day of the device against the day of the data.
 *
 * @param dataOn - the day for which the page was written, as ISO 8601 calendar day
 * @param deviceOn - the day that the device shows, as ISO 8601 calendar day
 * @example
 * freshnessOf("2026-11-20", "2026-11-28"); // => { kind: "too-old", ageDays: 8 }
 */
export function freshnessOf(dataOn: string, deviceOn: string): Freshness {
  const ageDays = daysBetween(dataOn, deviceOn);
  // A day that cannot be read gives no number, and fails here.
  if (!(ageDays >= 0)) return { kind: "clock-wrong" };
  return ageDays <= MAX_DATA_AGE_DAYS ? { kind: "current", ageDays } : { kind: "too-old", ageDays };
}

/** Says how old the data are, or why they call nothing fit. */
export function describeFreshness(freshness: Freshness, dataOn: string, deviceOn: string): string {
  switch (freshness.kind) {
    case "current":
      return `Data of ${dataOn}, ${describeAge(freshness.ageDays)}.`;
    case "too-old":
      return (
        `Data of ${dataOn}, ${describeAge(freshness.ageDays)}: too old to call a circuit fit. ` +
        `Ask for a new page; this one counts for ${MAX_DATA_AGE_DAYS} days.`
      );
    case "clock-wrong":
      return (
        `This device shows ${deviceOn}, which is before the day of the data, ${dataOn}. ` +
        "Its clock is wrong, so nothing is called fit. Set the day and open the page again."
      );
  }
}

function describeAge(days: number): string {
  if (days === 0) return "today";
  return days === 1 ? "1 day old" : `${days} days old`;
}
