export { drawClassHistory } from "./class-history.js";
export { type DrawnSample, drawClassTable } from "./class-table.js";
export { type CleanUpExtras, drawCleanUpCurve } from "./clean-up-curve.js";
export { drawSvg, INK } from "./svg.js";
export { drawTrend } from "./trend-line.js";
