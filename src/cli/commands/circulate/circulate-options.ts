import {
  type CirculationInput,
  type Mixing,
  type SideStream,
  TYPICAL_UNCERTAINTY,
  type Uncertainty,
} from "../../../circulation/index.js";
import { limitsOfIso4406, limitsOfTarget, parseIso4406, parseTarget } from "../../../cleanliness/index.js";
import { type CountSet, cumulativeCounts } from "../../../counts/index.js";
import { type Assumption, joinAssumptions } from "../../../provenance/index.js";
import { KEPT_UNITS } from "../../../units/index.js";
import {
  readBySize,
  readCountsBySize,
  readFraction,
  readPer,
  readQuantityOption,
  readSettings,
} from "../../arguments.js";
import { UsageError } from "../../io.js";

/** Options of `siltbook circulate`. */
export interface CirculateOptions {
  readonly volume: string;
  readonly flow: string;
  /** One text for each element of the main stream. */
  readonly beta: readonly string[];
  readonly start: string;
  readonly target: string;
  readonly ingress?: string;
  readonly per?: string;
  readonly bypass?: string;
  readonly sideStream?: string;
  readonly creditBelowRated?: boolean;
  readonly mixing?: string;
  readonly slowZone?: string;
  readonly after?: string;
  readonly within?: string;
  readonly uncertainty?: string;
  readonly confidence?: string;
  readonly seed?: string;
  readonly draws?: string;
  readonly interim?: readonly string[];
  readonly counted?: string;
  readonly element?: string;
  readonly indicator?: string;
  readonly heat?: string;
  readonly json?: boolean;
}

/** Something read, with what was assumed in reading it. */
export interface Read<T> {
  readonly value: T;
  readonly assumptions: readonly Assumption[];
}

/** Reads what a plan is made from. */
export function readInput(options: CirculateOptions): Read<CirculationInput> {
  const volume = readMoreThanNone("--volume", options.volume, "volume");
  const flow = readMoreThanNone("--flow", options.flow, "flow");
  const start = readStart(options);
  const bypass = options.bypass === undefined ? undefined : readFraction("--bypass", options.bypass);
  const [first, ...others] = options.beta.map((text) => ({
    betas: readBetas("--beta", text),
    ...(bypass !== undefined && { bypass }),
  }));
  if (first === undefined) throw new UsageError("--beta: at least one element is needed");
  const side = options.sideStream === undefined ? undefined : readSideStream(options.sideStream);
  const mixing = readMixing(options);
  return {
    value: {
      volumeL: volume.value,
      flowLpm: flow.value,
      ...first,
      ...(others.length > 0 && { inSeries: others }),
      ...(side && { sideStream: side.value }),
      ...(options.creditBelowRated && { belowRated: "log-line" }),
      ...(mixing && { mixing }),
      start: start.value,
      limits: limitsOfTarget(parseTarget(options.target)),
      ...(options.ingress !== undefined && {
        ingress: readCountsBySize("--ingress", options.ingress).map(({ sizeUm, value }) => ({
          sizeUmC: sizeUm,
          particlesPerMin: value,
        })),
      }),
    },
    assumptions: joinAssumptions(
      volume.assumptions,
      flow.assumptions,
      start.assumptions,
      side?.assumptions ?? [],
    ),
  };
}

/** A circuit without fluid, or without flow, is none. */
function readMoreThanNone(option: string, text: string, kind: "volume" | "flow") {
  const read = readQuantityOption(option, text, kind);
  if (read.value > 0) return read;
  throw new UsageError(`${option}: expected more than 0 ${KEPT_UNITS[kind]}, found "${text}"`);
}

function readBetas(option: string, text: string): { sizeUmC: number; beta: number }[] {
  return readBySize(option, text).map(({ sizeUm, value }) => ({ sizeUmC: sizeUm, beta: value }));
}

function readStart(options: CirculateOptions): Read<CountSet> {
  if (!options.start.includes("/")) {
    const per = readPer(options.per);
    const counts = readCountsBySize("--start", options.start).map(({ sizeUm, value }) => ({
      sizeUm,
      count: value,
    }));
    return { value: cumulativeCounts(counts, per.volumeMl), assumptions: per.assumptions };
  }
  const limits = limitsOfIso4406(parseIso4406(options.start));
  return {
    value: cumulativeCounts(
      limits.map(({ fromUm, limit }) => ({ sizeUm: fromUm, count: limit })),
      1,
    ),
    assumptions: [
      {
        code: "start-at-upper-end",
        message: `the start ${options.start.trim()} was taken at the upper end of each class`,
        source: "ISO-4406",
      },
    ],
  };
}

