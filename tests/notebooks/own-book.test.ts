import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { bytesInMemory } from "../../src/intake/index.js";
import { runWith } from "../support/run-notebook.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const book = join(folder, "hangar.siltbook");
const labFile = join(folder, "hangar.csv");

const element = {
  position: "return",
  betas: [4, 6, 14].map((sizeUmC, i) => ({ sizeUmC, beta: [20, 100, 1000][i] })),
};
const ingress = [4, 6, 14].map((sizeUmC) => ({ sizeUmC, particlesPerMin: 1e5 }));
const circuit = (name: string, serves: string, fluid: string) => ({
  circuit: name,
  serves,
  fluid,
  volume: "80 L",
  flow: "60 L/min",
  element,
  ingress,
});

/** Carts with names that no demonstration has, one of them with letters beyond ASCII. */
const CARTS = {
  carts: [
    {
      cart: "Wagen Süd 3",
      circuits: [
        circuit("links", "Hydraulik A", "MIL-PRF-83282"),
        circuit("rechts", "Hydraulik B", "AS1241 Type IV"),
      ],
    },
    { cart: "H-7", circuits: [circuit("one", "Hydraulik A", "MIL-PRF-83282")] },
    { cart: "H-12", circuits: [circuit("one", "Hydraulik A", "MIL-PRF-83282")] },
  ],
};
const limits = { cleanliness: ["ISO 4406 18/16/13"], sampleAgeDaysMax: 60 };
const REQUIREMENT = {
  document: "own limits",
  revision: "2",
  systems: [
    { system: "Hydraulik A", fluids: ["MIL-PRF-83282"], waterPpmMax: 200, acidMgKohPerGMax: 0.3, ...limits },
    {
      system: "Hydraulik B",
      fluids: ["AS1241 Type IV"],
      waterPpmMax: 8000,
      acidMgKohPerGMax: 1.5,
      ...limits,
    },
  ],
};
const ROWS = [
  "sample,cart,circuit,drawn on,fluid,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid number (mg KOH/g)",
  "K-1,Wagen Süd 3,links,2026-09-01,MIL-PRF-83282,1300,320,40,90,0.1",
  "K-2,Wagen Süd 3,links,2026-10-01,MIL-PRF-83282,20000,5000,640,95,0.1",
  "K-3,Wagen Süd 3,rechts,2026-10-01,AS1241 Type IV,600,150,12,9100,0.6",
  "K-4,H-12,one,2026-10-02,MIL-PRF-83282,600,150,12,80,0.1",
  "K-6,H-7,one,2026-10-02,MIL-PRF-83282,600,150,12,80,0.1",
  "K-5,H-12,one,2026-10-03,MIL-PRF-83282,600,150,n/a?,80,0.1",
];

const judgedOn = "2026-10-10";
const links = { cart: "Wagen Süd 3", circuit: "links" };

beforeAll(async () => {
  writeFileSync(labFile, ROWS.join("\n"));
  const made = Book.open(book, { create: true });
  made.keepCarts("carts.json", JSON.stringify(CARTS));
  made.keepRequirements("requirement.json", JSON.stringify(REQUIREMENT));
  await made.takeIn(bytesInMemory("hangar.csv", readFileSync(labFile)), { today: judgedOn });
  made.close();
});

/** Runs a notebook on other inputs and expects every cell to run, and nothing of the demonstration in what they show. */
async function shownBy(
  notebook: string,
  inputs: Record<string, unknown>,
): Promise<ReadonlyMap<string, string>> {
  const { failure, shown } = await runWith(notebook, inputs);
  expect(failure?.message).toBeUndefined();
  expect([...shown.values()].join()).not.toMatch(/QB-0\d/);
  return shown;
}

