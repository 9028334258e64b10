export { inFourDigits as sayPlain, sayPercent } from "../units/index.js";
