// What people write instead of siltbook's own form: taken where only one thing can be meant, otherwise answered with an example.
import { describe, expect, test } from "vitest";
import { formatTarget, parseTarget } from "../../src/cleanliness/index.js";
import { readInterim } from "../../src/cli/commands/circulate/circulate-interim.js";
import { tryParseQuantity } from "../../src/units/index.js";
import { run, runJson } from "../support/run-cli.js";

describe("a target", () => {
  test.for([
    ["NAS 7", "NAS 1638 7"],
    ["NAS 1638 Class 7", "NAS 1638 7"],
    ["NAS1638-7", "NAS 1638 7"],
    ["NAS7", "NAS 1638 7"],
    ["nas 1638: 00", "NAS 1638 00"],
    ["AS4059 7A-F", "AS4059 cumulative 7A-F"],
    ["AS4059F 7B/6C-F", "AS4059 cumulative 7B/6C-F"],
    ["SAE AS 4059 class 7A-F", "AS4059 cumulative 7A-F"],
    ["AS4059 differential class 7", "AS4059 differential 7"],
    ["ISO 21/19/16", "ISO 4406 21/19/16"],
    ["ISO 4406:2017 17/15/12", "ISO 4406 17/15/12"],
    ["17-15-12", "ISO 4406 17/15/12"],
    ["17 / 15 / 12", "ISO 4406 17/15/12"],
    ["navy 3", "NAVAIR 01-1A-17 3"],
  ])("%s is %s", ([written, meant]) => {
    expect(formatTarget(parseTarget(written as string))).toBe(meant);
  });

  test.for([
    ["19/16", 'write "-/19/16", for 4, 6 and 14 µm(c) a code such as "21/19/16"'],
    ["AS4059 7", 'write "AS4059 cumulative 7A-F" or "AS4059 differential 7"'],
    ["AS 4059 Class 7", "does not say which table of AS4059"],
    ["class 7", '"NAS 1638 7"'],
    ["NAS 1639 7", "is not a cleanliness target"],
    ["NAS 16387", "is not a cleanliness target"],
    // By the edition of 1987 the numbers stand for other sizes.
    ["ISO 4406:1987 17/15/12", "is not"],
    ["17-15", "is not a cleanliness target"],
  ])("%s is answered with what is missing: %s", ([written, says]) => {
    expect(() => parseTarget(written as string)).toThrow(says);
  });
});

describe("an interim sample", () => {
  test.for([
    ["8 min NAS 8", "8 min: NAS 1638 8"],
    ["8 min: nas 1638 class 8", "8 min: NAS 1638 8"],
    ["480 s: NAS8", "8 min: NAS 1638 8"],
    ["8: NAS 8", "8 min: NAS 1638 8"],
    ["8 min 19/17/14", "8 min: 19/17/14"],
    ["8: 19/17/14", "8 min: 19/17/14"],
    ["8 19-17-14", "8 min: 19/17/14"],
    ["8 min: ISO 4406:2017 19/17/14", "8 min: 19/17/14"],
    ["8 min AS4059 7A-F", "8 min: AS4059 cumulative 7A-F"],
    ["8 mins 4=9000 6=800", "8 min: 4=9000 6=800"],
  ] as const)("%s is %s, and a bare number is said to be minutes", ([written, meant]) => {
    const read = readInterim({ interim: [written] });
    expect(read.value).toEqual(readInterim({ interim: [meant] }).value);
    const isBare = /^8(:| (?!m))/.test(written);
    expect(read.assumptions.filter(({ code }) => code === "bare-minutes")).toHaveLength(isBare ? 1 : 0);
  });

  test.for([
    ["8 min", 'TIME: CLASS such as "10 min: 19/16/13" or "10 min: NAS 8", found "8 min"'],
    ["NAS 8", 'found "NAS 8"'],
    ["19/17/14", 'found "19/17/14"'],
    ["8 min: AS4059 7", 'write "AS4059 cumulative 7A-F" or "AS4059 differential 7"'],
    ["8 min: class 8", '"NAS 1638 7"'],
    ["8 min: 19/17", 'write "-/19/17"'],
    ["8 min: 6=", "--interim: expected SIZE=NUMBER"],
  ] as const)("%s is answered with what is missing: %s", ([written, says]) => {
    expect(() => readInterim({ interim: [written] })).toThrow(says);
  });
});

