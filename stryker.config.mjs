import tests from "./tests/mutants/rooms.json" with { type: "json" };

const room = process.env.ROOM;
if (!(room in tests)) throw new Error(`set ROOM to one of ${Object.keys(tests).join(", ")}`);

/** Breaks a room in every way the tool knows and sees whether a test notices: `ROOM=cleanliness npm run mutants`. */
export default {
  testRunner: "vitest",
  plugins: ["@stryker-mutator/vitest-runner"],
  vitest: { configFile: "tests/mutants/vitest.config.ts" },
  mutate: [`src/${room}/*.ts`],
  coverageAnalysis: "perTest",
  // What runs only while files are loaded would need every test anew, and a file that fails to load would pass for alive.
  ignoreStatic: true,
  concurrency: 2,
  timeoutMS: 5_000,
  reporters: ["clear-text", "json", "progress-append-only"],
  clearTextReporter: { allowColor: false, logTests: false },
  jsonReporter: { fileName: `out/mutants/${room}.json` },
  tempDirName: "out/mutants/sandbox",
  ignorePatterns: ["docs/pictures", "notebooks", "datasets/demo", "dist", "out"],
  thresholds: { high: 95, low: 85, break: 85 },
};
