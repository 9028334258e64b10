export { drawClassHistory } from "./class-history.js";
export { type DrawnSample, drawClassTable } from "./class-table.js";
export { drawCleanUpCurve } from "./clean-up-curve.js";
export { drawTrend } from "./trend-line.js";
