import { IntakeError, shown } from "../checks/issue.js";
import { type RawRow, textOf } from "../rows/row.js";
import type { ColumnMap } from "./column-map.js";
import { plainTitle } from "./columns.js";
import { mayName } from "./dictionary.js";
import type { Layout } from "./layout.js";
import {
  type BottleTest,
  DESCRIPTIONS,
  type Description,
  holdsOf,
  holdsResult,
  kindsIn,
  type Meaning,
  NEEDED_NAMING,
  type NeededNaming,
  QUANTITIES,
  type QuantityName,
  TESTS,
} from "./meaning.js";
import type { TitledColumn } from "./namer.js";

/**
 * Checks that a layout holds what a sample needs, and that nothing in it has to be guessed.
 *
 * @throws IntakeError naming what is missing, what is there twice, or what a column map has to settle
 */
export function mustServe(
  where: string,
  layout: Layout,
  map: ColumnMap | undefined,
  /** What names the samples and is in no column. */
  around: readonly string[] = [],
): void {
  const unsure = layout.columns.flatMap(({ title, recognition }) =>
    recognition.kind === "unsure" ? [`"${shown(title)}": ${recognition.question}`] : [],
  );
  if (unsure.length > 0) {
    throw new IntakeError(`${where}: a column map has to settle ${unsure.join("; ")}`, {
      needsColumnMap: true,
    });
  }
  if (layout.shape === "block") return;
  const kinds = kindsIn(layout.columns);
  const missing = NEEDED_NAMING.filter(
    (kind) => !kinds.has(kind) && !around.includes(kind) && !Object.keys(map?.fixed ?? {}).includes(kind),
  );
  const titles = describeTitles(layout);
  const maybe = layout.columns.flatMap((column) => {
    const kind = mayHold(column, missing);
    return kind === undefined ? [] : [`"${shown(column.title)}" (${kind})`];
  });
  const proposed = maybe.length === 0 ? "" : `; a column map can say whether it is ${maybe.join(" or ")}`;
  const columns = layout.isAcross ? "rows" : "columns";
  if (missing.length > 0) {
    throw new IntakeError(
      `${where}: expected ${columns} for sample, cart, circuit and day drawn; missing ${missing.map((kind) => (kind === "drawn" ? "day drawn" : kind)).join(", ")}${proposed}; found "${titles}"`,
    );
  }
  mustBeThere(where, layout, map);
  refuseVolumesAlone(where, layout);
  const twice = firstTwice(layout);
  if (twice !== undefined) {
    const { meaning, titles: both } = twice;
    const said = both.map(({ place, title }) => `${place} "${shown(title)}"`).join(" and ");
    throw new IntakeError(
      `${where}: two ${columns} hold the same thing: ${meaning.holds} (${said}); a column map has to say which, ${howToSay(twice)}`,
    );
  }
  if (layout.shape === "wide" && !layout.columns.some(holdsResult)) {
    throw new IntakeError(
      `${where}: expected ${columns} of results, such as "4 µm(c) per mL" or "water (mg/kg)", ` +
        `or ${columns} for measurand and value; found "${titles}"`,
    );
  }
}

/**
 * Refuses a column that says which volume counts stand for where its table has no counts: those of another table would be
 * read without it.
 */
export function refuseVolumesAlone(where: string, { columns }: Layout): void {
  const kinds = kindsIn(columns);
  const per = columns.find((column) => holdsOf(column) === "counts-per");
  if (per === undefined || kinds.has("count") || kinds.has("measurand")) return;
  throw new IntakeError(
    `${where}: expected counts next to "${shown(per.title)}", which says what volume they stand for, and found none; ` +
      'where the titles of the counts say it too, a column map settles it by "holds": "text"',
  );
}

/** Which of the names that are missing a title may hold that is not known. */
export function mayHold(
  { title, recognition }: TitledColumn,
  missing: readonly NeededNaming[],
): NeededNaming | undefined {
  const kind = recognition.kind === "unknown" ? mayName(plainTitle(title)) : undefined;
  return kind !== undefined && missing.includes(kind) ? kind : undefined;
}

