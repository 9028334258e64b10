import {
  type Classification,
  type ClassResult,
  classify,
  formatIso4406,
  formatScaleNumber,
  ISO_4406_SIZES_UM,
} from "../cleanliness/index.js";
import { cumulativeCounts } from "../counts/index.js";
import { joinAssumptions } from "../provenance/index.js";
import { readBySize, readPer } from "./arguments.js";
import { type ExitCode, type Io, printJson } from "./io.js";
import { drawTable, sayAssumptions } from "./text.js";

/** Options of `siltbook classify`. */
export interface ClassifyOptions {
  readonly counts: string;
  readonly per?: string;
  readonly json?: boolean;
}

/** Prints the classes of one set of counts. */
export function runClassify(options: ClassifyOptions, io: Io): ExitCode {
  const per = readPer(options.per);
  const counts = cumulativeCounts(
    readBySize("--counts", options.counts).map(({ sizeUm, value }) => ({ sizeUm, count: value })),
    per.volumeMl,
  );
  const classes = classify(counts);
  const document = {
    ...classesAsJson(classes),
    assumptions: joinAssumptions(per.assumptions, classes.assumptions),
  };
  if (options.json) printJson(io, document);
  else io.out(sayClasses(classes) + sayAssumptions(document.assumptions));
  return 0;
}

/** The classes as the command line prints them: a standard that the sizes cannot serve is null. */
export function classesAsJson(classes: Classification) {
  const { iso4406 } = classes;
  return {
    iso4406:
      iso4406 === undefined
        ? null
        : {
            code: formatIso4406(iso4406),
            bySize: Object.fromEntries(
              iso4406.map((place, index) => [String(ISO_4406_SIZES_UM[index]), formatScaleNumber(place)]),
            ),
          },
    as4059: {
      cumulative: tableAsJson(classes.as4059Cumulative, "bySize"),
      differential: tableAsJson(classes.as4059Differential, "byRange"),
    },
    nas1638: tableAsJson(classes.nas1638, "byRange"),
  };
}

function tableAsJson<C extends string>(result: ClassResult<C> | undefined, by: "bySize" | "byRange") {
  if (result === undefined) return null;
  return {
    class: result.class,
    [by]: Object.fromEntries(result.channels.map((channel) => [channel.channel, channel.class])),
    governing: result.governing,
    missing: result.missing,
  };
}

function sayClasses(classes: Classification): string {
  const rows = [classes.as4059Cumulative, classes.as4059Differential, classes.nas1638].flatMap((result) =>
    result === undefined
      ? []
      : [
          [
            result.standard,
            result.class,
            result.channels.map((channel) => `${channel.channel}: ${channel.class}`).join("  "),
            result.governing,
          ],
        ],
  );
  const iso = classes.iso4406;
  if (iso !== undefined) rows.unshift(["ISO 4406", formatIso4406(iso), "", ""]);
  return drawTable(["standard", "class", "by channel", "governing"], rows);
}
