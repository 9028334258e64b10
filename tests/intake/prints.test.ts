import { describe, expect, test } from "vitest";
import { readBriefly } from "../support/intake/brief.js";

type Read = [title: string, samples: string[], lines: string[], map?: object];
type Refused = [title: string, message: RegExp, lines: string[], map?: object];

const READ: Read[] = [
  [
    "numbers right-aligned",
    [
      "S-1 QB-01 fore 2026-08-03 4:900 6:250 14:30 /1 w90",
      "S-2 QB-01 aft 2026-08-04 4:700 6:200 14:25 /1 w80",
    ],
    [
      "Sample   Cart   Circuit  Drawn on     4um(c)/mL  6um(c)/mL  14um(c)/mL  Water (ppm)",
      "S-1      QB-01  fore     2026-08-03        900        250          30           90",
      "S-2      QB-01  aft      2026-08-04        700        200          25           80",
    ],
  ],
  [
    "a rule below the titles and a page number",
    ["S-1 QB-01 fore 2026-08-03 4:900 6:250 /1 w90", "S-2 QB-01 aft 2026-08-04 4:700 6:200 /1 w80"],
    [
      "                 FLUID LABORATORY NORTH",
      "                 Report 17 of 2026-08-10",
      "",
      "Sample   Cart   Circuit  Drawn on     4um(c)/mL  6um(c)/mL  Water (ppm)",
      "-------  -----  -------  ----------   ---------  ---------  -----------",
      "S-1      QB-01  fore     2026-08-03         900        250           90",
      "S-2      QB-01  aft      2026-08-04         700        200           80",
      "-----------------------------------------------------------------------",
      "End of report                                                 Page 1 / 1",
    ],
  ],
  [
    "a row of units",
    [
      "S-1 QB-01 fore 2026-08-03 4:900 6:250 /1 w90 a0.08",
      "S-2 QB-01 aft 2026-08-04 4:700 6:200 /1 w80 a0.07",
    ],
    [
      "Sample   Cart   Circuit  Drawn on     4um(c)  6um(c)  Water  Acid no",
      "                                       1/mL    1/mL    ppm  mg KOH/g",
      "S-1      QB-01  fore     2026-08-03     900     250     90      0.08",
      "S-2      QB-01  aft      2026-08-04     700     200     80      0.07",
    ],
  ],
  [
    "blank cells stay blank",
    [
      "S-1 QB-01 fore 2026-08-03 4:900 6:250 /1 w90",
      "S-2 QB-01 aft 2026-08-04 4:700 /1 w80",
      "S-3 QB-02 aft 2026-08-04 w85",
    ],
    [
      "Sample   Cart   Circuit  Drawn on     4um(c)/mL  6um(c)/mL  Water (ppm)",
      "S-1      QB-01  fore     2026-08-03        900        250           90",
      "S-2      QB-01  aft      2026-08-04        700                      80",
      "S-3      QB-02  aft      2026-08-04                                 85",
    ],
  ],
  [
    "cells of several words",
    ["S-1 QB-01 fore left 2026-08-03 w90", "S-2 QB-01 aft 2026-08-04 w80"],
    [
      "Sample   Cart   Circuit    Drawn on     Appearance          Water (ppm)",
      "S-1      QB-01  fore left  2026-08-03   clear and bright             90",
      "S-2      QB-01  aft        2026-08-04   clear                        80",
    ],
  ],
  [
    "thousands parted by a blank",
    ["S-1 QB-01 fore 2026-08-03 4:12900 6:2250 /1 w90", "S-2 QB-01 aft 2026-08-04 4:1700 6:1200 /1 w80"],
    [
      "Sample   Cart   Circuit  Drawn on     4um(c)/mL  6um(c)/mL  Water (ppm)",
      "S-1      QB-01  fore     2026-08-03     12 900      2 250           90",
      "S-2      QB-01  aft      2026-08-04      1 700      1 200           80",
    ],
  ],
  [
    "titles of several words",
    ["S-1 QB-01 fore 2026-08-03 w90 a0.08", "S-2 QB-01 aft 2026-08-04 w110 a0.07"],
    [
      "Sample   Cart   Circuit  Drawn on     Water ppm  Acid no mg KOH/g",
      "S-1      QB-01  fore     2026-08-03          90              0.08",
      "S-2      QB-01  aft      2026-08-04         110              0.07",
    ],
  ],
  [
    "the header again on the next page",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-04 w80"],
    [
      "Sample   Cart   Circuit  Drawn on     Water (ppm)",
      "S-1      QB-01  fore     2026-08-03           90",
      "                                   Page 1",
      "\fSample   Cart   Circuit  Drawn on     Water (ppm)",
      "S-2      QB-01  aft      2026-08-04           80",
      "                                   Page 2",
    ],
  ],
  [
    "one line",
    ["S-1 QB-01 fore 2026-08-03 w90"],
    ["Sample  Cart   Circuit  Drawn on    Water (ppm)", "S-1     QB-01  fore     2026-08-03           90"],
  ],
  [
    "a group above the titles",
    ["S-1 QB-01 fore 2026-08-03 4:900 6:250 /1 w90", "S-2 QB-01 aft 2026-08-04 4:700 6:200 /1 w80"],
    [
      "                                       Particles per mL",
      "Sample   Cart   Circuit  Drawn on     >4um(c)  >6um(c)  Water (ppm)",
      "S-1      QB-01  fore     2026-08-03       900      250           90",
      "S-2      QB-01  aft      2026-08-04       700      200           80",
    ],
  ],
  [
    "a decimal comma",
    ["S-1 QB-01 fore 2026-08-03 4:900.5 /1 w90.5", "S-2 QB-01 aft 2026-08-04 4:700.5 /1 w80.5"],
    [
      "Sample   Cart   Circuit  Drawn on     4um(c)/mL  Water (ppm)",
      "S-1      QB-01  fore     03.08.2026       900,5         90,5",
      "S-2      QB-01  aft      04.08.2026       700,5         80,5",
    ],
  ],
  [
    "samples across",
    ["S-1 QB-01 fore 2026-08-03 4:900 /1 w90", "S-2 QB-01 aft 2026-08-04 4:700 /1 w80"],
    [
      "Sample no.        S-1         S-2",
      "Cart              QB-01       QB-01",
      "Circuit           fore        aft",
      "Date drawn        2026-08-03  2026-08-04",
      "4um(c) per mL     900         700",
      "Water (ppm)       90          80",
    ],
  ],
  [
    "a line that says that a sample failed",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-04 w80"],
    [
      "Sample   Cart   Circuit  Drawn on     Water (ppm)",
      "S-1      QB-01  fore     2026-08-03           90",
      "S-2      QB-01  aft      2026-08-04           80",
      "Sample S-2 FAILED",
    ],
  ],
  [
    "a row for each measurand",
    ["S-1 QB-01 fore 2026-08-03 w90 a0.08"],
    [
      "Sample  Cart   Circuit  Drawn on    Parameter       Result  Unit",
      "S-1     QB-01  fore     2026-08-03  Water               90  ppm",
      "S-1     QB-01  fore     2026-08-03  Acid number       0.08  mg KOH/g",
    ],
  ],
  [
    "a footer with a day",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-04 w80"],
    [
      "Sample   Cart   Circuit  Drawn on     Water (ppm)",
      "S-1      QB-01  fore     2026-08-03           90",
      "S-2      QB-01  aft      2026-08-04           80",
      "",
      "Printed 2026-08-10 14:22                Page 1 of 1",
    ],
  ],
  [
    "another table below whose columns are elsewhere",
    [
      "S-1 QB-01 fore 2026-08-03 4:900 6:250 /1",
      "S-2 QB-01 aft 2026-08-04 4:700 6:200 /1",
      "S-1 QB-01 fore 2026-08-03 w90 a0.08",
      "S-2 QB-01 aft 2026-08-04 w80 a0.07",
    ],
    [
      "Sample   Cart   Circuit  Drawn on     4um(c)/mL  6um(c)/mL",
      "S-1      QB-01  fore     2026-08-03         900        250",
      "S-2      QB-01  aft      2026-08-04         700        200",
      "",
      "Sample   Cart   Circuit  Drawn on     Water (ppm)  Acid (mg KOH/g)",
      "S-1      QB-01  fore     2026-08-03            90             0.08",
      "S-2      QB-01  aft      2026-08-04            80             0.07",
    ],
  ],
  [
    "the cart in a line above",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-04 w80"],
    [
      "Cart: QB-01",
      "",
      "Sample   Circuit  Drawn on     Water (ppm)",
      "S-1      fore     2026-08-03            90",
      "S-2      aft      2026-08-04            80",
    ],
  ],
  [
    "samples across with a column of units and a blank cell",
    ["S-1 QB-01 fore 2026-08-03 4:900 /1", "S-2 QB-01 aft 2026-08-04 4:700 /1 w80"],
    [
      "Sample no.     Unit     S-1         S-2",
      "Cart                    QB-01       QB-01",
      "Circuit                 fore        aft",
      "Date drawn              2026-08-03  2026-08-04",
      "4um(c)         1/mL     900         700",
      "Water          ppm                  80",
    ],
  ],
  [
    "a last column without an end",
    [
      "S-1 QB-01 fore 2026-08-03 w90 remark",
      "S-2 QB-01 aft 2026-08-04 w80",
      "S-3 QB-01 aft 2026-08-05 w81 remark",
    ],
    [
      "Sample   Cart   Circuit  Drawn on     Water (ppm)  Remarks",
      "S-1      QB-01  fore     2026-08-03            90  bottle half full, taken warm",
      "S-2      QB-01  aft      2026-08-04            80",
      "S-3      QB-01  aft      2026-08-05            81  ok",
    ],
  ],
  [
    "an ordinal before the sample",
    ["S-1 QB-01 fore 2026-08-03 w90", "S-2 QB-01 aft 2026-08-04 w80"],
    [
      "  No  Sample   Cart   Circuit  Drawn on     Water (ppm)",
      "   1  S-1      QB-01  fore     2026-08-03            90",
      "  10  S-2      QB-01  aft      2026-08-04            80",
    ],
  ],
  [
    "limits with a sign",
    ["S-1 QB-01 fore 2026-08-03 w50 a0.08", "S-2 QB-01 aft 2026-08-04 w80 a0.05"],
    [
      "Sample   Cart   Circuit  Drawn on     Water (ppm)  Acid (mg KOH/g)",
      "S-1      QB-01  fore     2026-08-03          < 50             0.08",
      "S-2      QB-01  aft      2026-08-04            80           < 0.05",
    ],
  ],
];

