export type { ReportRecord } from "./background.js";
export { type ReportInput, renderReport } from "./report.js";
