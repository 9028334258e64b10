import { type EvidenceOfVerdict, type WrittenFile, writtenFile } from "../book/index.js";
import type { UnreadResult } from "../fitness/index.js";
import { IntakeError } from "../intake/index.js";
import { VERSION } from "../provenance/index.js";
import { contentFiles, type LaboratoryFile, type PackContent } from "./content.js";
import { fileOfRows, readAgain } from "./laboratory.js";
import { inOrder, type PackFile, sha256OfBytes } from "./pack-file.js";
import { readRows, shownFiles } from "./shown-files.js";

/** What goes into a pack besides what the book holds. */
export interface PackOptions {
  /** Files as the laboratory delivered them; one that the verdict does not rest on is refused. */
  readonly originals?: readonly { readonly file: string; readonly bytes: Uint8Array }[];
  /** Rows that can be given to no cart. */
  readonly rowsOfNoCart?: readonly UnreadResult[];
  /** Whether the pack is to be described by RO-Crate metadata too. */
  readonly roCrate?: boolean;
  /** A signed statement of a head of the book. */
  readonly signedHead?: string;
}

/**
 * Makes an evidence pack: everything that one verdict rests on, as files. The same book gives the same bytes.
 *
 * @param evidence - what the book holds of the verdict
 * @throws RangeError for an original other than the files that the verdict rests on
 */
export async function packEvidence(
  evidence: EvidenceOfVerdict,
  { originals = [], rowsOfNoCart = [], roCrate = false, signedHead }: PackOptions = {},
): Promise<PackFile[]> {
  const files = evidence.files.map((number) => writtenFile(evidence.chain, number));
  const delivered = new Map(originals.map((original) => [sha256OfBytes(original.bytes), original]));
  const own = new Set(files.map(({ sha256 }) => sha256));
  for (const [sha256, { file }] of delivered) {
    if (own.has(sha256)) continue;
    const named = (name: string, hash: string) => `${name} (SHA-256 ${hash.slice(0, 12)})`;
    const expected = files.map((one) => named(one.file, one.sha256)).join(", ");
    throw new RangeError(
      `expected a file that the verdict rests on, as the book read it: ${expected || "the verdict has no sample"}; found ${named(file, sha256)}`,
    );
  }
  const laboratory: LaboratoryFile[] = [];
  for (const kept of files) {
    const bytes = delivered.get(kept.sha256)?.bytes ?? (await fileThatReads(kept));
    if (bytes !== undefined) laboratory.push({ number: kept.number, path: pathOf(kept), bytes });
  }
  const content: PackContent = {
    ...evidence,
    siltbook: VERSION,
    laboratory,
    rowsOfNoCart,
    roCrate,
    ...(signedHead !== undefined && { signedHead }),
  };
  const contents = contentFiles(content);
  const made = await shownFiles(readRows(content), contents);
  return inOrder([...contents, ...made]);
}

/** The file of the kept rows, where it reads as the file that was delivered did. */
async function fileThatReads(kept: WrittenFile): Promise<Uint8Array | undefined> {
  const bytes = fileOfRows(kept);
  if (bytes === undefined) return undefined;
  try {
    const { differs } = await readAgain({ kept, bytes });
    return differs === undefined ? bytes : undefined;
  } catch (error) {
    if (error instanceof IntakeError || error instanceof RangeError) return undefined;
    throw error;
  }
}

/** A name that every system can write, whatever the laboratory called the file. */
function pathOf({ number, file }: WrittenFile): string {
  return `laboratory/${number}-${file.replace(/[^A-Za-z0-9._-]/g, "_").slice(-MAX_NAME)}`;
}

const MAX_NAME = 80;
