// Pictures of results.

export {
  type CleanUpExtras,
  type DrawnSample,
  drawClassHistory,
  drawClassProbabilities,
  drawClassTable,
  drawCleanUpCurve,
  drawCountSpectrum,
  drawFleetOverview,
  drawLaboratories,
  drawTrace,
  drawTrend,
  drawWaterOfCircuit,
  drawWaterSaturation,
  type MeasuredWater,
  onPaper,
  type Paper,
  PictureError,
  renderPng,
  type SaturationExtras,
  type ShownOn,
} from "../figures/index.js";
