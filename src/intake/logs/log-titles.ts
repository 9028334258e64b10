import { isOfSurroundings } from "../../online/index.js";
import { type QuantityKind, tryParseQuantity } from "../../units/index.js";
import { plainUnit } from "../layout/meaning.js";

/** What an instrument in the line shows besides particles. */
export type LogQuantity = "temperature" | "saturation" | "flow" | "pressure-drop";

/** The field of a reading that each fills, and the kind of unit it is in; a saturation is a share. */
export const LOG_QUANTITIES = {
  temperature: { field: "temperatureC", kind: "temperature" },
  saturation: { field: "waterSaturation", kind: undefined },
  flow: { field: "flowLpm", kind: "flow" },
  "pressure-drop": { field: "pressureDropBar", kind: "pressure" },
} as const satisfies Record<LogQuantity, { readonly field: string; readonly kind: QuantityKind | undefined }>;

/** Titles of the moment of a row, of its day, or of its time of day: what it is, its cells show. */
export const TIME_TITLES: readonly string[] = [
  ...["time", "timestamp", "time stamp", "date", "date time", "datetime", "date/time", "date & time"],
  ...["date and time", "time (utc)", "utc", "logged at", "recorded at", "log time", "time of day", "clock"],
  ...["zeit", "uhrzeit", "datum", "zeitstempel", "datum/uhrzeit", "datum/zeit", "datum uhrzeit"],
  ...["heure", "date/heure", "date heure", "hora", "fecha", "fecha/hora", "fecha hora"],
];

const WORDS: readonly (readonly [RegExp, LogQuantity])[] = [
  [/satur|sättigung|\brh\b|relative (?:humidity|feuchte)|water activity|\baw\b/u, "saturation"],
  [
    /pressure ?(?:drop|diff)|diff(?:erential|\.)? ?pressure|(?:delta|Δ|δ) ?p\b|\bdp\b|differenzdruck|druckabfall/u,
    "pressure-drop",
  ],
  [/^(?:\p{L}+ )?temp(?:\b|erat)|^(?:\p{L}+ )?t(?:\b|_)(?! ?(?:µ|u)m)/u, "temperature"],
  [/\bflow(?! ?(?:switch|alarm|status))|durchfluss|volumenstrom|débit|caudal|portata/u, "flow"],
];
/** A limit or an alarm is no value, and the flow through the counter itself is not that of the circuit. */
const NOT_A_VALUE =
  /alarm|warn|limit|set ?point|status|\bok\b|\bmax|(?<!\/ ?)\bmin\b|sensor|sample|probe|\bcell\b|counter/u;
/** The time since the instrument was switched on. */
const ELAPSED = /elapsed|run ?time|laufzeit|since start|^minutes?$|^seconds?$/u;

/** Which quantity the title of a column names; undefined where it names none, or one of something else than the fluid. */
export function quantityNamed(title: string): LogQuantity | undefined {
  const plain = title.toLowerCase().replace(/[\s_]+/g, " ");
  if (NOT_A_VALUE.test(plain) || isOfSurroundings(plain)) return undefined;
  return WORDS.find(([word]) => word.test(plain))?.[1];
}

/** Whether a column holds the time since the start. */
export function namesElapsed(title: string): boolean {
  return ELAPSED.test(title.toLowerCase());
}

/** The unit of a column: from the row of units below its title, or from brackets, a comma or the last word of the title. */
export function unitOfTitle(title: string, below: string, kind: QuantityKind): string | undefined {
  return unitsIn(title, below).find((unit) => tryParseQuantity(`1 ${unit}`, kind).kind !== "refused");
}

/** How many times the share a saturation is in: 100 for per cent. */
export function saturationTimes(title: string, below: string): number | undefined {
  const units = unitsIn(title, below);
  if (units.some((unit) => /^%/.test(unit)) || /%/.test(title)) return 100;
  return /\baw\b|activity|fraction/.test(title.toLowerCase()) || units.includes("/") || units.includes("1")
    ? 1
    : undefined;
}

function unitsIn(title: string, below: string): string[] {
  const bracketed = [...title.matchAll(/[([]([^)\]]{1,20})[)\]]/g)].map(([, inside = ""]) => inside);
  const last = /(?:,| in |[\s/])\s*([^\s,]{1,20})$/.exec(title)?.[1] ?? "";
  const whole = /^(seconds?|minutes?|hours?)$/i.exec(title.trim())?.[1] ?? "";
  return [below, ...bracketed, last, whole].map((unit) => plainUnit(unit)).filter((unit) => unit !== "");
}