const ASIDE: Read[] = [
  [
    "a line without a day",
    ["S-1 QB-01 fore 2026-08-03 w90"],
    [
      "Sample   Cart   Circuit  Drawn on     Water (ppm)",
      "S-1      QB-01  fore     2026-08-03           90",
      "S-2      QB-01  aft                           80",
    ],
  ],
  [
    "one line of five that has slipped",
    [
      "S-1 QB-01 fore 2026-08-03 4:900 /1 w90",
      "S-2 QB-01 aft 2026-08-04 4:700 /1 w80",
      "S-3 QB-02 fore 2026-08-04 4:710 /1 w81",
      "S-5 QB-03 fore 2026-08-04 4:730 /1 w83",
    ],
    [
      "Sample   Cart   Circuit  Drawn on     4um(c)/mL  Water (ppm)",
      "S-1      QB-01  fore     2026-08-03         900           90",
      "S-2      QB-01  aft      2026-08-04         700           80",
      "S-3      QB-02  fore     2026-08-04         710           81",
      "S-4-repeat   QB-02  aft      2026-08-04         720           82",
      "S-5      QB-03  fore     2026-08-04         730           83",
    ],
  ],
  [
    "one line of five whose blanks were lost",
    [
      "S-1 QB-01 fore 2026-08-03 4:900 6:250 /1 w90",
      "S-2 QB-01 aft 2026-08-04 4:700 6:200 /1 w80",
      "S-3 QB-02 fore 2026-08-04 4:710 6:210 /1 w81",
      "S-5 QB-03 fore 2026-08-04 4:730 6:230 /1 w83",
    ],
    [
      "Sample   Cart   Circuit  Drawn on     4um(c)/mL  6um(c)/mL  Water (ppm)",
      "S-1      QB-01  fore     2026-08-03         900        250           90",
      "S-2      QB-01  aft      2026-08-04         700        200           80",
      "S-3      QB-02  fore     2026-08-04         710        210           81",
      "S-4 QB-02 aft 2026-08-04 720 82",
      "S-5      QB-03  fore     2026-08-04         730        230           83",
    ],
  ],
];

