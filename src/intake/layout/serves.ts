import { IntakeError, shown } from "../checks/issue.js";
import { type RawRow, textOf } from "../rows/row.js";
import type { ColumnMap } from "./column-map.js";
import type { Layout } from "./layout.js";
import {
  DESCRIPTIONS,
  type Description,
  isMeasurand,
  type Meaning,
  NEEDED_NAMING,
  QUANTITIES,
  type QuantityName,
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
  if (unsure.length > 0) throw new IntakeError(`${where}: a column map has to settle ${unsure.join("; ")}`);
  if (layout.shape === "block") return;
  const meanings = layout.columns.flatMap(({ recognition }) =>
    recognition.kind === "known" ? [recognition.meaning] : [],
  );
  const kinds = meanings.map(({ holds }) => holds as string);
  const missing = NEEDED_NAMING.filter(
    (kind) =>
      !kinds.includes(kind) && !around.includes(kind) && !Object.keys(map?.fixed ?? {}).includes(kind),
  );
  const titles = describeTitles(layout);
  const columns = layout.isAcross ? "rows" : "columns";
  if (missing.length > 0) {
    throw new IntakeError(
      `${where}: expected ${columns} for sample, cart, circuit and day drawn; missing ${missing.map((kind) => (kind === "drawn" ? "day drawn" : kind)).join(", ")}; found "${titles}"`,
    );
  }
  const twice = firstTwice(meanings);
  if (twice !== undefined) {
    throw new IntakeError(
      `${where}: two ${columns} hold the same thing: ${twice.holds}; a column map has to say which`,
    );
  }
  if (layout.shape === "wide" && !meanings.some(isMeasurand)) {
    throw new IntakeError(
      `${where}: expected ${columns} of results, such as "4 µm(c) per mL" or "water (mg/kg)", ` +
        `or ${columns} for measurand and value; found "${titles}"`,
    );
  }
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
];

/** The first thing that two columns hold. A quantity in two units is still the same thing. */
function firstTwice(meanings: readonly Meaning[]): Meaning | undefined {
  const key = (meaning: Meaning) =>
    meaning.holds === "count"
      ? JSON.stringify(meaning)
      : `${meaning.holds} ${"standard" in meaning ? meaning.standard : ""}`;
  const seen = new Set<string>();
  return meanings.find((meaning) => {
    if (MANY.includes(meaning.holds)) return false;
    if (seen.has(key(meaning))) return true;
    seen.add(key(meaning));
    return false;
  });
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
    const { says } = QUANTITIES[recognition.meaning.holds as QuantityName];
    return { title, recognition: { kind: "unsure", question: `in which unit is ${says}?` } };
  });
  return { ...layout, columns };
}
