import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { performance } from "node:perf_hooks";
import { pathToFileURL } from "node:url";
import { INSTRUMENTER_CONSTANTS } from "@stryker-mutator/api/core";
import { declareClassPlugin, PluginKind } from "@stryker-mutator/api/plugin";
import {
  DryRunStatus,
  determineHitLimitReached,
  TestStatus,
  toMutantRunResult,
} from "@stryker-mutator/api/test-runner";
import { register } from "tsx/esm/api";
import modules from "./modules.json" with { type: "json" };
import slow from "./slow.json" with { type: "json" };

// A worker that is started anew after an endless loop has not seen the first run itself.
const FIRST_RUN = "first-run.json";
// A test that passes a mutant this many times as often as the unbroken code does never ends.
const FAR_MORE = 100;
const SOME = 10_000;

/**
 * Loads the tests of a module once and runs those that reach a mutant in the same process, the quickest first.
 * To start vitest anew for each of thousands of mutants takes hours.
 */
class SameProcess {
  tests = new Map();
  /** What the broken code reads to know which mutant is on, and where it counts what it passes. */
  state = {};

  capabilities() {
    // A mutant is on while tests run and never while files load, so there is nothing to load anew.
    return { reloadEnvironment: true };
  }

  async init() {
    globalThis[INSTRUMENTER_CONSTANTS.NAMESPACE] = this.state;
    register({ tsconfig: "tests/mutants/tsconfig.json" });
    const { collect, tests } = await import(pathToFileURL("tests/mutants/vitest.ts").href);
    const { default: fc } = await import("fast-check");
    // The same cases each time, and no counterexample made small: that a test fails is enough.
    fc.configureGlobal({ seed: 1, endOnFailure: true });
    for (const file of modules[process.env.MODULE]) {
      await collect(file, () => import(pathToFileURL(file).href));
    }
    for (const test of tests()) {
      if (!slow.some((words) => test.title.includes(words)))
        this.tests.set(`${test.file}#${test.title}`, test);
    }
    this.first = existsSync(FIRST_RUN) ? JSON.parse(readFileSync(FIRST_RUN, "utf8")) : undefined;
  }

  async dryRun() {
    const durations = {};
    const results = [];
    for (const [id, test] of this.tests) {
      this.state.currentTestId = id;
      results.push(await this.#run(id, test));
      this.state.currentTestId = undefined;
      durations[id] = results.at(-1).timeSpentMs;
    }
    const { mutantCoverage } = this.state;
    this.first = { durations, passed: mutantCoverage.perTest };
    writeFileSync(FIRST_RUN, JSON.stringify(this.first));
    return { status: DryRunStatus.Complete, tests: results, mutantCoverage };
  }

  async mutantRun({ activeMutant, testFilter }) {
    const { durations, passed } = this.first;
    const tests = [];
    this.state.activeMutant = activeMutant.id;
    for (const id of testFilter.toSorted((a, b) => durations[a] - durations[b])) {
      this.state.hitCount = 0;
      this.state.hitLimit = Math.max(SOME, FAR_MORE * passed[id][activeMutant.id]);
      tests.push(await this.#run(id, this.tests.get(id)));
      const endless = determineHitLimitReached(this.state.hitCount, this.state.hitLimit);
      if (endless !== undefined) return toMutantRunResult(endless);
      if (tests.at(-1).status === TestStatus.Failed) break;
    }
    return toMutantRunResult({ status: DryRunStatus.Complete, tests });
  }

  async #run(id, test) {
    const start = performance.now();
    const told = { id, name: test.title, fileName: test.file };
    try {
      await test.run();
      return { ...told, status: TestStatus.Success, timeSpentMs: performance.now() - start };
    } catch (error) {
      const failureMessage = error instanceof Error ? error.message : String(error);
      return { ...told, status: TestStatus.Failed, failureMessage, timeSpentMs: performance.now() - start };
    }
  }
}

export const strykerPlugins = [declareClassPlugin(PluginKind.TestRunner, "same-process", SameProcess)];
