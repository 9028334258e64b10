export { daysBetween } from "./days.js";
export { type FleetCase, type JudgedCircuit, judgeCarts } from "./fleet.js";
export { type CircuitCase, judgeCircuit, type UnreadResult, type Verdict } from "./judge.js";
export {
  compareVerdicts,
  decide,
  REASONS,
  type Reason,
  type ReasonCode,
  reason,
  VERDICTS,
  type VerdictName,
} from "./reasons.js";
export { sayVerdict } from "./say.js";
export { type CircuitTrends, trendsOf } from "./trends.js";
