export { formatPercent, inFourDigits as formatPlain } from "../units/index.js";
