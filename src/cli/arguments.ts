import type { Assumption } from "../provenance/index.js";
import type { Measured } from "../samples/index.js";
import { describeTwoReadings, type QuantityKind, tryParseStatedQuantity } from "../units/index.js";
import { UsageError } from "./io.js";

/** Numbers by size, as people write them: "4=15000 6=1200 14=75". */
export interface BySize {
  readonly sizeUm: number;
  readonly value: number;
}

/**
 * Reads numbers by size.
 *
 * @param option - name of the option, for messages
 * @throws UsageError naming the part that cannot be read
 */
export function readBySize(option: string, text: string): BySize[] {
  const parts = partsOf(text);
  if (parts.length === 0)
    throw new UsageError(`${option}: expected SIZE=NUMBER pairs such as "4=15000 6=1200", found "${text}"`);
  return parts.map((part) => {
    const match = /^(\d+(?:\.\d+)?)=(\d+(?:\.\d+)?(?:e[+-]?\d+)?)$/i.exec(part);
    if (match === null || !areFinite(match[1], match[2])) {
      throw new UsageError(`${option}: expected SIZE=NUMBER such as "4=15000", found "${part}"`);
    }
    return { sizeUm: Number(match[1]), value: Number(match[2]) };
  });
}

/**
 * Reads counts by size, or particles a minute.
 *
 * @param option - name of the option, for messages
 * @throws UsageError naming the part that cannot be read, or has two readings
 */
export function readCountsBySize(option: string, text: string): BySize[] {
  const counts = readBySize(option, text);
  for (const part of partsOf(text)) refuseTwoReadings(option, part);
  return counts;
}

function refuseTwoReadings(option: string, part: string): void {
  const readings = describeTwoReadings(part);
  if (readings !== undefined) throw new UsageError(`${option}: ${readings}`);
}

/** Pairs as people write them: "β4(c) = 200", "4 µm(c): 200" and "4=200" are one and the same. */
function partsOf(text: string): string[] {
  return text
    .replace(/\s*[=:]\s*/g, "=")
    .replace(/(^|[\s,;])(?:β|beta)[ _]?(?=\d)/gi, "$1")
    .replace(/(\d)\s*(?:[µμu]m)?\s*(?:\(c\))?(?==)/gi, "$1")
    .split(/[\s,;]+/)
    .filter((part) => part !== "");
}

/** Whether every number that was written has an end: "1e309" and four hundred figures have none. */
function areFinite(...texts: readonly (string | undefined)[]): boolean {
  return texts.every((text) => text === undefined || Number.isFinite(Number(text)));
}

/** Numbers by size range, as people write them: "6-14=13400 >70=5". */
export interface ByRange {
  readonly fromUm: number;
  readonly toUm?: number;
  readonly count: number;
}

/**
 * Reads counts by size range.
 *
 * @param option - name of the option, for messages
 * @throws UsageError naming the part that cannot be read
 */
export function readByRange(option: string, text: string): ByRange[] {
  const parts = text.split(/[\s,;]+/).filter((part) => part !== "");
  if (parts.length === 0)
    throw new UsageError(
      `${option}: expected RANGE=NUMBER pairs such as "6-14=13400 >70=5", found "${text}"`,
    );
  return parts.map((part) => {
    const match =
      /^(?:>(\d+(?:\.\d+)?)|(\d+(?:\.\d+)?)-(\d+(?:\.\d+)?))=(\d+(?:\.\d+)?(?:e[+-]?\d+)?)$/i.exec(part);
    if (match === null || !areFinite(...match.slice(1))) {
      throw new UsageError(
        `${option}: expected RANGE=NUMBER such as "6-14=13400" or ">70=5", found "${part}"`,
      );
    }
    refuseTwoReadings(option, part);
    const count = Number(match[4]);
    return match[1] === undefined
      ? { fromUm: Number(match[2]), toUm: Number(match[3]), count }
      : { fromUm: Number(match[1]), count };
  });
}

