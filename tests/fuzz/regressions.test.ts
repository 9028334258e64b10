import { describe, expect, test } from "vitest";
import { NAS_1638, parseTarget } from "../../src/cleanliness/index.js";
import { subtractAsWritten } from "../../src/counts/index.js";
import { drawClassTable, isPicture, renderPng } from "../../src/figures/index.js";
import { casesOf, judgeCarts, recompute, recordOf } from "../../src/fitness/index.js";
import {
  bytesInMemory,
  describeIssue,
  findTables,
  parseColumnMap,
  quarantineFilesOf,
  readLabFile,
} from "../../src/intake/index.js";
import { readPlace } from "../../src/intake/quarantine/quarantine-place.js";
import { richOf } from "../../src/notebook/index.js";
import { cartsFileSchema, requirementsFileSchema, sampleSchema } from "../../src/samples/index.js";
import { tryParseQuantity } from "../../src/units/index.js";
import { checkCall } from "./calls.js";
import { CARTS, COLUMN_MAP, LAB_TEXT, REQUIREMENTS, SAMPLES } from "./documents.js";
import { runInWorld } from "./world.js";

// Every fault that fuzzing has found, with the smallest input that showed it and what has to happen.

describe("found in parsers", () => {
  test.each([
    ["9e307 kg", "mass"],
    ["1e308 %", "waterContent"],
    ["1e307 hours", "time"],
  ] as const)("a quantity without end in the kept unit is refused: %s", (text, kind) => {
    expect(tryParseQuantity(text, kind).kind).toBe("refused");
  });

  test("a number beyond all that are held is named as it is in a JSON file", async () => {
    const sample =
      '{"sample":"S-1","cart":"C-1","circuit":"fore","drawn on":"2026-03-04","water (mg/kg)":1e999}';
    const { quarantine } = await readLabFile("lab.json", new TextEncoder().encode(`[${sample},[1e999]]`));
    const said = quarantine.flatMap(({ issues }) => issues.map((issue) => describeIssue(issue)));
    expect(said).toHaveLength(2);
    expect(said[0]).toMatch(/column "water \(mg\/kg\)": .*, found "1e999"$/);
    expect(said[1]).toMatch(/, found "\["1e999"\]"$/);
  });

  test("a target without an upper limit is named whole", () => {
    expect(() => parseTarget("17/15/*")).toThrow('"17/15/*": * has no upper limit and cannot be a target');
  });

  test("a title with counts for more than a thousand litres is questioned", async () => {
    const text = LAB_TEXT.replaceAll("per mL", "per 4294967296 mL");
    expect(text).not.toBe(LAB_TEXT);
    await expect(readLabFile("lab.csv", new TextEncoder().encode(text))).rejects.toThrow(
      'has to settle "4 µm(c) per 4294967296 mL": do the counts stand for 1 mL or for 100 mL?',
    );
  });

  test("a title with particles of more than a centimetre is questioned", async () => {
    const text = LAB_TEXT.replace("6-14 µm", "6-9007199254740993.14 µm");
    expect(text).not.toBe(LAB_TEXT);
    await expect(readLabFile("lab.csv", new TextEncoder().encode(text))).rejects.toThrow(
      /has to settle "6-9007199254740993.14 µm ISO.*": which size of particles is it, of at most 10000 µm\?/,
    );
  });

  test("a column map with particles of more than a centimetre is refused", () => {
    const count = { holds: "count", fromUm: 10_001, scale: "um(c)", volumeMl: 1 };
    const map = { ...COLUMN_MAP, columns: { "10001 µm": count } };
    expect(() => parseColumnMap("map.json", JSON.stringify(map))).toThrow(/fromUm: expected .*10000/);
  });

  test("the smallest number there is, counted, has a margin to the limit", () => {
    expect(subtractAsWritten(160, 5e-324)).toBe(160);
  });

  test.each(["sampleAgeDaysMax", "sampleEveryDays"])(
    "a requirement of more than a hundred years is refused: %s",
    (name) => {
      const [first, ...others] = REQUIREMENTS.systems;
      const file = { ...REQUIREMENTS, systems: [{ ...first, [name]: 2_147_483_648 }, ...others] };
      const { success, error } = requirementsFileSchema.safeParse(file);
      expect(success).toBe(false);
      expect(error?.issues.map(({ path }) => path.join("."))).toEqual([`systems.0.${name}`]);
    },
  );

  test("the map beside a quarantine file can be read when the map of the file writes a title otherwise", async () => {
    const text = LAB_TEXT.replace("sample,cart", "Sample,CART").replace("1300", "N/A?");
    const source = bytesInMemory("lab.csv", new TextEncoder().encode(text));
    const map = parseColumnMap("map.json", JSON.stringify(COLUMN_MAP));
    const { quarantine } = await readLabFile("lab.csv", new TextEncoder().encode(text), { map });
    expect(quarantine).toHaveLength(1);
    const [table] = (await findTables(source, map)).tables;
    const made = table && quarantineFilesOf(table, quarantine, "0".repeat(64), map)[0];
    const again = parseColumnMap("quarantine.map.json", JSON.stringify(made?.map));
    expect(Object.keys(again.columns)).toContain("CART");
    expect(Object.keys(again.columns)).not.toContain("cart");
    const back = await readLabFile("q.csv", new TextEncoder().encode(made?.csv), { map: again });
    expect(back.quarantine).toHaveLength(1);
  });

  test("a verdict judged again from its record is the same, in whatever order the requirement names the metals", () => {
    const fleet = {
      carts: cartsFileSchema.parse(CARTS).carts,
      requirements: requirementsFileSchema.parse(REQUIREMENTS).systems,
      samples: SAMPLES.map((sample) => sampleSchema.parse(sample)),
      unread: [],
      on: "2026-03-14",
    };
    const [input] = casesOf(fleet);
    const [judged] = judgeCarts(fleet);
    if (input === undefined || judged === undefined) throw new Error("nothing was judged");
    expect(Object.keys(input.requirement?.metalsPpmMax ?? {})).toEqual(["iron", "calcium"]);
    const { inputs, verdict } = recordOf(input, judged.verdict, REQUIREMENTS);
    expect(recordOf(input, recompute(inputs), REQUIREMENTS).verdict).toBe(verdict);
  });

  test("a table in a notebook shows what JSON holds: null, true and no number", () => {
    const { text } = richOf([{ a: null, b: true, c: Number.NaN, d: 1.23456 }]);
    expect([...text.matchAll(/<td[^>]*>([^<]*)</g)].map(([, cell]) => cell)).toEqual([
      "–",
      "true",
      "–",
      "1.235",
    ]);
  });

  test.each(["R&D", "<b>", "&lt;", 'a "b"', "&amp;<!--"])(
    "a picture named %j is XML, and named so",
    (name) => {
      const svg = drawClassTable(NAS_1638, `limits ${name}`);
      expect(isPicture(svg)).toBe(true);
      expect(/aria-label="([^"]*)"/.exec(svg)?.[1]).toBe(
        `limits ${name.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;")}`,
      );
      expect(renderPng(svg, { scale: 0.1 }).length).toBeGreaterThan(100);
    },
  );

  test.each([
    '<svg><a href=\n\n">y</a></svg>',
    "<svg><g x=1></g></svg>",
    "<svg><g <g></g></svg>",
    "<svg><!-- <a> --></svg>",
  ])("what a browser could read in another way is no picture: %j", (text) => {
    expect(isPicture(text)).toBe(false);
  });

  test("a quarantine file of blocks has a place for a name that a block lacks", async () => {
    const text =
      "Sample no.:,S-1\nCircuit:,fore\nDate drawn:,2026-03-04\nWater,120,mg/kg\nAcid number,0.1,mg KOH/g\n";
    const bytes = new TextEncoder().encode(text);
    const { quarantine } = await readLabFile("lab.csv", bytes);
    const [table] = (await findTables(bytesInMemory("lab.csv", bytes))).tables;
    const made = table && quarantineFilesOf(table, quarantine, "0".repeat(64), undefined)[0];
    expect(made?.csv.split("\n")[0]).toContain(",cart");
    const map = parseColumnMap("map.json", JSON.stringify(made?.map));
    const corrected = made?.csv.trim().replace(/$/, "C-1\n");
    const back = await readLabFile("q.csv", new TextEncoder().encode(corrected), { map });
    expect(back.samples).toMatchObject([
      { sample: "S-1", cart: "C-1", circuit: "fore", waterPpm: { value: 120 } },
    ]);
  });

  test.each(["row 1000000000000000000000 #3f2a9c1b2d3e", "row 1++2 #3f2a9c1b2d3e", "row + #3f2a9c1b2d3e"])(
    "a quarantine place whose rows are none is no place: %s",
    (place) => {
      expect(readPlace(`march.csv ${place}`)).toBeUndefined();
    },
  );

  test.each(["\0", "\u001b[2J", "\ud800", "\ufffe"])("a picture named %j is XML all the same", (name) => {
    const svg = drawClassTable(NAS_1638, `limits ${name}`);
    expect(svg).toContain("limits \ufffd");
    expect(renderPng(svg, { scale: 0.1 }).length).toBeGreaterThan(100);
  });
});

