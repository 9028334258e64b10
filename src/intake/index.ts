export { checkSample, type Finding } from "./checks.js";
export { type Collection, collectSamples } from "./collect.js";
export { type ColumnMap, columnMapJsonSchema, columnMapSchema, readColumnMap } from "./column-map.js";
export { SAYS_TITLE } from "./columns.js";
export type { Fate, ReadOptions, SampleFate } from "./fates.js";
export {
  type FleetFiles,
  type FleetPaths,
  readFleetFiles,
  readRequirements,
  readSampleFiles,
  type SampleFiles,
  unreadResults,
} from "./fleet-files.js";
export { GUARD_TITLE, guarded } from "./formula-guard.js";
export {
  CHECKS,
  type CheckCode,
  IntakeError,
  type IntakeIssue,
  type NotSampleRow,
  type QuarantinedRow,
  sayIssue,
} from "./issue.js";
export { readCartsFile, readRequirementsFile } from "./json-file.js";
export { type LabFile, type OpenedLabFile, openLabFile, readLabFile } from "./lab-file.js";
export { type QuarantineFile, quarantineFileOf } from "./quarantine-file.js";
export type { QuarantinePlace } from "./quarantine-place.js";
export { type ByteSource, bytesInMemory, bytesOnDisk, sha256Of } from "./readers/bytes.js";
export type { RawRow, RowSource } from "./readers/row.js";
export { textOnDisk } from "./readers/whole-text.js";
export { replacesRow, type TakenReport } from "./replaces.js";
export { meaningOfReport, type Report, type ReportMeaning, versionsOf } from "./reports.js";
export { statementsOf } from "./statements.js";
export { findTables, type Table } from "./tables.js";
export { localDay } from "./today.js";
export { mapToEdit, sayMeaning, type UnderstoodTable, understand } from "./understood.js";
