import { describe, expect, test } from "vitest";
import { judgeCarts, judgeCircuit } from "../../src/fitness/index.js";
import type { Circuit, Sample } from "../../src/samples/index.js";
import { asking, CIRCUIT, CLEAN, caseOf, events, REQUIREMENT } from "../support/fitness/bases.js";

const ON = "2026-03-14";
const judge = (change: Parameters<typeof caseOf>[0]) => judgeCircuit(caseOf(change));
const planned = (kind: Circuit["events"][number]["kind"]) => ({ kind, on: "2026-05-01" });

/** Water rising by 5 ppm every thirty days, the last of eight samples on 4 March. */
const RISING: Sample[] = Array.from({ length: 8 }, (_, index) => ({
  ...CLEAN,
  sample: `S-${index}`,
  drawnOn: new Date(Date.UTC(2026, 2, 4) - (7 - index) * 30 * 86_400_000).toISOString().slice(0, 10),
  waterPpm: { value: 160 + 5 * index + (index % 2) * 0.5 },
}));

describe("an event of a day to come", () => {
  test("takes nothing back of what the sample shows: the fluid that it was drawn from is still in the cart", () => {
    const layers = { ...CLEAN, appearance: ["two-layers" as const], waterPpm: { value: 900 } };
    const [without, withPlan] = [{}, events(planned("fluid-change"))].map((more) =>
      judge({ samples: [layers], ...more }),
    );
    expect(without?.verdict).toBe("do-not-connect");
    expect(withPlan?.verdict).toBe("do-not-connect");
    const codes = withPlan?.reasons.map(({ code }) => code);
    expect(codes).toContain("water-outside");
    expect(codes).toContain("drawn-before-event");
    // Once it has happened, nothing of that sample is judged.
    const later = judge({ samples: [layers], ...events({ kind: "fluid-change", on: ON }) });
    expect(later.reasons.map(({ code }) => code)).not.toContain("water-outside");
  });

  test("is next to one that has happened since the sample, which is told as well", () => {
    const verdict = judge(events(planned("element-change"), { kind: "fluid-change", on: "2026-03-10" }));
    expect(
      verdict.reasons.filter(({ code }) => code === "drawn-before-event").map(({ message }) => message),
    ).toEqual([
      "sample S-1 was drawn on 2026-03-04; the fluid was changed on 2026-03-10 and no sample has been drawn since",
      "sample S-1 was drawn on 2026-03-04; the element was changed on 2026-05-01, which is after the day of judging; correct the day, or enter the event once it has happened",
    ]);
  });

  test("hides no change that has happened and was not circulated in", () => {
    const after = [{ event: "element-change" as const, sample: false, circulatedMinutesMin: 15 }];
    const changed = { kind: "element-change" as const, on: "2026-03-01", circulatedMinutes: 5 };
    const said = (...list: Circuit["events"]) =>
      judge({ ...asking({ after }), ...events(...list) })
        .reasons.filter(({ code }) => code === "not-circulated-since")
        .map(({ message }) => message);
    expect(said({ ...planned("element-change"), circulatedMinutes: 20 }, changed)).toEqual([
      "the element was changed on 2026-03-01 and 15 min of circulation are required; 5 min since",
    ]);
    expect(said({ ...changed, circulatedMinutes: 15 })).toEqual([]);
  });

  test("that has to be circulated in says that its day may be wrong", () => {
    const after = [{ event: "element-change" as const, sample: false, circulatedMinutesMin: 15 }];
    const verdict = judge({ ...asking({ after }), ...events(planned("element-change")) });
    expect(verdict.verdict).toBe("circulate");
    expect(verdict.reasons[0]?.message).toBe(
      "the element was changed on 2026-05-01, which is after the day of judging; correct the day, or enter the event once it has happened",
    );
  });

  test("leaves the outlook as it is: the trend ends today and not at a plan", () => {
    const outlook = judge({ samples: RISING }).outlook;
    expect(outlook?.crossings[0]).toMatchObject({ measure: "water", beforeNextSample: "expected" });
    for (const kind of ["fluid-change", "dehydration", "top-up"] as const)
      expect(judge({ samples: RISING, ...events(planned(kind)) }).outlook).toEqual(outlook);
  });

  test("leaves it open that the circuits of a cart mix, in whichever of the two it is planned", () => {
    const series = (start: number, step: number) =>
      RISING.map((one, index) => ({
        ...one,
        waterPpm: { value: 100 },
        viscosity40Mm2PerS: { value: Number((start + step * index + (index % 2) * 0.01).toFixed(2)) },
      }));
    const other = { ...CIRCUIT, circuit: "2", fluid: "AS1241 Type IV" as const };
    const codes = (own: Circuit["events"], besides: Circuit["events"]) =>
      judge({
        samples: series(14.5, -0.2),
        ...events(...own),
        neighbours: [{ circuit: { ...other, events: besides }, samples: series(10.5, 0.15) }],
      }).reasons.map(({ code }) => code);
    expect(codes([], [])).toContain("circuits-may-mix");
    expect(codes([planned("fluid-change")], [])).toContain("circuits-may-mix");
    expect(codes([], [planned("fluid-change")])).toContain("circuits-may-mix");
  });

  test("and a sample of a day to come leave the slopes beside a verdict as they are", () => {
    const slopes = (list: Circuit["events"], samples: Sample[]) =>
      judgeCarts({
        carts: [{ cart: "C-1", circuits: [{ ...CIRCUIT, events: list }] }],
        requirements: [REQUIREMENT],
        samples,
        unread: [],
        on: ON,
      })[0]?.trends;
    const today = slopes([], RISING);
    expect(today?.waterPpmPerYear).toMatchObject({ kind: "slope", n: 8 });
    const later = { ...CLEAN, sample: "S-9", drawnOn: "2026-04-04", waterPpm: { value: 20 } };
    expect(slopes([planned("fluid-change")], RISING)).toEqual(today);
    expect(slopes([], [...RISING, later])).toEqual(today);
  });
});
