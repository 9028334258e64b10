import { Book, type ChainEntry, type VerdictComputedOtherwise } from "../../../book/index.js";
import {
  agreesWithPack,
  type ComparedEvidence,
  type EvidenceMisfit,
  type EvidenceVerdict,
  type EvidenceVerification,
  evidenceStands,
  headInPack,
  readEvidenceFiles,
  verifyEvidence,
} from "../../../evidence/index.js";
import { VERDICT_WORDS } from "../../../fitness/index.js";
import { VERSION } from "../../../provenance/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson } from "../../io.js";
import { drawLines, formatHowMany } from "../../text.js";
import { describeOtherwise } from "./otherwise.js";
import { BEFORE_THE_VERDICT, describeStatement, type SignedOptions, verifyStatement } from "./signed.js";

/** What is compared with an evidence pack. */
export interface PackOptions extends SignedOptions {
  readonly evidence: string;
  /** A book that should contain the head of the pack. */
  readonly book?: string;
  /** The digits of a head that the pack should contain. */
  readonly against?: string;
  readonly json?: boolean;
}

/** What `siltbook verify --evidence --json` prints; null where it is not known, or was not required. */
export interface VerifiedEvidence
  extends ComparedEvidence,
    Omit<
      EvidenceVerification,
      "verdict" | "computedOtherwise" | "head" | "entries" | "manifestSha256" | "signedHead"
    > {
  readonly verdict: EvidenceVerdict | null;
  readonly computedOtherwise: VerdictComputedOtherwise | null;
  readonly head: ChainEntry | null;
  readonly manifestSha256: string | null;
  readonly first: EvidenceMisfit | null;
}

/** Checks an evidence pack, without the book. */
export async function verifyPack(options: PackOptions, io: Io): Promise<ExitCode> {
  const found = await verifyEvidence(readEvidenceFiles(options.evidence));
  const { entries, signedHead, ...verification } = found;
  // Of a pack that does not fit, the chain or the statement may not even have been read.
  const statement =
    found.misfits.length > 0
      ? undefined
      : verifyStatement(options, entries, {
          ...(signedHead !== undefined && { signedHead }),
          verdictEntry: found.verdict?.entry ?? 0,
        });
  const answer: VerifiedEvidence = {
    ...verification,
    verdict: found.verdict ?? null,
    computedOtherwise: found.computedOtherwise ?? null,
    head: found.head ?? null,
    manifestSha256: found.manifestSha256 ?? null,
    first: found.misfits[0] ?? null,
    against: options.against === undefined ? null : headInPack(found, options.against),
    book: options.book === undefined ? null : { containsHead: containsHead(options.book, found.head) },
    signed: statement ?? null,
  };
  if (options.json) printJson(io, answerOf("verify", answer));
  else io.out(describe(answer, options));
  return evidenceStands(answer) ? 0 : 1;
}

function containsHead(path: string, head: ChainEntry | undefined): boolean {
  const book = Book.open(path);
  try {
    return head !== undefined && book.entryWithHash(head.hash) !== undefined;
  } finally {
    book.close();
  }
}

function describe(answer: VerifiedEvidence, { against, book }: PackOptions): string {
  const { misfits, verdict, computedOtherwise, head, files, manifestSha256, signed } = answer;
  const [first, ...more] = misfits;
  return [
    describeAnswer(answer),
    ...(head === null
      ? []
      : [
          describeAgainst(answer, against),
          describeBook(answer, book),
          describeStatement(signed ?? undefined, "pack"),
        ]),
    first === undefined ? "" : `The first that does not fit: ${first.file}: ${first.message}\n`,
    ...more.map(({ file, message }) => `  also: ${file}: ${message}\n`),
    verdict === null
      ? ""
      : `Verdict ${verdict.number}: ${VERDICT_WORDS[verdict.verdict]}\n` +
        `  cart ${verdict.cart}, circuit ${verdict.circuit}, judged for ${verdict.on}\n` +
        `  by "${verdict.document}", revision ${verdict.revision}\n`,
    first === undefined && computedOtherwise === null
      ? "  computed again from its inputs with the same answer\n"
      : "",
    ...describeOtherwise(computedOtherwise === null ? [] : [computedOtherwise]),
    ...describeSamples(answer),
    ...describeCovered(answer),
    `${formatHowMany(files, "file")}${manifestSha256 === null ? "" : `, manifest ${manifestSha256.slice(0, 12)}`}\n`,
    head === null
      ? ""
      : `Head of the book: entry ${head.number} of ${head.at.slice(0, 10)}, ${head.hash.slice(0, 12)}\n`,
    head === null || against !== undefined || book !== undefined || signed !== null
      ? ""
      : "Compare the head with a printed page: who owns a book can make another one.\n",
  ].join("");
}

function describeAnswer(answer: VerifiedEvidence): string {
  const { fits, first, notMadeAgain, computedOtherwise } = answer;
  if (fits && !agreesWithPack(answer)) return "The evidence does not fit what it was compared with.\n";
  if (fits) return "The evidence fits.\n";
  if (first !== null) return "The evidence does not fit.\n";
  const otherwise =
    computedOtherwise === null
      ? []
      : ["The pack is as its chain says, but the version that made its verdict computed it otherwise."];
  if (notMadeAgain.length === 0) return drawLines(otherwise);
  return drawLines([
    ...otherwise,
    "The verdict fits its evidence, but not all files can be compared: another version of siltbook made the pack " +
      `(record.json names it), and this is ${VERSION}.`,
    `Go by the verdict below, not by ${notMadeAgain.join(", ")}.`,
  ]);
}

function describeSamples({ samples }: VerifiedEvidence): string[] {
  return samples.map(({ sample, files, result, isAsDelivered }) => {
    const from = files.join(", ");
    if (result === "not at hand") return `  sample ${sample}: not read again, ${from} is not in the pack\n`;
    const how = isAsDelivered ? "as delivered" : "as the book kept its rows";
    const what = result === "same" ? "the same results" : "other results";
    return `  sample ${sample} read again from ${from}, ${how}: ${what}\n`;
  });
}

function describeCovered({ first, covered }: VerifiedEvidence): string[] {
  if (first !== null) return [];
  return covered.map(({ entry, what }) => `  entry ${entry} of the chain wrote ${what}\n`);
}

function describeAgainst({ against }: VerifiedEvidence, digits: string | undefined): string {
  if (against === null) return "";
  const { entry, coversVerdict } = against;
  if (entry === null) {
    return `The pack does not contain ${digits}: it is of another book, or was made before that page.\n`;
  }
  return `The pack contains ${digits}: entry ${entry.number} of ${entry.at}.\n${coversVerdict ? "" : BEFORE_THE_VERDICT}`;
}

function describeBook({ book }: VerifiedEvidence, path: string | undefined): string {
  if (book === null) return "";
  return `${path} ${book.containsHead ? "contains" : "does not contain"} the head of the pack.\n`;
}
