import { mkdtemp, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { DEMO_ARGUMENTS } from "../support/demo.js";
import { CARTS, REQUIREMENT } from "../support/one-circuit.js";
import { inOneLine, run, runExplained, runJson } from "../support/run-cli.js";

const HEADER =
  "sample,cart,circuit,drawn on,fluid,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid number (mg KOH/g)";

let folder: string;
const at = (name: string) => join(folder, name);

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "siltbook-"));
  await writeFile(at("carts.json"), JSON.stringify(CARTS));
  await writeFile(at("requirement.json"), JSON.stringify(REQUIREMENT));
  await writeFile(at("clean.csv"), `${HEADER}\nS-1,C-1,1,2026-03-04,MIL-PRF-83282,1300,320,40,200,0.2\n`);
  await writeFile(at("dirty.csv"), `${HEADER}\nS-1,C-1,1,2026-03-04,MIL-PRF-83282,20000,5000,640,120,0.1\n`);
});

/** Arguments of a judgement on 14 March 2026; later options win over earlier ones. */
const judging = (file: string, ...more: string[]) => [
  "judge",
  ...["--carts", at("carts.json"), "--requirement", at("requirement.json"), "--on", "2026-03-14"],
  at(file),
  ...more,
];
const judge = (file: string, ...more: string[]) => runJson(...judging(file, ...more));

describe("siltbook classify", () => {
  test("4=15000 6=1200 14=75 is ISO 4406 21/17/13, with the classes of every standard", async () => {
    const { code, json } = await runJson("classify", "--counts", "4=15000 6=1200 14=75");
    expect(code).toBe(0);
    expect(json.iso4406.code).toBe("21/17/13");
    expect(json.as4059.cumulative).toMatchObject({
      class: "11",
      bySize: { A: "11", B: "9", C: "8" },
      governing: "A",
    });
    expect(json.as4059.differential).toMatchObject({
      class: "9",
      byRange: { "6-14": "9" },
      governing: "6-14",
    });
    expect(json.nas1638).toMatchObject({ class: "9", governing: "6-14" });
    expect(json.assumptions.map((entry: { code: string }) => entry.code)).toContain("nas-1638-at-um-c");
  });

  test("the same counts per 100 mL are the same classes", async () => {
    const perMl = await runJson("classify", "--counts", "4=15000 6=1200 14=75", "--per", "1mL");
    const per100 = await runJson("classify", "--counts", "4=1500000,6=120000,14=7500", "--per", "100mL");
    const classes = ({ json }: typeof perMl) => [
      json.iso4406.code,
      json.as4059.cumulative.bySize,
      json.as4059.differential.byRange,
      json.nas1638.byRange,
    ];
    expect(classes(per100)).toEqual(classes(perMl));
  });

  test("a standard that the sizes cannot serve is null, with the reason", async () => {
    const { json } = await runJson("classify", "--counts", "4=15000");
    expect(json).toMatchObject({ iso4406: null, as4059: { differential: null }, nas1638: null });
    expect(json.as4059.cumulative.class).toBe("11");
    const messages = json.assumptions.map((entry: { message: string }) => entry.message).join("\n");
    expect(messages).toContain("ISO 4406 is not given: it needs 4, 6 and 14 µm(c)");
    expect(messages).toContain("NAS 1638 is not given");
  });

  test("beyond the last class is said, never clamped", async () => {
    const { json } = await runJson("classify", "--counts", "4=32001 6=12455.84 14=10", "--per", "1mL");
    expect(json.as4059.cumulative.bySize).toMatchObject({ A: "beyond 12", B: "12" });
    expect(json.as4059.cumulative.class).toBe("beyond 12");
  });

  test.each([
    ["4=1 6=2", "cumulative counts cannot rise with size"],
    ["4=-1", 'expected SIZE=NUMBER such as "4=15000", found "4=-1"'],
    ["4=NaN", 'found "4=NaN"'],
    ["4=10 4=9", "the size 4 µm is given twice"],
    ["", "expected SIZE=NUMBER pairs"],
  ])("counts %j end with 2 and one line that names the fault", async (counts, message) => {
    const { code, out, err } = await runExplained("classify", "--counts", counts, "--json");
    expect(code).toBe(2);
    expect(out).toBe("");
    expect(err).toMatch(/^siltbook: .*\n$/);
    expect(err).toContain(message);
  });
});

