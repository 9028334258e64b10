import { type ClassName, limitsOfClass, readClassName, type SampleClass } from "./class-table.js";
import type { ParticleLimit } from "./particle-limit.js";
import { AS4059_CUMULATIVE, type SizeCode } from "./standards/as4059-cumulative.js";
import { AS4059_DIFFERENTIAL, type SizeRange } from "./standards/as4059-differential.js";
import { formatAs4059, readSizedClasses } from "./standards/as4059-notation.js";
import { formatIso4406, type Iso4406Code, parseIso4406 } from "./standards/iso-4406.js";
import { limitsOfIso4406 } from "./standards/iso-4406-compare.js";
import { NAS_1638 } from "./standards/nas-1638.js";
import { NAVY_CLASSES, type NavyClass, type NavyRange } from "./standards/navy.js";

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
  const trimmed = text.trim().replace(/^navy\b/i, "NAVAIR 01-1A-17");
  const standard = TARGET_STANDARDS.find((name) => trimmed.toLowerCase().startsWith(name.toLowerCase()));
  const written = standard === undefined ? trimmed : trimmed.slice(standard.length).trim();
  if (standard === undefined && !written.includes("/")) throw notATarget(text);
  switch (standard ?? "ISO 4406") {
    case "ISO 4406": {
      const code = parseIso4406(written);
      if (limitsOfIso4406(code).length === 0) {
        throw new RangeError(
          `"${text}" is not a cleanliness target: it limits no size, expected at least one scale number`,
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
    `"${text}" is not a cleanliness target: expected an ISO 4406 code such as 17/15/12, or ` +
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
