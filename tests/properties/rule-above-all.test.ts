import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type JudgedCircuit, judgeCarts, type ReasonCode } from "../../src/fitness/index.js";
import {
  collectSamples,
  parseCartsFile,
  parseRequirementsFile,
  readLabFile,
  unreadResults,
} from "../../src/intake/index.js";
import type { Requirement, Sample } from "../../src/samples/index.js";
import { COUNTER_IN_LINE, sampleOfWorldRun, whatRunLacks, worldRuns } from "../support/fit/runs-of-worlds.js";
import { isBefore, whatFitLacks } from "../support/fit/what-fit-lacks.js";
import { labFileOf, writeWorld } from "../support/fit/world-files.js";
import { type World, worlds } from "../support/fit/worlds.js";
import { run, runJson } from "../support/run-cli.js";
import { runs } from "../support/runs.js";
import { temporaryFolder } from "../support/temporary-folder.js";

async function judgeWorld(
  world: World,
  runs: readonly Sample[] = [],
  counterInLine?: typeof COUNTER_IN_LINE,
): Promise<JudgedCircuit[]> {
  const { carts } = parseCartsFile("carts.json", JSON.stringify(world.carts));
  const { systems } = parseRequirementsFile(
    "requirement.json",
    JSON.stringify({
      ...world.requirement,
      systems: world.requirement.systems.map((system) => ({
        ...system,
        ...(counterInLine && { counterInLine }),
      })),
    }),
  );
  const held = collectSamples([await readLabFile("lab.csv", Buffer.from(labFileOf(world.rows)))], carts);
  const unread = unreadResults(held.quarantine, held.samples);
  return judgeCarts({
    ...{ carts, requirements: systems, unread, on: world.on },
    samples: [...held.samples, ...runs],
  });
}

/** The positive reason that each limited quantity of a world's requirement must have. */
function insideReasonsFor(world: World): ReasonCode[] {
  const [requirement] = world.requirement.systems;
  return [
    "particles-inside",
    "water-inside",
    "acid-inside",
    ...(requirement?.viscosity40Mm2PerS ? (["viscosity-inside"] as const) : []),
    ...(requirement?.chlorinePpmMax ? (["chlorine-inside"] as const) : []),
    ...(requirement?.metalsPpmMax ? (["metals-inside"] as const) : []),
    "fluid-allowed",
    "sample-recent",
  ];
}

describe("fit rests on a positive result for every limited quantity, of the fluid that is in the circuit now", () => {
  test("the generated worlds meet fit, and each of the ways to lose it", async () => {
    const judged = (
      await Promise.all(fc.sample(worlds, { numRuns: 650, seed: 5 }).map((world) => judgeWorld(world)))
    ).flat();
    const fit = judged.filter(({ verdict }) => verdict.verdict === "fit");
    expect(fit.length).toBeGreaterThan(50);
    const codes = new Set(judged.flatMap(({ verdict }) => verdict.reasons.map(({ code }) => code)));
    const ways: ReasonCode[] = [
      ...(["no-evidence", "drawn-before-event", "topped-up-beyond-share", "top-up-not-entered"] as const),
      ...(["element-loaded", "sample-too-old", "sample-after-judging-date"] as const),
      ...([
        "result-in-quarantine",
        "particles-not-measured",
        "particles-not-sure",
        "water-not-measured",
      ] as const),
      ...(["water-not-known", "acid-outside", "particles-outside", "chlorine-not-measured"] as const),
      ...(["metals-outside", "viscosity-outside", "fluid-contradicts-label"] as const),
    ];
    expect(ways.filter((code) => !codes.has(code))).toEqual([]);
    // Waived by the requirement, so that nothing but the missing evidence blocks it.
    const bare = judged.filter(({ verdict: { reasons } }) =>
      reasons.every(({ code, callsFor }) => callsFor === "fit" || code === "no-evidence"),
    );
    expect(bare.filter(({ verdict }) => verdict.verdict === "resample").length).toBeGreaterThan(1);
  });

  test("whatever carts, requirement, rows and events are", async () => {
    await fc.assert(
      fc.asyncProperty(worlds, async (world) => {
        for (const { verdict } of await judgeWorld(world)) {
          if (verdict.verdict !== "fit") continue;
          const { cart, circuit, assessed, reasons } = verdict;
          expect(whatFitLacks(world, cart, circuit, assessed)).toEqual([]);
          const codes = reasons.map(({ code }) => code);
          expect(insideReasonsFor(world).filter((code) => !codes.includes(code))).toEqual([]);
          expect(assessed.filter(({ outcome }) => outcome !== "inside")).toEqual([]);
          for (const { conformance } of assessed) {
            if (conformance !== undefined)
              expect(conformance.probability).toBeGreaterThanOrEqual(conformance.required);
          }
          if (world.requirement.systems[0]?.confidence !== undefined) {
            expect(assessed.find(({ quantity }) => quantity === "particles")?.conformance).toBeDefined();
          }
        }
      }),
      { numRuns: runs(100) },
    );
  });

  test("no number of a sample whose fluid is gone stands with the verdict", async () => {
    let former = 0;
    await fc.assert(
      fc.asyncProperty(worlds, async (world) => {
        for (const { verdict, circuit } of await judgeWorld(world)) {
          const rows = world.rows.filter(
            (row) => row.cart === verdict.cart && row.circuit === verdict.circuit,
          );
          const gone = rows.every((row) =>
            circuit.events.some(
              (event) => event.kind === "fluid-change" && event.on <= world.on && !isBefore(event, row),
            ),
          );
          if (!gone) continue;
          former += 1;
          expect(verdict).not.toHaveProperty("sample");
          expect(verdict).not.toHaveProperty("classification");
          expect(verdict.assessed).toEqual([]);
          expect(verdict.verdict).not.toBe("fit");
        }
      }),
      { numRuns: runs(120) },
    );
    expect(former).toBeGreaterThan(2);
  });

  test("through the commands, from files, and through import and a book, which agree", async () => {
    const folder = temporaryFolder();
    let fit = 0;
    for (const [index, world] of fc.sample(worlds, { numRuns: 15, seed: 11 }).entries()) {
      const { files, lab, on } = writeWorld(join(folder, String(index)), world);
      const book = join(folder, String(index), "a.siltbook");
      await run("import", "--book", book, ...files, lab);
      const [plain, kept] = [
        await runJson("judge", ...files, ...on, lab),
        await runJson("judge", "--book", book, ...on),
      ];
      const shown = ({ json }: typeof plain) => json.circuits;
      for (const one of [...shown(plain), ...shown(kept)]) {
        if (one.verdict !== "fit") continue;
        fit += 1;
        expect(whatFitLacks(world, one.cart, one.circuit, one.assessed)).toEqual([]);
      }
      const verdicts = (of: typeof plain) =>
        shown(of)
          .map(({ cart, circuit, verdict }: Record<string, string>) => [cart, circuit, verdict])
          .sort();
      expect(verdicts(kept)).toEqual(verdicts(plain));
    }
    expect(fit).toBeGreaterThan(5);
  });
});

