export { type AlarmLevels, alarmLevels } from "./alarm-levels.js";
export {
  type ControlChart,
  type Cusum,
  type CusumSettings,
  cusum,
  type EwmaSettings,
  ewmaChart,
  individualsChart,
  RANGE_OF_TWO,
} from "./control-charts.js";
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
} from "./crossing.js";
export { type Dilution, settledLevel, undoDilution } from "./dilution.js";
export { exactTail } from "./kendall-exact.js";
export { type LeastSquaresLine, leastSquares, predictionInterval } from "./least-squares.js";
export {
  type BlockLine,
  blockLines,
  chanceBeyond,
  type LevelLine,
  levelAt,
  levelLine,
} from "./level-line.js";
export type { Observation } from "./observation.js";
export { findOutliers, type Outlier } from "./outliers.js";
export { type ResampledWindow, resampleCrossing } from "./resample.js";
export { findSteps, type Step } from "./steps.js";
export { type Interval, type RobustSlope, theilSen } from "./theil-sen.js";
export { type TrendTest, trendTest } from "./trend-test.js";
export { type StepDistribution, stepQuantile, turnbull } from "./turnbull.js";
