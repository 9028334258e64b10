export { Book, type KnownFile } from "./book.js";
export { BookError, type OpenOptions } from "./database.js";
export type { Override } from "./decisions.js";
export { samplesAsCsv, samplesAsJsonLines } from "./export.js";
export type { RowCounts } from "./file-intake.js";
export {
  casesOfBook,
  type FleetOfBook,
  type FleetOfBookPaths,
  type FleetOutline,
  readFleetOfBook,
  readFleetOutline,
} from "./fleet-of-book.js";
export { type JudgedInBook, judgeBook } from "./judge-book.js";
export type { KeptQuarantinedRow, RowDecision, SettledRow } from "./open-rows.js";
export type { KeptInput, PackedRecord } from "./pack-record.js";
export type { RowFate } from "./row-fates.js";
export type { Amendment, SampleHistory, SampleQuery } from "./samples.js";
export type { FileReport, TakeInOptions } from "./take-in.js";
export type { KeptVerdict, Recomputed, VerdictQuery } from "./verdicts.js";
