import { type CirculationQuestion, countsOfClass, type InterimSample } from "../../../circulation/index.js";
import { parseTarget } from "../../../cleanliness/index.js";
import type { Assumption } from "../../../provenance/index.js";
import { readMeasuredBySize, readPer, readQuantityOption } from "../../arguments.js";
import { UsageError } from "../../io.js";
import type { Read } from "./settings.js";

/** The options that samples drawn while circulating come with. */
export interface InterimOptions {
  readonly interim?: readonly string[];
  readonly counted?: string;
  readonly per?: string;
  readonly uncertainty?: string;
}

const UNIT_OF_TIME = "s|secs?|seconds?|mins?|minutes?|h|hrs?|hours?";

/** By their first letters. */
const UNITS: Readonly<Record<string, string>> = { s: "s", m: "min", h: "h" };

/** A time, then counts or a class, as people note them: "8 min: NAS 8", "8 min 19/17/14", "8: 4=9000". */
const AT_A_TIME = new RegExp(
  `^\\s*(-?[\\d.,]+)\\s*(${UNIT_OF_TIME})?(?:\\s*:|\\s)\\s*(?!(?:${UNIT_OF_TIME})\\s*$)(\\S.*)$`,
  "i",
);

const EXPECTED =
  '--interim: expected TIME: PAIRS such as "10 min: 4=9000 6=800 14=30", or TIME: CLASS such as "10 min: 19/16/13" or "10 min: NAS 8"';

/**
 * Reads samples such as "10 min: 4=9000 6=800 14=<2" or "10 min: NAS 8"; counts in particles per mL unless --per says
 * otherwise.
 */
export function readInterim(options: InterimOptions): Read<CirculationQuestion["interim"]> {
  const { interim: texts = [], counted, uncertainty } = options;
  if (texts.length === 0) {
    if (counted === undefined || uncertainty !== undefined) return { value: undefined, assumptions: [] };
    throw new UsageError("--counted: it goes with --interim or --uncertainty only");
  }
  const per = readPer(options.per);
  const drawn: number[] = [];
  const assumptions: Assumption[] = [];
  const samples = texts.map((text) => {
    const { minutes, said, assumptions: ofTime } = readMoment(text);
    const sameMoment = texts[drawn.indexOf(minutes)];
    if (sameMoment !== undefined) {
      throw new UsageError(
        `--interim: "${sameMoment}" and "${text}" are both of ${minutes} minutes; ` +
          "give one sample for each moment, with the mean of the counts where several bottles were drawn",
      );
    }
    drawn.push(minutes);
    const read = said.includes("=") ? readCounts(said, per.volumeMl) : readClass(text, said);
    assumptions.push(...ofTime, ...read.assumptions);
    return { minutes, counts: read.value };
  });
  return {
    value: {
      samples,
      ...(counted !== undefined && {
        countedMl: 1000 * readQuantityOption("--counted", counted, "volume").value,
      }),
    },
    assumptions,
  };
}

/** When a sample was drawn, and the rest of what was written; a bare number is minutes. */
function readMoment(text: string) {
  const [, number, unit, rest] = AT_A_TIME.exec(text) ?? [];
  const [, before, after] = /^([^:]+):\s*(.+)$/.exec(text) ?? [];
  const [time, said] =
    number === undefined
      ? [before, after]
      : [`${number} ${UNITS[unit?.charAt(0).toLowerCase() ?? "m"]}`, rest];
  if (time === undefined || said === undefined) throw new UsageError(`${EXPECTED}, found "${text}"`);
  const minutes = readQuantityOption("--interim", time, "time").value;
  if (!(minutes > 0)) {
    throw new UsageError(
      `--interim: expected a time after 0 minutes, which --start stands for, found "${text}"`,
    );
  }
  const taken = { code: "bare-minutes", message: `"${text}" was taken as drawn after ${minutes} minutes` };
  return { minutes, said, assumptions: number !== undefined && unit === undefined ? [taken] : [] };
}

function readClass(text: string, said: string): Read<InterimSample["counts"]> {
  try {
    return countsOfClass(parseTarget(said));
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new UsageError(`--interim: "${text}": ${error.message}`);
  }
}

function readCounts(said: string, volumeMl: number): Read<InterimSample["counts"]> {
  return {
    value: readMeasuredBySize("--interim", said).map(({ sizeUmC, perMl }) => ({
      sizeUmC,
      perMl: { ...perMl, value: perMl.value / volumeMl },
    })),
    assumptions: [],
  };
}
