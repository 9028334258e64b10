import {
  type CirculationQuestion,
  type CirculationStart,
  type Mixing,
  type SideStream,
  startOfCode,
  TYPICAL_UNCERTAINTY,
  type Uncertainty,
} from "../../../circulation/index.js";
import { acceptedCounts, limitsOfTarget, parseIso4406, parseTarget } from "../../../cleanliness/index.js";
import { cumulativeCounts } from "../../../counts/index.js";
import { tryParseFluidSpecification } from "../../../fluids/index.js";
import { joinAssumptions } from "../../../provenance/index.js";
import type { Hose } from "../../../samples/index.js";
import { hosesVolumeL, KEPT_UNITS } from "../../../units/index.js";
import {
  readBySize,
  readCountsBySize,
  readFraction,
  readPer,
  readQuantityOption,
  readSettings,
} from "../../arguments.js";
import { UsageError } from "../../io.js";
import { readElement, readHeat, readIndicatorSettings } from "./circulate-extras.js";
import { type InterimOptions, readInterim } from "./circulate-interim.js";
import type { Read } from "./settings.js";

/** Options of `siltbook circulate`. */
export interface CirculateOptions extends InterimOptions {
  readonly volume: string;
  readonly flow: string;
  /** One text for each element of the main stream. */
  readonly beta: readonly string[];
  readonly start: string;
  readonly target: string;
  readonly ingress?: string;
  readonly bypass?: string;
  readonly sideStream?: string;
  readonly creditBelowRated?: boolean;
  /** One text for hoses of one bore each. */
  readonly hoses?: readonly string[];
  readonly fluid?: string;
  readonly coldest?: string;
  readonly port?: string;
  readonly mixing?: string;
  readonly slowZone?: string;
  readonly settled?: string;
  readonly after?: string;
  readonly within?: string;
  readonly confidence?: string;
  readonly seed?: string;
  readonly draws?: string;
  readonly element?: string;
  readonly indicator?: string;
  readonly heat?: string;
  readonly json?: boolean;
  /** All there is to say, not only the answer. */
  readonly explain?: boolean;
}

/** Reads what the options ask for. */
export function readQuestion(options: CirculateOptions): Read<CirculationQuestion> {
  const hoses = readHoses(options);
  const circuit = readCircuit(options, hoses?.value.hoses ?? []);
  const start = readStart(options);
  const confidence = readConfidence(options);
  const acceptance = acceptanceOf(circuit.value.limits, confidence);
  const interim = readInterim(options);
  const heat = options.heat === undefined ? undefined : readHeat(options.heat);
  const element = options.element === undefined ? undefined : readElement(options.element);
  const indicator = options.indicator === undefined ? undefined : readIndicatorSettings(options.indicator);
  return {
    value: {
      circuit: circuit.value,
      start,
      ...(options.port !== undefined && { port: readPort(options.port) }),
      ...(hoses && { flow: hoses.value }),
      confidence,
      ...(acceptance && { acceptance }),
      ...(interim && { interim }),
      ...(heat && { heat: heat.value }),
      ...(element && { element: element.value }),
      ...(indicator && { indicator: indicator.value }),
      ...(options.after !== undefined && { afterMinutes: readTime("--after", options.after) }),
      ...(options.within !== undefined && { withinMinutes: readTime("--within", options.within) }),
    },
    assumptions: joinAssumptions(
      ...[circuit, hoses, heat, element, indicator].map((read) => read?.assumptions ?? []),
    ),
  };
}

function readTime(option: string, text: string): number {
  return readQuantityOption(option, text, "time").value;
}

function readPort(text: string): "upstream" | "downstream" {
  const port = text.trim().toLowerCase();
  if (port === "upstream" || port === "downstream") return port;
  throw new UsageError(`--port: expected upstream or downstream, of the element, found "${text}"`);
}

const HOSE = /^([\d.]+) *mm *[x×] *([\d.]+) *m(?: *[x×] *(\d+))?$/i;

/** Hoses such as "25 mm x 8 m x 2", with the fluid that flows in them. */
function readHoses({
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
      hoses: texts.map((text) => {
        const [, boreMm, lengthM, count = "1"] = HOSE.exec(text.trim()) ?? [];
        const hose = { boreMm: Number(boreMm), lengthM: Number(lengthM), count: Number(count) };
        if (hose.boreMm > 0 && hose.lengthM > 0 && hose.count > 0) return hose;
        throw new UsageError(
          `--hoses: expected bore, length and number such as "25 mm x 8 m x 2", found "${text}"`,
        );
      }),
      ...(at && { coldestC: at.value }),
    },
    assumptions: at?.assumptions ?? [],
  };
}

