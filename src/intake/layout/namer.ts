import { isDeepStrictEqual } from "node:util";
import { rememberingBy } from "../rows/remembering.js";
import { type ColumnMap, meaningsOfMap } from "./column-map.js";
import { plainTitle, recognise } from "./columns.js";
import type { Recognition } from "./meaning.js";

/** One column, or one label of a block, and what is known of it. */
export interface TitledColumn {
  /** The title as the file writes it; titles of several rows are joined. */
  readonly title: string;
  readonly recognition: Recognition;
}

/** Says what a title holds, with the unit below it and the group above it. */
export type Namer = (title: string, unit?: string, group?: string) => TitledColumn;

/** Names titles by the map first and by the dictionary second. */
export function namer(map: ColumnMap | undefined): Namer {
  const known = NAMERS.get(map ?? NO_MAP);
  if (known !== undefined) return known;
  const settled = meaningsOfMap(map);
  const nameTitle = rememberingBy(
    ({ title, unit, group }: { title: string; unit: string; group: string }): TitledColumn => {
      if (title.length + unit.length + group.length > MAX_NAMED_LENGTH)
        return { title, recognition: { kind: "unknown" } };
      const meaning = settled.get(plainTitle(title));
      if (meaning !== undefined) return { title, recognition: { kind: "known", meaning } };
      if (title === "" || title.length + unit.length > MAX_TITLE_LENGTH)
        return { title, recognition: { kind: "unknown" } };
      const groupTitle = group.length > MAX_TITLE_LENGTH ? "" : group;
      return { title, recognition: recognise(title, unit, map?.counts ?? {}, groupTitle) };
    },
    ({ title, unit, group }) => `${title}\n${unit}\n${group}`,
  );
  const name: Namer = (title, unit = "", group = "") => nameTitle({ title, unit, group });
  NAMERS.set(map ?? NO_MAP, name);
  return name;
}

/** What names titles, by column map: many files of one laboratory have the same ones. */
const NAMERS = new WeakMap<object, Namer>();
const NO_MAP = {};
/** A longer text is no title. */
export const MAX_TITLE_LENGTH = 200;
/** A longer text is not looked up in a column map either. */
const MAX_NAMED_LENGTH = 2000;

/** Reads a title by itself and together with the group above it. */
export function joinTitles(group: string, title: string, unit: string, name: Namer): TitledColumn {
  if (title === "") return name(group, unit);
  const own = name(title, unit);
  if (group === "") {
    // The unit goes into the title where the two contradict each other, so that nobody takes the title for the whole.
    const isContradicted = own.recognition.kind === "unsure" && name(title).recognition.kind === "known";
    return isContradicted ? { ...own, title: `${title} (${unit})` } : own;
  }
  const below = name(title, unit, group);
  if (own.recognition.kind === "known" && isDeepStrictEqual(own.recognition, below.recognition)) return own;
  const joined = name(`${group} ${title}`, unit);
  if (joined.recognition.kind === "known") return joined;
  if (below.recognition.kind === "known" || own.recognition.kind === "known")
    return { title: joined.title, recognition: below.recognition };
  // "> 4" below "Particles per mL, µm(c)": the size belongs before its unit.
  const bareSize =
    title.length <= MAX_TITLE_LENGTH && /^[<>≥≤\s]*\d+(\.\d+)?(\s*[-–]\s*\d+(\.\d+)?)?$/.test(title);
  const sized =
    bareSize && !/\d\s*[µμu]m/i.test(group)
      ? name(group.replace(/(?<!\p{L})[µμu]m(?!\p{L})/iu, `${title} µm`), unit)
      : joined;
  return { title: joined.title, recognition: sized.recognition };
}
