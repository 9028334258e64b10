import { describe, expect, test } from "vitest";
import { describeElementLife, type ElementLife, elementLife } from "../../src/online/index.js";
import { ELEMENT, type Loading, logOfElement } from "../support/online/simulated-element.js";

/** An element that trips its indicator after 100 running hours, in the hours from 80 to 95. */
const LATE: Loading = { lifeH: 100, fromH: 80, toH: 95, power: 5, everyMin: 1 };
const lifeOf = (changes: Partial<Loading> = {}, element = ELEMENT) =>
  elementLife(logOfElement({ ...LATE, ...changes }), element);

function hoursOf(life: ElementLife) {
  if (life.kind !== "hours") throw new Error(JSON.stringify(life));
  return life;
}
const codeOf = (life: ElementLife) => (life.kind === "cannot-tell" ? life.code : life.kind);

describe("worked by hand: 0.5 bar when clean, 3 bar at the indicator, the fifth power of the dirt, 100 h", () => {
  // At 95 h the drop is 0.5 · (1 + 5 · 0.95^5) = 2.434 bar, 4.87 times the clean one; the fifth root of the rise is straight.
  test("at 95 h 5.0 h are left, and the drop is 4.9 times that of the clean element, which trips at 6", () => {
    const life = hoursOf(lifeOf());
    expect(life.hours).toBeCloseTo(5, 1);
    expect(life.state?.timesClean).toBeCloseTo(4.8, 1);
    expect(life.state?.timesCleanAtEnd).toBeCloseTo(6, 6);
    expect(life.low).toBeLessThan(5);
    expect(life.high).toBeGreaterThan(5);
    expect(describeElementLife(life)[0]).toMatch(
      /^The element lasts about 5\.\d running hours more \(\d\.\d h to \d\.\d h\)$/,
    );
  });

  test("half the permissible drop of a third power is used at 79 % of the life, as the glossary has it", () => {
    // 0.5^(1/3) = 0.794; the band reaches from the eighth power, whose half comes at 0.917, to the third.
    const life = hoursOf(lifeOf({ power: 3, fromH: 50, toH: 79.37 }));
    expect(life.low).toBeLessThan(100 - 79.37);
    expect(life.high).toBeGreaterThan(100 - 79.37);
  });
});

describe("the drop is that at the same flow and viscosity", () => {
  const warming = (hour: number) => 35 + 25 * Math.sin(hour) ** 2;
  test.each<[string, Partial<Loading>]>([
    ["a fluid that warms and cools", { temperatureC: warming }],
    ["a flow that is halved for hours on end, and reported", { flowLpm: (hour) => (hour % 4 < 2 ? 50 : 25) }],
    ["scatter of 5 % from minute to minute", { scatter: 0.05 }],
    ["a reading every ten minutes", { everyMin: 10 }],
    [
      "cold starts every two hours, which are left out",
      { temperatureC: (hour) => (hour % 2 < 0.4 ? 15 : 45) },
    ],
  ])("%s", (_, changes) => {
    const life = hoursOf(lifeOf(changes));
    // Thinner fluid and less flow trip the indicator at a larger multiple, which 100 · ((multiple − 1)/5)^(1/5) hours reach.
    const end = 100 * (((life.state?.timesCleanAtEnd ?? 0) - 1) / 5) ** 0.2;
    expect(Math.abs(life.hours - (end - 95))).toBeLessThan(2);
    expect(life.low).toBeLessThan(end - 95);
    expect(life.high).toBeGreaterThan(end - 95);
  });

  test("the empty housing is taken off, by the square of the flow", () => {
    const element = { ...ELEMENT, rated: { ...ELEMENT.rated, housingBar: 1 }, indicatorBar: 4 };
    const minutes = logOfElement(LATE).map((minute) => ({
      ...minute,
      pressureDropBar: (minute.pressureDropBar ?? 0) + 1,
    }));
    expect(hoursOf(elementLife(minutes, element)).hours).toBeCloseTo(5, 1);
  });

  test("a steady flow that nobody reports is taken as stated, and said", () => {
    const life = hoursOf(lifeOf({ hides: ["flowLpm"] }, { ...ELEMENT, statedLpm: 50 }));
    expect(life.hours).toBeCloseTo(5, 1);
    expect(life.assumptions.map(({ code }) => code)).toContain("flow-taken-as-stated");
  });

  test("without a flow meter, cold starts whose drop is ten times that of warm fluid hide no warm minute", () => {
    const temperatureC = (hour: number) => (hour % 2 < 0.3 ? -5 : 45);
    const measured = hoursOf(lifeOf({ temperatureC }));
    const life = hoursOf(lifeOf({ temperatureC, hides: ["flowLpm"] }, { ...ELEMENT, statedLpm: 50 }));
    expect(life.hours).toBeCloseTo(measured.hours, 6);
  });

  test("a temperature that cannot be is as good as none", () => {
    const minutes = logOfElement(LATE).map((minute, index) =>
      index % 100 === 7 ? { ...minute, temperatureC: 850 } : minute,
    );
    expect(elementLife(minutes, ELEMENT)).toEqual(elementLife(logOfElement(LATE), ELEMENT));
  });

  test("a log of more than a hundred thousand minutes", () => {
    const life = hoursOf(lifeOf({ lifeH: 2500, fromH: 0, toH: 2400 }));
    expect(life.hours).toBeCloseTo(100, 0);
  });

  test("hours in which the pump stands are none", () => {
    const minutes = logOfElement(LATE);
    const night = minutes.map((minute, index) => ({
      ...minute,
      minute: minute.minute + (index < 450 ? 0 : 600),
    }));
    expect(hoursOf(elementLife(night, ELEMENT)).state?.runningHours).toBeCloseTo(15, 1);
  });
});

