import type { CirculationQuestion, InterimSample } from "../../../circulation/index.js";
import { countsOfIso4406, type Iso4406Code, tryParseIso4406 } from "../../../cleanliness/index.js";
import { CountError, cumulativeCounts } from "../../../counts/index.js";
import { readMeasuredBySize, readPer, readQuantityOption } from "../../arguments.js";
import { UsageError } from "../../io.js";

/** The options that samples drawn while circulating come with. */
export interface InterimOptions {
  readonly interim?: readonly string[];
  readonly counted?: string;
  readonly per?: string;
  readonly uncertainty?: string;
}

/** Reads samples such as "10 min: 4=9000 6=800 14=<2"; counts in particles per mL unless --per says otherwise. */
export function readInterim(options: InterimOptions): CirculationQuestion["interim"] {
  const { interim: texts = [], counted, uncertainty } = options;
  if (texts.length === 0) {
    if (counted === undefined || uncertainty !== undefined) return undefined;
    throw new UsageError("--counted: it goes with --interim or --uncertainty only");
  }
  const per = readPer(options.per);
  const drawn: number[] = [];
  const samples = texts.map((text) => {
    const match = /^([^:]+):\s*(.+)$/.exec(text);
    if (match === null) {
      throw new UsageError(
        `--interim: expected TIME: PAIRS such as "10 min: 4=9000 6=800 14=30", or TIME: CODE such as "10 min: 19/16/13", found "${text}"`,
      );
    }
    const minutes = readQuantityOption("--interim", match[1] as string, "time").value;
    if (!(minutes > 0)) {
      throw new UsageError(
        `--interim: expected a time after 0 minutes, which --start stands for, found "${text}"`,
      );
    }
    const sameMoment = texts[drawn.indexOf(minutes)];
    if (sameMoment !== undefined) {
      throw new UsageError(
        `--interim: "${sameMoment}" and "${text}" are both of ${minutes} minutes; ` +
          "give one sample for each moment, with the mean of the counts where several bottles were drawn",
      );
    }
    drawn.push(minutes);
    const code = tryParseIso4406(match[2] as string);
    if (code !== undefined) return { minutes, counts: countsOfCode(code) };
    const counts = readMeasuredBySize("--interim", match[2] as string);
    mustFall(text, counts);
    return {
      minutes,
      counts: counts.map(({ sizeUmC, perMl }) => ({
        sizeUmC,
        perMl: { ...perMl, value: perMl.value / per.volumeMl },
      })),
    };
  });
  return {
    samples,
    ...(counted !== undefined && {
      countedMl: 1000 * readQuantityOption("--counted", counted, "volume").value,
    }),
  };
}

/**
 * A code is an interval at each size: more than its lower edge and at most its upper one. A place with an open end has no
 * upper edge, and one that was not counted says nothing.
 */
function countsOfCode(code: Iso4406Code): InterimSample["counts"] {
  return countsOfIso4406(code).flatMap(
    ({ sizeUm: sizeUmC, moreThan, upTo }, index): InterimSample["counts"] => {
      const place = code[index];
      if (place?.kind === "not-counted" || place?.kind === "too-many") return [];
      if (upTo === undefined || (place?.kind === "number" && place.atLeast))
        return [{ sizeUmC, perMl: { value: moreThan ?? 0, limit: "above" as const } }];
      // The lowest place holds a count of none as well.
      return moreThan === undefined
        ? [{ sizeUmC, perMl: { value: upTo, limit: "at-most" as const } }]
        : [{ sizeUmC, perMl: { value: upTo }, moreThanPerMl: moreThan }];
    },
  );
}

/** Counts of particles larger than each size can only fall with it; limit values say nothing of that. */
function mustFall(text: string, counts: ReturnType<typeof readMeasuredBySize>): void {
  const exact = counts.filter(({ perMl }) => perMl.limit === undefined);
  if (exact.length === 0) return;
  try {
    cumulativeCounts(
      exact.map(({ sizeUmC, perMl }) => ({ sizeUm: sizeUmC, count: perMl.value })),
      1,
    );
  } catch (error) {
    if (!(error instanceof CountError)) throw error;
    throw new UsageError(`--interim: "${text}": ${error.message}`);
  }
}
