import { defineConfig } from "vitest/config";
import { BaseSequencer, type TestSpecification } from "vitest/node";
import { HANG_MS } from "./tests/support/hang.js";

/**
 * What takes long and seldom fails alone: browsers, notebooks, damaged books, programs that are killed, simulations, very
 * large files, whole sites. It runs in `npm run test:all`; everything else in `npm test`.
 */
const SLOW = [
  "tests/notebooks/**/*.test.ts",
  "tests/**/*-in-browser.test.{ts,tsx}",
  "tests/faults/**/*.test.ts",
  "tests/circulation/interim-simulation.test.ts",
  "tests/circulation/plan-confidence-simulation.test.ts",
  "tests/circulation/sound-circuits.test.ts",
  "tests/fit/habits.test.ts",
  "tests/fitness/crews.test.ts",
  "tests/fuzz/commands.test.ts",
  "tests/fitness/fitness-simulation.test.ts",
  "tests/properties/trend-coverage.test.ts",
  "tests/properties/hours-coverage.test.ts",
  "tests/online/element-life-coverage.test.ts",
  "tests/online/simulated-streams.test.ts",
  "tests/book/large-file.test.ts",
  "tests/book/several-programs.test.ts",
  "tests/hostile/large.test.ts",
  "tests/journeys/consumer.test.ts",
  "tests/journeys/readme.test.ts",
  "tests/package/docs-site.test.ts",
  "tests/properties/intake-damage.test.ts",
];
/** The longest of them: what begins last keeps one processor alone, and left to themselves short files of long work do. */
const LONGEST = [
  "notebooks",
  "pages-in-browser",
  "fitness-simulation",
  "several-programs",
  "page-in-browser",
  "large-file",
];

class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const isLong = ({ moduleId }: TestSpecification) =>
      LONGEST.some((name) => moduleId.includes(`/${name}.test.`));
    const sorted = await super.sort(files);
    return [...sorted.filter(isLong), ...sorted.filter((file) => !isLong(file))];
  }
}

const ALL = "tests/**/*.test.{ts,tsx}";

export default defineConfig({
  test: {
    reporters: ["default", "./tests/support/closing-line.ts"],
    // Left to itself one processor stays idle, which is half of a machine with two.
    maxWorkers: "100%",
    sequence: { sequencer: LongestFirst },
    testTimeout: HANG_MS,
    hookTimeout: HANG_MS,
    setupFiles: ["./tests/support/property-seed.ts"],
    projects: [
      // Files share what they import: no quick test keeps anything there, and reading 600 modules for each takes long.
      { extends: true, test: { name: "quick", include: [ALL], exclude: SLOW, isolate: false } },
      {
        extends: true,
        test: {
          name: "slow",
          include: SLOW,
          globalSetup: ["./tests/support/unpack-browser.ts"],
        },
      },
    ],
  },
});
