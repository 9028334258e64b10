import type { CirculationAnswer } from "../../../circulation/index.js";
import { briefOf, isHeld, standsAs } from "../../../fitness/index.js";
import { type Assumption, joinAssumptions, SHORT_DEFERENCE } from "../../../provenance/index.js";
import { renderSheet } from "../../../report/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { drawLines } from "../../text.js";
import { mustBeOther, writeWhole } from "../../whole-file.js";
import { answerTo } from "./answer-to.js";
import type { CirculateOptions } from "./asked.js";
import { type OfCart, readOfCart } from "./circulate-cart.js";
import { circulationAsJson } from "./circulate-json.js";
import { describeCirculation, describeCirculationInBrief } from "./circulate-text.js";

/** The same for a circuit of a book or a carts file. */
export async function runOfCart(
  files: readonly string[],
  options: CirculateOptions,
  io: Io,
): Promise<ExitCode> {
  const { sheet, book, carts, requirement, map } = options;
  if (sheet !== undefined) {
    mustShowTheVerdict(options);
    mustBeOther("--sheet", sheet, [book, carts, requirement, map, ...files]);
  }
  const ofCart = await readOfCart(files, options);
  const { found, question, besides } = ofCart;
  if (sheet !== undefined) await writeSheet(sheet, ofCart);
  const answer = question && withChanges(answerTo(question), found.assumptions);
  const written = sheet === undefined ? "" : `The sheet is in ${sheet}\n`;
  if (options.json) {
    const { cart, circuit, verdict } = ofCart.judged.verdict;
    const from = found.kind === "question" ? found.from : null;
    printJson(
      io,
      answerOf("circulate", {
        ...{ cart, circuit, verdict, besides, from, sheet: sheet ?? null },
        ...(answer ? circulationAsJson(answer) : { quoted: null, whyNoTime: whyNone(found) }),
      }),
    );
  } else if (answer === undefined) {
    io.out(
      describeOfCart(ofCart, options.explain) +
        describeNothingToPlan(whyNone(found), found.assumptions) +
        written,
    );
  } else {
    const text = options.explain ? describeCirculation(answer) : describeCirculationInBrief(answer);
    io.out(describeOfCart(ofCart, options.explain) + text + written);
  }
  const isWell = answer === undefined ? found.kind === "none" && found.isClean : answer.allWell;
  return isWell && besides.length === 0 ? 0 : 1;
}

function whyNone(found: OfCart["found"]): string {
  return found.kind === "none" ? found.why : "";
}

function withChanges(
  answer: CirculationAnswer,
  changes: CirculationAnswer["assumptions"],
): CirculationAnswer {
  return { ...answer, assumptions: joinAssumptions(changes, answer.assumptions) };
}

/** What the verdict of a circuit goes by, and how it is shown. */
const OF_THE_VERDICT: readonly (keyof CirculateOptions)[] = [
  ...(["book", "carts", "requirement", "map", "cart", "circuit", "on", "asOf"] as const),
  ...(["sheet", "units", "explain", "json"] as const),
];

/** The sheet shows the verdict, so nothing typed for the minutes may stand next to it. */
function mustShowTheVerdict(options: CirculateOptions): void {
  const names = Object.keys(options) as (keyof CirculateOptions)[];
  const typed = names.find((name) => options[name] !== undefined && !OF_THE_VERDICT.includes(name));
  if (typed === undefined) return;
  const option = typed.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
  throw new UsageError(
    `--sheet: the sheet shows the verdict by the book, without what is typed; leave --sheet or --${option} out`,
  );
}

async function writeSheet(path: string, { judged, on, rowsOfNoCart }: OfCart): Promise<void> {
  await writeWhole("--sheet", path, [renderSheet({ judged, on, rowsOfNoCart })]);
}

/** The circuit that was asked about: its verdict, the sample, and what circulating does not settle. */
function describeOfCart({ judged, on, found, besides }: OfCart, explain = false): string {
  const { cart, circuit } = judged.verdict;
  const from = found.kind === "question" ? `, by sample ${found.from.sample} of ${found.from.drawnOn}` : "";
  // The minutes follow; a verdict that asks for more than circulating is said first.
  const isToCirculate = standsAs(judged) === "circulate" && !isHeld(judged) && found.kind === "question";
  const action = isToCirculate ? "" : `: ${briefOf(judged).action}`;
  const [first, ...others] = besides;
  const more = others.length === 0 || explain ? "" : ` (and ${others.length} more)`;
  const said = explain ? besides : first === undefined ? [] : [first];
  return drawLines([
    `${cart} ${circuit} on ${on}${from}${action}.`,
    ...said.map((reason) => `Circulating does not settle: ${reason}${more}.`),
  ]);
}

/** Why there are no minutes. */
function describeNothingToPlan(why: string, assumptions: readonly Assumption[]): string {
  return drawLines([
    `No minutes are given: ${why}.`,
    ...assumptions.map(({ message }) => `${message}.`),
    SHORT_DEFERENCE,
  ]);
}
