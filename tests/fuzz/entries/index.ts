import { BOOK_ENTRIES } from "./book.js";
import { CELL_ENTRIES } from "./cells.js";
import { CODE_ENTRIES } from "./codes.js";
import { FLEET_FILE_ENTRIES } from "./fleet-files.js";
import { LAB_FILE_ENTRIES } from "./lab-files.js";
import { LINE_ENTRIES } from "./lines.js";
import { SHOWN_ENTRIES } from "./shown.js";

/** Everything public that takes texts, bytes, cells or JSON, and how it is fuzzed. */
export const ENTRIES = [
  ...CODE_ENTRIES,
  ...CELL_ENTRIES,
  ...FLEET_FILE_ENTRIES,
  ...LAB_FILE_ENTRIES,
  ...BOOK_ENTRIES,
  ...LINE_ENTRIES,
  ...SHOWN_ENTRIES,
];