describe("siltbook circulate", () => {
  const base = [
    "circulate",
    "--volume",
    "60 L",
    "--flow",
    "45 L/min",
    "--beta",
    "4=20 6=100 14=1000",
    "--explain",
  ];

  test("with one β for all sizes each channel follows t = (V / (Q e)) ln((C0 − C∞) / (Ct − C∞))", async () => {
    const { code, json } = await runJson(
      "circulate",
      ...["--volume", "60 L", "--flow", "45 L/min", "--beta", "4=20 6=20 14=20"],
      ...["--start", "21/19/16", "--target", "17/15/12", "--ingress", "4=2e6 6=2e5 14=1e4"],
    );
    expect(code).toBe(0);
    expect(json.reachable).toBe(true);
    const rated = [
      [4, 20000, 1300, 2e6],
      [6, 5000, 320, 2e5],
      [14, 640, 40, 1e4],
    ] as const;
    const passes = rated.map(([size, start, limit, ingress]) => {
      const removal = 0.95;
      const floor = ingress / (45_000 * removal);
      const expected = Math.log((start - floor) / (limit - floor)) / removal;
      const channel = json.channels.find((entry: { sizeUmC: number }) => entry.sizeUmC === size);
      expect(channel).toMatchObject({ start, limit });
      expect(channel.floor).toBeCloseTo(floor, 9);
      expect(channel.passes).toBeCloseTo(expected, 9);
      expect(channel.minutes).toBeCloseTo((expected * 60) / 45, 9);
      return expected;
    });
    expect(json.passes).toBeCloseTo(Math.max(...passes), 9);
    // The slowest is 14 µm(c): a start of 16 times the limit, against 15.4 and 15.6.
    expect(json.governing).toBe("14");
  });

  test("with a β for each size, what the larger size lets through is no loss of the particles between two sizes", async () => {
    const { json } = await runJson(...base, "--start", "21/19/16", "--target", "17/15/12");
    // Of 20,000 per mL 1000 get through, of the 5000 above 6 µm(c) 50, of the 640 above 14 µm(c) 0.64.
    const left =
      15000 * Math.exp(-(1 - 950 / 15000) * json.passes) +
      4360 * Math.exp(-(1 - 49.36 / 4360) * json.passes) +
      640 * Math.exp(-0.999 * json.passes);
    expect(left).toBeCloseTo(1300, 6);
    expect(json.governing).toBe("4");
  });

  test("ingress above what the element removes is out of reach, with exit code 1 and the reason", async () => {
    const { code, json } = await runJson(
      ...base,
      "--start",
      "21/19/16",
      "--target",
      "17/15/12",
      "--ingress",
      "4=1e8 6=1e5 14=1e4",
    );
    expect(code).toBe(1);
    expect(json).toMatchObject({ reachable: false, passes: null, minutes: null, governing: "4" });
    expect(json.obstacle).toContain("ingress holds the level at");
  });

  test("a start inside the target needs no circulation", async () => {
    const { json } = await runJson(...base, "--start", "17/15/12", "--target", "17/15/12");
    expect(json).toMatchObject({ reachable: true, passes: 0, minutes: 0 });
  });

  test("text for the cart carries the cautions and defers to the manual", async () => {
    const { out } = await run(...base, "--start", "21/19/16", "--target", "17/15/12");
    expect(out).toContain("Siltbook advises; it never releases.");
    expect(inOneLine(out)).toContain("bypass valves open when starting and stopping");
    expect(inOneLine(out)).toContain("draw the verifying sample while the fluid is flowing");
  });

  test.each([
    ["--volume", "60", "--volume: expected a number with one of the units"],
    ["--beta", "4=0.5", "β at 4 µm(c) must be 1 or more, not 0.5"],
    ["--target", "17/15", 'write "-/17/15"'],
    ["--start", "29/15/12", '"29" in "29/15/12" is not a scale number'],
    ["--ingress", "6=5", "ingress is needed at 4 µm(c) or below"],
  ])("%s %j ends with 2 and names the fault", async (option, value, message) => {
    const { code, err } = await run(...base, "--start", "21/19/16", "--target", "17/15/12", option, value);
    expect(code).toBe(2);
    expect(err).toContain(message);
    expect(err.trim().split("\n")).toHaveLength(1);
  });
});

describe("siltbook judge", () => {
  test("all fit and every row read is exit code 0", async () => {
    const { code, json } = await judge("clean.csv");
    expect(code).toBe(0);
    expect(json.circuits).toHaveLength(1);
    expect(json.circuits[0]).toMatchObject({ cart: "C-1", circuit: "1", verdict: "fit", circulation: null });
  });

  test("a dirty circuit is exit code 1, with the time to circulate", async () => {
    const { code, json } = await judge("dirty.csv");
    expect(code).toBe(1);
    expect(json.circuits[0].verdict).toBe("circulate");
    expect(json.circuits[0].reasons[0].code).toBe("particles-outside");
    // By hand: 14 µm(c) is the slowest at one β for all sizes, ln(640 / 40) / 0.95 = 2.9185 passes of 60 L at 45 L/min.
    expect(json.circuits[0].circulation).toMatchObject({
      governing: "14",
      passes: expect.closeTo(2.9185, 4),
    });
    expect(json.circuits[0].circulation.minutes).toBeCloseTo(3.8914, 4);
  });

  test("the same sample in two files is taken once; with other results under its number it is quarantined", async () => {
    const twice = await judge("clean.csv", at("clean.csv"));
    expect(twice.json).toMatchObject({ repeatedSamples: 1, quarantine: [] });
    const clash = await judge("clean.csv", at("dirty.csv"));
    expect(clash.code).toBe(1);
    expect(clash.json.quarantine.map((issue: { code: string }) => issue.code)).toEqual([
      "conflicting-results",
      "conflicting-results",
    ]);
    expect(clash.json.circuits[0].verdict).toBe("resample");
  });

  test.each([
    ["--carts", "nowhere.json", "nowhere.json: cannot be read: there is no such file"],
    ["--on", "14.3.2026", '--on: expected a day such as 2026-03-14, found "14.3.2026"'],
    ["--requirement", "carts.json", "carts.json: expected a requirements file, found a carts file"],
  ])("%s %s ends with 2 and one clear line", async (option, value, message) => {
    const named = value.endsWith(".json") ? at(value) : value;
    const { code, out, err } = await run(...judging("clean.csv", option, named, "--json"));
    expect(code).toBe(2);
    expect(out).toBe("");
    expect(err).toContain(message);
    expect(err.trim().split("\n")).toHaveLength(1);
  });
});

