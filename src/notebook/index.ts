export { type Frame, type Rich, type Row, richOf, type Showable } from "./rich.js";
export { NotebookError, show } from "./show.js";
export type { Cell } from "./table.js";
