// The report as one HTML page, and labels for bottles.

export {
  type LabelInput,
  type ReportInput,
  type ReportRecord,
  renderLabels,
  renderReport,
} from "../report/index.js";
