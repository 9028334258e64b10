import {
  BEYOND,
  type CleanlinessTarget,
  formatTarget,
  parseTarget,
  readStatedClass,
} from "../cleanliness/index.js";
import type { Measured } from "./measured.js";

/** Standards whose classes, each one number, patches are compared with. */
export const PATCH_STANDARDS = ["NAVAIR 01-1A-17", "NAS 1638"] as const;

/** See {@link PATCH_STANDARDS}. */
export type PatchStandard = (typeof PATCH_STANDARDS)[number];

/** Standards that a limit for patches may be written in; a patch is compared with codes of ISO 4406 too. */
export const PATCH_LIMIT_STANDARDS = [...PATCH_STANDARDS, "ISO 4406"] as const;

type PatchLimitStandard = (typeof PATCH_LIMIT_STANDARDS)[number];

/** The dirtiest class of each standard that a patch is compared with; of ISO 4406 the last scale number. */
export const MAX_PATCH_CLASS: Readonly<Record<PatchLimitStandard, number>> = {
  "NAVAIR 01-1A-17": 6,
  "NAS 1638": 12,
  "ISO 4406": 28,
};

/** The dirtiest class that a patch may have, in its standard: a number, or a code of ISO 4406. */
export interface PatchClassMax {
  readonly standard: PatchLimitStandard;
  readonly classMax: number | string;
}

/** Whether a text is a code of ISO 4406. */
export function isPatchCode(text: string): boolean {
  return scaleNumbersOf(text).size > 0;
}

/**
 * Reads the class of a limit as targets are read: 7, "7", "NAS 7" or "18/16/13".
 *
 * @param standard - as it is given with the class; without it the class has to name its own
 * @returns what is wrong with it, as a text, where it is no such class
 */
export function readPatchLimit(
  standard: PatchLimitStandard | undefined,
  classMax: number | string,
): PatchClassMax | string {
  const text = String(classMax).trim();
  const isAlone = standard !== undefined && /^[\p{L}\d]/u.test(text);
  const target = tryParseTarget(text) ?? (isAlone ? tryParseTarget(`${standard} ${text}`) : undefined);
  const own = PATCH_LIMIT_STANDARDS.find((one) => one === target?.standard);
  if (target === undefined || own === undefined) {
    const by = standard ?? PATCH_LIMIT_STANDARDS.join(", ");
    return `expected a class by ${by}, such as ${standard === "ISO 4406" ? "18/16/13" : "3"}, found "${text}"`;
  }
  if (standard !== undefined && own !== standard) return `expected a class by ${standard}, found "${text}"`;
  if (target.standard === "ISO 4406")
    return { standard: own, classMax: formatTarget(target).slice("ISO 4406 ".length) };
  const named = "class" in target ? target.class : "";
  // "00" is cleaner than "0", and no patch is compared with it.
  return /^(?:0|[1-9]\d*)$/.test(named) && Number(named) < MAX_PATCH_CLASS[own]
    ? { standard: own, classMax: Number(named) }
    : `expected a class of ${own} from 0 to ${MAX_PATCH_CLASS[own] - 1}, found "${text}"; the last class and one beyond it limit nothing`;
}

/** Reads the name of a standard as it stands before a class. */
export function tryParsePatchStandard(text: string): PatchLimitStandard | undefined {
  const named = ["3", "3/3/3"].map((name) => tryParseTarget(`${text} ${name}`)?.standard);
  return text.trim() === "" ? undefined : PATCH_LIMIT_STANDARDS.find((one) => named.includes(one));
}

function tryParseTarget(text: string): CleanlinessTarget | undefined {
  try {
    return parseTarget(text);
  } catch {
    return undefined;
  }
}

/** A place of the class of a patch with the most that is allowed there. */
export interface PatchPlace {
  /** The size in µm(c) that a scale number is of; absent where the class is one number. */
  readonly sizeUmC?: number;
  readonly max: number;
  /** Absent where the patch does not show the place. */
  readonly measured?: Measured;
}

/** Compares the class of a patch with the dirtiest that it may have, place by place. */
export function patchPlaces(
  { classMax }: PatchClassMax,
  { class: stated, code }: { readonly class?: Measured | undefined; readonly code?: string | undefined },
): PatchPlace[] {
  if (typeof classMax === "number") return [{ max: classMax, ...(stated && { measured: stated }) }];
  const shown = scaleNumbersOf(code ?? "");
  return [...scaleNumbersOf(classMax)].map(([sizeUmC, { value: max }]) => {
    const measured = shown.get(sizeUmC);
    return { sizeUmC, max, ...(measured && { measured }) };
  });
}

/** The scale numbers of a code by their sizes; none where it is no code. */
function scaleNumbersOf(code: string): Map<number, Measured> {
  const read = readStatedClass({ standard: "ISO 4406", class: code });
  if (read === undefined || !("bySize" in read)) return new Map();
  return new Map(
    [...read.bySize].map(([size, number]): [number, Measured] => {
      if (number === BEYOND) return [Number(size), { value: MAX_PATCH_CLASS["ISO 4406"], limit: "above" }];
      const isAtLeast = read.atLeast?.has(size) === true;
      return [Number(size), { value: Number(number), ...(isAtLeast && { limit: "at-least" }) }];
    }),
  );
}