const CIRCULATE = ["circulate", "--volume", "60 L", "--flow", "45 L/min", "--beta", "4=20 6=100 14=1000"];
const WITH_INTERIM = [...CIRCULATE, "--target", "17/15/12", "--interim", "4 min: 4=7800 6=1900 14=240"];

describe("found in commands", () => {
  test.each([
    // Took more than two minutes; the tails of a count known only as a limit were summed term by term.
    [...WITH_INTERIM, "--start", "21/19/16", "--confidence", "95 %"],
    [...WITH_INTERIM, "--start", "28/28/28", "--uncertainty", "lab=40%", "--draws", "50"],
    [...WITH_INTERIM, "--start", "4=20000 6=5000 14=640", "--interim", "8 min: 4=<7800 6=>1900 14=<240"],
  ])("circulate comes to an end with limit values: %s", async (...words) => {
    expect(await checkCall(words)).toBe(true);
  });

  test("exchange: an acid number below zero is refused by its option", async () => {
    const { code, err } = await runInWorld([
      ...["exchange", "--volume", "60 L", "--acid", "-1e5 mg KOH/g", "--acid-limit", "1.5 mg KOH/g"],
      ...["--fresh-acid", "0.05 mg KOH/g"],
    ]);
    expect([code, err]).toEqual([2, 'siltbook: --acid: expected 0 or more, found "-1e5 mg KOH/g"\n']);
  });

  test("circulate: more particles than can be counted are refused by name", async () => {
    const words = [...CIRCULATE, "--target", "17/15/12", "--start", "4=20000 6=5000 14=640"];
    const { code, err } = await runInWorld([...words, "--interim", "4 min: 4=<1e300 6=1900 14=240"]);
    expect(code).toBe(2);
    expect(err).toContain(
      "the sample at 4 minutes must have 0 to 1000000000 counted particles at 4 µm(c), not 1e+300",
    );
  });

  test.each(["b.siltbook", "lab.csv", "carts.json", "folder/../requirement.json"])(
    "report does not write over a file that it reads: %s",
    async (out) => {
      const files = ["--carts", "carts.json", "--requirement", "requirement.json", "lab.csv"];
      const way = out === "b.siltbook" ? ["--book", out] : files;
      const ended = await runInWorld(["report", ...way, "--out", out]);
      expect(ended).toMatchObject({ code: 2, out: "", changed: [], made: [] });
      expect(ended.err).toContain(`--out: ${out} is one of the files that are read`);
    },
  );

  test("report does not write over a sample book that it does not read", async () => {
    const files = ["--carts", "carts.json", "--requirement", "requirement.json", "lab.csv"];
    const { code, err, changed } = await runInWorld(["report", ...files, "--out", "b.siltbook"]);
    expect([code, changed]).toEqual([2, []]);
    expect(err).toContain("--out: b.siltbook is a database, such as a sample book");
  });

  test.each([
    [["--draws", "100000000"], "draws must be a whole number from 1 to 1000000, not 100000000"],
    [["--seed", "9".repeat(400)], "--seed: expected a whole number of at most 15 figures"],
    [["--ingress", "4=1e309"], '--ingress: expected SIZE=NUMBER such as "4=15000", found "4=1e309"'],
    [["--bypass", "9".repeat(400)], "--bypass: expected a fraction"],
    [["--interim", "4 min: 4=<1e309"], '--interim: expected SIZE=NUMBER such as "4=9000" or "14=<2"'],
  ])("circulate: a number without end is refused as it was written: %j", async (option, said) => {
    const words = [
      ...CIRCULATE,
      "--target",
      "17/15/12",
      "--start",
      "21/19/16",
      "--confidence",
      "95 %",
      ...option,
    ];
    const { code, err } = await runInWorld(words);
    expect(code).toBe(2);
    expect(err).toContain(said);
  });

  test.each([
    [
      ["circulate", "--flow", "1e-320 L/min"],
      '--flow: expected a value of 1e-12 to 1000000000000 L/min, found "1e-320 L/min"',
    ],
    [
      ["classify", "--counts", "4=9 6=5 14=1", "--raw-volume", "1e307 mL"],
      "--raw-volume: expected a value of",
    ],
    [["exchange", "--volume", "60 L", "--water", "1e300 %"], "--water: expected a value of"],
  ])("a quantity that nothing on a cart has is refused as it was written: %j", async (words, said) => {
    const others = ["--volume", "60 L", "--beta", "4=20", "--start", "21/19/16", "--target", "17/15/12"];
    const more = words[0] === "circulate" ? others : ["--water-limit", "500 ppm", "--fresh-water", "150 ppm"];
    const { code, err } = await runInWorld([...words, ...(words[0] === "classify" ? [] : more)]);
    expect(code).toBe(2);
    expect(err).toContain(said);
  });

  test.each(["--horizon", "--longest"])(
    "trend: %s of more than a hundred years is refused by name",
    async (option) => {
      const way = ["--carts", "carts.json", "--cart", "C-1", "--circuit", "fore", "--measure", "water"];
      const { code, err } = await runInWorld(["trend", ...way, option, "2147483648", "lab.csv"]);
      expect(code).toBe(2);
      expect(err).toMatch(
        new RegExp(
          `^siltbook: ${option}: expected days, such as \\d+, and at most 36525, found "2147483648"`,
        ),
      );
    },
  );

  // Tails of so many particles took minutes.
  test.each([
    [["--raw-volume", "4294967296 L"], "the counted volume must be more than 0 mL and at most 1000000 mL"],
    [
      ["--raw-volume", "100 L"],
      "at most 1000000000 particles can have been counted, and 15000 in 1 mL at 4 µm are more in the 100000 mL",
    ],
  ])("classify: more than can be counted is refused: %j", async (option, said) => {
    const { code, err } = await runInWorld(["classify", "--counts", "4=15000 6=1200 14=75", ...option]);
    expect(code).toBe(2);
    expect(err).toContain(said);
  });

  test("classify: counts without end in the volume counted are told as they were given", async () => {
    const counts = ["--counts", "4=1e308 6=1200 14=75", "--blank", "4=150 6=12 14=1"];
    const { code, err } = await runInWorld(["classify", ...counts, "--raw-volume", "25 mL"]);
    expect(code).toBe(2);
    expect(err).toContain("and 1e+308 in 1 mL at 4 µm are more in the 25 mL counted");
  });

  test("trend: a limit of four hundred figures is refused by name", async () => {
    const way = ["--carts", "carts.json", "--cart", "C-1", "--circuit", "fore", "--measure", "water"];
    const { code, err } = await runInWorld(["trend", ...way, "--lower-limit", "9".repeat(400), "lab.csv"]);
    expect(code).toBe(2);
    expect(err).toMatch(/^siltbook: --lower-limit: expected /);
  });

  test.each([
    ["trend", "--horizon", "0x10"],
    ["trend", "--risk", "0b11"],
    ["classify", "--dilution", "0x10"],
  ])("%s: %s %s is no number that people write", async (command, option, text) => {
    const way =
      command === "trend"
        ? ["--book", "b.siltbook", "--cart", "C-1", "--circuit", "fore"]
        : ["--counts", "4=15000 6=1200 14=75", "--raw-volume", "25 mL"];
    const { code, err } = await runInWorld([command, ...way, option, text]);
    expect(code).toBe(2);
    expect(err).toMatch(new RegExp(`^siltbook: ${option}: expected .*found "${text}"`));
  });

  test.each(["columns", "judge"])("%s: a file without a name is named as such", async (command) => {
    const fleet = command === "judge" ? ["--carts", "carts.json", "--requirement", "requirement.json"] : [];
    const { code, err } = await runInWorld([command, ...fleet, ""]);
    expect([code, err]).toEqual([2, 'siltbook: "": cannot be read: expected the name of a file\n']);
  });
});