describe("where nothing can be said, that is said, and no number", () => {
  test.each<[string, string, Partial<Loading>, Partial<typeof ELEMENT>?]>([
    ["no pressure drop", "no-drop", { hides: ["pressureDropBar"] }],
    ["no temperature", "no-temperature", { hides: ["temperatureC"] }],
    ["cold fluid throughout", "cold", { temperatureC: () => 20 }],
    ["no flow, and none stated", "no-flow", { hides: ["flowLpm"] }],
    [
      "a flow that goes in steps and is not reported",
      "flow-varies",
      { hides: ["flowLpm"], flowLpm: (hour) => (hour < 88 ? 50 : 30) },
      { statedLpm: 50 },
    ],
    [
      "a flow that jumps and is not reported",
      "flow-varies",
      { hides: ["flowLpm"], scatter: 0.3 },
      { statedLpm: 50 },
    ],
    ["half an hour", "too-few-minutes", { fromH: 94.5 }],
    ["a new element", "too-short-a-rise", { fromH: 0, toH: 40 }],
    ["a rise within the scatter of an hour", "does-not-rise", { toH: 81, scatter: 0.15 }],
    ["a clean element that trips the indicator by itself", "no-room", {}, { indicatorBar: 0.5 }],
    ["a drop below that of a clean element", "below-clean", { clean: 0.4, fromH: 0, toH: 40 }],
    ["a drop at the setting", "at-its-end", { fromH: 90, toH: 101 }],
  ])("%s: %s", (_, code, changes, element = {}) => {
    const life = lifeOf(changes, { ...ELEMENT, ...element });
    expect(codeOf(life)).toBe(code);
    expect(life).not.toHaveProperty("hours");
    expect(describeElementLife(life).join()).not.toMatch(/lasts about/);
  });

  test("without a flow meter, drops below a fifth of the clean one are of a pump that stands", () => {
    const minutes = logOfElement({ ...LATE, hides: ["flowLpm"] });
    const standing = minutes.map((minute) => ({ ...minute, pressureDropBar: 0.09 }));
    expect(codeOf(elementLife(standing, { ...ELEMENT, statedLpm: 50 }))).toBe("standing");
  });

  test("a flow meter that shows 0 throughout says that the pump stands, whatever the drop", () => {
    const minutes = logOfElement(LATE).map((minute) => ({ ...minute, flowLpm: 0 }));
    expect(codeOf(elementLife(minutes, ELEMENT))).toBe("standing");
  });

  test("a bypass that opens holds the drop: it levels off, and no life is given", () => {
    const minutes = logOfElement({ ...LATE, fromH: 60, scatter: 0.01 }).map((minute) => ({
      ...minute,
      pressureDropBar: Math.min(minute.pressureDropBar ?? 0, 1.3),
    }));
    expect(codeOf(elementLife(minutes, ELEMENT))).toBe("levels-off");
  });

  /** The log of an element that is loaded, and then of a new one. */
  const renewed = (changes: Partial<Loading>) => {
    const old = logOfElement({ ...LATE, ...changes });
    const last = old.at(-1)?.minute ?? 0;
    const fresh = logOfElement({ ...LATE, ...changes, fromH: 0, toH: 5 }).map((minute, index) => ({
      ...minute,
      minute: last + 1 + index,
    }));
    return [...old, ...fresh];
  };

  test("a new element begins again: what the old one showed gives the new one no life", () => {
    const life = elementLife(renewed({}), ELEMENT);
    expect(codeOf(life)).toBe("too-short-a-rise");
    expect(life.state?.runningHours).toBeLessThan(6);
  });

  test("without a flow meter a new element is none that stands, though its drop is a sixth of the old one's", () => {
    const life = elementLife(renewed({ toH: 99, hides: ["flowLpm"] }), { ...ELEMENT, statedLpm: 50 });
    expect(codeOf(life)).toBe("flow-varies");
  });
});
