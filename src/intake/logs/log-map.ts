import * as z from "zod";
import { type ColumnMap, parseColumnMap } from "../layout/column-map.js";
import { plainTitle } from "../layout/columns.js";
import { LOG_QUANTITIES, type LogQuantity, TIME_TITLES } from "./log-titles.js";

/** What a column of a log holds and no laboratory reports. */
export type LogMeaning =
  | { readonly holds: "time" }
  | { readonly holds: LogQuantity; readonly unit?: string | undefined };

/** What a person has settled about the logs of one instrument. */
export interface LogMap {
  /** What the layout is found with: the titles of time that are known, and what the map says of the other columns. */
  readonly columns: ColumnMap;
  /** By the title without its marks. */
  readonly ofLog: ReadonlyMap<string, LogMeaning>;
}

const logMeaningSchema = z.union([
  z.strictObject({ holds: z.literal("time") }),
  z.strictObject({
    holds: z.enum(Object.keys(LOG_QUANTITIES) as [LogQuantity, ...LogQuantity[]]),
    unit: z.string().min(1).optional(),
  }),
]);

const withColumnsSchema = z.looseObject({ columns: z.record(z.string(), z.unknown()) });

/**
 * Reads a column map of a log: that of a laboratory file, whose columns may also hold "time", "saturation", "flow" and
 * "pressure-drop".
 *
 * @throws IntakeError naming the file, the place in it and what was expected
 */
export function parseLogMap(file: string, text: string): LogMap {
  const ofLog = new Map<string, LogMeaning>();
  const rest = withoutLogColumns(text, ofLog);
  return logMapOf(parseColumnMap(file, rest), ofLog);
}

/** Reads logs by what their titles say. */
export function logMapOf(map: Partial<ColumnMap> = {}, ofLog: LogMap["ofLog"] = new Map()): LogMap {
  const times = Object.fromEntries(TIME_TITLES.map((title) => [title, { holds: "drawn" } as const]));
  const settled = Object.keys(map.columns ?? {}).map(plainTitle);
  const known = Object.entries(times).filter(([title]) => !settled.includes(plainTitle(title)));
  return {
    columns: {
      siltbookColumnMap: 1,
      name: "counter log",
      ...map,
      // A row for each moment, whatever else a laboratory file may be.
      shape: "wide",
      columns: { ...Object.fromEntries(known), ...map.columns },
    },
    ofLog,
  };
}

/** The map without the columns that only a log has, which it holds as text. */
function withoutLogColumns(text: string, ofLog: Map<string, LogMeaning>): string {
  let written: unknown;
  try {
    written = JSON.parse(text);
  } catch {
    return text;
  }
  const map = withColumnsSchema.safeParse(written).data;
  if (map === undefined) return text;
  const columns = Object.entries(map.columns).map(([title, held]) => {
    const { data } = logMeaningSchema.safeParse(held);
    if (data === undefined) return [title, held];
    ofLog.set(plainTitle(title), data);
    return [title, { holds: data.holds === "time" ? "drawn" : "text" }];
  });
  return JSON.stringify({ ...map, columns: Object.fromEntries(columns) });
}
