import { describe, expect, test } from "vitest";
import { measuredBy, namesWho } from "../../src/samples/index.js";

describe("titles that name who measured", () => {
  test.each([
    "Laboratory",
    "Lab",
    "LAB.",
    "Laboratory name",
    "Name of the laboratory",
    "Testing laboratory",
    "Labor",
    "Laboratoire",
  ])("%s: a laboratory", (title) => expect(namesWho(title)).toBe("laboratory"));
  test.each([
    "Counter",
    "Particle counter",
    "Particle counter S/N",
    "Counter no.",
    "APC",
    "Optical particle counter ID",
  ])("%s: a counter", (title) => expect(namesWho(title)).toBe("counter"));
  test.each([
    "Lab no.",
    "Lab number",
    "Lab result",
    "Lab remarks",
    "Laboratory sample",
    "Counter calibration",
    "Hour counter",
    "Counted volume",
    "",
  ])("%s: neither", (title) => expect(namesWho(title)).toBeUndefined());
});

describe("who measured a sample", () => {
  test("both are read from the texts of the report", () => {
    const otherTexts = [
      { column: "Laboratory", text: "North" },
      { column: "Counter no.", text: "4711" },
      { column: "Shift", text: "B" },
    ];
    expect(measuredBy({ otherTexts })).toEqual({ laboratory: "North", counter: "4711" });
  });

  test("two names are no name", () => {
    const otherTexts = [
      { column: "Laboratory", text: "North" },
      { column: "Lab", text: "South" },
    ];
    expect(measuredBy({ otherTexts })).toEqual({});
  });

  test("a report without texts names nobody", () => {
    expect(measuredBy({})).toEqual({});
  });
});
