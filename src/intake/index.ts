export { unpackArchive } from "./bytes/archive.js";
export { type ByteSource, bytesInMemory, bytesOnDisk, sha256Of } from "./bytes/bytes.js";
export { textOnDisk } from "./bytes/whole-text.js";
export { checkSample, type Finding } from "./checks/checks.js";
export {
  CHECKS,
  type CheckCode,
  describeIssue,
  IntakeError,
  type IntakeIssue,
  type IssueCode,
  type NotSampleRow,
  type QuarantinedRow,
} from "./checks/issue.js";
export {
  type FleetFiles,
  type FleetPaths,
  readFleetFiles,
  readRequirementsFile,
  readSampleFiles,
  type SampleFiles,
} from "./documents/fleet-files.js";
export { parseCartsFile, parseRequirementsFile } from "./documents/json-file.js";
export { localDay } from "./documents/today.js";
export {
  isTableInDoubt,
  type NamedSample,
  samplesNamedIn,
  unreadResults,
} from "./documents/unread-results.js";
export { type ColumnMap, columnMapJsonSchema, columnMapSchema, parseColumnMap } from "./layout/column-map.js";
export { SAYS_TITLE } from "./layout/columns.js";
export type { Shape } from "./layout/layout.js";
export { type Meaning, meaningSchema } from "./layout/meaning.js";
export { findTables, type Table } from "./layout/tables.js";
export { describeMeaning, mapToEdit, type UnderstoodTable, understand } from "./layout/understood.js";
export { type CounterLog, type LogRow, readCounterLogFile } from "./logs/counter-log.js";
export { type LogMap, type LogMeaning, logMapOf, parseLogMap } from "./logs/log-map.js";
export type { LogQuantity } from "./logs/log-titles.js";
export { type QuarantineFile, quarantineFilesOf } from "./quarantine/quarantine-file.js";
export type { QuarantinePlace } from "./quarantine/quarantine-place.js";
export { replacesRow, type TakenReport } from "./reports/replaces.js";
export { meaningOfReport, type Report, type ReportMeaning, versionsOf } from "./reports/reports.js";
export { describeStatement, nameOfStatement, statementsOf } from "./reports/statements.js";
export { BYTE_ORDER_MARK, GUARD_TITLE, guarded } from "./rows/formula-guard.js";
export type { RawRow, RowSource } from "./rows/row.js";
export { type Collection, collectSamples } from "./samples/collect.js";
export type { Fate, ReadOptions, SampleFate } from "./samples/fates.js";
export { type LabFile, type OpenedLabFile, openLabFile, readLabFile } from "./samples/lab-file.js";
