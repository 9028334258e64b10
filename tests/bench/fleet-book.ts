// Makes the books that the row "fleet" judges. Samples go in through the driver: how fast a file comes in is another row.
import Database from "libsql";
import type * as BookRoom from "../../src/book/index.js";
import type { Requirement } from "../../src/samples/index.js";
import { seeded } from "../support/counts-near-limits.js";
import { dropChain } from "../support/drop-chain.js";

const { Book }: typeof BookRoom = await import(new URL("../../dist/book/index.js", import.meta.url).href);

/** Samples of each circuit, one every two weeks. */
export const SAMPLES_OF_A_CIRCUIT = 200;
const DAYS_BETWEEN = 14;
const FIRST_DAY = Date.UTC(2019, 2, 4);
/** The day of judging: some days after the last sample. */
export const JUDGED_ON = dayOf(SAMPLES_OF_A_CIRCUIT * DAYS_BETWEEN);

export const NEXT_MORNING = dayOf(SAMPLES_OF_A_CIRCUIT * DAYS_BETWEEN + 1);

/** A laboratory file with a new sample of both circuits of one cart in ten. */
export function newsOf(carts: number): string {
  const header =
    "sample,cart,circuit,fluid,drawn on,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,21 µm(c) per mL,38 µm(c) per mL," +
    "70 µm(c) per mL,water (mg/kg),acid number (mg KOH/g)";
  const rows = Array.from({ length: Math.ceil(carts / 10) }, (_, tenth) => nameOf(10 * tenth)).flatMap(
    (cart) =>
      ["fore", "aft"].map(
        (circuit) =>
          `N-${cart}-${circuit},${cart},${circuit},MIL-PRF-83282,${JUDGED_ON},800,170,38,8,2,0.4,90,0.2`,
      ),
  );
  return [header, ...rows].join("\n");
}

function dayOf(days: number): string {
  return new Date(FIRST_DAY + days * 86_400_000).toISOString().slice(0, 10);
}

const SYSTEM: Requirement = {
  system: "bench main",
  fluids: ["MIL-PRF-83282"],
  cleanliness: ["AS4059 cumulative 8A-F"],
  waterPpmMax: 200,
  acidMgKohPerGMax: 0.4,
  sampleAgeDaysMax: 45,
} as unknown as Requirement;

/** A circuit of the carts file. A third have no event at all, a third new elements, a third new fluid besides. */
function circuitOf(circuit: string, index: number): object {
  const on = (share: number) => dayOf(Math.round(share * SAMPLES_OF_A_CIRCUIT) * DAYS_BETWEEN + 3);
  const elements = [0.3, 0.7].map((share) => ({ on: on(share), kind: "element-change" }));
  const events = [[], elements, [...elements, { on: on(0.5), kind: "fluid-change" }]][index % 3];
  return {
    circuit,
    serves: SYSTEM.system,
    fluid: "MIL-PRF-83282",
    volume: "120 L",
    flow: "95 L/min",
    element: {
      position: "pressure filter",
      betas: [
        { sizeUmC: 4, beta: 40 },
        { sizeUmC: 6, beta: 200 },
      ],
    },
    events,
  };
}

/** Makes a book of so many carts with two circuits each. */
export function makeBook(path: string, carts: number): void {
  const book = Book.open(path, { create: true });
  const described = Array.from({ length: carts }, (_, cart) => ({
    cart: nameOf(cart),
    circuits: ["fore", "aft"].map((circuit, index) => circuitOf(circuit, 2 * cart + index)),
  }));
  book.keepCarts("carts.json", JSON.stringify({ carts: described }));
  book.keepRequirements(
    "requirement.json",
    JSON.stringify({ document: "Limits of the bench", revision: "1", systems: [SYSTEM] }),
  );
  book.close();
  fill(path);
}

function nameOf(cart: number): string {
  return `C-${String(cart).padStart(5, "0")}`;
}

function fill(path: string): void {
  const random = seeded(6);
  const db = new Database(path);
  db.exec("BEGIN");
  db.exec(
    "INSERT INTO file (id, sha256, name, bytes, read_as, assumptions) VALUES (1, 'bench', 'bench.csv', 0, 'made', '[]')",
  );
  const insert = db.prepare(
    `INSERT INTO sample (circuit_id, sample, drawn_on, fluid, count_volume_ml, counts, water_ppm, acid_mg_koh_per_g,
       viscosity_40_mm2_per_s, file_id, rows) VALUES (?, ?, ?, 'MIL-PRF-83282', 1, ?, ?, ?, ?, 1, ?)`,
  );
  let row = 1;
  for (const { id } of db.prepare("SELECT id FROM circuit ORDER BY id").all() as { id: number }[]) {
    const level = 300 + 900 * random();
    for (let sample = 0; sample < SAMPLES_OF_A_CIRCUIT; sample += 1) {
      row += 1;
      const around = (value: number, places: number) =>
        Number((value * (0.7 + 0.6 * random())).toFixed(places));
      const at4 = around(level, 0);
      const counts = [4, 6, 14, 21, 38, 70].map(
        (size, place) => `"${size}":${Number((at4 * 0.22 ** place).toFixed(2))}`,
      );
      insert.run(
        id,
        `S-${sample}`,
        dayOf(sample * DAYS_BETWEEN),
        `{${counts.join(",")}}`,
        around(60 + sample / 8, 0),
        around(0.12 + sample / 4000, 2),
        around(14.2, 1),
        `[${row}]`,
      );
    }
  }
  db.exec("COMMIT");
  // The chain begins again over what went past it.
  dropChain(db);
  db.close();
}
