export { type Point, type RobustSlope, theilSen } from "./theil-sen.js";
