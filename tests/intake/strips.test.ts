import { describe, expect, test } from "vitest";
import { readBriefly } from "../support/intake/brief.js";

type Read = [title: string, samples: string[], lines: string[], map?: object];
type Refused = [title: string, message: RegExp, lines: string[], map?: object];

const READ: Read[] = [
  [
    "one blank between label and value",
    ["12 QB-01 fore 2026-08-03 4:900.5 6:250.1 14:30.2 /1"],
    [
      "SAMPLE 12",
      "CART QB-01",
      "CIRCUIT fore",
      "DATE DRAWN 2026-08-03 10:20",
      "4um(c) 900.5/mL",
      "6um(c) 250.1/mL",
      "14um(c) 30.2/mL",
    ],
  ],
  [
    "colons",
    ["12 QB-01 fore 2026-08-03 4:900 6:250 /1 w90"],
    [
      "Sample No: 12",
      "Cart: QB-01",
      "Circuit: fore",
      "Sampling date: 2026-08-03",
      "> 4 um(c): 900 /mL",
      "> 6 um(c): 250 /mL",
      "Water: 90 ppm",
    ],
  ],
  [
    "two samples",
    ["12 QB-01 fore 2026-08-03 4:900 6:250 /1", "13 QB-01 aft 2026-08-03 4:700 6:200 /1"],
    [
      "SAMPLE NO    12",
      "CART         QB-01",
      "CIRCUIT      fore",
      "DATE DRAWN   2026-08-03",
      "4um(c)/mL    900",
      "6um(c)/mL    250",
      "-------------------",
      "SAMPLE NO    13",
      "CART         QB-01",
      "CIRCUIT      aft",
      "DATE DRAWN   2026-08-03",
      "4um(c)/mL    700",
      "6um(c)/mL    200",
    ],
  ],
  [
    "runs, and their mean as the result",
    ["12 QB-01 fore 2026-08-03 4:905 6:255 /1 2 runs"],
    [
      "*** PARTICLE COUNTER ***",
      "SAMPLE NO    12",
      "CART         QB-01",
      "CIRCUIT      fore",
      "DATE DRAWN   2026-08-03",
      "RUN 1",
      "4um(c)/mL    900",
      "6um(c)/mL    250",
      "RUN 2",
      "4um(c)/mL    910",
      "6um(c)/mL    260",
      "MEAN",
      "4um(c)/mL    905",
      "6um(c)/mL    255",
    ],
  ],
  [
    "runs without a mean, whose mean is taken and said",
    ["12 QB-01 fore 2026-08-03 4:910 /1 3 runs"],
    [
      "SAMPLE NO    12",
      "CART         QB-01",
      "CIRCUIT      fore",
      "DATE DRAWN   2026-08-03",
      "RUN 1",
      "4um(c)/mL    900",
      "RUN 2",
      "4um(c)/mL    910",
      "RUN 3",
      "4um(c)/mL    920",
    ],
  ],
  [
    "runs side by side",
    ["12 QB-01 fore 2026-08-03 4:905 6:255 /1 2 runs"],
    [
      "SAMPLE NO    12",
      "CART         QB-01",
      "CIRCUIT      fore",
      "DATE DRAWN   2026-08-03",
      "Particles/mL  Run 1   Run 2   Mean",
      "4um(c)         900     910     905",
      "6um(c)         250     260     255",
    ],
  ],
  [
    "the day of the count, as a column map says, and its cart and circuit",
    ["12 QB-01 fore 2026-08-03 4:900.5 6:250.1 /1"],
    ["SAMPLE 12", "DATE 2026-08-03 10:20", "4um(c) 900.5/mL", "6um(c) 250.1/mL"],
    { columns: { DATE: { holds: "drawn" } }, fixed: { cart: "QB-01", circuit: "fore" } },
  ],
  [
    "dots between label and value",
    ["12 QB-01 fore 2026-08-03 4:900 /1 w90"],
    [
      "Sample No ......... 12",
      "Cart .............. QB-01",
      "Circuit ........... fore",
      "Date drawn ........ 2026-08-03",
      "4um(c) per mL ..... 900",
      "Water (ppm) ....... 90",
    ],
  ],
  [
    "the volume in a heading",
    ["12 QB-01 fore 2026-08-03 4:90000 6:25000 /100"],
    [
      "SAMPLE NO  12",
      "CART  QB-01",
      "CIRCUIT  fore",
      "DATE DRAWN  2026-08-03",
      "COUNTS PER 100 ML",
      "> 4um(c)  90000",
      "> 6um(c)  25000",
    ],
  ],
  [
    "sizes in a table, with counts between sizes that are not needed",
    ["12 QB-01 fore 2026-08-03 4:900 6:250 14:30 /1"],
    [
      "SAMPLE NO  12",
      "CART  QB-01",
      "CIRCUIT  fore",
      "DATE DRAWN  2026-08-03",
      "",
      "Size um(c)   Cumulative/mL   Differential/mL",
      "4            900.0           650.0",
      "6            250.0           220.0",
      "14            30.0            30.0",
    ],
  ],
  [
    "labels that are not known",
    ["12 QB-01 fore 2026-08-03 4:900 /1"],
    [
      "SAMPLE NO  12",
      "CART  QB-01",
      "CIRCUIT  fore",
      "DATE DRAWN  2026-08-03",
      "SERIAL NO  778812",
      "FLOW  25 mL/min",
      "4um(c)/mL  900",
      "ISO 4406  17/-/-",
    ],
  ],
  [
    "commas between cells",
    ["12 QB-01 fore 2026-08-03 4:905 /1 2 runs"],
    [
      "SAMPLE,12",
      "CART,QB-01",
      "CIRCUIT,fore",
      "DRAWN ON,2026-08-03",
      "RUN 1",
      "4um(c)/mL,900",
      "RUN 2",
      "4um(c)/mL,910",
      "MEAN",
      "4um(c)/mL,905",
    ],
  ],
  [
    "runs numbered of two, and an average",
    ["12 QB-01 fore 2026-08-03 4:905 /1 w90 2 runs"],
    [
      "SAMPLE NO    12",
      "CART         QB-01",
      "CIRCUIT      fore",
      "DATE DRAWN   2026-08-03",
      "RUN 1 OF 2",
      "4um(c)/mL    900",
      "RUN 2 OF 2",
      "4um(c)/mL    910",
      "AVERAGE OF 2 RUNS",
      "4um(c)/mL    905",
      "Water  90 ppm",
    ],
  ],
  [
    "sizes in a table, with runs, average and scatter",
    ["12 QB-01 fore 2026-08-03 4:905 6:255 /1 2 runs"],
    [
      "SAMPLE NO    12",
      "CART         QB-01",
      "CIRCUIT      fore",
      "DATE DRAWN   2026-08-03",
      "Counts /mL, size µm(c)   Run 1  Run 2  Average  RSD %",
      "4                          900    910      905    0.8",
      "6                          250    260      255    1.1",
    ],
  ],
  [
    "a decimal comma",
    ["12 QB-01 vorn 2026-08-03 4:900.5 6:250.1 14:30.2 /1"],
    [
      "SAMPLE NO: 12",
      "CART: QB-01",
      "CIRCUIT: vorn",
      "DATE DRAWN: 03.08.2026 10:20",
      "> 4 µm(c) /mL: 900,5",
      "> 6 µm(c) /mL: 250,1",
      "> 14 µm(c) /mL: 30,2",
    ],
  ],
  [
    "a sentence",
    ["12 QB-01 fore 2026-08-03 4:900 /1"],
    [
      "SAMPLE 12",
      "CART QB-01",
      "CIRCUIT fore",
      "DATE DRAWN 2026-08-03",
      "4um(c) 900/mL",
      "Sample received in good condition",
    ],
  ],
  [
    "limits under a heading",
    ["12 QB-01 fore 2026-08-03 4:900 /1"],
    [
      "SAMPLE 12",
      "CART QB-01",
      "CIRCUIT fore",
      "DATE DRAWN 2026-08-03",
      "4um(c) 900/mL",
      "LIMITS",
      "4um(c) 1300/mL",
    ],
  ],
  [
    "the sample before under a heading",
    ["12 QB-01 fore 2026-08-03 4:900 /1"],
    [
      "SAMPLE 12",
      "CART QB-01",
      "CIRCUIT fore",
      "DATE DRAWN 2026-08-03",
      "4um(c) 900/mL",
      "PREVIOUS SAMPLE",
      "4um(c) 1300/mL",
    ],
  ],
  [
    "counts between sizes",
    ["12 QB-01 fore 2026-08-03 4:900 6:250 14:30 /1"],
    [
      "SAMPLE 12",
      "CART QB-01",
      "CIRCUIT fore",
      "DATE DRAWN 2026-08-03",
      "4-6um(c) 650/mL",
      "6-14um(c) 220/mL",
      ">14um(c) 30/mL",
    ],
  ],
  [
    "the head of the counter above each sample",
    [
      "1 QB-01 fore 2026-08-03 4:900 /1",
      "2 QB-02 fore 2026-08-03 4:700 /1",
      "3 QB-03 fore 2026-08-03 4:500 /1",
    ],
    [
      "COUNTER 0471",
      "SAMPLE 1",
      "CART QB-01",
      "CIRCUIT fore",
      "DATE DRAWN 2026-08-03",
      "4um(c) 900/mL",
      "========",
      "COUNTER 0471",
      "SAMPLE 2",
      "CART QB-02",
      "CIRCUIT fore",
      "DATE DRAWN 2026-08-03",
      "4um(c) 700/mL",
      "========",
      "COUNTER 0471",
      "SAMPLE 3",
      "CART QB-03",
      "CIRCUIT fore",
      "DATE DRAWN 2026-08-03",
      "4um(c) 500/mL",
    ],
  ],
  [
    "a time",
    ["1 QB-01 fore 2026-08-03 4:900 /1"],
    ["SAMPLE 1", "CART QB-01", "CIRCUIT fore", "DATE DRAWN 2026-08-03", "TIME DRAWN 10:20", "4um(c) 900/mL"],
  ],
  [
    "two labels in a line",
    ["12 QB-01 fore 2026-08-03 4:900 6:250 /1"],
    [
      "Sample no: 12     Cart: QB-01",
      "Circuit: fore     Date drawn: 2026-08-03",
      "4um(c)/mL: 900    6um(c)/mL: 250",
    ],
  ],
  [
    "a class that is held against the counts",
    ["1 QB-01 fore 2026-08-03 4:900 6:250 14:30 /1"],
    [
      "SAMPLE 1",
      "CART QB-01",
      "CIRCUIT fore",
      "DATE DRAWN 2026-08-03",
      "4um(c) 900/mL",
      "6um(c) 250/mL",
      "14um(c) 30/mL",
      "ISO 4406 17/15/12",
    ],
  ],
];

