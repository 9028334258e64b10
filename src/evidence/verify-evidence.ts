import { type ChainEntry, misfitsOfPart } from "../book/index.js";
import { canonicalJson, caseOf, recompute } from "../fitness/index.js";
import { IntakeError } from "../intake/index.js";
import { VERSION } from "../provenance/index.js";
import type { Sample } from "../samples/index.js";
import { CHAIN_FILES, contentFiles, PackError, pathOfInput, readContent } from "./content.js";
import { DATA_PACKAGE, faultOfDescription } from "./data-package.js";
import { fileOfRows, isAsDelivered, type ReadAgain, readAgain, sampleIn, saySame } from "./laboratory.js";
import { type EvidenceMisfit, MANIFEST, misfitsOfManifest } from "./manifest.js";
import { isSame, type PackFile, sha256OfBytes } from "./pack-file.js";
import { type ReadContent, readRows, samplesOf, shownFiles } from "./shown-files.js";

/** What was found of an evidence pack. */
export interface EvidenceVerification {
  readonly fits: boolean;
  /** What does not fit; the first is the one to look at. */
  readonly misfits: readonly EvidenceMisfit[];
  /** The verdict that the pack is about; absent where it cannot be read. */
  readonly verdict?: EvidenceVerdict;
  /** The last entry of the book's chain when the pack was made. */
  readonly head?: ChainEntry;
  /** The chain up to there; a printed head is one of them, or of another book. */
  readonly entries: readonly ChainEntry[];
  /** How many files the pack has. */
  readonly files: number;
  /** Stands for all files of the pack. */
  readonly manifestSha256?: string;
  /** The entries of the chain that wrote what the pack shows, and what each wrote. */
  readonly covered: readonly CoveredRows[];
  /** The samples that the verdict rests on, and whether the laboratory's files still say the same. */
  readonly samples: readonly SampleReadAgain[];
  /** Files that another version of siltbook made for a person to read; they have their hashes, and were not made again. */
  readonly notMadeAgain: readonly string[];
}

