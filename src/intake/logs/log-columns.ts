import { formatShare } from "../../units/index.js";
import { IntakeError, shown } from "../checks/issue.js";
import { plainTitle } from "../layout/columns.js";
import type { Recognition } from "../layout/meaning.js";
import type { Table } from "../layout/tables.js";
import { textOf } from "../rows/row.js";
import type { LogMap, LogMeaning } from "./log-map.js";
import {
  LOG_QUANTITIES,
  type LogQuantity,
  namesElapsed,
  quantityNamed,
  saturationTimes,
  unitOfTitle,
} from "./log-titles.js";

/** What a column of a log holds. */
export type LogColumn = { readonly title: string } & (
  | { readonly holds: "time" | "code" | "nothing" }
  | { readonly holds: "elapsed"; readonly unit: string }
  | { readonly holds: "count"; readonly sizeUmC: number; readonly volumeMl: number }
  | {
      readonly holds: "value";
      readonly quantity: LogQuantity;
      /** The unit; of a saturation the number that a share is multiplied by. */
      readonly unit: string | number;
    }
);

/**
 * What the columns of a log hold.
 *
 * @throws IntakeError naming what a column map has to settle, or what is missing
 */
export function columnsOfLog({ source, layout }: Table, { ofLog }: LogMap): readonly LogColumn[] {
  const where = source.sheet === undefined ? source.file : `${source.file} sheet "${shown(source.sheet)}"`;
  const columns = layout.columns.map(({ title, recognition }, index): LogColumn => {
    const below = layout.unitRows
      .map(({ cells }) => textOf(cells[index]))
      .join(" ")
      .trim();
    const held = columnOf(title, below, recognition, ofLog.get(plainTitle(title)));
    if (typeof held === "string")
      throw new IntakeError(`${where}: a column map has to settle "${shown(title)}": ${held}`);
    return { title, ...held };
  });
  const holds = new Set(columns.map((column) => column.holds));
  if (!holds.has("time") && !holds.has("elapsed")) {
    throw new IntakeError(
      `${where}: expected a column of the time, such as "time stamp"; found "${titlesOf(columns)}"`,
    );
  }
  if (!holds.has("count") && !holds.has("code")) {
    throw new IntakeError(
      `${where}: expected columns of counts above one size each, such as "> 4 µm(c) per mL", or one of ISO 4406 codes; found "${titlesOf(columns)}"`,
    );
  }
  return columns;
}

function titlesOf(columns: readonly LogColumn[]): string {
  return columns
    .slice(0, MAX_TITLES)
    .map(({ title }) => shown(title))
    .join('", "');
}

const MAX_TITLES = 30;

/** A column without its title, or what has to be asked. */
type Held = LogColumn extends infer One ? (One extends LogColumn ? Omit<One, "title"> : never) : never;

function columnOf(
  title: string,
  below: string,
  recognition: Recognition,
  settled: LogMeaning | undefined,
): Held | string {
  if (settled !== undefined) {
    if (settled.holds === "time") return { holds: "time" };
    return valueIn(settled.holds, title, settled.unit ?? below);
  }
  if (recognition.kind === "known") {
    const { meaning } = recognition;
    switch (meaning.holds) {
      case "drawn":
      case "drawn-time":
        return { holds: "time" };
      case "class":
        return { holds: meaning.standard === "ISO 4406" ? "code" : "nothing" };
      case "temperature":
        return valueIn("temperature", title, meaning.unit ?? below);
      case "count": {
        const { fromUm, toUm, scale, volumeMl } = meaning;
        if (toUm !== undefined) return "a range of sizes is not followed: give the particles above one size";
        if (scale !== "um(c)") return "the sizes of a counter in the line are expected in µm(c)";
        return volumeMl === undefined
          ? "do the counts stand for 1 mL or for 100 mL?"
          : { holds: "count", sizeUmC: fromUm, volumeMl };
      }
      case "text":
      case "nothing":
        return { holds: "nothing" };
      default:
        break;
    }
  }
  if (namesElapsed(title)) {
    const unit = unitOfTitle(title, below, "time");
    return unit === undefined ? "in which unit is the time since the start?" : { holds: "elapsed", unit };
  }
  const named = quantityNamed(title);
  if (named !== undefined) return valueIn(named, title, below);
  return recognition.kind === "unsure" ? recognition.question : { holds: "nothing" };
}

function valueIn(quantity: LogQuantity, title: string, below: string): Held | string {
  const { kind } = LOG_QUANTITIES[quantity];
  const unit = kind === undefined ? saturationTimes(title, below) : unitOfTitle(title, below, kind);
  const expected = kind === undefined ? `${formatShare(0.4)} or 0.4` : `a unit of ${kind}`;
  return unit === undefined
    ? `in which unit is it? expected ${expected}`
    : { holds: "value", quantity, unit };
}