describe("a counter in the line shows particles where the requirement says so, and fit still rests on bottles for all else", () => {
  test("whatever the runs are", async () => {
    let byRun = 0;
    let againstBottle = 0;
    await fc.assert(
      fc.asyncProperty(worlds, worldRuns, async (world, drawn) => {
        const samples = drawn.map((run, index) => sampleOfWorldRun(world, run, index));
        for (const { verdict, requirement } of await judgeWorld(world, samples, COUNTER_IN_LINE)) {
          if (verdict.verdict !== "fit") continue;
          const { cart, circuit, assessed, on } = verdict;
          const runOf = (sample: string | undefined) => samples.findIndex((one) => one.sample === sample);
          const shown = assessed.find(({ quantity }) => quantity === "particles");
          const run = drawn[runOf(shown?.sample)];
          const lacks = whatFitLacks(world, cart, circuit, assessed);
          if (run === undefined) expect(lacks).toEqual([]);
          else {
            byRun += 1;
            expect(lacks.filter((lack) => lack !== "no bottle for particles")).toEqual([]);
            expect(whatRunLacks(world, run, requirement as Requirement)).toEqual([]);
          }
          expect(
            assessed.filter(({ quantity, sample }) => quantity !== "particles" && runOf(sample) >= 0),
          ).toEqual([]);
          // A run that counted too much, after what shows the particles and until today, is never passed over.
          const dirty = drawn.filter(
            (one, index) =>
              one.share > 1 &&
              one.cart === cart &&
              one.circuit === circuit &&
              (samples[index]?.drawnOn ?? "") > (shown?.drawnOn ?? "") &&
              (samples[index]?.drawnOn ?? "") <= on,
          );
          expect(dirty).toEqual([]);
        }
        againstBottle += drawn.filter(({ share }) => share > 1).length;
      }),
      { numRuns: runs(120) },
    );
    expect(byRun).toBeGreaterThan(5);
    expect(againstBottle).toBeGreaterThan(20);
  });

  test("without the field, runs change nothing but what is said of them", async () => {
    await fc.assert(
      fc.asyncProperty(worlds, worldRuns, async (world, drawn) => {
        const samples = drawn.map((run, index) => sampleOfWorldRun(world, run, index));
        const [plain, withRuns] = [await judgeWorld(world), await judgeWorld(world, samples)];
        for (const [index, { verdict }] of withRuns.entries()) {
          const { assumptions, ...found } = verdict;
          const { assumptions: before, ...expected } = plain[index]?.verdict ?? verdict;
          expect(found).toEqual(expected);
          const said = assumptions.filter(({ code }) => code !== "counter-in-line-set-aside");
          expect(said).toEqual(before);
          const own = samples.filter((one) => one.cart === verdict.cart && one.circuit === verdict.circuit);
          expect(assumptions.length - said.length).toBe(new Set(own.map(({ sample }) => sample)).size);
        }
      }),
      { numRuns: runs(60) },
    );
  });
});
