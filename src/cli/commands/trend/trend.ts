import { isOrWillBeBeyond, type TrendQuestion, trendReport, unreadOfFleet } from "../../../fitness/index.js";
import { type Assumption, joinAssumptions } from "../../../provenance/index.js";
import { type Cart, type Circuit, findNamed } from "../../../samples/index.js";
import { answerOf } from "../../answer.js";
import { readDay } from "../../day.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { type History, readHistory } from "./trend-history.js";
import { readDays, readMeasureOptions, readMeasures, readRisk, type TrendOptions } from "./trend-options.js";
import { describeTrendInBrief, describeTrendReport, trendAsJson } from "./trend-words.js";

/** What the options ask for, and what was assumed in reading them. */
interface Read {
  readonly question: TrendQuestion;
  readonly assumptions: readonly Assumption[];
}

/** Prints where a measure of one circuit is heading. */
export async function runTrend(
  sampleFiles: readonly string[],
  options: TrendOptions,
  io: Io,
): Promise<ExitCode> {
  const { question, assumptions } = readQuestion(options, await readHistory(sampleFiles, options));
  const found = trendReport(question);
  const report = { ...found, notes: joinAssumptions(assumptions, found.notes) };
  if (options.json) printJson(io, answerOf("trend", trendAsJson(report)));
  else io.out(options.explain ? describeTrendReport(report) : describeTrendInBrief(report));
  return report.trends.some(isOrWillBeBeyond) ? 1 : 0;
}

function readQuestion(options: TrendOptions, history: History): Read {
  const measures = readMeasures(options.measure);
  const { cart, circuit } = findCircuit(options, history.carts);
  const requirement = history.requirements.find((entry) => entry.system === circuit.serves);
  const unread = unreadOfFleet(history.unread, history.carts, history.knownCarts);
  const read = measures.map((measure) => ({ measure, ...readMeasureOptions(options, measure) }));
  const { horizon, risk, longest } = options;
  const question: TrendQuestion = {
    cart,
    circuit,
    measures,
    on: readDay(options.on),
    carts: history.carts,
    samples: history.samples,
    unread: [...unread.of(cart.cart, circuit.circuit), ...unread.ofNoCart],
    ...(requirement && { requirement }),
    bounds: Object.fromEntries(read.flatMap(({ measure, bounds }) => (bounds ? [[measure, bounds]] : []))),
    newFluid: Object.fromEntries(
      read.flatMap(({ measure, newFluid }) => (newFluid === undefined ? [] : [[measure, newFluid]])),
    ),
    ...(horizon !== undefined && { horizonDays: readDays("--horizon", horizon, 365) }),
    ...(risk !== undefined && { risk: readRisk(risk) }),
    ...(longest !== undefined && { longestDays: readDays("--longest", longest, 90) }),
  };
  return { question, assumptions: read.flatMap(({ assumptions }) => assumptions) };
}

function findCircuit(
  options: TrendOptions,
  carts: readonly Cart[],
): { readonly cart: Cart; readonly circuit: Circuit } {
  const cart = findNamed(carts, (entry) => entry.cart, options.cart);
  if (cart === undefined) {
    throw new UsageError(
      `--cart: expected one of ${carts.map((entry) => entry.cart).join(", ")}, found "${options.cart}"`,
    );
  }
  const circuit = findNamed(cart.circuits, (entry) => entry.circuit, options.circuit);
  if (circuit === undefined) {
    throw new UsageError(
      `--circuit: expected one of ${cart.circuits.map((entry) => entry.circuit).join(", ")}, found "${options.circuit}"`,
    );
  }
  return { cart, circuit };
}
