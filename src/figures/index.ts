export { drawClassHistory } from "./class-history.js";
export { drawCleanUpCurve } from "./clean-up-curve.js";
