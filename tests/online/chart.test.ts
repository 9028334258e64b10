import { describe, expect, test } from "vitest";
import { limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { drawOnlineChart, Following } from "../../src/online/index.js";

const AT_0730 = Date.UTC(2026, 10, 20, 7, 30) / 60_000;

/** The chart of a counter whose three channels show shares of the limits of 17/15/12. */
function chartOf(minutes: number, sharesAt: (minute: number) => readonly [number, number, number]): string[] {
  const following = new Following({
    limits: limitsOfTarget(parseTarget("17/15/12")),
    confidence: 0.95,
    countedMlPerMin: 10,
    repeatability: 0.1,
    bias: 0.2,
  });
  const answers = Array.from({ length: minutes }, (_, minute) => {
    const [four, six, large] = sharesAt(minute);
    return following.take({
      minute: AT_0730 + minute,
      counts: [
        { sizeUmC: 4, perMl: 1300 * four },
        { sizeUmC: 6, perMl: 320 * six },
        { sizeUmC: 14, perMl: 40 * large },
      ],
      readings: 1,
    });
  });
  return drawOnlineChart(answers);
}

describe("the chart of the last minutes", () => {
  test("each channel has its mark, the limit its line, and time runs to the right", () => {
    const chart = chartOf(2, (minute) => (minute === 0 ? [16, 4, 1] : [8, 2, 1 / 4]));
    // Eleven lines from 16 times the limit to a quarter of it: six doublings, 5/3 of a line each.
    expect(chart).toEqual([
      `  16 x |${" ".repeat(64)}a`,
      "       |",
      `       |${" ".repeat(65)}a`,
      `       |${" ".repeat(64)}b`,
      "       |",
      `       |${" ".repeat(65)}b`,
      "       |",
      ` limit |${"-".repeat(64)}c-`,
      "       |",
      "       |",
      ` 1/4 x |${" ".repeat(65)}c`,
      `       +${"-".repeat(66)}`,
      `${" ".repeat(69)}07:31`,
      "        a 4   b 6   c 14   (share of each limit, UTC)",
    ]);
  });

  test("channels that meet share a star", () => {
    expect(chartOf(1, () => [2, 2, 2])[0]).toBe(`   2 x |${" ".repeat(65)}*`);
  });

  test("of more minutes than fit the last are seen", () => {
    const chart = chartOf(100, () => [2, 1.9, 0.5]);
    expect(chart.at(-2)).toBe(`${" ".repeat(8)}08:04${" ".repeat(56)}09:09`);
  });

  test.each([
    ["one minute", chartOf(1, () => [15, 9, 4])],
    ["a day", chartOf(300, (minute) => [15 * Math.exp(-minute / 100), 5 * Math.exp(-minute / 100), 1e-3])],
  ])("no line of %s is longer than 80 columns, and none holds an escape", (_, chart) => {
    expect(chart.length).toBe(14);
    expect(chart.filter((line) => line.length > 80 || /[^\x20-\x7eµ]/.test(line))).toEqual([]);
  });

  test("before anything was counted there is none", () => {
    expect(drawOnlineChart([])).toEqual([]);
    expect(chartOf(3, () => [0, 0, 0])).toEqual([]);
  });
});
