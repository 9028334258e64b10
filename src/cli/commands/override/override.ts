import { Book } from "../../../book/index.js";
import { describeDecision, VERDICT_WORDS, VERDICTS, type VerdictName } from "../../../fitness/index.js";
import { DEFERENCE } from "../../../provenance/index.js";
import { answerOf } from "../../answer.js";
import { readDay } from "../../day.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { whoDoesIt } from "../../who.js";
import { circuitDecisionAsJson } from "../judge/decisions.js";

/** Options of `siltbook override`. */
export interface OverrideOptions {
  readonly book: string;
  readonly cart: string;
  readonly circuit: string;
  readonly person: string;
  /** Who enters it. */
  readonly by?: string;
  readonly second?: string;
  readonly decision?: string;
  readonly reason: string;
  readonly until?: string;
  readonly lift?: boolean;
  readonly number?: string;
  readonly on?: string;
  readonly json?: boolean;
}

/** Records what a person decided about a circuit, or lifts what was decided. */
export function runOverride(options: OverrideOptions, io: Io): ExitCode {
  if ((options.decision === undefined) === (options.lift === undefined)) {
    throw new UsageError("expected --decision, or --lift to lift what was decided");
  }
  const book = Book.open(options.book);
  try {
    if (options.lift === undefined) decide(book, options, readDecision(options.decision ?? ""), io);
    else lift(book, options, io);
    return 0;
  } finally {
    book.close();
  }
}

/** Decides against the last verdict on the circuit, or against that of the day given. */
function decide(book: Book, options: OverrideOptions, decision: VerdictName, io: Io): void {
  const { cart, circuit, person, reason, second, until } = options;
  if (options.number !== undefined) throw new UsageError("--number: goes with --lift only");
  const on = options.on === undefined ? undefined : readDay(options.on);
  const query = { cart, circuit, ...(on !== undefined && { on }) };
  const last = book.verdicts(query).at(-1);
  if (last === undefined && on !== undefined) {
    throw new UsageError(
      `--on: the book has no verdict of ${on} on circuit "${circuit}" of cart "${cart}"; judge it first`,
    );
  }
  const entry = {
    person,
    decision,
    reason,
    ...(second !== undefined && { second }),
    ...(until !== undefined && { until }),
  };
  const by = enteredBy(options);
  const kept =
    last === undefined ? book.overrideUnjudged(cart, circuit, entry, by) : book.override(last.id, entry, by);
  const verdict = last && book.verdicts(query).find(({ id }) => id === last.id);
  if (options.json) {
    printJson(
      io,
      answerOf("override", {
        verdict: verdict ?? null,
        decision: circuitDecisionAsJson(kept),
        cautions: [DEFERENCE],
      }),
    );
    return;
  }
  const computed =
    last === undefined
      ? "there is no verdict yet"
      : `the verdict of ${last.on} stays "${VERDICT_WORDS[last.verdict]}"`;
  io.out(
    `${cart}, circuit ${circuit}: ${computed}; kept with it: ${describeDecision(kept)}\n${DEFERENCE.message}\n`,
  );
}

function lift(book: Book, options: OverrideOptions, io: Io): void {
  const { cart, circuit, person, reason, number } = options;
  const unsuited = (["second", "until", "on"] as const).find((name) => options[name] !== undefined);
  if (unsuited !== undefined) throw new UsageError(`--${unsuited}: goes with --decision only`);
  const entry = { person, reason, ...(number !== undefined && { number: readNumber(number) }) };
  const lifted = book.lift(cart, circuit, entry, enteredBy(options));
  if (options.json) {
    printJson(io, answerOf("override", { decision: circuitDecisionAsJson(lifted), cautions: [DEFERENCE] }));
    return;
  }
  io.out(
    `${lifted.cart}, circuit ${lifted.circuit}: ${describeDecision(lifted)}\n` +
      `Judge again to see what stands now.\n${DEFERENCE.message}\n`,
  );
}

function enteredBy(options: OverrideOptions): { by?: string } {
  const by = whoDoesIt(options.by);
  return by === undefined ? {} : { by };
}

function readDecision(text: string): VerdictName {
  const found = VERDICTS.find((name) => name === text);
  if (found !== undefined) return found;
  throw new UsageError(`--decision: expected ${VERDICTS.join(", ")}, found "${text}"`);
}

function readNumber(text: string): number {
  if (/^[1-9]\d{0,14}$/.test(text)) return Number(text);
  throw new UsageError(`--number: expected the number of a decision, found "${text}"`);
}
