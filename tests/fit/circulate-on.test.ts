import { describe, expect, test } from "vitest";
import { channelLevel, minutesUp, portLevel } from "../../src/circulation/index.js";
import { acceptedCounts, limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { judgeCircuit } from "../../src/fitness/index.js";
import type { Requirement, Sample } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, caseOf, countedIn, REQUIREMENT } from "../support/fitness/bases.js";

function judge(requirement: Requirement, change: Partial<Sample>) {
  return judgeCircuit(caseOf({ requirement, samples: [{ ...CLEAN, ...change }] }));
}

const sure = (probability: number, rsd?: number): Requirement => ({
  ...REQUIREMENT,
  confidence: {
    probability,
    ...(rsd !== undefined && { counts: { reproducibility: { kind: "relative", rsd } } }),
  },
});
const coarse = (requirement: Requirement): Requirement => ({
  ...requirement,
  cleanliness: [parseTarget("AS4059 cumulative 7A-F")],
});

/** Dirty by sixteen times at 4, 6 and 14 µm(c), and with few large particles. */
const DIRTY = [20_000, 5000, 640, 80, 8, 0.8] as const;

describe("a verifying bottle with the counts expected at the time to go by is fit", () => {
  test.each<[string, Requirement, number]>([
    ["counts as measured", REQUIREMENT, 20],
    ["counts as measured, in 10 mL", REQUIREMENT, 10],
    ["95 %", sure(0.95), 20],
    ["95 % in 10 mL", sure(0.95), 10],
    ["95 % by a laboratory that scatters by 15 %", sure(0.95, 0.15), 20],
    ["99 % by a laboratory that scatters by 15 %", sure(0.99, 0.15), 20],
    ["95 % by a laboratory that scatters by 30 %", sure(0.95, 0.3), 20],
    ["AS4059, counts as measured", coarse(REQUIREMENT), 100],
    ["AS4059, 95 % in 100 mL", coarse(sure(0.95)), 100],
    ["AS4059, 95 % by a laboratory that scatters by 15 %, in 100 mL", coarse(sure(0.95, 0.15)), 100],
  ])("%s", (_name, requirement, countedMl) => {
    const first = judge(requirement, { counts: countedIn(countedMl, ...DIRTY) });
    expect(first.verdict).toBe("circulate");
    const { circulation, goBy } = first;
    if (circulation === undefined || goBy?.kind !== "minutes") throw new Error("expected minutes to go by");
    const passes = goBy.minutes / circulation.minutesPerPass;
    const expected = circulation.channels.map((channel) => ({
      sizeUm: channel.sizeUmC,
      count: Math.round(countedMl * portLevel(circulation, channel, passes)),
    }));
    expect(channelLevel(circulation, circulation.channels[0] as never, passes)).toBeLessThan(1300);
    const bottle = cumulativeCounts(expected, countedMl, "um(c)", { countedMl });
    expect(judge(requirement, { counts: bottle }).verdict).toBe("fit");
  });
});

describe("counts that are accepted", () => {
  const LIMITS = REQUIREMENT.cleanliness.flatMap(limitsOfTarget);

  test.each([
    [0.95, undefined, 20],
    [0.95, 0.15, 20],
    [0.99, 0.3, 10],
    [0.9, 0.1, 50],
  ])(
    "by %f, a laboratory that scatters by %s and %d mL: a bottle at all of them is fit, one 3 %% above is not",
    (probability, rsd, countedMl) => {
      const accepted = acceptedCounts(LIMITS, {
        probability,
        countedMl,
        ...(rsd !== undefined && { reproducibility: { kind: "relative", rsd } }),
      });
      if (accepted === undefined) throw new Error("expected counts");
      const bottle = (times: number) => {
        const found = accepted.limits.map(({ fromUm, limit }) => ({
          sizeUm: fromUm,
          count: Math.floor(limit * times),
        }));
        return judge(sure(probability, rsd), {
          counts: cumulativeCounts(found, countedMl, "um(c)", { countedMl }),
        }).verdict;
      };
      expect([bottle(1), bottle(1.03)]).toEqual(["fit", expect.not.stringMatching("fit")]);
    },
  );

  test("a volume that shows it of no bottle at all is doubled until it does", () => {
    // 7A-F allows 21 in 100 mL above 70 µm(c): 0.2 mL without a particle leaves too much doubt.
    const limits = limitsOfTarget(parseTarget("AS4059 cumulative 7A-F"));
    const accepted = acceptedCounts(limits, { probability: 0.95, countedMl: 1 });
    expect(accepted?.countedMl).toBeGreaterThan(1);
    expect(acceptedCounts(limits, { probability: 0.95, countedMl: 200 })?.countedMl).toBe(200);
    expect(acceptedCounts(limits, { probability: 0.95, countedMl: 5000 })).toBeUndefined();
  });
});

