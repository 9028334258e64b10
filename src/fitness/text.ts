export { inFourDigits as sayPlain } from "../units/index.js";

/** A probability for reading, rounded towards the doubt: 0.9499 is never said to be 95 %. */
export function sayPercent(probability: number): string {
  const scaled = Math.floor(Number((probability * 1000).toPrecision(12)));
  return `${scaled / 10} %`;
}
