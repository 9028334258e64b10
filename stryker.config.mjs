/** Breaks files in every way the tool knows and sees whether a test notices; `npm run mutants` sets module and files. */
export default {
  testRunner: "same-process",
  plugins: ["./tests/mutants/runner.mjs"],
  coverageAnalysis: "perTest",
  // What runs only while files are loaded would need every test anew, and a file that fails to load would pass for alive.
  ignoreStatic: true,
  concurrency: 1,
  timeoutMS: 20_000,
  timeoutFactor: 1,
  reporters: ["clear-text", "json", "progress-append-only"],
  clearTextReporter: { allowColor: false, logTests: false },
  jsonReporter: { fileName: process.env.REPORT },
  tempDirName: "out/mutants/sandbox",
  ignorePatterns: ["docs/pictures", "notebooks", "dist", "out"],
  thresholds: { high: 95, low: 85, break: null },
};
