import type { CirculationQuestion } from "../../../circulation/index.js";
import { parseTarget } from "../../../cleanliness/index.js";
import {
  type CircuitCase,
  type CirculationChanges,
  type CirculationOfCircuit,
  casesOf,
  circulationOfCircuit,
  describeHolds,
  type JudgedCircuit,
  notPutRight,
  type UnreadResult,
  unreadOfFleet,
} from "../../../fitness/index.js";
import { joinAssumptions } from "../../../provenance/index.js";
import { type Circuit, findNamed } from "../../../samples/index.js";
import { readFraction, readQuantityOption } from "../../arguments.js";
import { UsageError } from "../../io.js";
import { readUnits } from "../../units-option.js";
import { cartsAskedFor, judgeInUnits, readDays, readFleet } from "../judge/judgement.js";
import type { CirculateOptions } from "./asked.js";
import { acceptanceOf, readConfidence } from "./circulate-confidence.js";
import { readConditions, readElements, readIngress, readShownIn, withBypass } from "./circulate-options.js";
import {
  readHoseList,
  readMixing,
  readMoreThanNone,
  readPort,
  readSideStream,
  readStart,
} from "./circulate-readers.js";
import type { Read } from "./settings.js";

/** The circulation of one circuit of a book or a carts file. */
export interface OfCart {
  /** What the verdict rests on. */
  readonly input: CircuitCase;
  readonly judged: JudgedCircuit;
  readonly on: string;
  readonly found: CirculationOfCircuit;
  /** What circulating does not settle, the strictest first; after what a person decided. */
  readonly besides: readonly string[];
  readonly question: Read<CirculationQuestion> | undefined;
  /** Rows that can be given to no cart. */
  readonly rowsOfNoCart: readonly UnreadResult[];
}

/** Reads a circuit and puts what the options say in the place of what stands there. */
export async function readOfCart(files: readonly string[], options: CirculateOptions): Promise<OfCart> {
  const { on, asOf } = readDays(options);
  if (options.cart === undefined) throw new UsageError("--cart: needed with --book or --carts");
  const read = await readFleet(files, options, { on, ...(asOf !== undefined && { asOf }) });
  const carts = cartsAskedFor(read, options.cart);
  const [cart] = carts;
  const circuit = circuitAskedFor(cart?.circuits ?? [], options.circuit);
  const fleet = { ...read, carts, on };
  const input = casesOf(fleet).find((one) => one.circuit === circuit) as CircuitCase;
  const { shown: verdicts } = judgeInUnits(fleet, readUnits(options.units));
  const judged = verdicts.find(({ verdict }) => verdict.circuit === circuit.circuit) as JudgedCircuit;
  const shown = { ...input, circuit: { ...circuit, shownIn: readShownIn(options, circuit.shownIn) } };
  const changes = readChanges(options, circuit);
  const found = circulationOfCircuit(shown, changes.value);
  return {
    input,
    judged,
    on,
    rowsOfNoCart: unreadOfFleet(read.unread, read.carts, read.knownCarts).ofNoCart,
    found,
    besides: [...describeHolds(judged.standing), ...notPutRight(judged.verdict)],
    question: found.kind === "question" ? questionOf(found.question, options, changes) : undefined,
  };
}

function circuitAskedFor(circuits: readonly Circuit[], name: string | undefined): Circuit {
  const known = circuits.map(({ circuit }) => circuit).join(", ");
  const [only, ...others] = circuits;
  if (name === undefined) {
    if (only !== undefined && others.length === 0) return only;
    throw new UsageError(`--circuit: this cart has several; expected one of ${known}`);
  }
  const found = findNamed(circuits, ({ circuit }) => circuit, name);
  if (found !== undefined) return found;
  throw new UsageError(`--circuit: there is no circuit "${name}"; known are ${known}`);
}

function readChanges(options: CirculateOptions, circuit: Circuit): Read<CirculationChanges> {
  const volume =
    options.volume === undefined ? undefined : readMoreThanNone("--volume", options.volume, "volume");
  const flow = options.flow === undefined ? undefined : readMoreThanNone("--flow", options.flow, "flow");
  const elements = readElements(options.beta);
  const mixing = readMixing(options);
  if (options.fluid !== undefined) {
    throw new UsageError(`--fluid: the circuit holds ${circuit.fluid}; leave the option out`);
  }
  const [betas] = elements?.value ?? [];
  return {
    value: {
      ...(volume && { volumeL: volume.value }),
      ...(flow && { flowLpm: flow.value }),
      ...(betas && { betas }),
      ...(options.bypass !== undefined && { bypass: readFraction("--bypass", options.bypass) }),
      ...(options.ingress !== undefined && { ingress: readIngress(options.ingress) }),
      ...(mixing?.kind === "two-zone" && { slowZone: mixing }),
      ...(options.settled !== undefined && { settled: readFraction("--settled", options.settled) }),
      ...(options.hoses && { hoses: readHoseList(options.hoses) }),
      ...(options.target !== undefined && { target: parseTarget(options.target) }),
      ...(options.start !== undefined && { start: readStart(options.start, options.per) }),
      ...(options.port !== undefined && { port: readPort(options.port) }),
    },
    assumptions: joinAssumptions(...[volume, flow, elements].map((read) => read?.assumptions ?? [])),
  };
}

/** What a carts file does not know: other streams and elements, another way of mixing, another confidence. */
function questionOf(
  found: CirculationQuestion,
  options: CirculateOptions,
  changes: Read<CirculationChanges>,
): Read<CirculationQuestion> {
  const side = options.sideStream === undefined ? undefined : readSideStream(options.sideStream);
  const mixing = readMixing(options);
  const { inSeries } = withBypass(readElements(options.beta)?.value ?? [], options.bypass);
  const { uncertainty, ...typed } = readConfidence(options);
  const conditions = readConditions(options);
  const coldest =
    options.coldest === undefined
      ? undefined
      : readQuantityOption("--coldest", options.coldest, "temperature");
  if (coldest && found.flow === undefined) throw new UsageError("--coldest: it goes with hoses only");
  const acceptance = acceptanceOf(found.circuit.limits, readConfidence(options)) ?? found.acceptance;
  return {
    value: {
      ...found,
      circuit: {
        ...found.circuit,
        ...(inSeries && { inSeries }),
        ...(side && { sideStream: side.value }),
        ...(options.creditBelowRated && { belowRated: "log-line" }),
        ...(mixing && { mixing }),
      },
      confidence: {
        ...found.confidence,
        ...typed,
        uncertainty: { ...found.confidence?.uncertainty, ...uncertainty },
      },
      ...(acceptance && { acceptance }),
      ...(found.flow && coldest && { flow: { ...found.flow, coldestC: coldest.value } }),
      ...conditions.value,
    },
    assumptions: joinAssumptions(changes.assumptions, side?.assumptions ?? [], conditions.assumptions),
  };
}
