import type { CirculationQuestion } from "../../../circulation/index.js";
import { limitsOfTarget, parseTarget, unknownElement } from "../../../cleanliness/index.js";
import { joinAssumptions } from "../../../provenance/index.js";
import type { Hose } from "../../../samples/index.js";
import {
  hosesVolumeL,
  type ShownIn,
  type ShownKind,
  shownAsTyped,
  shownInSystem,
} from "../../../units/index.js";
import { readCountsBySize, readFraction } from "../../arguments.js";
import { UsageError } from "../../io.js";
import { readUnits } from "../../units-option.js";
import type { CirculateOptions } from "./asked.js";
import { acceptanceOf, readConfidence } from "./circulate-confidence.js";
import { readElement, readHeat, readIndicatorSettings } from "./circulate-extras.js";
import { readInterim } from "./circulate-interim.js";
import {
  readBetas,
  readHoses,
  readMixing,
  readMoreThanNone,
  readPort,
  readSideStream,
  readStart,
  readTime,
} from "./circulate-readers.js";
import type { Read } from "./settings.js";

/** Reads what the options ask for where they describe the whole circuit. */
export function readQuestion(options: CirculateOptions): Read<CirculationQuestion> {
  const hoses = readHoses(options);
  const circuit = readCircuit(options, hoses?.value.hoses ?? []);
  const start = readStart(needed(options, "start"), options.per);
  const confidence = readConfidence(options);
  const acceptance = acceptanceOf(circuit.value.limits, confidence);
  const conditions = readConditions(options);
  return {
    value: {
      circuit: circuit.value,
      start,
      ...(options.port !== undefined && { port: readPort(options.port) }),
      ...(hoses && { flow: hoses.value }),
      confidence,
      ...(acceptance && { acceptance }),
      ...conditions.value,
      shownIn: readShownIn(options),
    },
    assumptions: joinAssumptions(...[circuit, hoses, conditions].map((read) => read?.assumptions ?? [])),
  };
}

/** What is asked besides the circuit and its fluid: equipment, samples on the way, other times. */
export function readConditions(
  options: CirculateOptions,
): Read<
  Pick<CirculationQuestion, "interim" | "heat" | "element" | "indicator" | "afterMinutes" | "withinMinutes">
> {
  const interim = readInterim(options);
  const heat = options.heat === undefined ? undefined : readHeat(options.heat);
  const element = options.element === undefined ? undefined : readElement(options.element);
  const indicator = options.indicator === undefined ? undefined : readIndicatorSettings(options.indicator);
  return {
    value: {
      ...(interim.value && { interim: interim.value }),
      ...(heat && { heat: heat.value }),
      ...(element && { element: element.value }),
      ...(indicator && { indicator: indicator.value }),
      ...(options.after !== undefined && { afterMinutes: readTime("--after", options.after) }),
      ...(options.within !== undefined && { withinMinutes: readTime("--within", options.within) }),
    },
    assumptions: joinAssumptions(
      ...[interim, heat, element, indicator].map((read) => read?.assumptions ?? []),
    ),
  };
}

/** The units of the answer: those that are named, or else those that were typed, or those of the cart. */
export function readShownIn(options: CirculateOptions, ofCart: ShownIn = {}): ShownIn {
  const units = readUnits(options.units);
  if (units !== undefined) return shownInSystem(units);
  const typed: [string, ShownKind][] = [];
  if (options.volume !== undefined) typed.push([options.volume, "volume"]);
  if (options.flow !== undefined) typed.push([options.flow, "flow"]);
  return { ...ofCart, ...shownAsTyped(typed) };
}

/** An option that a circuit cannot be described without. */
function needed(options: CirculateOptions, name: "volume" | "flow" | "start" | "target"): string {
  const text = options[name];
  if (text !== undefined) return text;
  throw new UsageError(
    `--${name}: needed where no circuit is named; or name one with --book FILE --cart NAME --circuit NAME`,
  );
}

function readCircuit(
  options: CirculateOptions,
  hoses: readonly Hose[],
): Read<CirculationQuestion["circuit"]> {
  const volume = readMoreThanNone("--volume", needed(options, "volume"), "volume");
  const flow = readMoreThanNone("--flow", needed(options, "flow"), "flow");
  const elements = readElements(options.beta);
  const { betas, inSeries, ...bypass } = withBypass(elements?.value ?? [], options.bypass);
  const unknown = unknownElement("filter");
  const side = options.sideStream === undefined ? undefined : readSideStream(options.sideStream);
  const mixing = readMixing(options);
  return {
    value: {
      volumeL: volume.value + hosesVolumeL(hoses),
      flowLpm: flow.value,
      betas: betas ?? unknown.betas,
      ...bypass,
      ...(inSeries && { inSeries }),
      ...(side && { sideStream: side.value }),
      ...(options.creditBelowRated && { belowRated: "log-line" }),
      ...(mixing && { mixing }),
      ...(options.settled !== undefined && { settled: readFraction("--settled", options.settled) }),
      limits: limitsOfTarget(parseTarget(needed(options, "target"))),
      ...(options.ingress !== undefined && { ingress: readIngress(options.ingress) }),
    },
    assumptions: joinAssumptions(
      volume.assumptions,
      flow.assumptions,
      elements?.assumptions ?? unknown.assumptions,
      side?.assumptions ?? [],
    ),
  };
}

/** The elements of the main stream; undefined where none is given. */
export function readElements(
  texts: readonly string[] | undefined,
): Read<readonly CirculationQuestion["circuit"]["betas"][]> | undefined {
  const read = texts?.map((text) => readBetas("--beta", text));
  return (
    read && {
      value: read.map(({ value }) => value),
      assumptions: joinAssumptions(...read.map(({ assumptions }) => assumptions)),
    }
  );
}

/** The first element and those after it, each with the bypass. */
export function withBypass(
  [first, ...others]: readonly CirculationQuestion["circuit"]["betas"][],
  text: string | undefined,
): Partial<Pick<CirculationQuestion["circuit"], "betas" | "bypass" | "inSeries">> {
  const bypass = text === undefined ? {} : { bypass: readFraction("--bypass", text) };
  return {
    ...(first && { betas: first }),
    ...bypass,
    ...(others.length > 0 && { inSeries: others.map((betas) => ({ betas, ...bypass })) }),
  };
}

/** Particles a minute by size. */
export function readIngress(text: string): { sizeUmC: number; particlesPerMin: number }[] {
  return readCountsBySize("--ingress", text).map(({ sizeUm, value }) => ({
    sizeUmC: sizeUm,
    particlesPerMin: value,
  }));
}
