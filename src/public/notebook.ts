// Any result in a notebook cell.

export {
  type Cell,
  type Frame,
  NotebookError,
  type Rich,
  type Row,
  richOf,
  type Showable,
  show,
} from "../notebook/index.js";
