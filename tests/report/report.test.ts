import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { parseHTML } from "linkedom";
import { describe, expect, test } from "vitest";
import { fleetRows, judgeCarts } from "../../src/fitness/index.js";
import { readFleetFiles } from "../../src/intake/index.js";
import { renderReport } from "../../src/report/index.js";
import { requirementSchema } from "../../src/samples/index.js";
import { DEMO_ARGUMENTS } from "../support/demo.js";
import { run, runExplained } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const demo = await readFleetFiles({
  carts: "datasets/demo/carts.json",
  requirement: "datasets/demo/requirement.json",
  samples: DEMO_ARGUMENTS.filter((argument) => argument.endsWith(".csv")),
});

function reportOf(fleet: typeof demo) {
  const circuits = judgeCarts({ ...fleet, on: "2026-11-20" });
  const input = { on: "2026-11-20", requirements: fleet.document, circuits, quarantine: fleet.quarantine };
  return { circuits, document: parseHTML(renderReport(input)).document };
}

const wordsIn = (element: Element | null) => (element?.textContent ?? "").replace(/\s+/g, " ");

describe("the report", () => {
  test("a volume and a flow that were given in gallons are told in four digits", () => {
    const carts = demo.carts.map((cart) => ({
      ...cart,
      circuits: cart.circuits.map((circuit) => ({
        ...circuit,
        volumeL: 151.41647136,
        flowLpm: 90.849882816,
      })),
    }));
    const { document } = reportOf({ ...demo, carts });
    expect(wordsIn(document.body)).toContain("151.4 L, 90.85 L/min, for");
  });

  test("begins with what needs doing first, in the order of the fleet table", () => {
    const { circuits, document } = reportOf(demo);
    const links = Array.from(document.querySelectorAll("#first li a"), (link) => link.textContent);
    const urgent = fleetRows(circuits).filter(({ verdict }) => verdict !== "fit");
    expect(links).toEqual(urgent.map(({ cart, circuit }) => `${cart}, circuit ${circuit}`));
    expect(links.length).toBeGreaterThan(5);
  });

  test("says by when the next sample is due: never a day to come for a circuit that waits for one", () => {
    const { circuits, document } = reportOf(demo);
    const rows = Array.from(document.querySelectorAll("#verdicts tbody tr"), (row) =>
      Array.from(row.children, wordsIn),
    );
    const due = circuits.map(({ verdict: { cart, circuit } }) =>
      rows.find(([name, part]) => name === cart && part === circuit)?.at(-1),
    );
    circuits.forEach(({ verdict: { verdict, outlook, cart } }, index) => {
      const expected = { fit: outlook?.nextSampleBy, resample: "now" }[verdict as string] ?? "after the work";
      expect(due[index], cart).toBe(expected);
    });
    expect(new Set(due).size).toBeGreaterThan(3);
  });

  test("of one cart has no such list, and of a fleet that is fit neither", () => {
    const one = demo.carts.filter(({ cart }) => cart === "QB-08");
    const two = demo.carts.filter(({ cart }) => cart === "QB-08" || cart === "QB-01");
    for (const carts of [one, two]) {
      expect(reportOf({ ...demo, carts }).document.querySelector("#first")).toBeNull();
    }
  });

  test("shows every quantity against its limit, what would change the verdict and what is to come", () => {
    const { document } = reportOf(demo);
    const words = wordsIn(document.getElementById("history-QB-02-aft"));
    expect(words).toContain("water of saturation, ppm by mass255at most 127.3outside");
    expect(words).toContain("The confidence in all of it together is not known");
    expect(wordsIn(document.getElementById("history-QB-03-fore"))).toContain(
      "by its trend water crossed its limit about",
    );
    expect(wordsIn(document.getElementById("history-QB-01-aft"))).toContain(
      "take a new sample, when no newer sample is drawn by",
    );
  });

  test("shows how sure it is where the requirement asks for confidence and says how results scatter", () => {
    const requirements = demo.requirements.map((requirement) =>
      requirementSchema.parse({
        ...JSON.parse(JSON.stringify(requirement)),
        cleanliness: ["ISO 4406 18/16/13"],
        confidence: { probability: 0.95, water: { sd: 10 } },
      }),
    );
    const { circuits, document } = reportOf({ ...demo, requirements });
    const judged = circuits.find(({ verdict }) => verdict.cart === "QB-03" && verdict.circuit === "aft");
    const water = judged?.verdict.assessed.find(({ quantity }) => quantity === "water");
    expect(water?.conformance?.probability).toBeGreaterThan(0.95);
    expect(wordsIn(document.getElementById("history-QB-03-aft"))).toMatch(
      /water, ppm by mass148at most 250inside[\d.> ]+ %, required 95 %/,
    );
  });

  test("tells the litres of an exchange on the sheet of the technician", () => {
    const { document } = reportOf(demo);
    expect(wordsIn(document.getElementById("QB-02-aft"))).toMatch(
      /To bring water to 160 with fresh fluid at \d+: one drain of \d+ L/,
    );
  });

  test("from a sample book, shows how the verdict is kept and what the report before said", async () => {
    const book = join(folder, "base.siltbook");
    const files = DEMO_ARGUMENTS.filter((argument) => argument.endsWith(".csv"));
    const kept = DEMO_ARGUMENTS.slice(0, 4);
    await run("import", "--book", book, ...kept, ...files);
    const out = join(folder, "report.html");
    await runExplained("report", "--book", book, "--cart", "QB-08", "--on", "2026-11-20", "--out", out);
    const first = wordsIn(
      parseHTML(await readFile(out, "utf8")).document.getElementById("history-QB-08-main"),
    );
    expect(first).toMatch(/Recordkept in the sample book as number \d+ at 20.*; result SHA-256 [0-9a-f]{64}/);
    await runExplained("report", "--book", book, "--cart", "QB-08", "--on", "2027-02-20", "--out", out);
    const then = wordsIn(
      parseHTML(await readFile(out, "utf8")).document.getElementById("history-QB-08-main"),
    );
    expect(then).toContain("the report before, of 2026-11-20, said “fit”");
  });
});
