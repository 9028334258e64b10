// Particle counters in the line: minute by minute, what they show of the circuit, and when it is clean.

export {
  type CounterCircuit,
  codeOfMinute,
  describeOnline,
  describeRemark,
  Following,
  type FollowingSettings,
  followingSettings,
  meanOfMinute,
  minuteOf,
  type OnlineAnswer,
  type OnlineChannel,
  type OnlineEvent,
  type OnlineMinute,
  type OnlineOutlook,
  type OnlineReading,
  type OnlineRemark,
  OnlineStream,
  type SensorLine,
  SensorLines,
  type StatedCounter,
} from "../online/index.js";
