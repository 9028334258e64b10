export type { ReportRecord } from "./background.js";
export { type Label, type LabelInput, labelsOf, renderLabels } from "./labels.js";
export { type ReportInput, renderReport } from "./report.js";
export { renderSheet, type SheetInput } from "./sheet-page.js";
