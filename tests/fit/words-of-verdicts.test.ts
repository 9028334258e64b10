// What people read for each verdict, wherever they read it; the names of verdicts are for data alone.
import { describe, expect, test } from "vitest";
import { drawFleetOverview } from "../../src/figures/index.js";
import {
  cartsTogether,
  describeVerdict,
  FLEET_COLUMNS,
  fleetRows,
  type JudgedCircuit,
  judgeCarts,
  standingOf,
  VERDICT_COLUMNS,
  VERDICT_WORDS,
  VERDICTS,
} from "../../src/fitness/index.js";
import { shownOf } from "../../src/page/model/shown.js";
import { renderReport, renderSheet } from "../../src/report/index.js";
import type { Circuit, Sample } from "../../src/samples/index.js";
import { CIRCUIT, CLEAN, countedIn, counts, REQUIREMENT, SOUND } from "../support/fitness/bases.js";

const ON = "2026-03-14";
const SYSTEM = { ...REQUIREMENT, aircraft: "fleet A" };
const named = (circuit: string, change: Partial<Circuit> = {}): Circuit => ({
  ...CIRCUIT,
  circuit,
  ...change,
});
const bottle = (circuit: string, change: Partial<Sample> = {}): Sample => ({
  ...CLEAN,
  sample: `S-${circuit}`,
  circuit,
  ...change,
});

/** Ingress that holds the circuit at nine tenths of its limits and is known to half of itself. */
const ingress = [4, 6, 14].map((sizeUmC, index) => ({
  sizeUmC,
  particlesPerMin: 0.9 * ([1300, 320, 40][index] as number) * 45_000 * 0.95,
}));

const CIRCUITS = [
  named("clean"),
  named("dirty"),
  named("wet"),
  named("bare"),
  named("unsound", { state: { ...SOUND, level: "alarm" } }),
  named("stuck", { ingress }),
];
const SAMPLES = [
  bottle("clean"),
  bottle("dirty", { counts: counts(5000, 1200, 160) }),
  bottle("wet", { waterPpm: { value: 900 } }),
  bottle("unsound"),
  bottle("stuck", { counts: countedIn(20, 5000, 1200, 160) }),
];

/** Each circuit and what it reads. */
const READS = [
  ["clean", "fit"],
  ["dirty", "circulate"],
  ["wet", "exchange the fluid"],
  ["bare", "take a new sample"],
  ["unsound", "do not connect"],
  ["stuck", "do not connect"],
] as const;

const judgedOf = (names: readonly string[]): JudgedCircuit[] =>
  judgeCarts({
    carts: [{ cart: "C-1", circuits: CIRCUITS.filter(({ circuit }) => names.includes(circuit)) }],
    requirements: [SYSTEM],
    samples: SAMPLES.filter(({ circuit }) => names.includes(circuit ?? "")),
    unread: [],
    on: ON,
  });
const one = (name: string) => judgedOf([name])[0] as JudgedCircuit;
const inputOf = (circuits: readonly JudgedCircuit[]) => ({
  on: ON,
  requirements: { document: "limits", revision: "1", sources: [], systems: [SYSTEM] },
  circuits,
  quarantine: [],
});
const signOfWords = (words: string) => VERDICTS.find((name) => VERDICT_WORDS[name] === words);

describe.each(READS)("a circuit that is %s reads %s", (name, words) => {
  const judged = one(name);
  test("in the fleet table and in the table of verdicts", () => {
    const [row] = fleetRows([judged]);
    const column = FLEET_COLUMNS.find(({ title }) => title === "verdict");
    expect([row && column?.of(row, ON), VERDICT_COLUMNS.verdict.of(judged)]).toEqual([words, words]);
  });

  test("in the picture of the fleet", () => {
    expect(drawFleetOverview([judged])).toContain(`>${words}<`);
  });

  test("in the box of the report, and on the sheet and in its title", () => {
    const boxes = [...renderReport(inputOf([judged])).matchAll(/class="verdict [^"]*">.*?<\/svg>([^<]+)</g)];
    expect(new Set(boxes.map(([, text]) => text))).toEqual(new Set([words]));
    expect(renderSheet({ judged, on: ON })).toContain(`<title>C-1, circuit ${name}: ${words}, ${ON}</title>`);
  });

  test("with the aircraft that it serves", () => {
    const [cart] = cartsTogether([judged], [SYSTEM]);
    expect(cart?.pairings[0]?.systems[0]?.verdict).toBe(signOfWords(words));
  });

  test("on the page", () => {
    expect(shownOf(judged, { kind: "current", ageDays: 0 }, ON).sign).toBe(signOfWords(words));
  });

  test("and nowhere the name that data carry", () => {
    const seen = [
      drawFleetOverview([judged]),
      renderReport(inputOf([judged])).replace(/ (class|id|href)="[^"]*"/g, ""),
      renderSheet({ judged, on: ON }).replace(/ (class|id|href)="[^"]*"/g, ""),
    ].map((text) => text.replace(/<style>.*?<\/style>/gs, ""));
    for (const text of seen) expect(text).not.toMatch(/>[^<]*(do-not-connect|exchange-fluid|resample)/);
  });
});

test("in one line a circuit for which no time is long enough begins with do not connect", () => {
  expect(describeVerdict(one("stuck").verdict)).toMatch(
    /^C-1, circuit stuck: do not connect, because no time of /,
  );
  expect(describeVerdict(one("dirty").verdict)).toMatch(/^C-1, circuit dirty: not fit yet; circulate /);
});

test("what a person holds reads so in the picture of the fleet too, and is not counted as fit", () => {
  const judged = one("clean");
  const standing = standingOf(judged.verdict, [
    {
      number: 1,
      decision: "resample",
      person: "A. Person",
      reason: "bottle found open",
      at: `${ON}T08:00:00Z`,
    },
  ]);
  const svg = drawFleetOverview([{ ...judged, standing }]);
  expect(svg).toContain(">held: take a new sample<");
  expect(svg).toContain("0 of 1 circuits");
});
