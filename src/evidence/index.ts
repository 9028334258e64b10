export { PACK_LIMITS, packAsZip, packFromZip } from "./archive.js";
export type { SampleReadAgain } from "./check-samples.js";
export {
  agreesWithPack,
  type ComparedEvidence,
  evidenceStands,
  type HeadInPack,
  headInPack,
} from "./compare-evidence.js";
export { type EvidencePack, evidenceFromBook } from "./evidence-from-book.js";
export type { VerdictMeant } from "./find-verdict.js";
export type { EvidenceMisfit } from "./manifest.js";
export { readEvidenceFiles } from "./on-disk.js";
export type { PackOptions } from "./pack-evidence.js";
export type { PackFile } from "./pack-file.js";
export {
  type CoveredRows,
  type EvidenceVerdict,
  type EvidenceVerification,
  verifyEvidence,
} from "./verify-evidence.js";
