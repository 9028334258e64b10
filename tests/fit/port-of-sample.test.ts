import { describe, expect, test } from "vitest";
import { judgeCircuit } from "../../src/fitness/index.js";
import type { Circuit, Requirement, Sample } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, caseOf, countedIn, REQUIREMENT } from "../support/fitness/bases.js";

/** CIRCUIT has a pressure element of β 20, 100 and 1000 at 4, 6 and 14 µm(c). */
function judge(
  sample: Partial<Sample>,
  circuit: Partial<Circuit> = {},
  requirement: Partial<Requirement> = {},
) {
  return judgeCircuit(
    caseOf({
      circuit: { ...CIRCUIT, ...circuit },
      requirement: { ...REQUIREMENT, ...requirement },
      samples: [{ ...CLEAN, ...sample }],
    }),
  );
}

const minutesOf = ({ goBy }: ReturnType<typeof judge>) =>
  goBy?.kind === "minutes" ? goBy.minutes : Number.NaN;
const codesOf = ({ assumptions }: ReturnType<typeof judge>) => assumptions.map(({ code }) => code);
const at = (position: string) => ({ element: { ...CIRCUIT.element, position } });

describe("a sample drawn downstream of the element", () => {
  test("is what is delivered where the element is in the pressure line, and that is said", () => {
    const verdict = judge({ samplePoint: "downstream-of-element" });
    expect(verdict.verdict).toBe("fit");
    expect(codesOf(verdict)).toContain("drawn-downstream");
  });

  test.each(["return", "kidney loop", "suction"])(
    "of a %s element is neither that nor what the circuit holds",
    (position) => {
      const verdict = judge({ samplePoint: "downstream-of-element" }, at(position));
      expect([verdict.verdict, verdict.reasons[0]?.code]).toEqual(["resample", "sample-point-unsuited"]);
      expect(judge({ samplePoint: "upstream-of-element" }, at(position)).verdict).toBe("fit");
    },
  );

  test("that is dirty plans from β times as much: 20 times above 4 µm(c)", () => {
    const counts = countedIn(20, 3000, 300, 20);
    const [down, up] = [judge({ counts, samplePoint: "downstream-of-element" }), judge({ counts })];
    const startOf = ({ circulation }: typeof down) => circulation?.channels.map(({ start }) => start);
    expect(startOf(up)).toEqual([3000, 300, 20]);
    // 300·100 and 20·1000 are 30,000 and 20,000: above what 4 µm(c) gives by 20, which has to hold them all: 60,000.
    expect(startOf(down)?.map(Math.round)).toEqual([60_000, 30_000, 20_000]);
    expect(minutesOf(down)).toBeGreaterThan(minutesOf(up));
    expect(codesOf(down)).toContain("converted-upstream");
    expect(codesOf(up)).not.toContain("converted-upstream");
  });

  test("a stated bypass lets particles around it: half of the flow is nearly half of the particles", () => {
    const counts = countedIn(20, 3000, 300, 20);
    const { circulation } = judge(
      { counts, samplePoint: "downstream-of-element" },
      { bypass: 0.5, leakage: 0 },
    );
    // 1/(0.5 + 0.5/20) = 1.905.
    expect(circulation?.channels[0]?.start).toBeCloseTo(3000 * 1.905, -1);
  });
});

describe("where the requirement names the points", () => {
  test.each([
    ["main-flow-line", "upstream-of-element", "fit"],
    ["main-flow-line", "downstream-of-element", "fit"],
    ["upstream-of-element", "upstream-of-element", "fit"],
    ["upstream-of-element", "downstream-of-element", "resample"],
    ["upstream-of-element", "main-flow-line", "resample"],
    ["downstream-of-element", "upstream-of-element", "resample"],
  ] as const)("%s asked for, drawn at %s: %s", (point, samplePoint, verdict) => {
    expect(judge({ samplePoint }, {}, { sampling: { points: [point] } }).verdict).toBe(verdict);
  });
});

describe("what a bottle downstream of a pressure element vouches for is that element", () => {
  const change = { on: "2026-03-10", kind: "element-change" } as const;
  const waived = { after: [{ event: "element-change" as const, sample: false }] };
  test.each([
    ["downstream, and the element was changed since", "downstream-of-element", [change], {}, "resample"],
    [
      "the same, where the requirement lets older counts stand",
      "downstream-of-element",
      [change],
      waived,
      "resample",
    ],
    [
      "upstream, where the requirement lets older counts stand",
      "upstream-of-element",
      [change],
      waived,
      "fit",
    ],
    [
      "downstream, and the element was changed before",
      "downstream-of-element",
      [{ ...change, on: "2026-02-10" }],
      waived,
      "fit",
    ],
    [
      "downstream, and fluid was topped up since",
      "downstream-of-element",
      [{ ...change, kind: "circulation", minutes: 10 }],
      waived,
      "fit",
    ],
  ] as const)("%s: %s", (_name, samplePoint, events, requirement, verdict) => {
    const found = judge({ samplePoint }, { events: [...events] }, requirement);
    expect(found.verdict).toBe(verdict);
  });

  test("which is said with the verdict, and with a change that the requirement waives as its reason", () => {
    const { assumptions } = judge({ samplePoint: "downstream-of-element" });
    expect(assumptions.find(({ code }) => code === "drawn-downstream")?.message).toContain(
      "the circuit itself holds more, up to β times as much",
    );
    const { reasons } = judge({ samplePoint: "downstream-of-element" }, { events: [change] }, waived);
    expect(reasons[0]).toMatchObject({ code: "sample-point-unsuited" });
    expect(reasons[0]?.message).toContain("not what the one fitted now does");
  });
});
