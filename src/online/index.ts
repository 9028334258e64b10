export type { OnlineAnswer, OnlineChannel, OnlineRemark } from "./answer.js";
export { drawOnlineChart } from "./chart.js";
export type { CounterCircuit } from "./circuit.js";
export { afterMinute, type Evidence, NO_EVIDENCE, strengthOf } from "./clean-rule.js";
export { describeElementLife } from "./describe-element.js";
export { codeOfMinute, describeOnline, describeRemark } from "./describe-online.js";
export { type ElementInLine, elementInLine } from "./element-in-line.js";
export {
  CANNOT_TELL,
  type CannotTell,
  type ElementLife,
  type ElementState,
  elementLife,
} from "./element-life.js";
export {
  type FollowedCircuit,
  type FollowedSample,
  followedSample,
} from "./followed-sample.js";
export { Following, type FollowingSettings } from "./following.js";
export { meanOfMinute, minuteOf, type OnlineMinute, type OnlineReading } from "./minute.js";
export type { OnlineOutlook } from "./outlook.js";
export { STATED_FLOW_SHARE } from "./reported-fluid.js";
export {
  EXPECTED_CODE,
  EXPECTED_SATURATION,
  isOfSurroundings,
  MAX_SATURATION,
  readingOfCode,
  type SensorLine,
  SensorLines,
} from "./sensor-lines.js";
export { followingSettings, type StatedCounter, USUAL_COUNTER } from "./settings.js";
export { type OnlineEvent, OnlineStream } from "./stream.js";
