import { mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { beforeAll, describe, expect, test } from "vitest";
import { inOneLine, run, runExplained, runJson } from "../support/run-cli.js";

const FILES = ["lab-tidy.csv", "lab-semicolon.csv", "lab-long.csv"].map((name) => `datasets/demo/${name}`);
const CARTS = ["--carts", "datasets/demo/carts.json"];
const REQUIREMENT = ["--requirement", "datasets/demo/requirement.json"];
const of = (cart: string, circuit: string, on = "2026-11-20") => [
  ...["--cart", cart],
  ...["--circuit", circuit],
  ...["--on", on],
];

describe("siltbook trend --json", () => {
  test("of a rise: slope, interval, chance, forecast with its interval, and exit code 1", async () => {
    const { code, json } = await runJson(
      ...["trend", ...FILES, ...CARTS, ...REQUIREMENT, ...of("QB-03", "fore", "2026-03-01")],
    );
    expect(code).toBe(1);
    expect(json).toMatchObject({
      cart: "QB-03",
      circuit: "fore",
      measure: "water",
      unit: "ppm by mass",
      n: 15,
      forecast: { kind: "crosses" },
    });
    const [low, high] = json.slopeInterval;
    expect(low).toBeLessThan(json.slopePerYear);
    expect(high).toBeGreaterThan(json.slopePerYear);
    expect(json.pValue).toBeLessThan(0.001);
    const { date, earliest, latest } = json.forecast;
    expect([earliest, date, latest]).toEqual([earliest, date, latest].sort());
    // The demonstration's own water passes 8000 ppm in June 2026; the forecast of March holds it.
    expect(earliest < "2026-06-27" && "2026-06-27" < latest).toBe(true);
    expect(json.nextSampleDue).toMatch(/^2026-04-\d\d$/);
    expect(json.segments).toMatchObject([{ startedBy: null, n: 15 }]);
    expect(json.notes.map((note: { code: string }) => note.code)).toContain("last-two-results");
    expect(json.cautions[0].message).toMatch(/never releases/);
  });

  test("of a circuit whose fluid is to be changed next month: the same until then, and an empty segment since", async () => {
    const carts = JSON.parse(await readFile("datasets/demo/carts.json", "utf8"));
    const fore = carts.carts
      .find(({ cart }: { cart: string }) => cart === "QB-03")
      .circuits.find(({ circuit }: { circuit: string }) => circuit === "fore");
    fore.events.push({ on: "2026-04-01", kind: "fluid-change" });
    await mkdir("out/cli-trend-planned", { recursive: true });
    await writeFile("out/cli-trend-planned/carts.json", JSON.stringify(carts));
    const trend = (file: string, on: string) =>
      runJson(...["trend", ...FILES, "--carts", file, ...REQUIREMENT, ...of("QB-03", "fore", on)]);
    const [today, planned, later] = [
      await trend("datasets/demo/carts.json", "2026-03-01"),
      await trend("out/cli-trend-planned/carts.json", "2026-03-01"),
      await trend("out/cli-trend-planned/carts.json", "2026-04-01"),
    ];
    expect(planned).toEqual(today);
    expect(later.json.segments).toMatchObject([
      { startedBy: null },
      { startedBy: { on: "2026-04-01" }, n: 0 },
    ]);
    await rm("out/cli-trend-planned", { recursive: true });
  });

  test("of a circuit that stays far from its limit: exit code 0", async () => {
    const { code, json } = await runJson(
      ...["trend", ...FILES, ...CARTS, ...REQUIREMENT, ...of("QB-04", "aft")],
    );
    expect(code).toBe(0);
    expect(json.forecast.kind).not.toBe("crosses");
  });

  test("of a circuit whose latest result is beyond the limit, though its line is not: exit code 1", async () => {
    const { code, json } = await runJson(
      ...["trend", ...FILES, ...CARTS, ...REQUIREMENT, ...of("QB-06", "aft"), "--measure", "particles-4"],
    );
    expect(json).toMatchObject({ latestBeyond: true, beyondNow: false });
    expect(json.forecast.kind).not.toBe("crosses");
    expect(code).toBe(1);
  });

  test("after a fluid change: the current segment is empty, what cannot be told is null", async () => {
    const { code, json } = await runJson(
      ...["trend", ...FILES, ...CARTS, ...REQUIREMENT, ...of("QB-05", "fore")],
    );
    expect(code).toBe(0);
    expect(json).toMatchObject({
      n: 0,
      slopePerYear: null,
      slopeInterval: null,
      pValue: null,
      forecast: { kind: "cannot-tell", date: null, earliest: null, latest: null },
      nextSampleDue: "2026-11-20",
    });
    expect(json.segments.map((segment: { n: number }) => segment.n)).toEqual([expect.any(Number), 0]);
    expect(json.segments[0].slopePerYear).toBeGreaterThan(500);
  });

  test("of particles: one channel governs, all three are there, in ISO 4406 codes", async () => {
    const { json } = await runJson(
      ...["trend", ...FILES, ...CARTS, ...REQUIREMENT, ...of("QB-06", "aft"), "--measure", "particles"],
    );
    expect(json.unit).toBe("ISO 4406 codes");
    expect(json.channels.map((entry: { measure: string }) => entry.measure)).toEqual([
      "particles-4",
      "particles-6",
      "particles-14",
    ]);
  });

  test("with --limit the requirement's limit gives way, and the unit assumed is said", async () => {
    const { json } = await runJson(
      ...["trend", ...FILES, ...CARTS, ...of("QB-03", "fore"), "--limit", "0.6 %"],
    );
    expect(json.limits).toEqual([{ limit: 6000, towards: "above" }]);
    const messages = json.notes.map((note: { message: string }) => note.message).join("\n");
    expect(messages).toMatch(/per cent by mass/);
    expect(messages).toMatch(/180 days were taken/);
  });

  test("a bare number as limit is read in the unit of the measure", async () => {
    const { json } = await runJson(
      ...["trend", ...FILES, ...CARTS, ...of("QB-03", "fore"), "--measure", "acid", "--limit", "1.2"],
    );
    expect(json.limits).toEqual([{ limit: 1.2, towards: "above" }]);
    expect(json.notes[0]).toMatchObject({ code: "unit-of-option" });
  });

  test("an ISO 4406 code as limit gives each channel its own", async () => {
    const { json } = await runJson(
      ...[
        "trend",
        ...FILES,
        ...CARTS,
        ...of("QB-01", "aft"),
        "--measure",
        "particles",
        "--limit",
        "18/16/13",
      ],
    );
    expect(json.channels.map((entry: { limits: { limit: number }[] }) => entry.limits[0]?.limit)).toEqual([
      18, 16, 13,
    ]);
  });
});

describe("siltbook trend --book", () => {
  const book = "out/cli-trend/base.siltbook";

  beforeAll(async () => {
    await rm("out/cli-trend", { recursive: true, force: true });
    await mkdir("out/cli-trend", { recursive: true });
    await run("import", "--book", book, ...CARTS, ...REQUIREMENT, "--on", "2026-11-20", ...FILES);
  });

  test("says of the same samples what the files say, and takes carts and requirements from the book", async () => {
    const fromFiles = await runJson(
      ...["trend", ...FILES, ...CARTS, ...REQUIREMENT, ...of("QB-03", "fore", "2026-03-01")],
    );
    const fromBook = await runJson(...["trend", "--book", book, ...of("QB-03", "fore", "2026-03-01")]);
    expect(fromBook.code).toBe(fromFiles.code);
    const { notes: _files, ...reported } = fromFiles.json;
    const { notes: _book, ...toldByBook } = fromBook.json;
    expect(toldByBook).toEqual(reported);
  });

  test("and files together are refused", async () => {
    const { code, err } = await runExplained("trend", ...FILES, "--book", book, ...of("QB-03", "fore"));
    expect(code).toBe(2);
    expect(err).toMatch(/not both/);
  });

  test("that is not there is refused by name", async () => {
    const { code, err } = await run(
      ...["trend", "--book", "out/cli-trend/none.siltbook", ...of("QB-03", "fore")],
    );
    expect(code).toBe(2);
    expect(err).toMatch(/none\.siltbook/);
  });
});

describe("siltbook trend as text", () => {
  test("draws a chart with results, line and limit, and says slope, forecast and next sample", async () => {
    const { out } = await runExplained(
      ...["trend", ...FILES, ...CARTS, ...REQUIREMENT, ...of("QB-03", "fore", "2026-03-01")],
    );
    expect(out).toMatch(/^QB-03, circuit fore, AS1241 Type IV, on 2026-03-01\n/);
    const chart = out.split("\n").filter((line) => line.includes("│"));
    expect(chart).toHaveLength(14);
    // Fifteen results on fifteen days, the odd one marked.
    expect(chart.join("").match(/o/g)?.length).toBe(14);
    expect(chart.join("").match(/\?/g)?.length).toBe(1);
    expect(chart.some((line) => line.includes("----------"))).toBe(true);
    expect(inOneLine(out)).toMatch(
      /Water: rising by \d+ ppm by mass a year \(90 % interval \d+ to \d+\), from 15 samples/,
    );
    expect(inOneLine(out)).toMatch(/crosses the limit about .*: at the earliest .*, at the latest/);
    expect(out).toMatch(/Next sample due 2026-04/);
    expect(out).toMatch(/Siltbook advises; it never releases/);
  });

  test("limit values are drawn as such", async () => {
    const { out } = await runExplained(
      ...["trend", ...FILES, ...CARTS, ...REQUIREMENT, ...of("QB-04", "aft")],
    );
    const chart = out
      .split("\n")
      .filter((line) => line.includes("│"))
      .join("");
    expect(chart.match(/</g)?.length).toBeGreaterThan(5);
  });

  test("what the pattern suggests stands with its numbers, what would confirm it and its source", async () => {
    const { out } = await runExplained(
      ...["trend", ...FILES, ...CARTS, ...REQUIREMENT, ...of("QB-03", "fore")],
    );
    expect(out).toMatch(
      /What the pattern suggests, to be confirmed:\n[^:]*phosphate ester[\s\S]*\n {4}Because: [\s\S]*\n {4}Confirmed by: [\s\S]*\n {4}Source: /,
    );
  });
});

describe("siltbook trend refuses, naming what is expected", () => {
  const base = ["trend", ...FILES, ...CARTS];
  test.each([
    ["an unknown cart", [...base, ...of("QB-99", "fore")], /--cart: expected one of QB-01.*"QB-99"/],
    ["an unknown circuit", [...base, ...of("QB-01", "left")], /--circuit: expected one of fore, aft.*"left"/],
    [
      "an unknown measure",
      [...base, ...of("QB-01", "aft"), "--measure", "colour"],
      /--measure: expected water, /,
    ],
    ["a limit in another unit", [...base, ...of("QB-01", "aft"), "--limit", "200 psi"], /--limit: expected/],
    ["a horizon of nothing", [...base, ...of("QB-01", "aft"), "--horizon", "0"], /--horizon: expected days/],
    ["a risk of 100 %", [...base, ...of("QB-01", "aft"), "--risk", "100"], /--risk: expected/],
    ["a day that is none", [...base, ...of("QB-01", "aft", "2026-02-30")], /--on: expected a day/],
    [
      "no carts",
      ["trend", ...FILES, ...of("QB-01", "aft")],
      /expected --carts and laboratory files, or --book/,
    ],
    [
      "no samples",
      ["trend", ...CARTS, ...of("QB-01", "aft")],
      /expected --carts and laboratory files, or --book/,
    ],
    [
      "a code without the channel",
      [...base, ...of("QB-01", "aft"), "--measure", "particles", "--limit", "*/16/13"],
      /has no scale number for particles-4/,
    ],
  ])("%s", async (_name, args, message) => {
    const { code, err, out } = await run(...args);
    expect(code).toBe(2);
    expect(out).toBe("");
    expect(err).toMatch(message);
  });
});
