// Node gets this package in a form that hides its parts from bundlers; its modules have no default export.
import { visit } from "../../node_modules/jsonc-parser/lib/esm/main.js";

export default { visit };
