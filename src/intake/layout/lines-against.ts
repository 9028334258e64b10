import { type RawRow, textOf } from "../rows/row.js";
import type { ColumnMap } from "./column-map.js";
import { contradictsCount } from "./count-titles.js";
import type { Layout } from "./layout.js";
import { QUANTITIES, type QuantityMeaning } from "./meaning.js";
import { joinTitles, MAX_TITLE_LENGTH, type Namer, namer, type TitledColumn } from "./namer.js";
import { unitAgainst } from "./quantity-titles.js";

/**
 * A layout under a line of text that says of its results what their titles contradict, "all counts are per 100 mL" or
 * "water in per cent": those are questioned.
 *
 * @returns undefined where the line contradicts no title
 */
export function contradictedBy(
  { cells }: RawRow,
  layout: Layout,
  map: ColumnMap | undefined,
): Layout | undefined {
  const written = cells.map(textOf).filter((text) => text !== "");
  const line = written.join(" ");
  if (line === "" || written.length > 2 || line.length > MAX_TITLE_LENGTH) return undefined;
  const name = namer(map);
  const contradicts = contradictsCount(line);
  const columns = layout.columns.map((column): TitledColumn => {
    if (column.recognition.kind !== "known") return column;
    const { meaning } = column.recognition;
    if (meaning.holds === "count") return contradicts(meaning) ? questioned(line, column, name) : column;
    if (!(meaning.holds in QUANTITIES)) return column;
    const question = unitAgainst(line, meaning as QuantityMeaning);
    return question === undefined
      ? column
      : { title: column.title, recognition: { kind: "unsure", question } };
  });
  return columns.every((column, index) => column === layout.columns[index])
    ? undefined
    : { ...layout, columns };
}

/** A title that the line contradicts; where both together read like a plain title, the question is which of them holds. */
function questioned(line: string, { title }: TitledColumn, name: Namer): TitledColumn {
  const joined = joinTitles(line, title, "", name);
  if (joined.recognition.kind !== "known") return joined;
  const question = `are the counts as "${title}" says, or as "${line}" says?`;
  return { title: joined.title, recognition: { kind: "unsure", question } };
}
