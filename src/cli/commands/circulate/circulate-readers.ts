import {
  type CirculationQuestion,
  type CirculationStart,
  type Mixing,
  type SideStream,
  startOfClass,
  startOfCode,
} from "../../../circulation/index.js";
import {
  betasOfRating,
  parseIso4406,
  RATING_EXAMPLES,
  type RatedElement,
  tryParseTarget,
  withMeanBelow,
} from "../../../cleanliness/index.js";
import { cumulativeCounts } from "../../../counts/index.js";
import { tryParseFluidSpecification } from "../../../fluids/index.js";
import type { Hose, RatedBeta } from "../../../samples/index.js";
import { KEPT_UNITS } from "../../../units/index.js";
import { readBySize, readCountsBySize, readFraction, readPer, readQuantityOption } from "../../arguments.js";
import { UsageError } from "../../io.js";
import type { CirculateOptions } from "./asked.js";
import type { Read } from "./settings.js";

export function readTime(option: string, text: string): number {
  return readQuantityOption(option, text, "time").value;
}

export function readPort(text: string): "upstream" | "downstream" {
  const port = text.trim().toLowerCase();
  if (port === "upstream" || port === "downstream") return port;
  throw new UsageError(`--port: expected upstream or downstream, of the element, found "${text}"`);
}

const HOSE = /^([\d.]+) *mm *[x×] *([\d.]+) *m(?: *[x×] *(\d+))?$/i;

/** Hoses such as "25 mm x 8 m x 2". */
export function readHoseList(texts: readonly string[]): Hose[] {
  return texts.map((text) => {
    const [, boreMm, lengthM, count = "1"] = HOSE.exec(text.trim()) ?? [];
    const hose = { boreMm: Number(boreMm), lengthM: Number(lengthM), count: Number(count) };
    if (hose.boreMm > 0 && hose.lengthM > 0 && hose.count > 0) return hose;
    throw new UsageError(
      `--hoses: expected bore, length and number such as "25 mm x 8 m x 2", found "${text}"`,
    );
  });
}

/** The same with the fluid that flows in them. */
export function readHoses({
  hoses: texts = [],
  fluid,
  coldest,
}: CirculateOptions): Read<NonNullable<CirculationQuestion["flow"]>> | undefined {
  if (texts.length === 0) {
    if (coldest !== undefined) throw new UsageError("--coldest: it goes with --hoses only");
    if (fluid !== undefined) throw new UsageError("--fluid: it goes with --hoses only");
    return undefined;
  }
  const specification = fluid === undefined ? undefined : tryParseFluidSpecification(fluid);
  if (specification === undefined) {
    throw new UsageError(
      `--fluid: --hoses needs it, such as MIL-PRF-83282${fluid === undefined ? "" : `; "${fluid}" names no fluid that is known`}`,
    );
  }
  const at = coldest === undefined ? undefined : readQuantityOption("--coldest", coldest, "temperature");
  return {
    value: {
      fluid: specification,
      hoses: readHoseList(texts),
      ...(at && { coldestC: at.value }),
    },
    assumptions: at?.assumptions ?? [],
  };
}

/** A circuit needs fluid and flow. */
export function readMoreThanNone(option: string, text: string, kind: "volume" | "flow") {
  const read = readQuantityOption(option, text, kind);
  if (read.value > 0) return read;
  throw new UsageError(`${option}: expected more than 0 ${KEPT_UNITS[kind]}, found "${text}"`);
}

/** Filtration ratios of an element, or the words it is rated by. */
export function readBetas(option: string, text: string): Read<RatedBeta[]> {
  const rated = betasOfRating("filter", text);
  if (rated !== undefined) return rated.assumptions.length > 0 ? asRead(rated) : withSizesBelow(rated.betas);
  if (!/[=:]/.test(text)) {
    throw new UsageError(
      `${option}: "${text}" does not say how much the element retains; expected its βx(c) by ISO 16889, such as "4=200", or ${RATING_EXAMPLES}`,
    );
  }
  return withSizesBelow(
    readBySize(option, text).map(({ sizeUm, value }) => ({ sizeUmC: sizeUm, beta: value })),
  );
}

const asRead = ({ betas, assumptions }: RatedElement): Read<RatedBeta[]> => ({ value: betas, assumptions });

function withSizesBelow(betas: RatedBeta[]): Read<RatedBeta[]> {
  return asRead(withMeanBelow("filter", betas));
}

/** A class, such as an ISO 4406 code, or counts by size. */
export function readStart(start: string, per: string | undefined): CirculationStart {
  const reported = start.includes("=") ? undefined : tryParseTarget(start);
  if (reported !== undefined) return startOfClass(reported);
  if (start.includes("/")) return startOfCode(parseIso4406(start));
  const { volumeMl, assumptions } = readPer(per);
  const counts = readCountsBySize("--start", start).map(({ sizeUm, value }) => ({ sizeUm, count: value }));
  return { counts: cumulativeCounts(counts, volumeMl), assumptions };
}

export function readSideStream(text: string): Read<SideStream> {
  const match = /^([^:]+):\s*(.+)$/.exec(text);
  if (match === null) {
    throw new UsageError(
      `--side-stream: expected FLOW: PAIRS such as "10 L/min: 4=75 6=200", found "${text}"`,
    );
  }
  const flow = readQuantityOption("--side-stream", match[1] as string, "flow");
  const betas = readBetas("--side-stream", match[2] as string);
  return {
    value: { flowLpm: flow.value, betas: betas.value },
    assumptions: [...flow.assumptions, ...betas.assumptions],
  };
}

/** The way of mixing: a slow zone means two zones. Undefined where the options say nothing of it. */
export function readMixing({ mixing, slowZone }: CirculateOptions): Mixing | undefined {
  const kind = mixing ?? (slowZone === undefined ? undefined : "two-zone");
  if (kind === undefined) return undefined;
  if (kind !== "well-mixed" && kind !== "two-zone" && kind !== "plug") {
    throw new UsageError(`--mixing: expected well-mixed, two-zone or plug, found "${kind}"`);
  }
  if (kind !== "two-zone") {
    if (slowZone !== undefined) throw new UsageError("--slow-zone: it goes with --mixing two-zone only");
    return { kind };
  }
  const written = /^(.+?)\s+exchange\s+(.+)$/i.exec(slowZone ?? "");
  if (written === null) {
    throw new UsageError(
      '--slow-zone: expected the slow part of the volume and what the zones trade per pass, such as "20 % exchange 10 %"' +
        (slowZone === undefined ? "" : `, found "${slowZone}"`),
    );
  }
  return {
    kind,
    slowFraction: readFraction("--slow-zone", written[1] as string),
    exchangePerPass: readFraction("--slow-zone", written[2] as string),
  };
}
