export { type AlarmLevels, alarmLevels } from "./level/alarm-levels.js";
export {
  type Bound,
  crossingWindow,
  type Forecast,
  type ForecastCase,
  forecastCrossing,
  forecastFrom,
  isBeyond,
  type KnownTrend,
  type NextSample,
  nextSampleDue,
} from "./level/crossing.js";
export {
  type BlockLine,
  blockLines,
  chanceBeyond,
  type LevelLine,
  levelAt,
  levelLine,
} from "./level/level-line.js";
export { findOutliers, type Outlier } from "./level/outliers.js";
export {
  type ControlChart,
  type Cusum,
  type CusumSettings,
  cusum,
  type EwmaSettings,
  ewmaChart,
  individualsChart,
  RANGE_OF_TWO,
} from "./series/control-charts.js";
export { type Dilution, settledLevel, undoDilution } from "./series/dilution.js";
export type { Observation } from "./series/observation.js";
export { type ResampledWindow, resampleCrossing } from "./series/resample.js";
export { findSteps, type Step } from "./series/steps.js";
export { type StepDistribution, stepQuantile, turnbull } from "./series/turnbull.js";
export { type LeastSquaresLine, leastSquares, predictionInterval } from "./slope/least-squares.js";
export { type RobustSlope, type SlopeInterval, theilSen } from "./slope/theil-sen.js";
export { exactTail } from "./test/kendall-exact.js";
export { type TrendTest, trendTest } from "./test/trend-test.js";