describe("a filtration ratio", () => {
  const plan = (beta: string) =>
    runJson(
      ...["circulate", "--volume", "25 USG", "--flow", "20 usgpm", "--beta", beta],
      ...["--start", "21/19/16", "--target", "17/15/12"],
    );

  test("in each of the usual ways is the same", async () => {
    const [first, ...others] = await Promise.all(
      [
        "4=200 6=500",
        "β4(c)=200 β6(c)=500",
        "4:200, 6:500",
        "β4 = 200; β6 = 500",
        "4 µm(c) = 200 6um=500",
      ].map(async (beta) => (await plan(beta)).json.minutes),
    );
    expect(first).toBeGreaterThan(0);
    for (const other of others) expect(other).toBe(first);
  });

  test("a size without the word absolute or nominal is asked for a ratio, with an example", async () => {
    const { code, err } = await run(
      ...["circulate", "--volume", "25 USG", "--flow", "20 usgpm", "--beta", "3 µm"],
      ...["--start", "21/19/16", "--target", "17/15/12"],
    );
    expect(code).toBe(2);
    expect(err).toContain('expected its βx(c) by ISO 16889, such as "4=200", or "β10(c) = 1000"');
  });

  test("the words of a rating are taken by their published meaning, which is said", async () => {
    const { out } = await run(
      ...["circulate", "--volume", "25 USG", "--flow", "20 usgpm", "--beta", "3 µm absolute"],
      ...["--start", "21/19/16", "--target", "17/15/12", "--explain"],
    );
    expect(out).toContain('the filter element is rated "3 µm absolute" and no β was stated');
  });
});

test.for([
  ["25 USG", "volume", 94.635],
  ["25 usgal", "volume", 94.635],
  ["25 US gallons", "volume", 94.635],
  ["20 usgpm", "flow", 75.708],
  ["75 l/mn", "flow", 75],
  ["75 litres/min", "flow", 75],
] as const)("%s is a %s of %s in the kept unit, without an assumption", ([written, kind, value]) => {
  const reading = tryParseQuantity(written, kind);
  expect(reading.kind).toBe("read");
  if (reading.kind === "read") expect(reading.value).toBeCloseTo(value, 3);
});

describe("files and names", () => {
  const judge = (carts: string, requirement: string, ...more: string[]) =>
    run(
      "judge",
      "--carts",
      carts,
      "--requirement",
      requirement,
      "--on",
      "2026-11-20",
      "datasets/demo/lab-tidy.csv",
      ...more,
    );
  const [CARTS, REQUIREMENT] = ["datasets/demo/carts.json", "datasets/demo/requirement.json"];

  test("two files given in each other's place are named as such", async () => {
    const { code, err } = await judge(REQUIREMENT, CARTS);
    expect(code).toBe(2);
    expect(err).toMatch(/expected a (carts|requirements) file, found a (requirements|carts) file/);
    expect(err.trim().split("\n")).toHaveLength(1);
  });

  test("the name of a cart matches without regard to case, and only as a whole", async () => {
    expect((await judge(CARTS, REQUIREMENT, "--cart", "qb-02")).out).toContain("QB-02 fore");
    expect((await judge(CARTS, REQUIREMENT, "--cart", "qb-0")).err).toContain('there is no cart "qb-0"');
  });

  test("a volume that may show thousands is not read from a carts file either", async () => {
    const { findNamed, cartSchema } = await import("../../src/samples/index.js");
    const cart = (volume: string) => ({
      cart: "C-1",
      circuits: [
        {
          circuit: "main",
          serves: "main system",
          fluid: "MIL-PRF-83282",
          volume,
          flow: "45 L/min",
          element: { position: "pressure", betas: [{ sizeUmC: 4, beta: 20 }] },
          events: [],
        },
      ],
    });
    expect(cartSchema.safeParse(cart("60.5 L")).success).toBe(true);
    expect(JSON.stringify(cartSchema.safeParse(cart("60.000 L")).error?.issues)).toContain(
      "may be 60 or 60000",
    );
    // Two names that differ only in case are not chosen between.
    expect(findNamed([{ cart: "a-1" }, { cart: "A-1" }], ({ cart: name }) => name, "A-1")?.cart).toBe("A-1");
    expect(findNamed([{ cart: "aB" }, { cart: "Ab" }], ({ cart: name }) => name, "AB")).toBeUndefined();
  });
});
