import {
  type CleanlinessTarget,
  parseTarget,
  SIZE_PAIRS,
  type TableCounts,
} from "../../../cleanliness/index.js";
import {
  type Counting,
  type CountSet,
  cumulativeCounts,
  intervalCounts,
  type Reproducibility,
  subtractBlank,
  toCumulative,
  toIntervals,
  withEstimates,
} from "../../../counts/index.js";
import { type Assumption, joinAssumptions } from "../../../provenance/index.js";
import { readByRange, readCountsBySize, readPer, readQuantityOption } from "../../arguments.js";
import { UsageError } from "../../io.js";

/** Options of `siltbook classify`. */
export interface ClassifyOptions {
  readonly counts: string;
  readonly form?: string;
  readonly scale?: string;
  readonly per?: string;
  readonly rawVolume?: string;
  readonly dilution?: string;
  readonly blank?: string;
  readonly labRsd?: string;
  readonly target?: string;
  readonly estimate?: boolean;
  readonly as4059Limits?: string;
  readonly json?: boolean;
  /** All there is to say, not only the answer. */
  readonly explain?: boolean;
}

const SCALES = { "um-c": "um(c)", "um-older": "um-older", "um-microscope": "um-microscope" } as const;

type Scale = (typeof SCALES)[keyof typeof SCALES];

/** What the options ask for, read and checked. */
export interface ClassifyRequest {
  /** Counts as given, before the blank and before estimates. */
  readonly sample:
    | { readonly kind: "usable"; readonly counts: TableCounts; readonly blankShares: readonly BlankShare[] }
    | { readonly kind: "unusable"; readonly why: string; readonly blankShares: readonly BlankShare[] };
  readonly reproducibility?: Reproducibility;
  readonly target?: CleanlinessTarget;
  readonly limits: "unrounded" | "rounded";
  readonly assumptions: readonly Assumption[];
}

interface BlankShare {
  readonly sizeUm: number;
  readonly share: number;
}

/**
 * Reads the options of `siltbook classify`.
 *
 * @throws UsageError naming the option, its text and what was expected
 * @throws CountError for counts that break a rule
 */
export function readClassifyOptions(options: ClassifyOptions): ClassifyRequest {
  const form = oneOf("--form", options.form ?? "cumulative", ["cumulative", "differential"] as const);
  const scale =
    SCALES[oneOf("--scale", options.scale ?? "um-c", ["um-c", "um-older", "um-microscope"] as const)];
  const per = readPer(options.per);
  const counting = readCounting(options);
  const given = (option: string, text: string, counted?: Counting): TableCounts =>
    form === "cumulative"
      ? cumulativeCounts(
          readCountsBySize(option, text).map(({ sizeUm, value }) => ({ sizeUm, count: value })),
          per.volumeMl,
          scale,
          counted,
        )
      : intervalCounts(readByRange(option, text), per.volumeMl, scale, counted);
  const counts = given("--counts", options.counts, counting);
  const blanked =
    options.blank === undefined ? undefined : takeBlank(counts, given("--blank", options.blank));
  const usable = blanked === undefined ? { counts, shares: [], assumptions: [] } : blanked;
  const estimated = "counts" in usable && options.estimate === true ? estimate(usable.counts) : undefined;
  return {
    sample:
      "counts" in usable
        ? { kind: "usable", counts: estimated?.counts ?? usable.counts, blankShares: usable.shares }
        : { kind: "unusable", why: usable.why, blankShares: usable.shares },
    ...(options.labRsd !== undefined && { reproducibility: readReproducibility(options.labRsd) }),
    ...(options.target !== undefined && { target: parseTarget(options.target) }),
    limits: oneOf("--as4059-limits", options.as4059Limits ?? "unrounded", ["unrounded", "rounded"] as const),
    assumptions: joinAssumptions(
      per.assumptions,
      "counts" in usable ? usable.assumptions : [],
      estimated?.assumptions ?? [],
    ),
  };
}

function readCounting(options: ClassifyOptions): Counting | undefined {
  if (options.rawVolume === undefined) {
    if (options.dilution === undefined) return undefined;
    throw new UsageError("--dilution: needs --raw-volume, the volume that went through the counter");
  }
  const litres = readQuantityOption("--raw-volume", options.rawVolume, "volume").value;
  // The number of mL as it was written: 25 mL is 0.025 L, and 0.025 × 1000 must be 25 again.
  const countedMl = Number((litres * 1000).toPrecision(12));
  if (options.dilution === undefined) return { countedMl };
  const dilution = /^\s*\d+(?:\.\d+)?\s*$/.test(options.dilution) ? Number(options.dilution) : Number.NaN;
  if (!(dilution >= 1 && Number.isFinite(dilution))) {
    throw new UsageError(
      `--dilution: expected parts of mixture for one part of sample, 1 or more, found "${options.dilution}"`,
    );
  }
  return { countedMl, dilution };
}

/** Blanks are taken off cumulative counts; counts by range come back as ranges. */
function takeBlank(sample: TableCounts, blank: TableCounts) {
  if (sample.form === "interval" && blank.form === "interval") {
    const result = subtractBlank(toCumulative(sample), toCumulative(blank));
    return result.kind === "subtracted" ? { ...result, counts: toIntervals(result.counts) } : result;
  }
  return subtractBlank(sample as CountSet<Scale>, blank as CountSet<Scale>);
}

function estimate(counts: TableCounts) {
  if (counts.form !== "cumulative") {
    throw new UsageError("--estimate: works on cumulative counts, not with --form differential");
  }
  const sizes = SIZE_PAIRS.map(({ umC, olderUm }) => (counts.scale === "um(c)" ? umC : olderUm));
  return withEstimates<Scale>(counts, sizes);
}

function readReproducibility(text: string): Reproducibility {
  const match = /^(\d+(?:\.\d+)?)\s*(%|codes?)?$/.exec(text.trim());
  if (match === null) {
    throw new UsageError(`--lab-rsd: expected such as "15 %", "0.15" or "0.5 codes", found "${text}"`);
  }
  const value = Number(match[1]);
  if (match[2]?.startsWith("code")) return { kind: "codes", sd: value };
  if (match[2] === undefined && value >= 1) {
    throw new UsageError(
      `--lab-rsd: "${text}" could be a fraction or per cent; write "${text} %" or a fraction below 1`,
    );
  }
  return { kind: "relative", rsd: match[2] === "%" ? value / 100 : value };
}

function oneOf<T extends string>(option: string, text: string, allowed: readonly T[]): T {
  const found = allowed.find((name) => name === text.trim());
  if (found === undefined)
    throw new UsageError(`${option}: expected ${allowed.join(" or ")}, found "${text}"`);
  return found;
}
