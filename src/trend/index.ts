export { type AlarmLevels, alarmLevels } from "./level/alarm-levels.js";
export {
  type Bound,
  crossingWindow,
  type Forecast,
  type ForecastCase,
  forecastCrossing,
  forecastWithin,
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
export { type Dilution, undoDilution } from "./series/dilution.js";
export type { Observation } from "./series/observation.js";
export { findSteps, type Step } from "./series/steps.js";
export { type RobustSlope, type SlopeInterval, theilSen } from "./slope/theil-sen.js";
export { type SerialCorrelation, serialCorrelation } from "./test/serial-correlation.js";
export { type TrendTest, trendTest } from "./test/trend-test.js";