describe("on a book or file of the reader's own, by changing the first code cell and nothing else", () => {
  test("01 judges its cart, and asks no circulation of a circuit that is fit", async () => {
    const shown = await shownBy("01-is-this-cart-fit-to-connect", {
      book,
      judgedOn,
      cart: "H-7",
      circuit: "one",
    });
    expect(shown.get("answer")).toContain("H-7, circuit one: fit to connect to Hydraulik A");
    expect(shown.get("rows-read")).toContain("5 samples in all; each stands in the book once");
    expect(shown.get("quarantine")).toContain("hangar.csv row 7");
    expect(shown.get("plan")).toContain("No particle limit is exceeded: circulating is not asked for.");
    expect(shown.get("conclusion")).toContain("1 of 4 circuits are fit to connect (H-7 one)");
  });

  test("02 reads its file", async () => {
    const shown = await shownBy("02-from-a-lab-file-to-classes", {
      labFile,
      sampleNumber: "K-2",
      target: "NAS 1638 7",
    });
    expect(shown.get("answer")).toContain("Sample K-2 is outside NAS 1638 7.");
    expect(shown.get("quarantine")).toContain("row 7");
  });

  test("03 tells how sure its class is", async () => {
    const perMl = [6, 14, 21].map((sizeUm, index) => ({ sizeUm, count: [900, 60, 9][index] }));
    const shown = await shownBy("03-how-sure-is-a-class", {
      perMl,
      countedMl: 20,
      reproducibility: 0.1,
      target: "AS4059 cumulative 8B-D",
    });
    expect(shown.get("answer")).toContain("That the fluid meets AS4059 cumulative 8B-D is at least");
  });

  test("04 plans its circulation", async () => {
    const uncertainty = { volume: 0.1, flow: 0.05, beta: 0.3, ingress: 0.5, laboratory: 0.2, countedMl: 20 };
    const shown = await shownBy("04-how-long-must-it-circulate", {
      book,
      judgedOn,
      ...links,
      uncertainty,
    });
    expect(shown.get("answer")).toMatch(
      /To go by: circulate [\d.]+ min \([\d.]+ passes\)\. By the stated values alone [\d.]+ min/,
    );
    expect(shown.get("picture")).toMatch(/Wagen Süd 3, circuit links: circulate [\d.]+ min/);
  });

  test("05 reads its interim samples", async () => {
    const shown = await shownBy("05-did-the-circulation-work", {
      circuit: { volumeL: 80, flowLpm: 60, betas: element.betas },
      target: "ISO 4406 18/16/13",
      samples: [0, 2, 4].map((minutes) => ({
        minutes,
        perMl: [20000, 5000, 640].map((count) => Math.round(count * Math.exp(-0.7 * minutes))),
      })),
      sizesUmC: [4, 6, 14],
      countedMl: 20,
      reproducibility: 0.05,
    });
    expect(shown.get("answer")).toMatch(/\*\*.+\*\*/);
    expect(shown.get("hand")).toContain("By hand 0.700 per minute at 4 µm(c)");
  });

  test("06 exchanges its fluid, and refuses the saturation view of a phosphate ester", async () => {
    const shown = await shownBy("06-water-acid-and-fluid-exchange", {
      book,
      judgedOn,
      cart: "Wagen Süd 3",
      circuit: "rechts",
      fresh: { waterPpm: 1200, acidMgKohPerG: 0.05 },
      drainFraction: 0.8,
    });
    expect(shown.get("answer")).toContain(
      "exchange fluid, because water is outside: 9100 ppm by mass, limit 8000",
    );
    expect(shown.get("saturation")).toContain("AS1241 Type IV is a phosphate ester");
    // One drain of the part (9100 - 8000) / (9100 - 1200) of 80 L is 11.14 L.
    expect(shown.get("conclusion")).toContain(
      "water asks for 12 L by one drain of just enough; acid asks for no exchange",
    );
  });

  test("07 shows its fleet", async () => {
    const shown = await shownBy("07-the-fleet-this-month", { book, judgedOn });
    expect(shown.get("answer")).toContain("1 of 4 circuits are fit to connect on 2026-10-10");
    for (const cart of ["Wagen Süd 3", "H-7", "H-12"]) expect(shown.get("all")).toContain(cart);
    expect(shown.get("quarantine")).toContain("hangar.csv row 7");
  });
});
