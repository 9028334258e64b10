import { readFileSync } from "node:fs";
import { CIRCUITS, drawAll, stateOn } from "../../../datasets/demo/draw.js";
import { writeTidy } from "../../../datasets/demo/lab-files.js";
import { type DemoSample, SIZES_UM, USUAL_PER_100_ML } from "../../../datasets/demo/simulate.js";
import { FIRST_DAY, LAST_DAY } from "../../../datasets/demo/story.js";
import { classify, formatIso4406 } from "../../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../../src/counts/index.js";
import { dayAfter } from "../../../src/fitness/days.js";
import type { CircuitCase, ReasonCode } from "../../../src/fitness/index.js";
import { casesOf, judgeCircuit } from "../../../src/fitness/index.js";
import {
  collectSamples,
  parseCartsFile,
  parseRequirementsFile,
  readLabFile,
  unreadResults,
} from "../../../src/intake/index.js";

/** The texts that a base judges by. */
export interface Texts {
  readonly carts: string;
  readonly requirement: string;
  readonly lab: string;
}

/** An entry of a circuit's log, as a carts file has it. */
type LogEntry = Readonly<Record<string, unknown>> & { readonly on: string };

/** One way in which a base differs from the demo as it is delivered. */
export interface Habit {
  readonly name: string;
  /** What is in the log of a circuit besides, for each bottle that was drawn. */
  readonly logged?: (drawn: DemoSample) => readonly LogEntry[];
  /** The columns of the laboratory's file, where they are not the usual ones. */
  readonly rewritten?: (rows: string[][], samples: readonly DemoSample[]) => string[][];
  /** What the base's own document says, where its habit needs a word there. */
  readonly asked?: (system: Record<string, unknown>) => Record<string, unknown>;
}

const demo = (name: string) =>
  readFileSync(new URL(`../../../datasets/demo/${name}`, import.meta.url), "utf8");
const DRAWN = drawAll();

/** The two cells of the demo that cannot be read, so that every habit has them too. */
const SLIPS = [
  { sample: lastOf("QB-03", "aft", "2026-04-30").sample, column: "Water (mg/kg)", text: "n.a." },
  { sample: lastOf("QB-05", "aft", LAST_DAY).sample, column: "Water (mg/kg)", text: "1O4" },
];

function lastOf(cart: string, circuit: string, until: string): DemoSample {
  const found = DRAWN.findLast((one) => one.cart === cart && one.circuit === circuit && one.drawnOn <= until);
  if (found === undefined) throw new RangeError(`no sample of ${cart}, ${circuit}`);
  return found;
}

/** The texts of a base that lives by a habit. */
export function textsOf(habit: Habit): Texts {
  const { carts } = JSON.parse(demo("carts.json"));
  for (const { cart, circuits } of carts) {
    for (const circuit of circuits) {
      const own = DRAWN.filter((one) => one.cart === cart && one.circuit === circuit.circuit);
      circuit.events.push(...own.flatMap((drawn) => habit.logged?.(drawn) ?? []));
    }
  }
  const document = JSON.parse(demo("requirement.json"));
  const systems = document.systems.map((system: Record<string, unknown>) => habit.asked?.(system) ?? system);
  const rows = writeTidy(DRAWN, SLIPS)
    .trimEnd()
    .split("\n")
    .map((line) => line.split(","));
  const written = habit.rewritten?.(rows, DRAWN) ?? rows;
  return {
    carts: JSON.stringify({ carts }),
    requirement: JSON.stringify({ ...document, systems }),
    lab: written.map((cells) => `${cells.join(",")}\n`).join(""),
  };
}

const isHydrocarbon = (fluid: string) => fluid.startsWith("MIL");

/** Sets a column of the rows of some samples. */
function cells(title: string, write: (sample: DemoSample, cell: string) => string) {
  return ([head = [], ...rows]: string[][], samples: readonly DemoSample[]): string[][] => {
    const place = head.includes(title) ? head.indexOf(title) : head.length;
    return [
      place === head.length ? [...head, title] : head,
      ...rows.map((row, index) => {
        const changed = [...row];
        changed[place] = write(samples[index] as DemoSample, row[place] ?? "");
        return changed;
      }),
    ];
  };
}

/** Classes in the place of counts, as a laboratory that gives no counts reports them. */
function classesOnly([head = [], ...rows]: string[][], samples: readonly DemoSample[]): string[][] {
  const others = head.flatMap((title, place) => (title.endsWith("per mL") ? [] : [place]));
  const classes = samples.map(({ per100Ml }) => {
    const counts = SIZES_UM.map((sizeUm, index) => ({ sizeUm, count: per100Ml[index] as number }));
    const { iso4406, as4059Cumulative, nas1638 } = classify(cumulativeCounts(counts, 100));
    const bySize = as4059Cumulative?.channels.map(({ channel, class: one }) => `${one}${channel}`).join("/");
    return [iso4406 === undefined ? "" : formatIso4406(iso4406), bySize ?? "", nas1638?.class ?? ""];
  });
  return [
    [...others.map((place) => head[place] as string), "ISO 4406", "AS4059", "NAS 1638"],
    ...rows.map((row, index) => [
      ...others.map((place) => row[place] as string),
      ...(classes[index] as string[]),
    ]),
  ];
}

/** Whether a bottle is the first, fourth, seventh of its circuit. */
function isEveryThird(sample: DemoSample): boolean {
  const own = DRAWN.filter((one) => one.cart === sample.cart && one.circuit === sample.circuit);
  return own.indexOf(sample) % 3 === 0;
}

const ACID = "Acid number (mg KOH/g)";

/** The demo, written into one file. */
export const AS_DELIVERED: Habit = { name: "the demo as delivered" };

