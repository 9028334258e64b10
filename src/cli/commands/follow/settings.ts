import { describeNext } from "../../../circulation/index.js";
import { parseTarget } from "../../../cleanliness/index.js";
import { type CircuitCase, followingOfCircuit } from "../../../fitness/index.js";
import {
  type ElementInLine,
  elementInLine,
  type FollowingSettings,
  followingSettings,
  type StatedCounter,
} from "../../../online/index.js";
import { type Assumption, joinAssumptions } from "../../../provenance/index.js";
import type { Circuit } from "../../../samples/index.js";
import { readFraction, readQuantityOption } from "../../arguments.js";
import { readDayOf } from "../../day.js";
import { UsageError } from "../../io.js";
import { answerTo } from "../circulate/answer-to.js";
import { readOfCart } from "../circulate/circulate-cart.js";
import { readElementInLine } from "../circulate/circulate-extras.js";
import { readPort } from "../circulate/circulate-readers.js";
import type { FollowOptions } from "./asked.js";

/** What is followed towards, and what is known before the counter has said anything. */
export interface Beginning {
  readonly settings: FollowingSettings;
  readonly target: string;
  readonly assumptions: readonly Assumption[];
  /** The element whose drop is followed, where it is stated. */
  readonly element?: ElementInLine;
  /** The last day of the calibration of the counter. */
  readonly calibrationDueOn?: string;
  /** What the verdict on the circuit rests on without this run, where one is named. */
  readonly input?: CircuitCase;
  /** The circuit that the counter sits in, where one is named. */
  readonly ofCart?: {
    readonly cart: string;
    readonly circuit: string;
    readonly on: string;
    /** What to do by the samples so far, with the minutes to go by; or why none are known. */
    readonly next: readonly string[];
    readonly from: { readonly sample: string; readonly drawnOn: string } | null;
    readonly minutes: number | null;
    /** What circulating does not settle. */
    readonly besides: readonly string[];
  };
}

/** Reads what the options say of the counter, its circuit and its target. */
export async function readBeginning(files: readonly string[], options: FollowOptions): Promise<Beginning> {
  const { target, book, carts, port } = options;
  if (book !== undefined || carts !== undefined) return readOfCircuit(files, options);
  if (files.length > 0) throw new UsageError("laboratory files go with --carts and --requirement");
  for (const name of ["requirement", "cart", "circuit", "on", "calibrated"] as const) {
    if (options[name] !== undefined) throw new UsageError(`--${name}: it goes with --book or --carts only`);
  }
  if (port !== undefined && readPort(port) === "downstream") {
    throw new UsageError(
      "--port downstream: the element has to be known; name the cart with --book or --carts",
    );
  }
  if (target === undefined) {
    throw new UsageError(
      "--target: needed where no cart is named; or --book FILE --cart NAME --circuit NAME",
    );
  }
  const found = followingSettings([parseTarget(target)], readCounter(options));
  return { ...found, ...readElement(options, undefined, found.assumptions) };
}

/** The element, with what is taken of its fluid added to the assumptions given. */
function readElement(
  { indicator }: FollowOptions,
  circuit?: Circuit,
  assumptions: readonly Assumption[] = [],
): Partial<Pick<Beginning, "element" | "assumptions">> {
  if (indicator === undefined) return {};
  const { value, assumptions: read } = readElementInLine(indicator, circuit?.fluid);
  if (value.rated.flowLpm === undefined && circuit?.flowLpm === undefined)
    throw new UsageError('--indicator: "flow" is needed, where no circuit is named');
  const found = elementInLine(value, circuit?.flowLpm);
  return { element: found.element, assumptions: joinAssumptions(assumptions, read, found.assumptions) };
}

async function readOfCircuit(files: readonly string[], options: FollowOptions): Promise<Beginning> {
  const { target, port, book, carts, requirement, cart, circuit, on, confidence } = options;
  const {
    input,
    judged,
    found,
    question,
    besides,
    on: day,
  } = await readOfCart(files, {
    ...withoutAbsent({ book, carts, requirement, cart, circuit, on, target, confidence }),
  });
  const following = followingOfCircuit(
    judged,
    readCounter(options),
    port === undefined ? "upstream" : readPort(port),
    target === undefined ? undefined : parseTarget(target),
  );
  if (following.kind === "none") throw new UsageError(following.why);
  const answer = question && answerTo(question);
  const { settings, assumptions } = following;
  const calibrationDueOn = readDayOf("--calibrated", options.calibrated);
  return {
    settings,
    input,
    ...(calibrationDueOn !== undefined && { calibrationDueOn }),
    target: following.target,
    assumptions: joinAssumptions(found.assumptions, assumptions),
    ...readElement(options, judged.circuit, joinAssumptions(found.assumptions, assumptions)),
    ofCart: {
      cart: judged.verdict.cart,
      circuit: judged.circuit.circuit,
      on: day,
      next: answer
        ? describeNext(answer)
        : [`no minutes by the samples: ${found.kind === "none" ? found.why : ""}`],
      from: found.kind === "question" ? found.from : null,
      minutes: answer?.next.kind === "verify" ? answer.next.minutes : null,
      besides,
    },
  };
}

function withoutAbsent<T extends object>(options: T) {
  return Object.fromEntries(Object.entries(options).filter(([, value]) => value !== undefined)) as {
    [name in keyof T]?: NonNullable<T[name]>;
  };
}

function readCounter({ confidence, counted, repeatability, bias }: FollowOptions): StatedCounter {
  return {
    ...(confidence !== undefined && { confidence: readFraction("--confidence", confidence) }),
    ...(counted !== undefined && {
      countedMlPerMin: 1000 * readQuantityOption("--counted", counted, "volume").value,
    }),
    ...(repeatability !== undefined && { repeatability: readFraction("--repeatability", repeatability) }),
    ...(bias !== undefined && { bias: readFraction("--bias", bias) }),
  };
}
