export { decimalPlaces, inFourDigits, shiftDecimal } from "./decimal.js";
export { formatPercent, formatShare } from "./percent.js";
export { hosesVolumeL } from "./pipes.js";
export { KEPT_UNITS, type QuantityKind, type QuantityReading, tryParseQuantity } from "./quantities.js";
export { tryParseStatedQuantity } from "./stated.js";
export { describeTwoReadings } from "./two-readings.js";