/** The habits of real bases, each alone. */
export const HABITS: readonly Habit[] = [
  {
    name: "hookups are logged, a week after each sample",
    logged: ({ drawnOn }) => [{ on: dayAfter(drawnOn, 7), kind: "hookup" }],
  },
  {
    name: "hookups are logged, the day after each sample",
    logged: ({ drawnOn }) => [{ on: dayAfter(drawnOn, 1), kind: "hookup" }],
  },
  {
    name: "element changed, circulated 30 min, sampled, all on one day",
    logged: ({ drawnOn: on }) => [
      { on, at: "08:10", kind: "element-change" },
      { on, at: "08:40", kind: "circulation", minutes: 30 },
    ],
    rewritten: cells("Time drawn", () => "09:15"),
  },
  { name: "laboratories report classes without counts", rewritten: classesOnly },
  {
    name: 'labels say "MIL PRF 83282"',
    rewritten: cells("Fluid", ({ fluid }) => fluid.replace(/^MIL-(PRF|H)-/, "MIL $1 ")),
  },
  {
    name: "no acid number for hydrocarbons, and the document limits none",
    asked: (system) =>
      isHydrocarbon((system.fluids as string[])[0] ?? "")
        ? { ...system, acidMgKohPerGMax: "not-limited" }
        : system,
    rewritten: cells(ACID, ({ fluid }, cell) => (isHydrocarbon(fluid) ? "" : cell)),
  },
  {
    name: "acid only with every third sample, and the document says so",
    rewritten: cells(ACID, (sample, cell) => (isEveryThird(sample) ? cell : "")),
    asked: (system) => ({ ...system, resultAgeDaysMax: { acid: 3 * Number(system.sampleAgeDaysMax) } }),
  },
];

/** What became of the circuits of a base, judged on some days. */
export interface Tally {
  readonly judged: number;
  readonly fit: number;
  readonly resample: number;
  /** Called fit although the simulation knows the fluid to be outside, for each circuit. */
  readonly falselyFit: ReadonlyMap<string, number>;
  /** How often each reason called for a resample. */
  readonly reasons: ReadonlyMap<ReasonCode, number>;
}

/** Judges the circuits of a base every so many days of the last 21 months of the demo. */
export async function tallyOf(texts: Texts, everyDays: number): Promise<Tally> {
  const { carts } = parseCartsFile("carts.json", texts.carts);
  const { systems } = parseRequirementsFile("requirement.json", texts.requirement);
  const held = collectSamples([await readLabFile("lab.csv", Buffer.from(texts.lab))], carts);
  const unread = unreadResults(held.quarantine, held.samples);
  const falselyFit = new Map<string, number>();
  const reasons = new Map<ReasonCode, number>();
  let [judged, fit, resample] = [0, 0, 0];
  for (let on = dayAfter(FIRST_DAY, 81); on <= LAST_DAY; on = dayAfter(on, everyDays)) {
    // What was known on the day: neither bottles nor events of later days.
    const known = carts.map((cart) => ({
      ...cart,
      circuits: cart.circuits.map((one) => ({
        ...one,
        events: one.events.filter((event) => event.on <= on),
      })),
    }));
    const cases = casesOf({
      carts: known,
      requirements: systems,
      samples: held.samples.filter(({ drawnOn }) => drawnOn <= on),
      unread: unread.filter(({ drawnOn = "" }) => drawnOn <= on),
      on,
    });
    for (const input of cases) {
      const { verdict, reasons: why } = judgeCircuit(input);
      judged += 1;
      if (verdict === "fit") fit += 1;
      if (verdict === "resample") {
        resample += 1;
        for (const code of new Set(
          why.filter(({ callsFor }) => callsFor === "resample").map((one) => one.code),
        ))
          reasons.set(code, (reasons.get(code) ?? 0) + 1);
      }
      const name = `${input.cart} ${input.circuit.circuit}`;
      if (verdict === "fit" && isTrulyOutside(input)) falselyFit.set(name, (falselyFit.get(name) ?? 0) + 1);
    }
  }
  return { judged, fit, resample, falselyFit, reasons };
}

const outsideOn = new Map<string, boolean>();

/** Whether what the circuit truly holds on the day of judging, without any scatter, is beyond a limit of the demo. */
function isTrulyOutside(input: CircuitCase): boolean {
  const { cart, circuit, on } = input;
  const key = [cart, circuit.circuit, on].join(" ");
  const known = outsideOn.get(key) ?? judgeTruth(input);
  outsideOn.set(key, known);
  return known;
}

const SYSTEMS = parseRequirementsFile("requirement.json", demo("requirement.json")).systems;

function judgeTruth({ cart, circuit, on }: CircuitCase): boolean {
  const own = CIRCUITS.find((one) => one.cart === cart && one.story.circuit === circuit.circuit);
  const requirement = SYSTEMS.find(({ system }) => system === circuit.serves);
  if (own === undefined || requirement === undefined) throw new RangeError(`${cart} is not of the demo`);
  const { particles, waterPpm, acidMgKohPerG } = stateOn(own.history, on);
  const counts = SIZES_UM.map((sizeUm, index) => ({
    sizeUm,
    count: particles * (USUAL_PER_100_ML[index] as number),
  }));
  const truth = {
    ...{ sample: "truth", cart, circuit: circuit.circuit, drawnOn: on },
    counts: cumulativeCounts(counts, 100),
    waterPpm: { value: waterPpm },
    acidMgKohPerG: { value: acidMgKohPerG },
    origin: [{ file: "simulation", rows: [1] }],
  };
  const { assessed } = judgeCircuit({
    ...{ cart, requirement, on, samples: [truth], unread: [] },
    circuit: { ...circuit, events: [] },
  });
  return assessed.some(({ outcome }) => outcome === "outside");
}