describe("siltbook report", () => {
  test("writes a page that shows text from files as text, and prints what judge prints", async () => {
    const hostile = '"<script>alert(1)</script>"';
    await writeFile(
      at("hostile.csv"),
      `${HEADER}\n${hostile},C-1,1,2026-03-04,MIL-PRF-83282,1300,320,40,200,0.2\n${hostile},C-1,1,soon,x,1,1,1,1,1\n`,
    );
    const { code, json } = await runJson(
      "report",
      "--carts",
      at("carts.json"),
      "--requirement",
      at("requirement.json"),
      "--on",
      "2026-03-14",
      "--out",
      at("report.html"),
      at("hostile.csv"),
    );
    expect(code).toBe(1);
    expect(json.out).toBe(at("report.html"));
    const html = await readFile(at("report.html"), "utf8");
    expect(html).toContain("&lt;script>alert(1)&lt;/script>");
    expect(html).not.toContain("<script");
  });

  test("a row of a circuit that the carts file lacks is among those that the line of its file counts", async () => {
    const row = (sample: string, circuit: string) =>
      `${sample},C-1,${circuit},2026-03-04,MIL-PRF-83282,1000,300,20,100,0.1`;
    await writeFile(at("two-circuits.csv"), [HEADER, row("S-1", "1"), row("S-2", "7")].join("\n"));
    const { out } = await runExplained(
      "judge",
      ...["--carts", at("carts.json"), "--requirement", at("requirement.json"), "--on", "2026-03-14"],
      at("two-circuits.csv"),
    );
    expect(out).toContain("two-circuits.csv: 2 rows read, 1 sample, 1 in quarantine\n");
  });

  test("the report of one cart shows its circuits and no other, and every row in quarantine", async () => {
    const ofDemo = (...more: string[]) =>
      runJson("report", ...DEMO_ARGUMENTS, "--out", at("cart.html"), ...more);
    const { json } = await ofDemo("--cart", "QB-06");
    expect(json.circuits).toMatchObject([
      { cart: "QB-06", circuit: "fore" },
      { cart: "QB-06", circuit: "aft" },
    ]);
    const { json: whole } = await ofDemo();
    expect(json.quarantine).toEqual(whole.quarantine);
    expect(json.quarantine.length).toBeGreaterThan(0);
  });

  test("a cart that is not there is named with those that are", async () => {
    const { code, err } = await runExplained(
      "report",
      ...DEMO_ARGUMENTS,
      "--out",
      at("cart.html"),
      "--cart",
      "QB-60",
    );
    expect(code).toBe(2);
    expect(err).toContain('--cart: there is no cart "QB-60"; known are QB-01, QB-02, ');
  });

  test("a folder that does not exist ends with 2", async () => {
    const { code, err } = await runExplained(
      "report",
      "--carts",
      at("carts.json"),
      "--requirement",
      at("requirement.json"),
      "--out",
      at("no/where.html"),
      at("clean.csv"),
    );
    expect(code).toBe(2);
    expect(err).toContain("--out: ");
  });
});

describe("help and usage", () => {
  test.each([
    [["--help"]],
    [["classify", "--help"]],
    [["circulate", "--help"]],
    [["judge", "--help"]],
    [["report", "--help"]],
    [["trace", "--help"]],
  ])("%j explains with an example or the list of commands, and ends with 0", async (args) => {
    const { code, out } = await run(...args);
    expect(code).toBe(0);
    expect(out).toContain("Usage: siltbook");
    expect(out).toMatch(args.length === 1 ? /Commands:/ : /Examples?:\n {2}siltbook /);
  });

  test.each([[[]], [["measure"]], [["classify"]], [["classify", "--counts", "4=1", "--colour"]]])(
    "%j is a usage error: exit code 2, nothing on stdout",
    async (args) => {
      const { code, out, err } = await run(...args);
      expect(code).toBe(2);
      expect(out).toBe("");
      expect(err).not.toBe("");
    },
  );
});
