export { betaTails } from "./beta.js";
export { checkNumbers, type NumberRange } from "./check-number.js";
export { drawGammas, drawNormals, type RandomSource, seededRandom } from "./draws.js";
export { gammaQuantile, gammaTails } from "./gamma.js";
export { grouped } from "./grouped.js";
export { normalProbability, normalQuantile } from "./normal.js";
export {
  countBelow,
  countUpTo,
  lowerQuantile,
  median,
  selectInPlace,
  upperMedian,
} from "./order-statistics.js";
export { type Interval, poissonInterval, poissonTails, type Tails } from "./poisson.js";
export { bellNodes, integrate, type Node, simpsonNodes, sumOver } from "./quadrature.js";
export { bisect, halfway, highestAt } from "./roots.js";
export { studentProbability, studentQuantile } from "./student.js";
