import { parseHTML } from "linkedom";
import { describe, expect, test } from "vitest";
import { planCirculation } from "../../src/circulation/index.js";
import { limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { type CleanUpExtras, drawCleanUpCurve } from "../../src/figures/index.js";
import { placeEvents } from "../../src/figures/parts/events.js";
import { rowNames } from "../../src/figures/parts/row-names.js";
import { widthOf, wrapped } from "../../src/figures/parts/wrap.js";

const LETTERS = { fontSize: 15, bold: true };

const PLAN = planCirculation({
  volumeL: 60,
  flowLpm: 45,
  betas: [4, 6, 14].map((sizeUmC) => ({ sizeUmC, beta: 20 })),
  start: cumulativeCounts(
    [20000, 5000, 640].map((count, index) => ({ sizeUm: [4, 6, 14][index] ?? 0, count })),
    1,
  ),
  limits: limitsOfTarget(parseTarget("ISO 4406 17/15/12")),
});

const titleOf = (svg: string) => /aria-label="([^"]*)"/.exec(svg)?.[1] ?? "";

describe("breaking a text into lines", () => {
  test.each([
    ["short", 300],
    ["a title of some words that is longer than its line", 120],
    ["Aircraftsupportequipmentwithoutanyspaceinitsname", 100],
    ["two  spaces\tand\na line feed", 90],
    ["カート七号の前の回路はまだ接続しないでください", 80],
    ["", 50],
  ])("%j: every line fits into %i pixels, and nothing is lost", (text, width) => {
    const lines = wrapped(text, width, LETTERS);
    for (const line of lines) expect(widthOf(line.trimEnd(), LETTERS), line).toBeLessThanOrEqual(width);
    expect(lines.join("")).toBe(text.trim().replace(/\s+/g, " "));
  });

  test("a character that is wider than a line has a line of its own", () => {
    expect(wrapped("WW", 1, LETTERS)).toEqual(["W", "W"]);
  });
});

describe("titles of pictures", () => {
  test.each(["page", "phone"] as const)(
    "a long name is wrapped and never cut, and the picture grows (%s)",
    (shownOn) => {
      const name = `Ground cart ${"of the northern apron ".repeat(6)}, circuit ${"x".repeat(90)}`;
      const [long, short] = [name, "C-1"].map((own) => drawCleanUpCurve(PLAN, own, { shownOn }));
      const heightOf = (svg = "") => Number(/ height="([\d.]+)"/.exec(svg)?.[1]);
      const [, top, width, height] = (/viewBox="([^"]+)"/.exec(long ?? "")?.[1] ?? "").split(" ").map(Number);
      expect(height).toBe(heightOf(long));
      expect(heightOf(long)).toBeGreaterThan(heightOf(short));
      expect(top).toBeLessThan(0);
      const title = Array.from(parseHTML(long ?? "").document.querySelectorAll("text")).find((text) =>
        text.textContent?.startsWith("Ground cart"),
      );
      const lines = Array.from(title?.querySelectorAll("tspan") ?? [], (line) => line.textContent ?? "");
      expect(lines.length).toBeGreaterThan(2);
      for (const line of lines)
        expect(widthOf(line.trimEnd(), LETTERS)).toBeLessThanOrEqual((width ?? 0) - 24);
      expect(lines.join("").replace(/\s+/g, " ")).toBe(titleOf(long ?? "").replace(/\s+/g, " "));
    },
  );
});

describe("the names of rows", () => {
  test.each([
    [["QB-01 fore"], 96, 1],
    [["Ground cart 12 of the main hangar, aft"], 220, 2],
    [["x".repeat(80), "QB-01"], 220, 4],
  ])("%j have a margin of at least %i pixels and up to %i lines or so", (names, margin, lines) => {
    const made = rowNames(names, 96, 36);
    expect(made.margin).toBe(margin);
    for (const line of names.flatMap((name) => made.format(name).split("\n"))) {
      expect(widthOf(line.trimEnd(), { fontSize: 12 })).toBeLessThanOrEqual(made.margin - 20);
    }
    expect(made.height).toBeGreaterThanOrEqual(lines * 14);
  });
});

describe("the words of events", () => {
  const axis = { from: new Date("2026-01-01"), to: new Date("2026-12-31"), pixels: 220 };
  const at = (...days: string[]) => days.map((on) => ({ on, words: "element change" }));

  test.each([
    ["alone in the middle", at("2026-07-01"), ["middle 0"]],
    ["at the edges", at("2026-01-01", "2026-12-31"), ["start 0", "end 0"]],
    [
      "next to each other",
      at("2026-06-20", "2026-07-01", "2026-07-10"),
      ["middle 0", "middle 1", "middle 2"],
    ],
    ["twice on a day", at("2026-07-01", "2026-07-01"), ["middle 0"]],
  ])("%s they stay inside the frame and meet no others", (_, events, places) => {
    expect(placeEvents(events, axis).map(({ anchor, row }) => `${anchor} ${row}`)).toEqual(places);
  });
});

describe("a clean-up with samples", () => {
  type Sample = NonNullable<CleanUpExtras["samples"]>[number];
  const sample = (minutes: number, ...perMl: Sample["counts"][number]["perMl"][]): Sample => ({
    minutes,
    countedMl: 10,
    counts: perMl.map((count, index) => ({ sizeUmC: [4, 6, 14][index] ?? 0, perMl: count })),
  });
  const exact = (...values: number[]) => values.map((value) => ({ value }));
  // ISO 4406 17/15/12 allows 1300, 320 and 40 per mL.
  test.each<[string, Sample[], string]>([
    ["at every limit", [sample(8, ...exact(1300, 320, 40))], "the sample at 8 min is within every limit"],
    [
      "one particle more",
      [sample(8, ...exact(1300, 320, 41))],
      "the sample at 8 min is above the limit at 14 µm(c)",
    ],
    [
      "two above",
      [sample(8, ...exact(1301, 321, 40))],
      "the sample at 8 min is above the limit at 4 µm(c), 6 µm(c)",
    ],
    [
      "the last one counts",
      [sample(12, ...exact(900, 200, 20)), sample(8, ...exact(5000, 200, 20))],
      "the sample at 12 min is within every limit",
    ],
    [
      "not all counted",
      [sample(8, ...exact(1300, 320))],
      "the sample at 8 min is within the limit at 4 µm(c), 6 µm(c); other channels were not counted",
    ],
    [
      "known to be below more than the limit",
      [sample(8, { value: 1300 }, { value: 320 }, { value: 41, limit: "below" })],
      "the sample at 8 min does not show whether it is within the limit at 14 µm(c)",
    ],
    [
      "known to be below the limit",
      [sample(8, { value: 1300 }, { value: 320 }, { value: 40, limit: "below" })],
      "the sample at 8 min is within every limit",
    ],
    [
      "known to be above the limit",
      [sample(8, { value: 1300, limit: "above" }, { value: 320 }, { value: 40 })],
      "the sample at 8 min is above the limit at 4 µm(c)",
    ],
    ["counted elsewhere", [sample(8)], "the sample at 8 min was counted at no size that has a limit"],
  ])("%s: its title is what the last sample shows", (_, samples, title) => {
    expect(titleOf(drawCleanUpCurve(PLAN, "C-1", { samples }))).toBe(`C-1: ${title}`);
  });

  test("with the sample that it started from alone, the title is the plan", () => {
    const title = titleOf(
      drawCleanUpCurve(PLAN, "C-1", { samples: [sample(0, ...exact(20000, 5000, 640))] }),
    );
    expect(title).toMatch(/^C-1: by the stated values alone clean after /);
  });
});
