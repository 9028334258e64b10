import { expect, test } from "vitest";
import { bytesInMemory, openLabFile } from "../../src/intake/index.js";

const HEADER = "sample;cart;circuit;drawn on;4 µm(c) per mL;water (ppm)";
/** Shows a decimal comma and days that stand before their month. */
const LAST = "S-9;QB-01;fore;14.03.2026;90,5;80";

/** How often the rows of a text are gone through until each has its fate, and what became of the first. */
async function timesThrough(...lines: string[]) {
  const bytes = bytesInMemory("lab.csv", new TextEncoder().encode([HEADER, ...lines].join("\n")));
  let times = 0;
  const source = {
    ...bytes,
    chunks: () => {
      times += 1;
      return bytes.chunks();
    },
  };
  const opened = await openLabFile(source, { today: "2026-12-31" });
  const before = times;
  const [first] = [...opened.fates()].filter(({ kind }) => kind === "sample");
  const sample = first?.kind === "sample" ? first.fate.sample : undefined;
  return { times: times - before, count: sample?.counts?.counts[0]?.count, day: sample?.drawnOn };
}

test.each<[string, string, Awaited<ReturnType<typeof timesThrough>>]>([
  [
    "whole numbers and a day year first: once",
    "S-1;QB-01;fore;2026-03-04;1500;80",
    { times: 1, count: 1500, day: "2026-03-04" },
  ],
  [
    "one decimal and the name of a month: once",
    "S-1;QB-01;fore;4 March 2026;90.5;80",
    { times: 1, count: 90.5, day: "2026-03-04" },
  ],
  // With the comma that the last row shows, 1.500 is fifteen hundred.
  [
    "a point before three figures: twice",
    `S-1;QB-01;fore;2026-03-04;1.500;80\n${LAST}`,
    { times: 2, count: 1500, day: "2026-03-04" },
  ],
  [
    "a day with its month in figures: twice",
    `S-1;QB-01;fore;04.03.2026;1500;80\n${LAST}`,
    { times: 2, count: 1500, day: "2026-03-04" },
  ],
])("a file is gone through as often as what is in it needs: %s", async (_, lines, expected) => {
  expect(await timesThrough(lines)).toEqual(expected);
});
