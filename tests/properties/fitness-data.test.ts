import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type CountSet, cumulativeCounts } from "../../src/counts/index.js";
import {
  type CircuitCase,
  canonicalJson,
  judgeCircuit,
  recompute,
  recordOf,
  VERDICTS,
  type Verdict,
} from "../../src/fitness/index.js";
import type { Measured, Sample } from "../../src/samples/index.js";
import { caseOf } from "../support/fitness/bases.js";
import { fullCase } from "../support/fitness/full.js";
import { runs } from "../support/runs.js";

const RUNS = { numRuns: runs(60) };
const rank = ({ verdict }: Verdict) => VERDICTS.indexOf(verdict);
const RESAMPLE = VERDICTS.indexOf("resample");

/** Doubts about one quantity, which end when the quantity is known to be outside. */
const DOUBTS = /-not-sure$/;

function restsOnDoubt({ verdict, reasons }: Verdict): boolean {
  return (
    verdict === "resample" &&
    reasons.filter(({ callsFor }) => callsFor === verdict).every(({ code }) => DOUBTS.test(code))
  );
}

const withSample = (input: CircuitCase, change: Partial<Sample>): CircuitCase => ({
  ...input,
  samples: [{ ...(input.samples[0] as Sample), ...change }],
});

const without = <T extends object>(value: T, key: PropertyKey): T =>
  Object.fromEntries(Object.entries(value).filter(([name]) => name !== key)) as T;

const times = (measured: Measured | undefined, factor: number) => ({
  value: (measured?.value ?? 0) * factor,
});

const moreOf = (set: CountSet | undefined, factor: number): CountSet =>
  cumulativeCounts(
    (set?.counts ?? []).map(({ sizeUm, count }) => ({ sizeUm, count: count * factor })),
    set?.volumeMl ?? 1,
    "um(c)",
    set?.counting,
  );

/** Everything that can be measured worse, each by itself. */
function worse(input: CircuitCase, factor: number): Record<string, CircuitCase> {
  const one = input.samples[0] as Sample;
  const viscosity = one.viscosity40Mm2PerS?.value ?? 14;
  const away = viscosity < 14 ? viscosity / factor : viscosity * factor;
  return {
    "more water": withSample(input, { waterPpm: times(one.waterPpm, factor) }),
    "more acid": withSample(input, { acidMgKohPerG: times(one.acidMgKohPerG, factor) }),
    "more chlorine": withSample(input, { chlorinePpm: times(one.chlorinePpm, factor) }),
    "more calcium": withSample(input, { metalsPpm: { calcium: times(one.metalsPpm?.calcium, factor) } }),
    "viscosity further away": withSample(input, { viscosity40Mm2PerS: { value: away } }),
    "more particles": withSample(input, {
      counts: moreOf(one.counts, factor),
      replicates: (one.replicates ?? []).map((set) => moreOf(set, factor)),
    }),
    "a dirtier bottle": withSample(input, { blank: moreOf(one.blank, factor) }),
    "an older sample": withSample(input, { drawnOn: "2026-02-01" }),
    "a cloudy bottle": withSample(input, { appearance: [...(one.appearance ?? []), "cloudy"] }),
  };
}