function readCircuit(
  options: CirculateOptions,
  hoses: readonly Hose[],
): Read<CirculationQuestion["circuit"]> {
  const volume = readMoreThanNone("--volume", options.volume, "volume");
  const flow = readMoreThanNone("--flow", options.flow, "flow");
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
      volumeL: volume.value + hosesVolumeL(hoses),
      flowLpm: flow.value,
      ...first,
      ...(others.length > 0 && { inSeries: others }),
      ...(side && { sideStream: side.value }),
      ...(options.creditBelowRated && { belowRated: "log-line" }),
      ...(mixing && { mixing }),
      ...(options.settled !== undefined && { settled: readFraction("--settled", options.settled) }),
      limits: limitsOfTarget(parseTarget(options.target)),
      ...(options.ingress !== undefined && {
        ingress: readCountsBySize("--ingress", options.ingress).map(({ sizeUm, value }) => ({
          sizeUmC: sizeUm,
          particlesPerMin: value,
        })),
      }),
    },
    assumptions: joinAssumptions(volume.assumptions, flow.assumptions, side?.assumptions ?? []),
  };
}

/** A circuit needs fluid and flow. */
function readMoreThanNone(option: string, text: string, kind: "volume" | "flow") {
  const read = readQuantityOption(option, text, kind);
  if (read.value > 0) return read;
  throw new UsageError(`${option}: expected more than 0 ${KEPT_UNITS[kind]}, found "${text}"`);
}

function readBetas(option: string, text: string): { sizeUmC: number; beta: number }[] {
  if (!/[=:]/.test(text)) {
    throw new UsageError(
      `${option}: "${text}" does not say how much the element retains; write its βx(c) by ISO 16889, such as "4=200"`,
    );
  }
  return readBySize(option, text).map(({ sizeUm, value }) => ({ sizeUmC: sizeUm, beta: value }));
}

/** An ISO 4406 code, or counts by size. */
function readStart({ start, per }: CirculateOptions): CirculationStart {
  if (start.includes("/")) return startOfCode(parseIso4406(start));
  const { volumeMl, assumptions } = readPer(per);
  const counts = readCountsBySize("--start", start).map(({ sizeUm, value }) => ({ sizeUm, count: value }));
  return { counts: cumulativeCounts(counts, volumeMl), assumptions };
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

/** The way of mixing: a slow zone means two zones. Undefined where the options say nothing of it. */
function readMixing({ mixing, slowZone }: CirculateOptions): Mixing | undefined {
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

const UNCERTAIN = [
  "volume",
  "flow",
  "beta",
  "ingress",
  "slow-zone",
  "hoses",
  "leakage",
  "lab",
  "counted",
] as const;

/** Reads what is stated of the uncertainties and the confidence. */
function readConfidence(options: CirculateOptions): NonNullable<CirculationQuestion["confidence"]> {
  const { confidence, uncertainty, seed, draws } = options;
  return {
    ...(confidence !== undefined && { confidence: readProbability("--confidence", confidence) }),
    ...(uncertainty !== undefined && { uncertainty: readUncertainty(uncertainty, options) }),
    ...(seed !== undefined && { seed: readWhole("--seed", seed) }),
    ...(draws !== undefined && { draws: readWhole("--draws", draws) }),
  };
}

/** Where the judge accepts a bottle, where a confidence is required of it. */
function acceptanceOf(
  limits: CirculationQuestion["circuit"]["limits"],
  { confidence, uncertainty }: NonNullable<CirculationQuestion["confidence"]>,
): CirculationQuestion["acceptance"] {
  if (confidence === undefined) return undefined;
  return acceptedCounts(limits, {
    probability: confidence,
    countedMl: uncertainty?.countedMl ?? TYPICAL_UNCERTAINTY.countedMl,
    ...(uncertainty?.laboratory !== undefined && {
      reproducibility: { kind: "relative", rsd: uncertainty.laboratory },
    }),
  });
}

function readProbability(option: string, text: string): number {
  const probability = readFraction(option, text);
  if (probability > 0 && probability < 1) return probability;
  throw new UsageError(
    `${option}: expected above 0 and below 100 %, such as "95 %" or "0.95", found "${text}"`,
  );
}

function readUncertainty(text: string, options: CirculateOptions): Uncertainty {
  const option = "--uncertainty";
  const settings = readSettings(option, text, UNCERTAIN);
  const counted = settings.counted ?? options.counted;
  const fraction = (name: (typeof UNCERTAIN)[number]) =>
    settings[name] === undefined ? undefined : readFraction(option, settings[name]);
  const [volume, flow, beta, ingress] = (["volume", "flow", "beta", "ingress"] as const).map(fraction);
  const [slowZone, laboratory] = (["slow-zone", "lab"] as const).map(fraction);
  const [hoses, leakage] = (["hoses", "leakage"] as const).map(fraction);
  return {
    ...(volume !== undefined && { volume }),
    ...(flow !== undefined && { flow }),
    ...(beta !== undefined && { beta }),
    ...(ingress !== undefined && { ingress }),
    ...(slowZone !== undefined && { slowZone }),
    ...(hoses !== undefined && { hoses }),
    ...(leakage !== undefined && { leakage }),
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
