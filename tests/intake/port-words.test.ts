import { describe, expect, test } from "vitest";
import { readDescription } from "../../src/intake/words/described.js";

const read = (text: string) => {
  const { findings, notUnderstood } = readDescription("sample-point", text);
  return { points: findings.flatMap((one) => (one.is === "sample-point" ? [one.value] : [])), notUnderstood };
};

describe("words for a port before or after the element are kept apart", () => {
  test.each([
    ["upstream of filter", "upstream-of-element"],
    ["Upstream of the filter", "upstream-of-element"],
    ["before element", "upstream-of-element"],
    ["pre-filter", "upstream-of-element"],
    ["vor dem Filter", "upstream-of-element"],
    ["avant le filtre", "upstream-of-element"],
    ["upstream of the pressure filter", "upstream-of-element"],
    ["downstream of filter", "downstream-of-element"],
    ["downstream of the pressure filter", "downstream-of-element"],
    ["downstream of the service filter", "downstream-of-element"],
    ["after the high pressure filter element", "downstream-of-element"],
    ["sampling port downstream of the filter", "downstream-of-element"],
    ["after filter", "downstream-of-element"],
    ["filter outlet", "downstream-of-element"],
    ["nach dem Filter", "downstream-of-element"],
    ["après le filtre", "downstream-of-element"],
    ["dopo il filtro", "downstream-of-element"],
    ["downstream-of-element", "downstream-of-element"],
  ])("%s", (text, point) => {
    expect(read(text)).toEqual({ points: [point], notUnderstood: [] });
  });

  test("the line and the side of it are both said", () => {
    expect(read("pressure line, after filter").points).toEqual(["main-flow-line", "downstream-of-element"]);
  });

  // Fluid from a return filter is neither what the circuit holds nor what it delivers.
  test.each([
    "downstream",
    "upstream",
    "after the pump",
    "before the valve",
    "downstream of the return filter",
  ])("%s names no side of the element", (text) => {
    expect(read(text).points).toEqual([]);
  });
});
