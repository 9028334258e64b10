export { afterMinute, type Evidence, NO_EVIDENCE, strengthOf } from "./clean-rule.js";
export { codeOfMinute, describeOnline, describeRemark } from "./describe-online.js";
export {
  Following,
  type FollowingSettings,
  type OnlineAnswer,
  type OnlineChannel,
  type OnlineOutlook,
  type OnlineRemark,
} from "./following.js";
export { meanOfMinute, minuteOf, type OnlineMinute, type OnlineReading } from "./minute.js";
export { type SensorLine, SensorLines } from "./sensor-lines.js";
export { type OnlineEvent, OnlineStream } from "./stream.js";
