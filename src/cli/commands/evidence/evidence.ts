import { existsSync } from "node:fs";
import { basename } from "node:path";
import type { VerdictComputedOtherwise } from "../../../book/index.js";
import {
  type EvidenceMisfit,
  type EvidencePack,
  type EvidenceVerdict,
  evidenceFromBook,
  packAsZip,
  verifyEvidence,
} from "../../../evidence/index.js";
import { VERDICT_WORDS } from "../../../fitness/index.js";
import { answerOf } from "../../answer.js";
import { readDayOf } from "../../day.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { readBytes, readText } from "../../read-text.js";
import { formatHowMany } from "../../text.js";
import { writeWhole, writeWholeFolder } from "../../whole-file.js";
import { describeOtherwise } from "../verify/otherwise.js";

/** Options of `siltbook evidence`. */
export interface EvidenceOptions {
  readonly book: string;
  readonly record?: string;
  readonly cart?: string;
  readonly circuit?: string;
  readonly on?: string;
  readonly original?: readonly string[];
  readonly roCrate?: boolean;
  readonly signed?: string;
  readonly out: string;
  readonly json?: boolean;
}

/** What `siltbook evidence --json` prints. */
export interface EvidenceAnswer {
  readonly out: string;
  readonly verdict: EvidenceVerdict | null;
  readonly head: string | null;
  readonly manifestSha256: string | null;
  readonly files: readonly { readonly path: string; readonly bytes: number }[];
  /** What another machine would find that does not fit; nothing for a sound book. */
  readonly misfits: readonly EvidenceMisfit[];
}

/** Writes everything that one verdict rests on, so that another machine can check it without the book. */
export async function runEvidence(options: EvidenceOptions, io: Io): Promise<ExitCode> {
  const { out, json } = options;
  if (existsSync(out)) throw new UsageError(`--out: ${out} exists already; nothing is overwritten`);
  const pack = await packOf(options);
  const found = await verifyEvidence(pack.files);
  if (/\.zip$/i.test(out)) await writeWhole("--out", out, [packAsZip(pack.files)]);
  else await writeWholeFolder("--out", out, pack.files);
  const answer: EvidenceAnswer = {
    out,
    verdict: found.verdict ?? null,
    head: found.head?.hash ?? null,
    manifestSha256: found.manifestSha256 ?? null,
    files: pack.files.map(({ path, bytes }) => ({ path, bytes: bytes.length })),
    misfits: found.misfits,
  };
  if (json) printJson(io, answerOf("evidence", answer));
  else io.out(describe(answer, pack, found.computedOtherwise));
  return found.fits ? 0 : 1;
}

async function packOf(options: EvidenceOptions): Promise<EvidencePack> {
  const { book, record, cart, circuit, on, original = [], roCrate = false, signed } = options;
  const number = readNumber(record);
  const day = readDayOf("--on", on);
  if (number === undefined && cart === undefined) {
    throw new UsageError("expected --cart, or the number of a verdict (--record)");
  }
  if (number !== undefined && (cart ?? circuit ?? on) !== undefined) {
    throw new UsageError("--record names the verdict; expected no --cart, --circuit or --on with it");
  }
  const meant = {
    ...(number !== undefined && { number }),
    ...(cart !== undefined && { cart }),
    ...(circuit !== undefined && { circuit }),
    ...(day !== undefined && { on: day }),
  };
  return evidenceFromBook(book, meant, {
    originals: original.map((path) => ({ file: basename(path), bytes: readBytes("--original", path) })),
    roCrate,
    ...(signed !== undefined && { signedHead: readText("--signed", signed) }),
  });
}

function readNumber(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  if (/^[1-9]\d{0,14}$/.test(text.trim())) return Number(text);
  throw new UsageError(`--record: expected the number of a verdict, found "${text}"`);
}

function describe(
  { out, head, files, misfits }: EvidenceAnswer,
  { verdict }: EvidencePack,
  otherwise: VerdictComputedOtherwise | undefined,
): string {
  const { id, cart, circuit, on } = verdict;
  return [
    `${out}: evidence for verdict ${id}, ${VERDICT_WORDS[verdict.verdict]}\n`,
    `  cart ${cart}, circuit ${circuit}, judged for ${on}; ${formatHowMany(files.length, "file")}\n`,
    head === null ? "" : `  head of the book: ${head.slice(0, 12)}\n`,
    ...misfits.map(({ file, message }) => `  does not fit: ${file}: ${message}\n`),
    ...describeOtherwise(otherwise === undefined ? [] : [otherwise]),
    `To check it, on any machine: siltbook verify --evidence ${out}\n`,
  ].join("");
}
