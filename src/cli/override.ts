import { Book } from "../book/index.js";
import { VERDICTS, type VerdictName } from "../fitness/index.js";
import { DEFERENCE } from "../provenance/index.js";
import { readDay } from "./day.js";
import { type ExitCode, type Io, printJson, UsageError } from "./io.js";

/** Options of `siltbook override`. */
export interface OverrideOptions {
  readonly book: string;
  readonly cart: string;
  readonly circuit: string;
  readonly person: string;
  readonly decision: string;
  readonly reason: string;
  readonly on?: string;
  readonly json?: boolean;
}

/** Records what a person decided against the last verdict on a circuit. */
export function runOverride(options: OverrideOptions, io: Io): ExitCode {
  const { cart, circuit, person, reason } = options;
  const decision = readDecision(options.decision);
  const on = options.on === undefined ? undefined : readDay(options.on);
  const book = Book.open(options.book);
  try {
    const query = { cart, circuit, ...(on !== undefined && { on }) };
    const last = book.verdicts(query).at(-1);
    if (last === undefined) {
      throw new UsageError(
        `--cart, --circuit: the book has no verdict on circuit "${circuit}" of cart "${cart}"; judge it first`,
      );
    }
    book.override(last.id, { person, decision, reason });
    const [verdict] = book.verdicts(query).filter(({ id }) => id === last.id);
    if (options.json) printJson(io, { verdict, cautions: [DEFERENCE] });
    else {
      io.out(
        `${cart}, circuit ${circuit}: the verdict of ${last.on} stays ${last.verdict}; kept beside it: ${decision}, ` +
          `decided by ${person}: ${reason}\n${DEFERENCE.message}\n`,
      );
    }
    return 0;
  } finally {
    book.close();
  }
}

function readDecision(text: string): VerdictName {
  const found = VERDICTS.find((name) => name === text);
  if (found !== undefined) return found;
  throw new UsageError(`--decision: expected ${VERDICTS.join(", ")}, found "${text}"`);
}
