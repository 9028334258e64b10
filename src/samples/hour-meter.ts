import type { Sample } from "./sample.js";

/**
 * Titles under which a report gives the hour-meter of the cart, by what they are called, without marks and units. Common
 * practice, no source. "Hours" alone may be those of the fluid since its last change, so it names none.
 */
const TITLES =
  /^(?:(?:cart|unit|machine|equipment|pump) )?(?:hour ?meter(?: reading)?|hours (?:run|on (?:the )?(?:cart|unit|machine|equipment))|run(?:ning)? hours|operating hours|betriebsstunden(?:zähler)?|compteur horaire|heures de (?:marche|fonctionnement)|horómetro|horas de (?:marcha|funcionamiento))(?: (?:h|hrs?|hours))?$/u;

/** Plain figures with at most two decimals: "1,234" may be a thousand or one and a quarter, and is not read. */
const HOURS = /^(\d{1,6})(?:[.,](\d{1,2}))?\s*(?:h|hrs?\.?|hours?|std\.?)?$/i;

/** Whether a title of a report stands over the hour-meter of the cart. */
export function namesHourMeter(title: string): boolean {
  const plain = title
    .toLowerCase()
    .replace(/[^\p{L}\d]+/gu, " ")
    .trim();
  return TITLES.test(plain);
}

/**
 * The reading of the hour-meter that a report gives with a sample, in hours, from the texts that no result was read from.
 *
 * @returns undefined where the report gives none; the text where it gives one that cannot be read, or several that differ
 */
export function hourMeterOf({ otherTexts = [] }: Pick<Sample, "otherTexts">): number | string | undefined {
  const texts = [
    ...new Set(otherTexts.flatMap(({ column, text }) => (namesHourMeter(column) ? [text] : []))),
  ];
  const [only] = texts;
  if (only === undefined) return undefined;
  const [, whole, part = "0"] = (texts.length === 1 && HOURS.exec(only.trim())) || [];
  return whole === undefined ? texts.join(" and ") : Number(`${whole}.${part}`);
}
