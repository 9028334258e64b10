export { decimalPlaces, inFourDigits, inTwoDigits, shiftDecimal } from "./decimal.js";
export { formatPercent, formatShare } from "./percent.js";
export { hosesVolumeL } from "./pipes.js";
export {
  KEPT_UNITS,
  type QuantityKind,
  type QuantityReading,
  spelledUnit,
  tryParseQuantity,
} from "./quantities.js";
export {
  ALL_US,
  formatOnGauge,
  formatQuantity,
  formatTemperatureRise,
  inShownUnit,
  type ShownIn,
  type ShownKind,
  shownAsTyped,
  shownInSystem,
  shownUnit,
  type UnitSystem,
} from "./shown.js";
export { tryParseStatedQuantity } from "./stated.js";
export { describeTwoReadings } from "./two-readings.js";
