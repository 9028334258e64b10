/**
 * Makes the files of the demo scenario, the same bytes on every run: `npm run datasets`.
 *
 * Everything here is invented. requirement.json is written by hand and is not touched.
 */
import { writeFileSync } from "node:fs";
import { writeCounter } from "./counter.js";
import { dayAfter } from "./days.js";
import { CIRCUITS, drawAll, SEED, stateOn } from "./draw.js";
import { writeLong, writeSemicolon, writeTidy } from "./lab-files.js";
import { drawsFrom } from "./random.js";
import { writeRoundRobin } from "./round-robin.js";
import { CARTS } from "./scenario.js";
import { type DemoSample, measure } from "./simulate.js";
import { FIRST_DAY } from "./story.js";

/** Rows of the damaged file: the first weeks of every circuit, counted with a portable counter. */
function drawEarly(rows: number): DemoSample[] {
  const draws = drawsFrom(SEED, CIRCUITS.length + 1);
  return Array.from({ length: rows }, (_, index) => {
    const { cart, story, history } = CIRCUITS[index % CIRCUITS.length] as (typeof CIRCUITS)[number];
    const drawnOn = dayAfter(FIRST_DAY, 3 + Math.floor(index / 2));
    const sample = `P-${String(index + 1).padStart(3, "0")}`;
    const naming = { sample, cart, circuit: story.circuit, drawnOn, fluid: story.label };
    return measure(naming, story, stateOn(history, drawnOn), draws);
  });
}

function lastOf(samples: readonly DemoSample[], cart: string, circuit: string): DemoSample {
  const found = samples.findLast((sample) => sample.cart === cart && sample.circuit === circuit);
  if (found === undefined) throw new RangeError(`no sample of ${cart}, ${circuit}`);
  return found;
}

function write(name: string, text: string): void {
  writeFileSync(new URL(name, import.meta.url), text);
}

const samples = drawAll();
const between = (from: string, to: string) =>
  samples.filter((sample) => sample.drawnOn >= from && sample.drawnOn <= to);

// One unreadable cell in the middle of a history, and one in the newest result of a circuit.
const older = lastOf(between("2026-03-01", "2026-04-30"), "QB-03", "aft");
const newest = lastOf(samples, "QB-05", "aft");
write(
  "carts.json",
  `${JSON.stringify(
    {
      carts: CARTS.map(({ cart, note, circuits }) => ({
        cart,
        note,
        circuits: circuits.map(
          ({ circuit, serves, fluid, volume, flow, element, deliveryFlow, ...story }) => ({
            circuit,
            serves,
            fluid,
            volume,
            flow,
            element,
            ...(deliveryFlow !== undefined && { delivery: { flow: deliveryFlow } }),
            ingress: story.ingress,
            events: [
              ...story.events.map(({ on, kind, note }) => ({ on, kind, note })),
              ...(story.hookups ?? []).map(({ on, at, ...hookup }) => ({
                on,
                at,
                kind: "hookup",
                ...hookup,
              })),
            ],
          }),
        ),
      })),
    },
    null,
    2,
  )}\n`,
);
write("lab-tidy.csv", writeTidy(between("2024-12-01", "2026-01-31")));
write(
  "lab-semicolon.csv",
  writeSemicolon(between("2025-12-01", "2026-07-31"), [
    { sample: older.sample, column: "Water content (mg/kg)", text: "n.a." },
  ]),
);
write(
  "lab-long.csv",
  writeLong(
    samples.filter((sample) => sample.cart === "QB-01" || sample.drawnOn >= "2026-06-15"),
    [{ sample: newest.sample, column: "Water", text: "1O4" }],
  ),
);

// Five slips, one cell each. The row with the unreadable day is of a circuit that is in quarantine anyway, so that the
// file can be read beside the others and changes no verdict.
const early = drawEarly(100);
const [slashes, lostPoint] = [earlySample("P-024"), earlySample("P-068")];
write(
  "lab-damaged.csv",
  writeTidy(early, [
    { sample: "P-012", column: "6 µm(c) per mL", text: "N/A" },
    { sample: slashes.sample, column: "Drawn on", text: slashes.drawnOn.split("-").reverse().join("/") },
    { sample: "P-047", column: "Circuit", text: "" },
    { sample: lostPoint.sample, column: "21 µm(c) per mL", text: String(lostPoint.per100Ml[3]) },
    { sample: "P-091", column: "Water (mg/kg)", text: "120 mg/L" },
  ]),
);

write("counter.jsonl", writeCounter(drawsFrom(SEED, CIRCUITS.length + 2)));
write("round-robin.csv", writeRoundRobin(drawsFrom(SEED, CIRCUITS.length + 3)));

function earlySample(number: string): DemoSample {
  const found = early.find((entry) => entry.sample === number);
  if (found === undefined) throw new RangeError(`no early sample ${number}`);
  return found;
}
