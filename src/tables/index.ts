export { calendarOf } from "./calendar.js";
export {
  type Cell,
  type KeptSample,
  type Table,
  tableOfDue,
  tableOfFleet,
  tableOfQuantities,
  tableOfSamples,
  tableOfVerdicts,
} from "./table.js";
export { tableAsCsv, tableAsParquet, tablesAsWorkbook } from "./write.js";
