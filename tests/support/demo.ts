/** Arguments that judge the demonstration on the day it was made for. */
export const DEMO_ARGUMENTS = [
  ...["--carts", "datasets/demo/carts.json"],
  ...["--requirement", "datasets/demo/requirement.json"],
  ...["--on", "2026-11-20"],
  "datasets/demo/lab-tidy.csv",
  "datasets/demo/lab-semicolon.csv",
  "datasets/demo/lab-long.csv",
];
