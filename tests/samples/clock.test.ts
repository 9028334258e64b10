import { describe, expect, test } from "vitest";
import { readLabFile } from "../../src/intake/index.js";
import { circuitEventSchema, readClock } from "../../src/samples/index.js";

const CLOCKS: readonly (readonly [string, string])[] = [
  ["8:40", "08:40"],
  ["08:40:00", "08:40"],
  ["08:40:15", "08:40:15"],
  ["08:40:00.000Z", "08:40Z"],
  ["8:40 AM", "08:40"],
  ["8:40 p.m.", "20:40"],
  ["8:40 p. m.", "20:40"],
  ["12:05 am", "00:05"],
  ["12:05 pm", "12:05"],
  ["7 pm", "19:00"],
  ["0840", "08:40"],
  ["1420 hrs", "14:20"],
  ["0840Z", "08:40Z"],
  ["0840L", "08:40"],
  ["08:40 local", "08:40"],
  ["08:40 LT", "08:40"],
  ["8.40 Uhr", "08:40"],
  ["8 Uhr 40", "08:40"],
  ["8 Uhr", "08:00"],
  ["8h40", "08:40"],
  ["8 h 40", "08:40"],
  ["8:40 +0200", "08:40+02:00"],
];
const NO_CLOCKS = [
  "840",
  "8.40",
  "8",
  "8:4",
  "2460",
  "24:00",
  "25h10",
  "8h60",
  "8:40:61",
  "13 pm",
  "8h4",
  "20260304",
];

describe("a time of day that has one meaning is read", () => {
  test.each(CLOCKS)("%s is %s", (text, clock) => {
    expect(readClock(text)).toBe(clock);
  });

  test.each(NO_CLOCKS)("%s is none", (text) => {
    expect(readClock(text)).toBeUndefined();
  });

  test.each(CLOCKS)("%s in a column of times is %s", async (text, clock) => {
    const lines = [
      "sample,cart,circuit,drawn on,time drawn,water (mg/kg)",
      `S-1,C-1,1,2026-03-04,${text},90`,
    ];
    const { samples } = await readLabFile("lab.csv", new TextEncoder().encode(lines.join("\n")));
    expect(samples.map(({ drawnTime }) => drawnTime)).toEqual([clock]);
  });

  test.each(CLOCKS)("%s in the log of a cart is %s", (text, clock) => {
    expect(circuitEventSchema.parse(eventAt(text)).at).toBe(clock);
  });

  test.each(NO_CLOCKS)("%s in the log of a cart is refused", (text) => {
    expect(circuitEventSchema.safeParse(eventAt(text)).error?.issues.map(({ path }) => path)).toEqual([
      ["at"],
    ]);
  });

  test("an event needs no time", () => {
    expect(circuitEventSchema.parse({ on: "2026-03-04", kind: "top-up" })).not.toHaveProperty("at");
  });
});

function eventAt(at: string) {
  return { on: "2026-03-04", at, kind: "top-up" };
}
