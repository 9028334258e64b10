import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { join } from "node:path";
import Database from "libsql";
import { beforeAll, expect, test } from "vitest";
import { Book, judgeBook, readFleetOfBook, readFleetOutline } from "../../src/book/index.js";
import { canonicalJson, casesOf, judgeCircuit } from "../../src/fitness/index.js";
import { bytesInMemory } from "../../src/intake/index.js";
import { CIRCUIT, REQUIREMENT } from "../support/fitness/bases.js";
import { HANG_MS } from "../support/hang.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const CLI = join(import.meta.dirname, "..", "..", "dist", "cli", "main.js");
const folder = temporaryFolder();
const ON = "2026-03-14";

/** Fewer carts than this are judged without threads. */
const LARGE = 80;

async function bookOf(name: string, carts: number): Promise<string> {
  const path = join(folder, name);
  const book = Book.open(path, { create: true });
  const { betas, position } = CIRCUIT.element;
  const circuits = ["fore", "aft"].map((circuit) => ({
    circuit,
    serves: REQUIREMENT.system,
    fluid: CIRCUIT.fluid,
    volume: "60 L",
    flow: "45 L/min",
    element: { position, betas },
  }));
  book.keepCarts(
    "carts.json",
    JSON.stringify({ carts: Array.from({ length: carts }, (_, cart) => ({ cart: `C-${cart}`, circuits })) }),
  );
  book.keepRequirements(
    "requirement.json",
    JSON.stringify({
      document: "limits",
      revision: "1",
      systems: [
        {
          system: REQUIREMENT.system,
          fluids: [CIRCUIT.fluid],
          cleanliness: ["17/15/12"],
          waterPpmMax: 200,
          acidMgKohPerGMax: 0.2,
          sampleAgeDaysMax: 30,
        },
      ],
    }),
  );
  const rows = Array.from({ length: 6 * carts }, (_, row) => {
    const day = `2026-03-0${1 + (row % 3)}`;
    return `S-${row},C-${Math.floor(row / 6)},${row % 2 ? "aft" : "fore"},${day},1300,320,${1 + (row % 50)},${100 + (row % 130)},0.1`;
  });
  // In quarantine: one that may be of any circuit fore, and one that is of a cart in the middle.
  rows.push("X-1,,fore,2026-03-14,1300,320,5,100,0.1", "X-2,C-33,fore,2026-03-14,1300,3200,5,100,0.1");
  const header =
    "sample,cart,circuit,drawn on,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid number (mg KOH/g)";
  await book.takeIn(bytesInMemory("lab.csv", new TextEncoder().encode([header, ...rows].join("\n"))), {
    today: "2026-12-31",
  });
  book.close();
  return path;
}

function fleet(path: string) {
  return spawnSync(process.execPath, [CLI, "fleet", "--book", path, "--on", ON, "--json"], {
    encoding: "utf8",
    timeout: HANG_MS,
  });
}

let large: string;
beforeAll(async () => {
  large = await bookOf("large.siltbook", LARGE);
});

/** Every verdict of the book, to the last byte, judges again from its record. */
function expectRecords(path: string, verdicts: number): void {
  const book = Book.open(path);
  const kept = book.verdicts();
  expect(kept).toHaveLength(verdicts);
  const expected = new Map(
    casesOf({ ...readFleetOfBook(path), on: ON }).map((input) => {
      return [`${input.cart} ${input.circuit.circuit}`, canonicalJson(judgeCircuit(input))];
    }),
  );
  for (const { id, cart, circuit } of kept) {
    expect(book.recompute(id)).toEqual({ kind: "same", text: expected.get(`${cart} ${circuit}`) });
  }
  book.close();
}

test("a fleet that threads share is judged as cart by cart, kept once, and its book is one file afterwards", () => {
  const first = fleet(large);
  expect(first.stderr).toBe("");
  expect(first.status).toBe(1);
  expect(JSON.parse(first.stdout).circuits).toHaveLength(2 * LARGE);
  expect(fleet(large).stdout).toBe(first.stdout);
  expect(existsSync(`${large}-wal`)).toBe(false);
  expectRecords(large, 2 * LARGE);
});

test("the samples of a cart, read together, are those of the whole book, read one by one, in the same order", () => {
  const book = Book.open(large);
  const all = [...book.samples()];
  expect(all).toHaveLength(6 * LARGE);
  const carts = [...new Set(all.map(({ cart }) => cart))];
  expect(carts.flatMap((cart) => [...book.samples({ cart })])).toEqual(all);
  const aft = all.filter(
    ({ cart, circuit, drawnOn }) => cart === "C-9" && circuit === "aft" && drawnOn > "2026-03-01",
  );
  expect([...book.samples({ cart: "C-9", circuit: "aft", from: "2026-03-02" })]).toEqual(aft);
  expect(aft).not.toEqual([]);
  book.close();
});

test("a sample that cannot be read stops the threads with its message; verdicts kept before it stay", async () => {
  const path = await bookOf("broken.siltbook", LARGE);
  const db = new Database(path);
  const { changes } = db
    .prepare(
      `UPDATE sample SET counts = '{"4":1,"6":5}' WHERE circuit_id IN
         (SELECT circuit.id FROM circuit JOIN cart ON cart.id = cart_id WHERE cart = 'C-70')`,
    )
    .run();
  db.close();
  expect(changes).toBe(6);
  const { status, stderr } = fleet(path);
  expect(status).toBe(2);
  expect(stderr).toMatch(
    /^siltbook: sample S-\d+ of cart C-70, circuit (aft|fore) \([^)]+, row \d+\): its row in the book is not what was written; run "siltbook verify", .+\n$/,
  );
  const book = Book.open(path);
  expect(book.verdicts()).toHaveLength(128);
  book.close();
  expect(existsSync(`${path}-wal`)).toBe(false);
});

test("whoever stops asking leaves the book closed, with the verdicts of the carts that were judged", async () => {
  const path = await bookOf("early.siltbook", 40);
  for await (const judged of judgeBook(path, readFleetOutline(path), ON)) {
    expect(judged.map(({ verdict }) => verdict.circuit)).toEqual(["fore", "aft"]);
    break;
  }
  expect(existsSync(`${path}-wal`)).toBe(false);
  expectRecords(path, 64);
});
