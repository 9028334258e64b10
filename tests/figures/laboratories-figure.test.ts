import { parseHTML } from "linkedom";
import { describe, expect, test } from "vitest";
import { drawLaboratories } from "../../src/figures/index.js";
import { compareLaboratories } from "../../src/laboratories/index.js";
import { bottle, day } from "../laboratories/bottles.js";

const ROUNDS = [0, 1, 2, 3, 4, 5];
const SAMPLES = ROUNDS.flatMap((round) => [
  bottle({ laboratory: "North", drawnOn: day(round), perMl: 200 + round, waterPpm: { value: 80 + round } }),
  bottle({
    laboratory: "South <1>",
    drawnOn: day(round),
    perMl: (200 + round) * (round % 2 === 0 ? 1.5 : 1.6),
    waterPpm: { value: 80 + round + (round % 3) - 1 },
  }),
  bottle({ laboratory: "East", drawnOn: day(round + 10), perMl: 900 }),
]);
const comparison = compareLaboratories(SAMPLES);

const titleOf = (svg: string) => /aria-label="([^"]*)"/.exec(svg)?.[1];
const elementsOf = (svg: string, name: string) => Array.from(parseHTML(svg).document.querySelectorAll(name));
const wordsOf = (svg: string) => elementsOf(svg, "text").map((text) => text.textContent ?? "");
/** What the dots are filled with, the reference first. */
const fillsOf = (svg: string) => elementsOf(svg, "circle").map((dot) => dot.getAttribute("fill"));

describe("picture of compared laboratories", () => {
  test("counts: who differs is the title and a filled dot, and the axis says what from", () => {
    const svg = drawLaboratories(comparison);
    expect(titleOf(svg)).toBe("South &lt;1> differs from North");
    expect(fillsOf(svg)).toEqual(["#ffffff", "#0072B2"]);
    expect(wordsOf(svg)).toContain("particles above 4 µm(c)");
    expect(wordsOf(svg).join(" ")).toContain("factor against North; line: interval of 95 %");
  });

  test("water in its own unit: no difference is an empty dot", () => {
    const svg = drawLaboratories(comparison, "waterPpm");
    expect(titleOf(svg)).toBe("No difference between laboratories was found");
    expect(fillsOf(svg)).toEqual(["#ffffff", "#ffffff"]);
    expect(wordsOf(svg).join(" ")).toContain("difference in ppm from North");
  });

  test("a laboratory with too few shared fluids has no row", () => {
    expect(wordsOf(drawLaboratories(comparison))).not.toContain("East");
  });

  test("what was not compared makes a picture that says so", () => {
    const svg = drawLaboratories(comparison, "acidMgKohPerG");
    expect(titleOf(svg)).toBe("Too few shared fluids to compare laboratories");
    expect(fillsOf(svg)).toEqual([]);
  });
});
