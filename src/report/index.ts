export { type ReportInput, renderReport } from "./report.js";