function readSideStream(text: string): Read<SideStream> {
  const match = /^([^:]+):\s*(.+)$/.exec(text);
  if (match === null) {
    throw new UsageError(
      `--side-stream: expected FLOW: PAIRS such as "10 L/min: 4=75 6=200", found "${text}"`,
    );
  }
  const flow = readQuantityOption("--side-stream", match[1] as string, "flow");
  return {
    value: { flowLpm: flow.value, betas: readBetas("--side-stream", match[2] as string) },
    assumptions: flow.assumptions,
  };
}

function readMixing(options: CirculateOptions): Mixing | undefined {
  const kind = options.mixing ?? (options.slowZone === undefined ? "well-mixed" : "two-zone");
  if (kind !== "well-mixed" && kind !== "two-zone" && kind !== "plug") {
    throw new UsageError(`--mixing: expected well-mixed, two-zone or plug, found "${kind}"`);
  }
  if (kind !== "two-zone") {
    if (options.slowZone !== undefined)
      throw new UsageError("--slow-zone: it goes with --mixing two-zone only");
    return options.mixing === undefined ? undefined : { kind };
  }
  const written = /^(.+?)\s+exchange\s+(.+)$/i.exec(options.slowZone ?? "");
  if (written === null) {
    throw new UsageError(
      '--slow-zone: expected the slow part of the volume and what the zones trade per pass, such as "20 % exchange 10 %"' +
        (options.slowZone === undefined ? "" : `, found "${options.slowZone}"`),
    );
  }
  return {
    kind,
    slowFraction: readFraction("--slow-zone", written[1] as string),
    exchangePerPass: readFraction("--slow-zone", written[2] as string),
  };
}

/** How sure an answer is asked for. */
export interface RequiredConfidence {
  readonly confidence: number;
  readonly uncertainty: Uncertainty;
  readonly seed: number;
  readonly draws: number;
}

const UNCERTAIN = ["volume", "flow", "beta", "ingress", "slow-zone", "lab", "counted"] as const;

/** Reads the uncertainties and the confidence; undefined when neither was asked for. */
export function readConfidence(options: CirculateOptions): Read<RequiredConfidence> | undefined {
  if (options.uncertainty === undefined && options.confidence === undefined) {
    const idle =
      options.seed === undefined ? (options.draws === undefined ? undefined : "--draws") : "--seed";
    if (idle === undefined) return undefined;
    throw new UsageError(`${idle}: it goes with --uncertainty or --confidence only`);
  }
  const confidence =
    options.confidence === undefined ? 0.95 : readFraction("--confidence", options.confidence);
  if (!(confidence > 0 && confidence < 1)) {
    throw new UsageError(
      `--confidence: expected above 0 and below 100 %, such as "95 %" or "0.95", found "${options.confidence}"`,
    );
  }
  const uncertainty =
    options.uncertainty === undefined ? TYPICAL_UNCERTAINTY : readUncertainty(options.uncertainty, options);
  return {
    value: {
      confidence,
      uncertainty,
      seed: readWhole("--seed", options.seed ?? "1"),
      draws: readWhole("--draws", options.draws ?? "20000"),
    },
    assumptions:
      options.uncertainty === undefined
        ? [
            {
              code: "typical-uncertainty",
              message:
                "no uncertainties were given; customary ones stand in: " +
                "volume 10 %, flow 5 %, β 30 %, ingress 50 %, slow zone 30 %, laboratory 20 %, 20 mL counted",
              source: "PRACTICE",
            },
          ]
        : [],
  };
}

function readUncertainty(text: string, options: CirculateOptions): Uncertainty {
  const option = "--uncertainty";
  const settings = readSettings(option, text, UNCERTAIN);
  const counted = settings.counted ?? options.counted;
  const fraction = (name: (typeof UNCERTAIN)[number]) =>
    settings[name] === undefined ? undefined : readFraction(option, settings[name]);
  const [volume, flow, beta, ingress] = (["volume", "flow", "beta", "ingress"] as const).map(fraction);
  const [slowZone, laboratory] = (["slow-zone", "lab"] as const).map(fraction);
  return {
    ...(volume !== undefined && { volume }),
    ...(flow !== undefined && { flow }),
    ...(beta !== undefined && { beta }),
    ...(ingress !== undefined && { ingress }),
    ...(slowZone !== undefined && { slowZone }),
    ...(laboratory !== undefined && { laboratory }),
    ...(counted !== undefined && {
      countedMl: 1000 * readQuantityOption(option, counted, "volume").value,
    }),
  };
}

function readWhole(option: string, text: string): number {
  if (!/^\d{1,15}$/.test(text.trim())) {
    throw new UsageError(`${option}: expected a whole number of at most 15 figures, found "${text}"`);
  }
  return Number(text);
}
