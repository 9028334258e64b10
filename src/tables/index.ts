export { calendarOf } from "./calendar.js";
export { partitionName, partOfSamples, samplesOfAllColumns } from "./partitions.js";
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
