export { betaTails } from "./beta.js";
export { drawGammas, drawNormal, drawNormals } from "./draws.js";
export { gammaQuantile, gammaTails } from "./gamma.js";
export { normalProbability, normalQuantile } from "./normal.js";
export { countBelow, countUpTo, median, selectInPlace } from "./order-statistics.js";
export { type Interval, poissonInterval, poissonTails, type Tails } from "./poisson.js";
export { type RandomSource, seededRandom } from "./random.js";
export { bisect, halfway, highestAt } from "./roots.js";
export { studentProbability, studentQuantile } from "./student.js";
