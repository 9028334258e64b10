export { Book } from "./book.js";
export type { ChainEntry, EntryKind } from "./chain/entry.js";
export { describeEntry, type Misfit } from "./chain/links.js";
export type { Piece } from "./chain/rows.js";
export { bookStands } from "./chain/stands.js";
export type { BookVerification, RecomputedVerdicts, VerdictComputedOtherwise } from "./chain/verify.js";
export { BookContents } from "./contents.js";
export type { EvidenceOfVerdict } from "./evidence/evidence-of-verdict.js";
export { type WrittenDecision, writtenDecisions } from "./evidence/read-decisions.js";
export {
  type WrittenFile,
  type WrittenRow,
  type WrittenVerdict,
  writtenFile,
  writtenVerdict,
} from "./evidence/read-lines.js";
export {
  type ChainPart,
  type EntryBody,
  misfitsOfPart,
  type WrittenLines,
} from "./evidence/written-lines.js";
export type { BringInOptions, BroughtBook } from "./joining/bring-in.js";
export type { JoinedSamples } from "./joining/join-samples.js";
export type { BroughtEntry } from "./joining/news.js";
export type { EnteredBy, Override } from "./judging/decisions.js";
export type { KeepCartsOptions } from "./judging/fleet.js";
export {
  type FleetAnswer,
  type FleetPart,
  fleetAnswer,
  fleetFrame,
  fleetRowsOf,
  isFleetFit,
  partOfCart,
} from "./judging/fleet-answer.js";
export {
  type FleetOfBook,
  type FleetOfBookPaths,
  type FleetOutline,
  readFleetOfBook,
  readFleetOutline,
  readHistoryOfBook,
} from "./judging/fleet-of-book.js";
export { type JudgedInBook, judgeBook, keptRecords } from "./judging/judge-book.js";
export { judgeShard, type ShardOptions } from "./judging/judge-shard.js";
export { type LaboratorySamplesOptions, laboratorySamplesOf } from "./judging/laboratory-samples.js";
export { mergeShards } from "./judging/merge-shards.js";
export { faultOfListing, type KeptInput, type PackedRecord } from "./judging/pack-record.js";
export type { RowsQuery } from "./judging/rows-of-circuit.js";
export { parseShard, type Shard } from "./judging/shard.js";
export type { ComparedVerdict, KeptVerdict, Recomputed, VerdictQuery } from "./judging/verdicts.js";
export { type LostRows, type Salvaged, salvageBook } from "./salvage/salvage.js";
export { type CheckedStatement, checkStatement, statementStands } from "./signing/checked-statement.js";
export { type KeyPair, newKeyPair } from "./signing/ed25519.js";
export {
  containsSignedHead,
  isSignedBy,
  parseSignedHead,
  type SignedHead,
  signHead,
} from "./signing/signed-head.js";
export { BookError, isBusy, type OpenOptions } from "./storage/database.js";
export { samplesAsCsv, samplesAsJsonLines } from "./storage/export.js";
export { fileNamed, type KnownFile } from "./storage/files.js";
export { mayBeBook } from "./storage/is-book.js";
export type { Amendment, SampleHistory, SampleQuery } from "./storage/samples.js";
export { describeFate, describeFates, rowsByFate } from "./taking-in/describe-fates.js";
export type { RowCounts } from "./taking-in/file-intake.js";
export { leavesWork } from "./taking-in/leaves-work.js";
export type { KeptQuarantinedRow, RowDecision, SettledRow } from "./taking-in/open-rows.js";
export { ROW_DECISIONS } from "./taking-in/open-rows.js";
export type { RowFate } from "./taking-in/row-fates.js";
export type { Withdrawal, WithdrawalEntry, WithdrawnReport } from "./taking-in/standing-withdrawals.js";
export type { FileReport, TakeInOptions } from "./taking-in/take-in.js";
export type { WithdrawnFile } from "./taking-in/withdraw.js";