/** The verdict of a pack. */
export interface EvidenceVerdict {
  readonly number: number;
  readonly verdict: string;
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

/** A sample that was read again from the laboratory's files. */
export interface SampleReadAgain {
  readonly sample: string;
  readonly files: readonly string[];
  /** "not at hand": the rows by themselves make no file, and the file itself is not in the pack. */
  readonly result: "same" | "differs" | "not at hand";
  /** Whether all files are as the laboratory delivered them; otherwise their lines are. */
  readonly isAsDelivered: boolean;
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
  let read: ReadContent;
  try {
    read = readRows(readContent(files));
  } catch (error) {
    return { ...nothing, misfits: [misfitOf(error, CHAIN_FILES.lines)] };
  }
  return { ...nothing, ...(await verifyContent(read, files)) };
}

async function verifyContent(read: ReadContent, files: readonly PackFile[]) {
  const { content, written, files: sources } = read;
  const again = await sourcesAgain(read);
  const samples = samplesAgain(read, again.read);
  const misfits = [
    ...misfitsOfChain(read),
    ...misfitsOfVerdict(read),
    ...again.misfits,
    ...misfitsOfSamples(read, samples),
  ];
  const isOwn = content.siltbook === VERSION;
  // What is made from something that does not fit would only repeat it.
  if (misfits.length === 0)
    misfits.push(...(isOwn ? await misfitsOfShown(read, files) : misfitsOfDescription(files)));
  const { number, verdict, cart, circuit, on, at, document, revision, version } = written;
  const own = new Set(contentFiles(content).map(({ path }) => path));
  const shown = files.map(({ path }) => path).filter((path) => path !== MANIFEST && !own.has(path));
  const head = content.chain.entries.at(-1);
  return {
    fits: misfits.length === 0,
    misfits,
    verdict: { number, verdict, cart, circuit, on, at, document, revision, version },
    ...(head && { head }),
    entries: content.chain.entries,
    covered: coveredBy(read),
    samples: samples.map(({ sample, result, isAsDelivered: isWhole }) => ({
      sample: sample.sample,
      files: [...new Set(sample.origin.map(({ file }) => file))].filter((name) =>
        sources.some(({ file }) => file === name),
      ),
      result,
      isAsDelivered: isWhole,
    })),
    notMadeAgain: isOwn ? [] : shown,
  };
}

function misfitOf(error: unknown, file: string): EvidenceMisfit {
  if (error instanceof PackError) return { file: error.file, message: error.why };
  return { file, message: `it cannot be read: ${(error as Error).message}` };
}

function misfitsOfChain({ content: { chain } }: ReadContent): EvidenceMisfit[] {
  const { links, rows } = misfitsOfPart(chain);
  return [
    ...links.map(({ message }) => ({ file: CHAIN_FILES.entries, message })),
    ...rows.map(({ message }) => ({ file: CHAIN_FILES.lines, message })),
  ];
}

/** Whether the inputs are those of the verdict, and the verdict comes from them. */
function misfitsOfVerdict({ content, written }: ReadContent): EvidenceMisfit[] {
  const { inputs, number } = content;
  if (inputs.length !== written.inputs.length) {
    return [
      {
        file: "inputs",
        message: `verdict ${number} has ${written.inputs.length} inputs, and here are ${inputs.length}`,
      },
    ];
  }
  const other = inputs.findIndex(({ role, text }, index) => {
    const kept = written.inputs[index];
    return kept?.role !== role || kept.sha256 !== sha256OfBytes(new TextEncoder().encode(text));
  });
  if (other !== -1) {
    return [
      { file: pathOfInput(inputs, other), message: `it is not what verdict ${number} was computed from` },
    ];
  }
  const file = "verdict.json";
  if (sha256OfBytes(new TextEncoder().encode(written.result)) !== written.resultSha256) {
    return [{ file, message: "it does not have the hash that was kept with it" }];
  }
  try {
    const {
      cart,
      circuit: { circuit },
      on,
    } = caseOf(inputs);
    const isOfCase = cart === written.cart && circuit === written.circuit && on === written.on;
    if (isOfCase && canonicalJson(recompute(inputs)) === written.result) return [];
  } catch (error) {
    return [{ file, message: `it cannot be computed again: ${(error as Error).message}` }];
  }
  const by =
    written.version === VERSION ? "" : ` (siltbook ${written.version} computed it, and this is ${VERSION})`;
  return [{ file, message: `computed again from its inputs, it comes out otherwise${by}` }];
}

/** The laboratory's files, read again. */
async function sourcesAgain({ content, files }: ReadContent) {
  const misfits: EvidenceMisfit[] = [];
  const read: (ReadAgain & { readonly isAsDelivered: boolean })[] = [];
  for (const { number, path, bytes } of content.laboratory) {
    const kept = files.find((one) => one.number === number);
    if (kept === undefined) continue;
    const atHand = { kept, bytes };
    const rebuilt = fileOfRows(kept);
    if (!isAsDelivered(atHand) && (rebuilt === undefined || !isSame(rebuilt, bytes))) {
      misfits.push({
        file: path,
        message: `it is neither ${kept.file} as delivered nor the rows that the book kept of it`,
      });
      continue;
    }
    try {
      const again = await readAgain(atHand);
      if (again.differs === undefined) read.push({ ...again, isAsDelivered: isAsDelivered(atHand) });
      else misfits.push({ file: path, message: again.differs });
    } catch (error) {
      if (!(error instanceof IntakeError || error instanceof RangeError)) throw error;
      misfits.push({ file: path, message: `it cannot be read again: ${error.message}` });
    }
  }
  return { misfits, read };
}

interface AgainSample {
  readonly sample: Sample;
  readonly result: SampleReadAgain["result"];
  readonly isAsDelivered: boolean;
}

function samplesAgain(
  { content, verdict, files }: ReadContent,
  read: readonly (ReadAgain & { readonly isAsDelivered: boolean })[],
): AgainSample[] {
  const recorded = caseOf(content.inputs).samples;
  return samplesOf(verdict).map((shown) => {
    // The verdict shows a sample as it was judged; its input says it as it was reported.
    const sample = recorded.find((one) => one.sample === shown.sample) ?? shown;
    const names = new Set(sample.origin.map(({ file }) => file));
    const wanted = files.filter(({ file }) => names.has(file));
    const own = read.filter(({ kept }) => wanted.includes(kept));
    if (wanted.length === 0 || own.length < wanted.length) {
      return { sample, result: "not at hand", isAsDelivered: false };
    }
    const again = sampleIn(own, sample);
    return {
      sample,
      result: again !== undefined && saySame(again, sample) ? "same" : "differs",
      isAsDelivered: own.every((one) => one.isAsDelivered),
    };
  });
}

function misfitsOfSamples(
  { content, files }: ReadContent,
  samples: readonly AgainSample[],
): EvidenceMisfit[] {
  return samples.flatMap(({ sample, result }) => {
    const names = new Set(sample.origin.map(({ file }) => file));
    const absent = [...names].find((name) => !files.some(({ file }) => file === name));
    if (absent !== undefined) {
      return {
        file: CHAIN_FILES.lines,
        message: `the rows of ${absent}, from which sample ${sample.sample} came, are not here`,
      };
    }
    if (result !== "differs") return [];
    const numbers = files.filter(({ file }) => names.has(file)).map(({ number }) => number);
    const path = content.laboratory.find(({ number }) => numbers.includes(number))?.path ?? "laboratory";
    return {
      file: path,
      message: `sample ${sample.sample}, read again, is not the one that the verdict was computed from`,
    };
  });
}

/** Everything for a person and for other programs is made again, and compared to the last byte. */
async function misfitsOfShown(read: ReadContent, files: readonly PackFile[]): Promise<EvidenceMisfit[]> {
  const contents = contentFiles(read.content);
  let made: readonly PackFile[];
  try {
    made = [...contents, ...(await shownFiles(read, contents))];
  } catch (error) {
    return [misfitOf(error, "sheet.html")];
  }
  const byPath = new Map(made.map((file) => [file.path, file.bytes]));
  const other = files.find(({ path, bytes }) => {
    const own = byPath.get(path);
    return path !== MANIFEST && path !== DATA_PACKAGE && (own === undefined || !isSame(own, bytes));
  });
  const last = files.find(({ path, bytes }) => !isSame(byPath.get(path) ?? new Uint8Array(), bytes));
  const missing = made.find(({ path }) => !files.some((file) => file.path === path));
  if (missing !== undefined) return [{ file: missing.path, message: "it is missing" }];
  const found = other ?? last;
  return found === undefined
    ? []
    : [{ file: found.path, message: "it is not what siltbook makes of the rest of the pack" }];
}

function misfitsOfDescription(files: readonly PackFile[]): EvidenceMisfit[] {
  const description = files.find(({ path }) => path === DATA_PACKAGE);
  if (description === undefined) return [{ file: DATA_PACKAGE, message: "it is missing" }];
  try {
    const described = files.filter(({ path }) => path !== DATA_PACKAGE && path !== MANIFEST);
    const message = faultOfDescription(description, described);
    return message === undefined ? [] : [{ file: DATA_PACKAGE, message }];
  } catch (error) {
    return [misfitOf(error, DATA_PACKAGE)];
  }
}

function coveredBy({ content, files }: ReadContent): CoveredRows[] {
  const names = files.map(({ file }) => file);
  const list = names.join(", ");
  const words: Readonly<Record<string, string>> = {
    verdict: `verdict ${content.number}`,
    file: `the hash of ${list}`,
    column_map: "the column map",
    row_text: `the rows of ${list}`,
  };
  return content.chain.lines.map(({ entry, table }) => ({ entry, what: words[table] ?? table }));
}