const REFUSED: Refused[] = [
  [
    "titles with one blank between them",
    /expected a header/,
    [
      "Sample Cart  Circuit Drawn-on   Water(ppm)",
      "S-1    QB-01 fore    2026-08-03         90",
      "S-2    QB-01 aft     2026-08-04         80",
    ],
  ],
  [
    "one line of two that has slipped",
    /row 3/,
    [
      "Sample   Cart   Circuit  Drawn on     4um(c)/mL  6um(c)/mL  Water (ppm)",
      "S-1      QB-01  fore     2026-08-03        900        250           90",
      "S-2-long-name   QB-01  aft      2026-08-04        700        200           80",
    ],
  ],
  [
    "a line above that contradicts the titles",
    /for 100 mL/,
    [
      "All counts are per 100 mL",
      "",
      "Sample   Cart   Circuit  Drawn on     4um(c)/mL  6um(c)/mL",
      "S-1      QB-01  fore     2026-08-03       90000      25000",
    ],
  ],
];

const textOf = (lines: readonly string[]) => `${lines.join("\n")}\n`;

describe("a print whose cells are parted by blanks alone is read by the places of its columns", () => {
  test.each<Read>(READ)("%s", async (_, expected, lines, map) => {
    const { samples, issues, file } = await readBriefly(textOf(lines), map);
    expect([samples, issues.filter((issue) => !issue.includes("FAILED"))]).toEqual([expected, []]);
    expect(file.readAs).toContain("a print with columns of blanks");
  });
});

describe("a line of a print that does not keep to its columns is set aside", () => {
  test.each<Read>(ASIDE)("%s", async (_, expected, lines, map) => {
    const { samples, aside } = await readBriefly(textOf(lines), map);
    expect([samples, aside.length]).toEqual([expected, 1]);
  });
});

describe("a print whose columns are not certain is refused with the line", () => {
  test.each<Refused>(REFUSED)("%s", async (_, message, lines, map) => {
    await expect(readBriefly(textOf(lines), map)).rejects.toThrow(message);
  });
});

test("a print without an end is refused with what to do", async () => {
  const lines = ["Sample   Cart   Circuit  Drawn on     Water (ppm)"];
  for (let number = 1; number <= 20_001; number += 1)
    lines.push(`S-${String(number).padEnd(6)} QB-01  fore     2026-08-03            90`);
  await expect(readBriefly(textOf(lines))).rejects.toThrow(
    "lab.txt: expected a print of at most 20000 lines; export the results as delimited text",
  );
});
