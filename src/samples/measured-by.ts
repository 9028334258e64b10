import type { Sample } from "./sample.js";

/** Who measured a sample, as the report names it. */
export interface MeasuredBy {
  readonly laboratory?: string;
  /** The particle counter. */
  readonly counter?: string;
}

/** Titles under which a report names them; by what they are called, without marks. Common practice, no source. */
const TITLES = {
  laboratory:
    /^(?:name of (?:the )?|test(?:ing)? |analysis |oil )?(?:lab|laboratory|labor|laboratoire|laboratorio)(?: name)?$/,
  counter:
    /^(?:(?:automatic )?(?:optical )?particle )?(?:counter|apc|opc)(?: (?:no|nr|number|s n|sn|serial|serial no|serial number|id|name|used))?$/,
} as const;

/** Which of the two a title of a report stands over; undefined for any other title. */
export function namesWho(title: string): keyof MeasuredBy | undefined {
  const plain = title
    .toLowerCase()
    .replace(/[^\p{L}\d]+/gu, " ")
    .trim();
  if (TITLES.laboratory.test(plain)) return "laboratory";
  return TITLES.counter.test(plain) ? "counter" : undefined;
}

/**
 * Who measured a sample, from the texts of its report that no result was read from.
 *
 * @returns nothing for what the report does not name, or names in two ways
 */
export function measuredBy({ otherTexts = [] }: Pick<Sample, "otherTexts">): MeasuredBy {
  const named = (who: keyof MeasuredBy) => {
    const texts = new Set(
      otherTexts.filter(({ column }) => namesWho(column) === who).map(({ text }) => text),
    );
    const [only] = texts;
    return texts.size === 1 ? { [who]: only } : {};
  };
  return { ...named("laboratory"), ...named("counter") };
}