const ASIDE: Read[] = [
  [
    "counts without a volume",
    [],
    [
      "SAMPLE NO  12",
      "CART  QB-01",
      "CIRCUIT  fore",
      "DATE DRAWN  2026-08-03",
      "> 4um(c)  90000",
      "> 6um(c)  25000",
    ],
  ],
  [
    "a second sample without names",
    ["12 QB-01 fore 2026-08-03 4:900 /1"],
    [
      "SAMPLE NO  12",
      "CART  QB-01",
      "CIRCUIT  fore",
      "DATE DRAWN  2026-08-03",
      "4um(c)/mL  900",
      "SAMPLE NO  13",
      "4um(c)/mL  700",
    ],
  ],
  [
    "a share of saturation",
    [],
    [
      "SAMPLE NO  12",
      "CART  QB-01",
      "CIRCUIT  fore",
      "DATE DRAWN  2026-08-03",
      "4um(c)/mL  900",
      "WATER  34 %RH",
    ],
  ],
  [
    "a run that was left out",
    [],
    [
      "SAMPLE NO    12",
      "CART         QB-01",
      "CIRCUIT      fore",
      "DATE DRAWN   2026-08-03",
      "Particles/mL  Run 1   Run 2   Mean",
      "4um(c)         900     910     905",
      "6um(c)         250             255",
    ],
  ],
  [
    "a count in thousands",
    [],
    ["SAMPLE 12", "CART QB-01", "CIRCUIT fore", "DATE DRAWN 2026-08-03", "4um(c) 9.0k/mL"],
  ],
  [
    "a second sample without its cart",
    ["1 QB-01 fore 2026-08-03 4:900 /1"],
    [
      "SAMPLE 1",
      "CART QB-01",
      "CIRCUIT fore",
      "DATE DRAWN 2026-08-03",
      "4um(c) 900/mL",
      "SAMPLE 2",
      "CIRCUIT aft",
      "DATE DRAWN 2026-08-03",
      "4um(c) 700/mL",
    ],
  ],
  [
    "a blank result between a label and its limit",
    [],
    [
      "SAMPLE NO    12",
      "CART         QB-01",
      "CIRCUIT      fore",
      "DATE DRAWN   2026-08-03",
      "Parameter    Limit    Result",
      "4um(c)/mL    1300     900",
      "6um(c)/mL    250",
    ],
  ],
  [
    "a table below it",
    ["12 QB-01 fore 2026-08-03 4:900 /1"],
    [
      "SAMPLE NO    12",
      "CART         QB-01",
      "CIRCUIT      fore",
      "DATE DRAWN   2026-08-03",
      "4um(c)/mL    900",
      "",
      "Sample   Cart   Circuit  Drawn on     Water (ppm)",
      "S-1      QB-01  fore     2026-08-03            90",
    ],
  ],
];

const REFUSED: Refused[] = [
  [
    "a day of what, and no cart",
    /DATE|cart/i,
    ["SAMPLE 12", "DATE 2026-08-03 10:20", "4um(c) 900.5/mL", "6um(c) 250.1/mL"],
  ],
];

const textOf = (lines: readonly string[]) => `${lines.join("\n")}\n`;

describe("the strip of a counter is read label by label", () => {
  test.each<Read>(READ)("%s", async (_, expected, lines, map) => {
    const { samples, issues } = await readBriefly(textOf(lines), map);
    expect([samples, issues]).toEqual([expected, []]);
  });
});

describe("a sample of a strip that cannot be read waits for a person", () => {
  test.each<Read>(ASIDE)("%s", async (_, expected, lines, map) => {
    const { samples, aside } = await readBriefly(textOf(lines), map);
    expect([samples, aside.length > 0]).toEqual([expected, true]);
  });
});

describe("a strip that leaves open what its results are of is refused with what to do", () => {
  test.each<Refused>(REFUSED)("%s", async (_, message, lines, map) => {
    await expect(readBriefly(textOf(lines), map)).rejects.toThrow(message);
  });
});
