export type { ReportRecord } from "./background.js";
export { type ReportInput, renderReport } from "./report.js";
export { renderSheet, type SheetInput } from "./sheet-page.js";
