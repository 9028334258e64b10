export { drawClassHistory } from "./class-history.js";
export { drawCleanUpCurve } from "./clean-up-curve.js";
export { drawTrend } from "./trend-line.js";