describe("particles inside that no counting makes sure", () => {
  test.each<[string, Requirement, readonly number[], number]>([
    ["exactly at the limits", sure(0.95), [1300, 320, 40], 10],
    ["inside by less than the laboratory scatters", sure(0.95, 0.15), [1200, 300, 37], 20],
    ["inside by one of a hundred", sure(0.99, 0.05), [1287, 316, 39], 100],
  ])(
    "%s: circulate on, with minutes, and not another bottle of the same fluid",
    (_name, requirement, perMl, ml) => {
      const verdict = judge(requirement, { counts: countedIn(ml, ...perMl) });
      expect(verdict.verdict).toBe("circulate");
      expect(verdict.reasons[0]?.code).toBe("particles-too-close");
      if (verdict.goBy?.kind !== "minutes") throw new Error("expected minutes to go by");
      expect(verdict.next.steps[0]?.text).toContain(`circulate ${minutesUp(verdict.goBy.minutes)} min`);
      expect(verdict.goBy.minutes).toBeGreaterThanOrEqual(5);
    },
  );

  test.each<[string, Requirement, readonly number[], number | undefined, string]>([
    ["few counted: counting more settles it", sure(0.95), [600, 150, 37], 10, "particles-not-sure"],
    ["nothing counted and no volume stated", sure(0.95), [0, 0, 0], undefined, "particles-not-sure"],
  ])("%s: another count and not minutes", (_name, requirement, perMl, ml, code) => {
    const verdict = judge(requirement, { counts: countedIn(ml, ...perMl) });
    expect(verdict.verdict).toBe("resample");
    expect(verdict.reasons[0]?.code).toBe(code);
    expect(verdict.goBy).toBeUndefined();
  });
});

describe("the first line and the reasons below it", () => {
  const elementChanged = (circulatedMinutes?: number) => ({
    ...CIRCUIT,
    events: [
      { on: "2026-03-01", kind: "element-change" as const, ...(circulatedMinutes && { circulatedMinutes }) },
    ],
  });
  const asking: Requirement = {
    ...REQUIREMENT,
    after: [{ event: "element-change", sample: true, circulatedMinutesMin: 60 }],
  };

  test.each([
    [undefined, 60],
    [20, 40],
    [60, undefined],
  ])("%s of 60 minutes done since an element change: %s at the least", (done, least) => {
    const verdict = judgeCircuit(
      caseOf({
        circuit: elementChanged(done),
        requirement: asking,
        samples: [{ ...CLEAN, counts: countedIn(20, 2000, 500, 60) }],
      }),
    );
    if (verdict.goBy?.kind !== "minutes") throw new Error("expected minutes to go by");
    if (least === undefined) expect(verdict.goBy.minutes).toBeLessThan(40);
    else expect(verdict.goBy).toMatchObject({ minutes: least, governs: "requirement" });
  });

  test("where no time is long enough, it is said first and no minutes are ordered", () => {
    // Ingress that is known to half of itself, and that holds the circuit at nine tenths of its limit.
    const ingress = [4, 6, 14].map((sizeUmC, index) => ({
      sizeUmC,
      particlesPerMin: 0.9 * ([1300, 320, 40][index] as number) * 45_000 * 0.95,
    }));
    const verdict = judgeCircuit(
      caseOf({
        circuit: { ...CIRCUIT, ingress },
        samples: [{ ...CLEAN, counts: countedIn(20, ...DIRTY) }],
      }),
    );
    expect(verdict.verdict).toBe("do-not-connect");
    expect(verdict.reasons[0]).toMatchObject({ code: "particles-out-of-reach", callsFor: "do-not-connect" });
    expect(verdict.reasons.map(({ code }) => code)).toContain("particles-outside");
    expect(verdict.goBy?.kind).toBe("no-time");
    expect(verdict.next.steps[0]?.text).toMatch(/^no time of circulating is known to be long enough/);
    const steps = verdict.next.steps.map(({ text }) => text).join(" ");
    expect(steps).not.toMatch(/\bcirculate \d|count the minutes|verifying sample while/);
    expect(steps).toContain("no minutes are ordered until that is settled; then draw a new sample");
  });
});
