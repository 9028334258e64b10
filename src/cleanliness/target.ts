import { shown } from "../provenance/index.js";
import { type ClassName, limitsOfClass, readClassName, type SampleClass } from "./class-table.js";
import type { ParticleLimit } from "./particle-limit.js";
import { AS4059_CUMULATIVE, type SizeCode } from "./standards/as4059-cumulative.js";
import { AS4059_DIFFERENTIAL, type SizeRange } from "./standards/as4059-differential.js";
import { formatAs4059, readSizedClasses } from "./standards/as4059-notation.js";
import { formatIso4406, type Iso4406Code, parseIso4406 } from "./standards/iso-4406.js";
import { limitsOfIso4406 } from "./standards/iso-4406-compare.js";
import { NAS_1638 } from "./standards/nas-1638.js";
import { NAVY_CLASSES, type NavyClass, type NavyRange } from "./standards/navy.js";
import type { ClassStandard } from "./stated-class.js";

/** The dirtiest that a fluid may be, in one standard. */
export type CleanlinessTarget =
  | { readonly standard: "ISO 4406"; readonly code: Iso4406Code }
  | {
      readonly standard: "AS4059 cumulative";
      readonly bySize: readonly { readonly size: SizeCode; readonly class: ClassName }[];
    }
  | { readonly standard: "AS4059 differential"; readonly class: ClassName }
  | { readonly standard: "NAS 1638"; readonly class: ClassName }
  | { readonly standard: "NAVAIR 01-1A-17"; readonly class: Exclude<NavyClass, "beyond 6"> };

/** The standards a target may be written in. */
export const TARGET_STANDARDS = [
  "ISO 4406",
  "AS4059 cumulative",
  "AS4059 differential",
  "NAS 1638",
  "NAVAIR 01-1A-17",
] as const satisfies readonly CleanlinessTarget["standard"][];

const STATED_BY: Readonly<Record<CleanlinessTarget["standard"], ClassStandard>> = {
  "ISO 4406": "ISO 4406",
  "AS4059 cumulative": "AS4059",
  "AS4059 differential": "AS4059",
  "NAS 1638": "NAS 1638",
  "NAVAIR 01-1A-17": "NAVAIR 01-1A-17",
};

/** Whether a target is written in the standard that a report states a class by; reports may leave the table of AS4059 open. */
export function isOfStandard(stated: ClassStandard, target: CleanlinessTarget["standard"]): boolean {
  return STATED_BY[target] === stated;
}

/**
 * Reads a target: the standard's name followed by the class, or an ISO 4406 code alone.
 *
 * AS4059 cumulative classes name their sizes: "7A", "7B/6C/5D" or "6B-F".
 *
 * @param text - for example "17/15/12", "AS4059 cumulative 7A-F", "AS4059 differential 7", "NAS 1638 7" or "NAVAIR 01-1A-17 3"
 * @returns the target
 * @throws RangeError naming the text and what was expected
 * @example
 * formatTarget(parseTarget("AS4059 cumulative 6B-D")); // => "AS4059 cumulative 6B-D"
 */
export function parseTarget(text: string): CleanlinessTarget {
  try {
    return readTarget(text);
  } catch (error) {
    if (!(error instanceof RangeError) || error.message.includes(`"${shown(text)}"`)) throw error;
    // A fault in the class is said of the whole text that a person wrote.
    throw new RangeError(`"${shown(text)}" is not a cleanliness target: ${error.message}`);
  }
}

function readTarget(text: string): CleanlinessTarget {
  const { standard, written } = splitTarget(text);
  switch (standard) {
    case "ISO 4406": {
      const code = parseIso4406(written);
      if (limitsOfIso4406(code).length === 0) {
        throw new RangeError(
          `"${shown(text)}" is not a cleanliness target: it limits no size, expected at least one scale number`,
        );
      }
      return { standard: "ISO 4406", code };
    }
    case "AS4059 cumulative":
      return { standard: "AS4059 cumulative", bySize: readSizedClasses(written) };
    case "AS4059 differential":
      return { standard: "AS4059 differential", class: readPlainClass(written, text) };
    case "NAS 1638":
      return { standard: "NAS 1638", class: readPlainClass(written, text) };
    case "NAVAIR 01-1A-17":
      return { standard: "NAVAIR 01-1A-17", class: readNavyClass(written, text) };
  }
}

/**
 * Reads an ISO 4406 code in every way that {@link parseTarget} takes it.
 *
 * @returns undefined for anything else
 */
export function tryParseIso4406(text: string): Iso4406Code | undefined {
  const target = tryParseTarget(text);
  return target?.standard === "ISO 4406" ? target.code : undefined;
}

/** As {@link parseTarget}; undefined for anything else. */
export function tryParseTarget(text: string): CleanlinessTarget | undefined {
  try {
    return parseTarget(text);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return undefined;
  }
}

