import {
  Book,
  type BookVerification,
  type BroughtEntry,
  bookStands,
  type ChainEntry,
  type CheckedStatement,
} from "../../../book/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { formatHowMany } from "../../text.js";
import { describeWithdrawn } from "../rows/rows.js";
import { describeOtherwise, MAX_SHOWN } from "./otherwise.js";
import { describeStatement, type SignedOptions, verifyStatement } from "./signed.js";

/** Options of `siltbook verify`. */
export interface VerifyOptions extends SignedOptions {
  readonly book?: string;
  /** An evidence pack, which is checked without the book. */
  readonly evidence?: string;
  readonly against?: string;
  readonly json?: boolean;
}

/** Says whether a book, or an evidence pack, is as it was written, and whether it contains what a printed head refers to. */
export async function runVerify(options: VerifyOptions, io: Io): Promise<ExitCode> {
  const { book: path, evidence, json, signed, publicKey } = options;
  const digits = options.against === undefined ? undefined : readHead(options.against);
  if (evidence !== undefined) {
    // What draws the sheet is not loaded for a book.
    const { verifyPack } = await import("./verify-pack.js");
    return verifyPack(
      {
        evidence,
        ...(path !== undefined && { book: path }),
        ...(digits !== undefined && { against: digits }),
        ...(json && { json }),
        ...(signed !== undefined && { signed }),
        ...(publicKey !== undefined && { publicKey }),
      },
      io,
    );
  }
  if (path === undefined) throw new UsageError("expected --book, or --evidence");
  const book = Book.open(path);
  try {
    const found = book.verify();
    const against = digits === undefined ? undefined : entryOf(book, digits);
    const statement = verifyStatement(options, book.entries());
    if (json) printJson(io, answerOf("verify", asJson(found, against, statement)));
    else io.out(describe(found, digits, against, statement));
    return bookStands(found, against !== null, statement) ? 0 : 1;
  } finally {
    book.close();
  }
}

/** The entry of a head: of the book itself, or of one that was brought into it; null where it is of none. */
type Against = { readonly entry: ChainEntry } | BroughtEntry | null;

function entryOf(book: Book, digits: string): Against {
  const entry = book.entryWithHash(digits);
  return entry === undefined ? (book.broughtEntry(digits) ?? null) : { entry };
}

function asJson(
  { begins, head, ...found }: BookVerification,
  against: Against | undefined,
  statement: CheckedStatement | undefined,
) {
  return {
    ...found,
    begins: begins ?? null,
    head: head ?? null,
    first: found.misfits[0] ?? null,
    ...(against !== undefined && {
      against: {
        isInBook: against !== null,
        entry: against?.entry ?? null,
        ...(against !== null && "book" in against && { book: against.book, broughtBy: against.broughtBy }),
      },
    }),
    ...(statement !== undefined && { signed: statement }),
  };
}

function describe(
  { fits, entries, begins, head, misfits, damage, verdicts, withdrawn }: BookVerification,
  digits: string | undefined,
  against: Against | undefined,
  statement: CheckedStatement | undefined,
): string {
  const others = Object.entries(verdicts.sameOfOthers).map(
    ([version, count]) => `  ${count} of them made by siltbook ${version}, which still agree\n`,
  );
  const [first, ...more] = misfits;
  return [
    describeAnswer(fits, verdicts.otherwise.length),
    digits === undefined ? "" : describeAgainst(digits, against),
    describeStatement(statement, "book"),
    ...damage.map((line) => `  damaged: ${line}\n`),
    first === undefined ? "" : `The first that does not fit: ${first.message}\n`,
    ...more.slice(0, MAX_SHOWN).map(({ message }) => `  also: ${message}\n`),
    more.length > MAX_SHOWN ? `  and ${more.length - MAX_SHOWN} more; --json lists all\n` : "",
    head === undefined || begins === undefined
      ? ""
      : `${entries === 1 ? "1 entry" : `${entries} entries`} from ${begins.at} (${begins.subject}) to ${head.at}.\n` +
        `Head: entry ${head.number}, ${shortHead(head)}\n` +
        `${verdicts.same} of ${formatHowMany(verdicts.kept, "verdict")} computed again with the same answer.\n`,
    ...others,
    ...describeOtherwise(verdicts.otherwise),
    ...withdrawn.map((withdrawal) => describeWithdrawn(withdrawal.file, withdrawal)),
    fits ? "" : "Keep the book as it is, and compare it with its backups and with heads that were printed.\n",
  ].join("");
}

function describeAnswer(fits: boolean, otherwise: number): string {
  if (!fits) return "The book does not fit its chain.\n";
  if (otherwise === 0) return "The book fits its chain.\n";
  return `The book fits its chain, but another version computed ${formatHowMany(otherwise, "verdict")} otherwise.\n`;
}

function describeAgainst(digits: string, against: Against | undefined): string {
  if (!against)
    return `The book does not contain ${digits}: it is not the book of that paper, or an older or another copy.\n`;
  const { number, at, subject } = against.entry;
  const which = `entry ${number} of ${at} (${subject})`;
  return "book" in against
    ? `The book contains what ${against.book} held up to ${digits}, its ${which}: entry ${against.broughtBy} brought it in. ` +
        "The requirement of that book is not in it.\n"
    : `The book contains ${digits}: ${which}.\n`;
}

function shortHead({ hash }: ChainEntry): string {
  return hash.slice(0, 12);
}

function readHead(text: string): string {
  const digits = text.trim().toLowerCase();
  if (/^[0-9a-f]{12,64}$/.test(digits)) return digits;
  throw new UsageError(`--against: expected 12 to 64 digits of a head, as printed, found "${text}"`);
}
