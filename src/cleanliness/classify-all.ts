import { type Assumption, frozen, joinAssumptions } from "../provenance/index.js";
import type { Channel, ClassifiedChannel, ClassResult } from "./class-table.js";
import { type Classification, classify } from "./classify.js";
import { pairedUm, readChannel, type TableCounts } from "./size-pairs.js";
import { AS4059_CUMULATIVE, type As4059Limits } from "./standards/as4059-cumulative.js";
import { AS4059_DIFFERENTIAL } from "./standards/as4059-differential.js";
import { classifyGost17216, GOST_17216, type GostClass, type GostRange } from "./standards/gost-17216.js";
import { ISO_4406, type Iso4406Channel, iso4406Channels } from "./standards/iso-4406.js";
import { LEVEL_SIZES, type Level1246, levelOf1246 } from "./standards/mil-std-1246.js";
import { NAS_1638 } from "./standards/nas-1638.js";
import { classifyNavy, NAVY_CLASSES, type NavyClass, type NavyRange } from "./standards/navy.js";
import { compareWithNewFluid, type HeldNewFluid } from "./standards/new-fluid.js";

/** A standard that the counted sizes cannot serve. */
export interface Unserved {
  readonly standard: string;
  /** Sizes that are needed, in µm on the scale of the counts. For a table of ranges, the two ends of one will do. */
  readonly needsUm: readonly number[];
  /** How many of them are needed. */
  readonly needs: "all" | "one" | "two neighbours" | "two neighbours or the last";
}

/** One count set in every standard of this module. */
export interface FullClassification extends Classification {
  readonly iso4406Channels: readonly ClassifiedChannel<Iso4406Channel, string>[];
  readonly navy?: ClassResult<NavyRange, NavyClass>;
  readonly gost17216?: ClassResult<GostRange, GostClass>;
  readonly milStd1246?: Level1246;
  readonly newFluid: readonly HeldNewFluid[];
  readonly unserved: readonly Unserved[];
}

/**
 * Classifies one count set by every standard of this module.
 *
 * @param counts - counts in either form, in µm(c), on the older scale or by microscope
 * @param limits - which printed form of the AS4059 cumulative table
 * @returns every class with its channels, margins and basis; a standard that the sizes cannot serve is in `unserved`
 * @example
 * classifyAll(cumulativeCounts([{ sizeUm: 70, count: 5 }], 100)).navy.class; // => "2"
 */
export function classifyAll(counts: TableCounts, limits: As4059Limits = "unrounded"): FullClassification {
  const core = classify(counts, limits);
  const navy = classifyNavy(counts);
  const gost17216 = classifyGost17216(counts);
  const milStd1246 = levelOf1246(counts);
  const on = (umC: number) => (counts.scale === "um(c)" ? umC : (pairedUm(umC) ?? umC));
  const need = (
    standard: string,
    served: object | undefined,
    channels: readonly Channel<string>[],
    needs: Unserved["needs"],
  ): Unserved[] => (served === undefined ? [{ standard, needsUm: sizesOf(channels).map(on), needs }] : []);
  const levelChannels = LEVEL_SIZES.map(({ umC }) => ({ name: String(umC), fromUm: umC }));
  // A sample without particles at these sizes has no level, but its counts could serve.
  const levelCounts = levelChannels
    .map(({ fromUm }) => readChannel(counts, fromUm, undefined))
    .find((reading) => reading !== undefined);
  const isoSizes = ISO_4406.channels.slice(counts.scale === "um(c)" ? 0 : 1);
  return {
    ...core,
    iso4406Channels: iso4406Channels(counts),
    ...(navy && { navy }),
    ...(gost17216 && { gost17216 }),
    ...(milStd1246 && { milStd1246 }),
    newFluid: compareWithNewFluid(counts),
    unserved: [
      ...need("ISO 4406", core.iso4406, isoSizes, "all"),
      ...need("AS4059 cumulative", core.as4059Cumulative, AS4059_CUMULATIVE.channels, "one"),
      ...need(
        "AS4059 differential",
        core.as4059Differential,
        AS4059_DIFFERENTIAL.channels,
        "two neighbours or the last",
      ),
      ...need("NAS 1638", core.nas1638, NAS_1638.channels, "two neighbours or the last"),
      ...need(NAVY_CLASSES.standard, navy, NAVY_CLASSES.channels, "two neighbours or the last"),
      ...need(GOST_17216.standard, gost17216, GOST_17216.channels, "two neighbours"),
      ...need("MIL-STD-1246", levelCounts, levelChannels, "one"),
    ],
    assumptions: joinAssumptions(
      core.assumptions,
      navy?.assumptions ?? [],
      gost17216?.assumptions ?? [],
      milStd1246 === undefined || counts.scale !== "um(c)" ? [] : [LEVEL_AT_PAIRS],
    ),
  };
}

const LEVEL_AT_PAIRS: Assumption = frozen({
  code: "mil-std-1246-at-paired-sizes",
  message:
    "MIL-STD-1246: counts in µm(c) were put into its formula at the sizes that AS4059 and ASTM D6786 put next to them",
  source: "AS4059-SIZE-PAIRS",
});

function sizesOf(channels: readonly Channel<string>[]): number[] {
  const sizes = channels.flatMap(({ fromUm, toUm }) => (toUm === undefined ? [fromUm] : [fromUm, toUm]));
  return [...new Set(sizes)];
}