/** So many titles of a table are said. */
const MAX_TITLES_SAID = 30;

function describeTitles({ columns }: Layout): string {
  const said = columns.slice(0, MAX_TITLES_SAID).map(({ title }) => shown(title));
  const more = columns.length - said.length;
  return `${said.join('", "')}${more > 0 ? `" and ${more} more, such as "${shown(columns.at(-1)?.title ?? "")}` : ""}`;
}

/** Meanings that any number of columns may have. */
const MANY: readonly Meaning["holds"][] = [
  ...(["nothing", "remarks", "text"] as const),
  ...(Object.keys(DESCRIPTIONS) as Description[]),
  ...(Object.keys(TESTS) as BottleTest[]),
];

/** A thing that two columns hold, with both of them. */
export interface HeldTwice {
  readonly meaning: Meaning;
  readonly titles: readonly { readonly title: string; readonly place: string }[];
}

/** The first thing that two columns hold. A quantity in two units is still the same thing. */
export function firstTwice({ columns, places }: Layout): HeldTwice | undefined {
  const seen = new Map<string, number>();
  for (const [index, { recognition }] of columns.entries()) {
    if (recognition.kind !== "known" || MANY.includes(recognition.meaning.holds)) continue;
    const { meaning } = recognition;
    const key =
      meaning.holds === "count"
        ? JSON.stringify(meaning)
        : `${meaning.holds} ${"standard" in meaning ? meaning.standard : ""} ${"sizeUmC" in meaning ? meaning.sizeUmC : ""}`;
    const first = seen.get(key);
    if (first === undefined) seen.set(key, index);
    else {
      const titles = [first, index].map((at) => ({
        title: columns[at]?.title ?? "",
        place: places[at] ?? "",
      }));
      return { meaning, titles };
    }
  }
  return undefined;
}

/** How a column map says which of two columns counts: by its place where both have one title. */
function howToSay({ titles: [first, second] }: HeldTwice): string {
  return first?.title === second?.title
    ? `"which": { ${JSON.stringify(first?.title)}: "${first?.place}" } or "${second?.place}"`
    : 'by "holds": "text" for the other';
}

/** A column that a map means has to be there: the file may have changed. */
function mustBeThere(where: string, { columns, places }: Layout, map: ColumnMap | undefined): void {
  for (const [title, place] of Object.entries(map?.which ?? {})) {
    const found = places.filter((_, at) => plainTitle(columns[at]?.title ?? "") === plainTitle(title));
    if (found.length > 0 && !found.includes(place)) {
      throw new IntakeError(
        `${where}: the column map says which "${shown(title)}" counts ("which"): expected ${found.join(" or ")}, found "${place}"`,
      );
    }
  }
}

/**
 * Makes a quantity unsure whose title has no unit when no cell of the first rows has one either.
 *
 * Without this every row of such a column would be refused one by one.
 */
export function askForUnits(layout: Layout, head: readonly RawRow[]): Layout {
  const last = layout.headerRows.at(-1)?.row ?? 0;
  const columns = layout.columns.map((column, index): TitledColumn => {
    const { recognition, title } = column;
    if (recognition.kind !== "known" || !(recognition.meaning.holds in QUANTITIES)) return column;
    if ("unit" in recognition.meaning) return column;
    const written = head.filter(({ row }) => row > last).map(({ cells }) => textOf(cells[index]));
    const numbers = written.filter((text) => /\d/.test(text));
    if (numbers.length === 0 || numbers.some((text) => /\d\s*(\p{L}|%)/u.test(text))) return column;
    // A requirement that asks for it finds it not stated; there is nothing else that it decides.
    if (recognition.meaning.holds === "counted") return { title, recognition: { kind: "unknown" } };
    const { says } = QUANTITIES[recognition.meaning.holds as QuantityName];
    return { title, recognition: { kind: "unsure", question: `in which unit is ${says}?` } };
  });
  return { ...layout, columns };
}
