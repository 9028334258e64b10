import { answerCirculation, type CirculationAnswer } from "../../../circulation/index.js";
import { joinAssumptions } from "../../../provenance/index.js";
import { renderSheet } from "../../../report/index.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { mustBeOther, writeWhole } from "../../whole-file.js";
import type { CirculateOptions } from "./asked.js";
import { namesCircuit, type OfCart, readOfCart } from "./circulate-cart.js";
import { circulationAsJson } from "./circulate-json.js";
import { readQuestion } from "./circulate-options.js";
import {
  describeCirculation,
  describeCirculationInBrief,
  describeNothingToPlan,
  describeOfCart,
} from "./circulate-text.js";
import type { Read } from "./settings.js";

/** Prints how long to self-circulate, with what confidence, and how to go about it. */
export async function runCirculate(
  files: readonly string[],
  options: CirculateOptions,
  io: Io,
): Promise<ExitCode> {
  if (namesCircuit(options)) return runOfCart(files, options, io);
  if (files.length > 0) throw new UsageError("laboratory files go with --carts and --requirement");
  for (const name of ["cart", "circuit", "sheet"] as const) {
    if (options[name] !== undefined) throw new UsageError(`--${name}: it goes with --book or --carts only`);
  }
  const answer = answerTo(readQuestion(options));
  if (options.json) printJson(io, circulationAsJson(answer));
  else io.out(options.explain ? describeCirculation(answer) : describeCirculationInBrief(answer));
  return answer.allWell ? 0 : 1;
}

function answerTo({ value, assumptions }: Read<Parameters<typeof answerCirculation>[0]>): CirculationAnswer {
  const found = answerCirculation(value);
  return { ...found, assumptions: joinAssumptions(assumptions, found.assumptions) };
}

async function runOfCart(files: readonly string[], options: CirculateOptions, io: Io): Promise<ExitCode> {
  const { sheet, book, carts, requirement, map } = options;
  if (sheet !== undefined) mustBeOther("--sheet", sheet, [book, carts, requirement, map, ...files]);
  const ofCart = await readOfCart(files, options);
  const { found, question, besides } = ofCart;
  if (sheet !== undefined) await writeSheet(sheet, ofCart);
  const answer = question && withChanges(answerTo(question), found.assumptions);
  const written = sheet === undefined ? "" : `The sheet is in ${sheet}\n`;
  if (options.json) {
    const { cart, circuit, verdict } = ofCart.judged.verdict;
    const from = found.kind === "question" ? found.from : null;
    printJson(io, {
      ...{ cart, circuit, verdict, besides, from, sheet: sheet ?? null },
      ...(answer ? circulationAsJson(answer) : { quoted: null, whyNoTime: whyNone(found) }),
    });
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

/** The sheet shows the verdict, so nothing typed for the minutes may stand in it. */
async function writeSheet(path: string, { judged, on, found, rowsOfNoCart }: OfCart): Promise<void> {
  const [typed] = found.assumptions;
  if (typed !== undefined) {
    throw new UsageError(
      `--sheet: the sheet shows the verdict by the book, without what is typed (${typed.message}); leave one of the two out`,
    );
  }
  await writeWhole("--sheet", path, [renderSheet({ judged, on, rowsOfNoCart })]);
}
