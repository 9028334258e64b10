// What a person sees without asking for more: few lines, none wider than a terminal of 80 columns, the answer first.
import { describe, expect, test } from "vitest";
import { run } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const FLEET = ["--carts", "datasets/demo/carts.json", "--requirement", "datasets/demo/requirement.json"];
const FILES = ["datasets/demo/lab-tidy.csv", "datasets/demo/lab-long.csv"];
const BOTTLE = ["--counts", "4=15000 6=1200 14=75", "--target", "17/15/12"];
const ON = ["--on", "2026-11-20"];
const DAMP = "datasets/demo/lab-semicolon.csv";
const CIRCUIT = ["--volume", "60 L", "--flow", "45 L/min", "--beta", "4=20 6=100 14=1000"];
const CLEANING = [...CIRCUIT, "--start", "21/19/16", "--target", "17/15/12"];

const OF_CART = ["circulate", ...FLEET, ...ON, "--cart", "QB-02", "--circuit", "fore", ...FILES];

const lines = (text: string) => text.trimEnd().split("\n");

describe("without --explain a command answers in few lines of at most 80 columns", () => {
  test.for<[string, number, string[]]>([
    ["judge, for 14 circuits", 40, ["judge", ...FLEET, ...ON, ...FILES]],
    ["circulate", 8, ["circulate", ...CLEANING]],
    ["circulate, of a cart", 8, OF_CART],
    [
      "circulate, with a sample on the way",
      8,
      [...OF_CART, "--interim", "8 min: 6=300 14=12 21=2 38=0 70=0"],
    ],
    ["classify", 12, ["classify", ...BOTTLE]],
  ])("%s", async ([, most, args]) => {
    const { out } = await run(...args);
    expect(lines(out).length).toBeLessThanOrEqual(most);
    expect(lines(out).filter((line) => line.length > 80)).toEqual([]);
    expect(out).toContain("Siltbook advises; it never releases.");
    expect((await run(...args, "--explain")).out.length).toBeGreaterThan(2 * out.length);
  });

  test("and so does every command that writes or reads a book", async () => {
    const folder = temporaryFolder();
    const book = ["--book", `${folder}/base.siltbook`];
    const own = ["--book", `${folder}/own.siltbook`];
    const aft = ["--cart", "QB-02", "--circuit", "aft"];
    for (const [most, ...args] of [
      [1, "import", ...book, ...FLEET, FILES[0]],
      [5, "import", ...book, FILES[1]],
      [5, "import", ...own, DAMP],
      [6, "import", ...own, "--quarantine", `${folder}/quarantine`, DAMP],
      [4, "report", ...book, ...ON, "--out", `${folder}/report.html`],
      [5, "report", ...FLEET, ...ON, ...FILES, "--out", `${folder}/report-of-files.html`],
      [5, "page", ...book, ...ON, "--out", `${folder}/page.html`],
      [40, "fleet", ...book, ...ON],
      [6, "rows", ...own, "lab-semicolon.csv"],
      [16, "quarantine", ...own],
      [12, "trace", ...book, ...ON, ...aft],
      [6, "verify", ...own],
      [32, "trend", ...book, ...ON, "--cart", "QB-03", "--circuit", "fore"],
      [9, "circulate", ...book, ...ON, ...aft],
      [10, "circulate", ...book, ...ON, "--cart", "QB-06", "--circuit", "fore"],
    ] as [number, string, ...string[]][]) {
      const { out, err } = await run(...args);
      expect([err, lines(out).length <= most ? "" : out], args.join(" ")).toEqual(["", ""]);
      expect(
        lines(out).filter((line) => line.length > 80 && !/^ *(To settle: )?siltbook /.test(line)),
      ).toEqual([]);
    }
    const ranges = ["--cart", "QB-02", "--circuit", "fore", "--measure", "particles"];
    const { out } = await run("trend", ...book, ...ranges, ...ON);
    expect(out.replace(/\s+/g, " ")).toContain("NAS 1638 7 limits ranges of sizes, and a trend of particles");
    expect(out).not.toContain("no limit: no limit");
  });
});

describe("the first words are what to do", () => {
  test("of each circuit, with the reason that decides", async () => {
    const { out } = await run("judge", ...FLEET, "--on", "2026-11-20", ...FILES);
    expect(lines(out)[0]).toMatch(/^5 of 14 circuits fit to connect on 2026-11-20/);
    expect(out).toContain("QB-01 fore  fit to connect; next sample by 2026-12-20\n");
    expect(out).toContain("QB-02 fore  circulate 21 min (8.1 passes), then draw a sample\n");
    expect(out).toContain("QB-02 aft   exchange the fluid (one drain of 110 L), then draw a sample\n");
    expect(out).toContain("QB-04 fore  do not connect yet: draw a new sample\n");
    expect(out).toContain("QB-05 aft   do not connect yet: the laboratory can settle it\n");
    expect(out).toContain("ISO 4406 18/16/13 is exceeded, and circulating cannot get there\n");
    expect(out).toContain("QB-06 aft   do not connect: no time is long enough; fit a finer element\n");
    expect(out).toMatch(
      /QB-07 main +do not connect; cleared when the fluid is identified[\s\S]*the label of sample 26-0318 says/,
    );
    for (const code of ["exchange-fluid", "do-not-connect", "resample"]) expect(out).not.toContain(code);
  });

  test("of a circulation: the minutes, and that a sample decides", async () => {
    const { out, code } = await run("circulate", ...CLEANING);
    expect(lines(out)[0]).toMatch(/^Circulate 8\.4 min \(6\.3 passes\)/);
    expect(code).toBe(0);
  });

  test("of one bottle: its classes, and whether the target is met", async () => {
    const { out, code } = await run("classify", ...BOTTLE);
    expect(lines(out)[0]).toMatch(/^ISO 4406 +21\/17\/13$/);
    expect(out).toMatch(/Target ISO 4406 17\/15\/12 is exceeded: channel 4 15000, limit 1300/);
    expect(code).toBe(1);
  });
});
