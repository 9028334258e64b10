export { decimalPlaces, inFourDigits, shiftDecimal } from "./decimal.js";
export { sayPercent, sayShare } from "./percent.js";
export { KEPT_UNITS, type QuantityKind, type QuantityReading, readQuantity } from "./quantities.js";