/**
 * Reads a quantity with its unit.
 *
 * @param option - name of the option, for messages
 * @throws UsageError when the number or the unit cannot be read, or when nothing on a cart can be so large or small
 */
export function readQuantityOption(
  option: string,
  text: string,
  kind: QuantityKind,
): { value: number; assumptions: Assumption[] } {
  const reading = tryParseStatedQuantity(text, kind);
  if (reading.kind === "refused")
    throw new UsageError(`${option}: expected ${reading.expected}, found "${text}"`);
  return { value: reading.value, assumptions: reading.kind === "assumed" ? [reading.assumption] : [] };
}

/**
 * Reads the volume that counts stand for.
 *
 * @param text - "1mL" or "100mL"; particles per mL are assumed when absent, and the result says so
 */
export function readPer(text: string | undefined): { volumeMl: number; assumptions: Assumption[] } {
  if (text === undefined) {
    return {
      volumeMl: 1,
      assumptions: [{ code: "counts-per-ml", message: "counts were read as particles per mL" }],
    };
  }
  const volume = /^(1|100) ?ml$/i.exec(text.trim());
  if (volume === null) throw new UsageError(`--per: expected 1mL or 100mL, found "${text}"`);
  return { volumeMl: Number(volume[1]), assumptions: [] };
}

/** Counts of an interim sample; "<2" and ">20000" are kept as limit values. */
export function readMeasuredBySize(option: string, text: string): { sizeUmC: number; perMl: Measured }[] {
  const parts = partsOf(text);
  if (parts.length === 0) {
    throw new UsageError(`${option}: expected SIZE=NUMBER pairs such as "4=9000 6=800", found "${text}"`);
  }
  return parts.map((part) => {
    const match = /^(\d+(?:\.\d+)?)=([<>]?)(\d+(?:\.\d+)?(?:e[+-]?\d+)?)$/i.exec(part);
    if (match === null || !areFinite(match[1], match[3])) {
      throw new UsageError(`${option}: expected SIZE=NUMBER such as "4=9000" or "14=<2", found "${part}"`);
    }
    refuseTwoReadings(option, part);
    const limit = match[2] === "<" ? "below" : match[2] === ">" ? "above" : undefined;
    return { sizeUmC: Number(match[1]), perMl: { value: Number(match[3]), ...(limit && { limit }) } };
  });
}

/**
 * Reads a fraction, such as "5 %" or "0.05".
 *
 * @throws UsageError when it is neither
 */
export function readFraction(option: string, text: string): number {
  const match = /^(\d+(?:\.\d+)?)\s*(%?)$/.exec(text.trim());
  if (match === null || !areFinite(match[1]))
    throw new UsageError(`${option}: expected a fraction such as "5 %" or "0.05", found "${text}"`);
  return Number(match[1]) / (match[2] === "%" ? 100 : 1);
}

/**
 * Reads named values, such as "drop=200 bar efficiency=85 %".
 *
 * @param option - name of the option, for messages
 * @param names - the names that are known
 * @returns the texts by name
 * @throws UsageError for a part without a name, a name that is not known, or one given twice
 */
export function readSettings<N extends string>(
  option: string,
  text: string,
  names: readonly N[],
): Partial<Record<N, string>> {
  const settings: Partial<Record<N, string>> = {};
  const known = `known are ${names.join(", ")}`;
  for (const part of text.split(/[;,]|\s+(?=[a-z-]+\s*=)/i).map((piece) => piece.trim())) {
    if (part === "") continue;
    const match = /^([a-z-]+)\s*=\s*(\S.*)$/i.exec(part);
    if (match === null) throw new UsageError(`${option}: expected NAME=VALUE, found "${part}"; ${known}`);
    const name = names.find((candidate) => candidate === match[1]?.toLowerCase());
    if (name === undefined) throw new UsageError(`${option}: "${match[1]}" is not known; ${known}`);
    if (settings[name] !== undefined) throw new UsageError(`${option}: "${name}" is given twice`);
    settings[name] = match[2] as string;
  }
  return settings;
}
