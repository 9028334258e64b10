export { drawClassHistory } from "./class-history.js";
export { drawClassProbabilities } from "./class-probabilities.js";
export { type DrawnSample, drawClassTable } from "./class-table.js";
export { type CleanUpExtras, drawCleanUpCurve } from "./clean-up-curve.js";
export { drawCountSpectrum } from "./count-spectrum.js";
export { drawFleetOverview } from "./fleet-overview.js";
export { INK } from "./ink.js";
export { onPaper, type Paper, PictureError, renderPng } from "./saved.js";
export { drawTrend } from "./trend-line.js";
