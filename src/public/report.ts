// The report as one HTML page.

export { type ReportInput, type ReportRecord, renderReport } from "../report/index.js";