describe("with everything asked for, a verdict never gains from worse or fewer data", () => {
  test("the generated cases meet every verdict, and fit often enough to lose it", () => {
    const found = fc.sample(fullCase, { numRuns: 500, seed: 1 }).map((input) => judgeCircuit(input).verdict);
    for (const verdict of VERDICTS) {
      expect(found.filter((name) => name === verdict).length, verdict).toBeGreaterThan(10);
    }
  });

  test("making any measured quantity worse never makes a circuit fit, nor its verdict milder but for a doubt that ends", () => {
    fc.assert(
      fc.property(fullCase, fc.double({ min: 1, max: 4, noNaN: true }), (input, factor) => {
        const before = judgeCircuit(input);
        for (const [what, changed] of Object.entries(worse(input, factor))) {
          const after = judgeCircuit(changed);
          if (after.verdict === "fit") expect(before.verdict, what).toBe("fit");
          if (!restsOnDoubt(before)) expect(rank(after), what).toBeGreaterThanOrEqual(rank(before));
        }
      }),
      RUNS,
    );
  });

  test("leaving out any datum of the sample or the cart never makes a verdict milder, but for stop to resample", () => {
    const keys = ["counts", "replicates", "blank", "waterPpm", "acidMgKohPerG", "chlorinePpm", "metalsPpm"];
    const more = ["viscosity40Mm2PerS", "density15KgPerM3", "fluid", "samplePoint", "flowing", "appearance"];
    fc.assert(
      fc.property(fullCase, (input) => {
        const before = judgeCircuit(input);
        const [one] = input.samples;
        const state = input.circuit.state ?? { on: "" };
        const fewer: CircuitCase[] = [
          ...[...keys, ...more, "colour"].map((key) => ({ ...input, samples: [without(one, key)] })),
          withSample(input, {
            counts: without(one.counts as CountSet, "counting"),
            replicates: (one.replicates ?? []).map((set) => without(set, "counting")),
          }),
          { ...input, circuit: without(input.circuit, "state") },
          ...(["indicator", "level", "temperature", "seals"] as const).map((key) => ({
            ...input,
            circuit: { ...input.circuit, state: without(state, key) },
          })),
        ];
        for (const changed of fewer) {
          const after = judgeCircuit(changed);
          expect(rank(after)).toBeGreaterThanOrEqual(Math.min(rank(before), RESAMPLE));
          expect(after.verdict).not.toBe("fit");
        }
      }),
      RUNS,
    );
  });

  test("what nobody asked for can only make a verdict stricter", () => {
    fc.assert(
      fc.property(fullCase, fullCase, (a, b) => {
        const [plain] = a.samples;
        const bare = caseOf({
          samples: [
            {
              sample: "S-1",
              cart: "C-1",
              circuit: "1",
              drawnOn: plain.drawnOn,
              counts: plain.counts,
              waterPpm: plain.waterPpm,
              acidMgKohPerG: plain.acidMgKohPerG,
              origin: plain.origin,
            },
          ],
        });
        const before = rank(judgeCircuit(bare));
        const [other] = b.samples;
        const extra = [
          "replicates",
          "blank",
          "viscosity40Mm2PerS",
          "density15KgPerM3",
          "fluid",
          "samplePoint",
          "flowing",
          "appearance",
          "colour",
          "chlorinePpm",
        ] as const;
        for (const key of extra) {
          const after = judgeCircuit(withSample(bare, { [key]: other[key] }));
          expect(rank(after), key).toBeGreaterThanOrEqual(before);
        }
      }),
      RUNS,
    );
  });
});

describe("a verdict is the same for the same data", () => {
  const several = fc.tuple(fullCase, fullCase, fullCase, fullCase).map((cases) => {
    const days = ["2026-03-04", "2026-03-04", "2026-02-20", "2026-01-20"];
    const samples = cases.map(({ samples: [one] }, index) => ({
      ...one,
      sample: `S-${index}`,
      drawnOn: days[index] as string,
    }));
    return { ...cases[0], samples };
  });

  test("whatever the order of the samples, to the last byte", () => {
    fc.assert(
      fc.property(several, fc.shuffledSubarray([0, 1, 2, 3], { minLength: 4 }), (input, order) => {
        const shuffled = { ...input, samples: order.map((index) => input.samples[index] as Sample) };
        expect(canonicalJson(judgeCircuit(shuffled))).toBe(canonicalJson(judgeCircuit(input)));
      }),
      { numRuns: runs(60) },
    );
  });

  test("whatever the order of two cloudy bottles of one day", () => {
    const first = caseOf({});
    const cloudy = ["S-0", "S-1"].map(
      (sample): Sample => ({
        ...(first.samples[0] as Sample),
        ...{ sample, drawnOn: "2026-03-04", appearance: ["cloudy"] },
      }),
    );
    const verdicts = [cloudy, cloudy.toReversed()].map((samples) =>
      canonicalJson(judgeCircuit({ ...first, samples })),
    );
    expect(verdicts[0]).toBe(verdicts[1]);
  });

  test("judging again from the stored record gives the same bytes", () => {
    fc.assert(
      fc.property(several, (input) => {
        const verdict = judgeCircuit(input);
        const record = recordOf(input, verdict, { document: "limits", revision: "1" });
        const stored = JSON.parse(JSON.stringify(record.inputs));
        expect(canonicalJson(recompute(stored))).toBe(record.verdict);
      }),
      { numRuns: runs(60) },
    );
  });
});
