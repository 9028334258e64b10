import type { Reporter, TestModule } from "vitest/node";

/** Ends the run with one plain line, "N passed, N failed", for the log of the build. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandledErrors: readonly unknown[]): void {
    const tests = modules.flatMap((module) => [...module.children.allTests()]);
    const passed = tests.filter((test) => test.result().state === "passed").length;
    // A file that does not load has no tests of its own, and must still count as a failure.
    const broken = modules.filter((module) => module.errors().length > 0).length;
    const failed = tests.length - passed + broken + unhandledErrors.length;
    console.log(`\n${passed} passed, ${failed} failed`);
  }
}
