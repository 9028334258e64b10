// Yearly flow of the Nile at Aswan from 1871 to 1970 in 10⁸ m³: G. W. Cobb, The problem of the Nile, Biometrika 65 (1978), as
// the data sets of statistics packages print it (compared with those of statsmodels). The textbook change lies between 1898
// and 1899; the means before and after it are 1097.75 and 849.97.
import { expect, test } from "vitest";
import { findSteps } from "../../src/trend/index.js";

const NILE = [
  1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958,
  1140, 1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774, 840, 874, 694, 940, 833, 701, 916, 692, 1020,
  1050, 969, 831, 726, 456, 824, 702, 1120, 1100, 832, 764, 821, 768, 845, 864, 862, 698, 845, 744, 796, 1040,
  759, 781, 865, 845, 944, 984, 897, 822, 1010, 771, 676, 649, 846, 812, 742, 801, 1040, 860, 874, 848, 890,
  744, 749, 838, 1050, 918, 986, 797, 923, 975, 815, 1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740,
].map((y, index) => ({ x: 1871 + index, y }));

test("the fall of the Nile is found between 1898 and 1899, and is its only step", () => {
  const steps = findSteps(NILE);
  expect(steps).toHaveLength(1);
  expect(steps[0]).toMatchObject({ after: 1898, before: 1899 });
  expect(steps[0]?.pAtMost).toBeLessThan(1e-6);
});

test("its size is the jump of a line with one slope: −283.6 by least squares (statsmodels), here by robust levels", () => {
  const [step] = findSteps(NILE);
  expect(Math.abs((step?.size ?? 0) / -283.6 - 1)).toBeLessThan(0.1);
});
