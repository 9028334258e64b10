import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { run, runExplained, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const root = temporaryFolder();
const ROUNDS = "datasets/demo/round-robin.csv";
const book = join(root, "rounds.siltbook");

/** A book of one file: the rounds of the demo, changed. */
async function bookOf(name: string, change: (text: string) => string, ...options: string[]): Promise<string> {
  const file = join(root, `${name}.csv`);
  writeFileSync(file, change(readFileSync(ROUNDS, "utf8")));
  const path = join(root, `${name}.siltbook`);
  await run("import", "--book", path, ...options, file);
  return path;
}

beforeAll(async () => {
  const { out } = await run("import", "--book", book, ROUNDS);
  // Their texts are kept and compared, so they are not among the columns that nothing uses.
  expect(out).not.toContain("columns not used");
});

describe("siltbook laboratories", () => {
  test("the rounds of the demo: South counts more, its water agrees, and the exit code is 1", async () => {
    const { code, json } = await runJson("laboratories", "--book", book, "--reference", "north");
    expect(code).toBe(1);
    expect(json.answer).toBe("Laboratories differ in 3 of 4 quantities compared.");
    const [above4] = json.quantities;
    expect(above4.laboratories.map(({ laboratory }: { laboratory: string }) => laboratory)).toEqual([
      "Base (counter portable)",
      "North (counter N-1)",
      "South (counter S-7)",
    ]);
    const [base, north, south] = above4.laboratories;
    expect(north.bias).toEqual({ kind: "reference", materials: 12 });
    // The demo has South count 1.4 times as many; the interval holds that.
    expect(south.bias).toMatchObject({ kind: "compared", differs: true, materials: 12 });
    expect(south.bias.low).toBeLessThan(1.4);
    expect(south.bias.high).toBeGreaterThan(1.4);
    expect(base.bias).toMatchObject({ materials: 8 });
    expect(json.findings.at(-1)).toMatch(
      /^North and South agree within \d\.\d+ ppm: water in hydrocarbon\.$/,
    );
  });

  test("without a reference three laboratories are compared with their mean", async () => {
    const { json } = await runJson("laboratories", "--book", book);
    expect(json.quantities[0].laboratories[0].bias.against).toBe("the mean of the laboratories");
  });

  test("the printed answer is 80 columns wide at most, and says what covers all of them with --explain", async () => {
    const { out } = await runExplained("laboratories", "--book", book);
    expect(out.split("\n").filter((line) => line.length > 80)).toEqual([]);
    expect(out).toMatch(/^Laboratories differ in 3 of 4 quantities compared\.\n/);
    expect(out).toContain("A standard uncertainty that covers every laboratory:");
    const short = await run("laboratories", "--book", book);
    expect(short.out).toContain("With --explain: a spread that covers every laboratory");
  });

  test("bottles without a time are compared only when the caller says that they were filled together", async () => {
    const untimed = await bookOf("untimed", (text) => text.replaceAll(",09:30,", ",,"));
    const without = await runJson("laboratories", "--book", untimed);
    expect(without).toMatchObject({ code: 1, json: { assumptions: [{ code: "time-not-stated" }] } });
    expect(without.json.answer).toMatch(/^Too few pairs to say/);
    const together = await runJson("laboratories", "--book", untimed, "--same-day");
    expect(together.json.answer).toBe("Laboratories differ in 3 of 4 quantities compared.");
  });

  test("a column map names the laboratory of its files only when it is asked to", async () => {
    const map = join(root, "east.map.json");
    writeFileSync(map, JSON.stringify({ siltbookColumnMap: 1, name: "East", columns: {} }));
    const anonymous = await bookOf(
      "anonymous",
      (text) => text.replace(",Laboratory,Particle counter,", ",Shift,Bench,"),
      "--map",
      map,
    );
    const without = await runJson("laboratories", "--book", anonymous);
    expect(without.json.answer).toBe(
      "No result names its laboratory or counter, so there is nothing to compare.",
    );
    const { json } = await runJson("laboratories", "--book", anonymous, "--by-map");
    expect(json.quantities[0].laboratories[0].laboratory).toBe("East");
    expect(json.assumptions.map(({ code }: { code: string }) => code)).toContain("laboratory-not-in-report");
  });

  test("a counter that is named by figures alone is told from another", async () => {
    const numbered = await bookOf("numbered", (text) =>
      text.replaceAll(",N-1,", ",4711,").replaceAll(",S-7,", ",4712,"),
    );
    const { json } = await runJson("laboratories", "--book", numbered);
    const names = json.quantities[0].laboratories.map(({ laboratory }: { laboratory: string }) => laboratory);
    expect(names).toEqual(["Base (counter portable)", "North (counter 4711)", "South (counter 4712)"]);
  });

  test("a reference that is not in the book is refused with those that are", async () => {
    const { code, err } = await run("laboratories", "--book", book, "--reference", "East");
    expect(code).toBe(2);
    expect(err).toContain(
      "--reference: the reference must be one of Base (counter portable); North; North (counter N-1);",
    );
  });
});

describe("siltbook judge --measured-spread", () => {
  const carts = ["--carts", "datasets/demo/carts.json"];
  const fleet = [...carts, "--requirement", "datasets/demo/requirement.json"];
  const judged = ["judge", "--on", "2026-11-20"];

  test("widens what the requirement states, says so, and keeps no verdict", async () => {
    const requirement = join(root, "requirement.json");
    const document = JSON.parse(readFileSync("datasets/demo/requirement.json", "utf8"));
    const confidence = { counts: { reproducibility: { kind: "relative", rsd: 0.1 } } };
    const systems = document.systems.map((system: object) => ({ ...system, confidence }));
    writeFileSync(requirement, JSON.stringify({ ...document, systems }));
    const path = await bookOf("judged", (text) => text, ...carts, "--requirement", requirement);
    const { json } = await runJson(...judged, "--book", path, "--measured-spread");
    const opened = Book.open(path);
    expect(opened.verdicts()).toEqual([]);
    opened.close();
    const codes = json.circuits.flatMap(({ assumptions }: { assumptions: { code: string }[] }) =>
      assumptions.map(({ code }) => code),
    );
    expect(codes).toContain("laboratory-spread-from-book");
    const plain = await runJson(...judged, "--book", path);
    expect(JSON.stringify(plain.json)).not.toContain("laboratory-spread-from-book");
  });

  test("is refused without a book, and as of an earlier day", async () => {
    const files = await run(...judged, "--measured-spread", ...fleet, ROUNDS);
    expect([files.code, files.err]).toEqual([
      2,
      expect.stringContaining("--measured-spread compares the laboratories of a book"),
    ]);
    const earlier = await run(
      "judge",
      "--as-of",
      "2026-06-01",
      "--measured-spread",
      "--book",
      book,
      ...fleet,
    );
    expect([earlier.code, earlier.err]).toEqual([2, expect.stringContaining("does not go with --as-of")]);
  });
});
