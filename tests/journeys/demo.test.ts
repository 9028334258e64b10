import { readFile } from "node:fs/promises";
import { describe, expect, test } from "vitest";
import { VERDICTS } from "../../src/fitness/index.js";
import { readLabFile } from "../../src/intake/index.js";
import { resultsOf } from "../../src/samples/index.js";
import { DEMO_ARGUMENTS } from "../support/demo.js";
import { runExplained, runJson } from "../support/run-cli.js";

const read = async (name: string) => readLabFile(name, await readFile(`datasets/demo/${name}`));
const kinds = await Promise.all(["lab-tidy.csv", "lab-semicolon.csv", "lab-long.csv"].map(read));

describe("the demonstration", () => {
  test("its three kinds of laboratory file give the same samples where they hold the same results", () => {
    const seen = new Map<string, object>();
    let same = 0;
    for (const sample of kinds.flatMap((file) => file.samples)) {
      const key = JSON.stringify([sample.cart, sample.circuit, sample.sample]);
      const earlier = seen.get(key);
      if (earlier === undefined) {
        seen.set(key, resultsOf(sample));
        continue;
      }
      expect(resultsOf(sample), key).toEqual(earlier);
      same += 1;
    }
    expect(same).toBeGreaterThanOrEqual(30);
  });

  test("shows each of the five verdicts", async () => {
    const { code, json } = await runJson("judge", ...DEMO_ARGUMENTS);
    expect(code).toBe(1);
    const found = new Set(json.circuits.map((circuit: { verdict: string }) => circuit.verdict));
    expect([...found].sort()).toEqual([...VERDICTS].sort());
  });

  test("every circuit of every cart has a verdict, its classes and, where particles fail, a time to circulate", async () => {
    const carts = JSON.parse(await readFile("datasets/demo/carts.json", "utf8")).carts;
    const { json } = await runJson("judge", ...DEMO_ARGUMENTS);
    const names = (list: { cart: string; circuits: { circuit: string }[] }[]) =>
      list.flatMap(({ cart, circuits }) => circuits.map(({ circuit }) => `${cart} ${circuit}`));
    expect(
      json.circuits.map((entry: { cart: string; circuit: string }) => `${entry.cart} ${entry.circuit}`),
    ).toEqual(names(carts));
    for (const circuit of json.circuits) {
      if (circuit.sample?.counts !== undefined)
        expect(circuit.classes.iso4406.code).toMatch(/^\d+\/\d+\/\d+$/);
      const outside = circuit.reasons.some((reason: { code: string }) => reason.code === "particles-outside");
      expect(circuit.circulation !== null, `${circuit.cart} ${circuit.circuit}`).toBe(outside);
    }
  });

  test("the text shows the table, the reasons, the quarantine and the cautions", async () => {
    const { out } = await runExplained("judge", ...DEMO_ARGUMENTS);
    for (const words of ["verdict", "Not fit to connect, and why:", "in quarantine", "never releases"]) {
      expect(out).toContain(words);
    }
  });

  test("its damaged file imports 95 rows of 100 and reports 5 with row, column, value and what was expected", async () => {
    const file = await read("lab-damaged.csv");
    expect(file.rows).toBe(100);
    expect(file.samples).toHaveLength(95);
    expect(file.quarantine).toHaveLength(5);
    for (const { row, text, issues } of file.quarantine) {
      expect(row).toBeGreaterThan(1);
      expect(issues).toHaveLength(1);
      const [issue] = issues;
      expect(issue?.expected).not.toBe("");
      expect(text).toContain(issue?.column === "(row)" ? "" : issue?.value);
    }
  });
});
