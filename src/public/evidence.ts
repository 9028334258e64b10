// Evidence packs: all that one verdict rests on, to be checked without the book.

export {
  type CoveredRows,
  type EvidenceMisfit,
  type EvidencePack,
  type EvidenceVerdict,
  type EvidenceVerification,
  evidenceFromBook,
  type PackFile,
  type PackOptions,
  packAsZip,
  packFromZip,
  readEvidenceFiles,
  type SampleReadAgain,
  type VerdictMeant,
  verifyEvidence,
} from "../evidence/index.js";
