export { drawClassHistory } from "./class-history.js";
export { type CleanUpExtras, drawCleanUpCurve } from "./clean-up-curve.js";
export { drawSvg, INK } from "./svg.js";
