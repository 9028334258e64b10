import type { ChainEntry, VerdictComputedOtherwise } from "../book/index.js";
import { VERDICT_WORDS, type VerdictName } from "../fitness/index.js";
import { checkSamples, type SampleReadAgain } from "./check-samples.js";
import { checkShown } from "./check-shown.js";
import { computedOtherwise, misfitsOfChain, misfitsOfSignedHead, misfitsOfVerdict } from "./check-verdict.js";
import { CHAIN_FILES, PackError, readContent } from "./content.js";
import { type EvidenceMisfit, MANIFEST, misfitsOfManifest } from "./manifest.js";
import { type PackFile, sha256OfBytes } from "./pack-file.js";
import { type ReadContent, readRows, VERDICT_FILE } from "./shown-files.js";

/** What was found of an evidence pack. */
export interface EvidenceVerification {
  /** Whether all files were compared, and fit, and the installed version computes the same verdict. */
  readonly fits: boolean;
  /** What does not fit; the first is the one to look at. */
  readonly misfits: readonly EvidenceMisfit[];
  /** The verdict that the pack is about; absent where it cannot be read. */
  readonly verdict?: EvidenceVerdict;
  /** The verdict, where another version computed it and it comes out otherwise today. */
  readonly computedOtherwise?: VerdictComputedOtherwise;
  /** The last entry of the book's chain when the pack was made. */
  readonly head?: ChainEntry;
  /** The chain up to there; a printed head is one of them, or of another book. */
  readonly entries: readonly ChainEntry[];
  /** The signed statement of a head that the pack carries, as text; its signature is not checked here. */
  readonly signedHead?: string;
  /** How many files the pack has. */
  readonly files: number;
  /** Stands for all files of the pack. */
  readonly manifestSha256?: string;
  /** The entries of the chain that wrote what the pack shows, and what each wrote. */
  readonly covered: readonly CoveredRows[];
  /** The samples that the verdict rests on, and whether the laboratory's files still say the same. */
  readonly samples: readonly SampleReadAgain[];
  /**
   * Files for a person to read that another version of siltbook made, and that this version makes otherwise. That version can
   * compare them; here nobody can tell them from forged ones.
   */
  readonly notMadeAgain: readonly string[];
}

/** The verdict of a pack. */
export interface EvidenceVerdict {
  readonly number: number;
  /** The entry of the chain that wrote it: a head of an earlier entry says nothing of the verdict. */
  readonly entry: number;
  readonly verdict: VerdictName;
  readonly cart: string;
  readonly circuit: string;
  readonly on: string;
  /** When it was kept, as ISO 8601. */
  readonly at: string;
  readonly document: string;
  readonly revision: string;
  /** Version of the library that judged. */
  readonly version: string;
}

/** What one entry of the chain wrote of what is in a pack. */
export interface CoveredRows {
  readonly entry: number;
  readonly what: string;
}

/**
 * Checks an evidence pack without the book: every file against the manifest, the entries of the chain and the rows they wrote,
 * the verdict computed again from its inputs, the samples read again from the laboratory's rows, and all that is shown made
 * again from these.
 *
 * Who owns a book can make another book and a whole pack of it. Only a head that was printed or signed shows that.
 */
export async function verifyEvidence(files: readonly PackFile[]): Promise<EvidenceVerification> {
  const manifest = files.find(({ path }) => path === MANIFEST);
  const nothing: EvidenceVerification = {
    fits: false,
    misfits: misfitsOfManifest(files),
    files: files.length,
    ...(manifest && { manifestSha256: sha256OfBytes(manifest.bytes) }),
    entries: [],
    covered: [],
    samples: [],
    notMadeAgain: [],
  };
  if (nothing.misfits.length > 0) return nothing;
  let found = nothing;
  let file: string = CHAIN_FILES.lines;
  try {
    const read = readRows(readContent(files));
    const { chain, signedHead } = read.content;
    const head = chain.entries.at(-1);
    found = {
      ...nothing,
      verdict: verdictOf(read),
      ...(head && { head }),
      entries: chain.entries,
      ...(signedHead !== undefined && { signedHead }),
      covered: coveredBy(read),
    };
    // What rests on something that does not fit would only repeat it.
    const rows = [...misfitsOfChain(read), ...misfitsOfSignedHead(read)];
    if (rows.length > 0) return { ...found, misfits: rows };
    file = VERDICT_FILE;
    const verdict = misfitsOfVerdict(read);
    if (verdict.length > 0) return { ...found, misfits: verdict };
    const otherwise = computedOtherwise(read);
    file = "laboratory";
    const { samples, misfits } = await checkSamples(read);
    found = { ...found, samples, ...(otherwise && { computedOtherwise: otherwise }) };
    if (misfits.length > 0) return { ...found, misfits };
    file = "sheet.html";
    const shown = await checkShown(read, files);
    const isCompared = shown.misfits.length + shown.notMadeAgain.length === 0;
    return { ...found, ...shown, fits: isCompared && otherwise === undefined };
  } catch (error) {
    // Whatever cannot be read is not what siltbook wrote.
    const misfit =
      error instanceof PackError
        ? { file: error.file, message: error.why }
        : { file, message: `it cannot be read: ${(error as Error).message}` };
    return { ...found, misfits: [misfit] };
  }
}

function verdictOf({ written }: ReadContent): EvidenceVerdict {
  const { number, entry, verdict, cart, circuit, on, at, document, revision, version } = written;
  return { number, entry, verdict, cart, circuit, on, at, document, revision, version };
}

function coveredBy({ content, written, files, decisions }: ReadContent): CoveredRows[] {
  const list = files.map(({ file }) => file).join(", ");
  const words: Readonly<Record<string, string>> = {
    file: `the hash of ${list}`,
    column_map: "the column map",
    row_text: `the rows of ${list}`,
  };
  const rows = content.chain.lines.flatMap(({ entry, table }) => {
    if (table === "verdict" && entry === written.entry) return { entry, what: `verdict ${content.number}` };
    const what = words[table];
    return what === undefined ? [] : { entry, what };
  });
  const decided = decisions.flatMap(({ decision, entry, liftedIn }) => {
    const what = `decision ${decision.number}: ${VERDICT_WORDS[decision.decision]}, by ${decision.person}`;
    return [
      { entry, what },
      ...(liftedIn === undefined
        ? []
        : [{ entry: liftedIn, what: `that decision ${decision.number} was lifted` }]),
    ];
  });
  return [...rows, ...decided];
}