/** Ways to write the standard in front of a class, and what each means. */
const WRITTEN_STANDARDS: readonly (readonly [RegExp, CleanlinessTarget["standard"] | "AS4059"])[] = [
  [/^(navy|navair 01-1a-17)/, "NAVAIR 01-1A-17"],
  [/^nas ?-?(1638(?=\D|$))?/, "NAS 1638"],
  [/^(sae )?as ?-?4059 cumulative/, "AS4059 cumulative"],
  [/^(sae )?as ?-?4059 differential/, "AS4059 differential"],
  [/^(sae )?as ?-?4059[a-f]?(?=\W|$)/, "AS4059"],
  [/^iso ?-?4406( ?: ?(1999|2017|2021))?(?=\W|$)/, "ISO 4406"],
  [/^iso(?= )/, "ISO 4406"],
];

/** The standard of a target, and the class as it is written in it. */
function splitTarget(text: string): {
  readonly standard: CleanlinessTarget["standard"];
  readonly written: string;
} {
  const trimmed = text.trim().replace(/\s+/g, " ");
  const lower = trimmed.toLowerCase();
  for (const [pattern, standard] of WRITTEN_STANDARDS) {
    const found = pattern.exec(lower);
    if (found === null) continue;
    const written = trimmed
      .slice(found[0].length)
      .replace(/^[\s:,]+/, "")
      .replace(/^-(?=\d)/, "")
      .replace(/^(class|code)\b[\s:]*/i, "");
    if (standard === "AS4059") return { standard: as4059Table(written, text), written };
    return { standard, written: standard === "ISO 4406" ? withSlashes(written) : written };
  }
  const code = withSlashes(trimmed);
  if (!code.includes("/")) throw notATarget(text);
  if (/^\d+\/\d+$/.test(code)) {
    throw new RangeError(
      `"${shown(text)}" has two scale numbers: for 6 and 14 µm(c) write "-/${code}", for 4, 6 and 14 µm(c) a code such as "21/${code}"`,
    );
  }
  return { standard: "ISO 4406", written: code };
}

/** A code written with dashes, "17-15-12", is the same code. */
function withSlashes(code: string): string {
  return /^\d{1,2}( ?- ?\d{1,2}){2}$/.test(code) ? code.replace(/ ?- ?/g, "/") : code;
}

/** Letters of sizes are written only with cumulative classes; a class alone may be of either table. */
function as4059Table(written: string, text: string): CleanlinessTarget["standard"] {
  if (/^\d{1,3}[A-F]/i.test(written)) return "AS4059 cumulative";
  throw new RangeError(
    `"${shown(text)}" does not say which table of AS4059: write "AS4059 cumulative 7A-F" or "AS4059 differential 7"`,
  );
}

function readNavyClass(written: string, text: string): Exclude<NavyClass, "beyond 6"> {
  const plain = written.replace(/^class /i, "");
  const row = NAVY_CLASSES.rows.find(([name]) => name === plain);
  if (row === undefined) throw notATarget(text);
  return row[0];
}

function readPlainClass(written: string, text: string): ClassName {
  const name = readClassName(written);
  if (name === undefined || name === "000") throw notATarget(text);
  return name;
}

function notATarget(text: string): RangeError {
  return new RangeError(
    `"${shown(text)}" is not a cleanliness target: expected an ISO 4406 code such as 17/15/12, or ` +
      `"AS4059 cumulative 7A-F", "AS4059 differential 7", "NAS 1638 7" or "NAVAIR 01-1A-17 3"`,
  );
}

/**
 * Writes a target with its standard.
 *
 * @example
 * formatTarget(parseTarget("17/15/12")); // => "ISO 4406 17/15/12"
 */
export function formatTarget(target: CleanlinessTarget): string {
  switch (target.standard) {
    case "ISO 4406":
      return `ISO 4406 ${formatIso4406(target.code)}`;
    case "AS4059 cumulative":
      return `AS4059 cumulative ${formatAs4059({ kind: "by-size", bySize: target.bySize })}`;
    default:
      return `${target.standard} ${target.class}`;
  }
}

/**
 * The most particles a target allows, channel by channel.
 *
 * @returns limits per mL for ISO 4406, per 100 mL for the others, as the standards print them
 * @example
 * limitsOfTarget(parseTarget("17/15/12")).map(({ channel, limit }) => `${channel}: ${limit}`); // => ["4: 1300", "6: 320", "14: 40"]
 */
export function limitsOfTarget(target: CleanlinessTarget): ParticleLimit[] {
  switch (target.standard) {
    case "ISO 4406":
      return limitsOfIso4406(target.code);
    case "AS4059 cumulative":
      return target.bySize.flatMap((part) =>
        limitsOfClass<SizeCode, SampleClass>(AS4059_CUMULATIVE, part.class, [part.size]),
      );
    case "AS4059 differential":
      return limitsOfClass<SizeRange, SampleClass>(AS4059_DIFFERENTIAL, target.class);
    case "NAS 1638":
      return limitsOfClass<SizeRange, SampleClass>(NAS_1638, target.class);
    case "NAVAIR 01-1A-17":
      return limitsOfClass<NavyRange, NavyClass>(NAVY_CLASSES, target.class);
  }
}
