// One circuit, one sample, one requirement: whatever the carts file states of the equipment and wherever the bottle was drawn,
// every way of asking gives the same minutes.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import {
  answerCirculation,
  formatMinutes,
  statedCirculation,
  type TimeToGoBy,
} from "../../src/circulation/index.js";
import { limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { drawCleanUpCurve } from "../../src/figures/index.js";
import {
  describeVerdict,
  type JudgedCircuit,
  judgeCarts,
  stepsOf,
  type VerdictOnCircuit,
} from "../../src/fitness/index.js";
import { verdictsFrame } from "../../src/frames/index.js";
import { richOf } from "../../src/notebook/index.js";
import { seededRandom } from "../../src/numeric/index.js";
import { circulationFieldsOf, minutesToGoBy, readChanges } from "../../src/page/model/minutes.js";
import { type CirculatingCircuit, cartsFileSchema, type SamplePoint } from "../../src/samples/index.js";
import { REQUIREMENT } from "../support/fitness/bases.js";
import { run, runExplained, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const SIZES = [4, 6, 14] as const;
const COUNT = 16;
const ON = "2026-03-14";
const random = seededRandom(22);
const between = (low: number, high: number) => low + (high - low) * random();
/** In three digits, as a person writes it. */
const about = (low: number, high: number) => Number(between(low, high).toPrecision(3));

/** Each of these is stated by every second circuit, in all combinations. */
const drawn = Array.from({ length: COUNT }, (_, index) => {
  const has = (bit: number) => Math.floor(index / 2 ** bit) % 2 === 1;
  const downstream = has(3) !== has(0);
  const dirt = downstream ? 0.15 : 1;
  return {
    cart: `C-${index + 1}`,
    volumeL: about(40, 200),
    flowLpm: about(15, 60),
    betas: [about(5, 50), about(60, 200), 1000],
    bypass: has(0) ? about(0.02, 0.2) : undefined,
    leakage: has(1) ? about(0.01, 0.1) : undefined,
    hoses: has(2) ? { boreMm: about(12, 30), lengthM: about(4, 12), count: 2 } : undefined,
    slowZone: has(3) ? { fraction: about(0.05, 0.25), exchangePerPass: about(0.05, 0.3) } : undefined,
    settled: has(1) !== has(2) ? about(0.1, 1) : undefined,
    ingress: has(0) === has(2) ? [1e6, 2e5, 1e4].map((most) => about(most / 10, most)) : undefined,
    downstream,
    counts: [12_000, 3000, 400].map((most) => Math.round(dirt * about(most, 2 * most))),
  };
});
type Drawn = (typeof drawn)[number];

const cartOf = ({ cart, volumeL, flowLpm, betas, hoses, ingress, ...own }: Drawn) => ({
  cart,
  circuits: [
    {
      ...{ circuit: "main", serves: "main system", fluid: "MIL-PRF-83282" },
      ...{ volume: `${volumeL} L`, flow: `${flowLpm} L/min` },
      element: { position: "pressure", betas: SIZES.map((sizeUmC, at) => ({ sizeUmC, beta: betas[at] })) },
      ...{ bypass: own.bypass, leakage: own.leakage, slowZone: own.slowZone, settled: own.settled },
      ...(hoses && { hoses: [hoses] }),
      ...(ingress && { ingress: SIZES.map((sizeUmC, at) => ({ sizeUmC, particlesPerMin: ingress[at] })) }),
    },
  ],
});

const pairs = (values: readonly unknown[]) => SIZES.map((size, at) => `${size}=${values[at]}`).join(" ");

/** What a person asks `circulate` of the same circuit: bypass and seal let through one after the other. */
function asked({ bypass, leakage, hoses, slowZone, settled, ingress, ...own }: Drawn): string[] {
  const around = 1 - (1 - (bypass ?? 0)) * (1 - (leakage ?? 0));
  return [
    ...["circulate", "--volume", `${own.volumeL} L`, "--flow", `${own.flowLpm} L/min`],
    ...["--beta", pairs(own.betas), "--start", pairs(own.counts), "--target", "17/15/12"],
    ...(around > 0 ? ["--bypass", `${100 * around} %`] : []),
    ...(bypass !== undefined && leakage === undefined ? ["--uncertainty", "leakage=10%"] : []),
    ...(hoses ? ["--hoses", `${hoses.boreMm} mm x ${hoses.lengthM} m x 2`, "--fluid", "MIL-PRF-83282"] : []),
    ...(slowZone
      ? ["--slow-zone", `${100 * slowZone.fraction} % exchange ${100 * slowZone.exchangePerPass} %`]
      : []),
    ...(settled === undefined ? [] : ["--settled", `${100 * settled} %`]),
    ...(ingress ? ["--ingress", pairs(ingress)] : []),
    ...(own.downstream ? ["--port", "downstream"] : []),
  ];
}

const folder = temporaryFolder();
const write = (name: string, text: string) => {
  writeFileSync(join(folder, name), text);
  return join(folder, name);
};
const requirement = { ...REQUIREMENT, cleanliness: [parseTarget("17/15/12")] };
const { carts } = cartsFileSchema.parse(JSON.parse(JSON.stringify({ carts: drawn.map(cartOf) })));
const samples = drawn.map(({ cart, counts, downstream }) => ({
  ...{ sample: `S-${cart}`, cart, circuit: "main", drawnOn: "2026-03-04", origin: [] },
  fluid: "MIL-PRF-83282" as const,
  counts: cumulativeCounts(
    SIZES.map((sizeUm, at) => ({ sizeUm, count: counts[at] as number })),
    1,
  ),
  samplePoint: (downstream ? "downstream-of-element" : "main-flow-line") as SamplePoint,
  ...{ waterPpm: { value: 120 }, acidMgKohPerG: { value: 0.1 } },
}));
const given = {
  ...{ on: ON, carts, requirements: [requirement], samples, unread: [], decisions: [] },
  document: { document: "example limits", revision: "3" },
};
const judged = judgeCarts(given);
const minutesOf = (goBy: TimeToGoBy | undefined) => {
  if (goBy?.kind !== "minutes") throw new Error("expected minutes to go by");
  return goBy.minutes;
};

let fromFiles: { circuits: { cart: string; circulation: { quoted: { minutes: number } } }[] };
let explained: string;
let report: string;

beforeAll(async () => {
  const cartsFile = write("carts.json", JSON.stringify({ carts: drawn.map(cartOf) }));
  const system = { ...REQUIREMENT, cleanliness: ["17/15/12"] };
  const requirementFile = write(
    "requirement.json",
    JSON.stringify({ document: "example limits", revision: "3", systems: [system] }),
  );
  const rows = drawn.map(({ cart, counts, downstream }) => {
    const point = downstream ? "downstream of the pressure filter" : "main line";
    return `S-${cart},${cart},main,2026-03-04,MIL-PRF-83282,${point},${counts.join(",")},120,0.1`;
  });
  const csv = write(
    "results.csv",
    `sample,cart,circuit,drawn on,fluid,sample point,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid number (mg KOH/g)\n${rows.join("\n")}\n`,
  );
  const files = ["--carts", cartsFile, "--requirement", requirementFile, "--on", ON];
  fromFiles = (await runJson("judge", ...files, csv)).json;
  explained = (await runExplained("judge", ...files, csv)).out;
  const page = join(folder, "report.html");
  await run("report", ...files, "--out", page, csv);
  report = readFileSync(page, "utf8");
});

test("the circuits differ in every field, and so do their minutes", () => {
  const minutes = new Set(judged.map(({ verdict }) => minutesOf(verdict.goBy).toFixed(6)));
  expect(minutes.size).toBe(COUNT);
  for (const field of ["bypass", "leakage", "hoses", "slowZone", "settled", "ingress"] as const)
    expect(drawn.filter((one) => one[field] !== undefined).length, field).toBeGreaterThan(4);
});

describe.each(drawn.map((one, index) => [one.cart, one, index] as const))("%s", (cart, one, index) => {
  const { verdict, circuit, requirement: limits } = judged[index] as VerdictOnCircuit;
  const minutes = minutesOf(verdict.goBy);
  const said = formatMinutes(minutes);

  test("circulate on the command line", async () => {
    const { json } = await runJson(...asked(one));
    expect(json.quoted.minutes / minutes).toBeCloseTo(1, 9);
  });

  test("judge on the command line, its words and the report with its sheets and pictures", () => {
    const own = fromFiles.circuits.find((entry) => entry.cart === cart);
    expect(own?.circulation.quoted.minutes).toBe(minutes);
    expect(explained).toContain(`circulate ${said} (`);
    expect(report).toContain(`Self-circulate ${said} (`);
    expect(report).toContain(`aria-label="${cart}, circuit main: circulate ${said}; by the stated values`);
  });

  test("sentence, step, sheet, frame, notebook and picture", () => {
    const on = judged[index] as VerdictOnCircuit;
    expect(describeVerdict(verdict)).toContain(`circulate ${said} (`);
    expect(verdict.next.steps[0]?.text).toContain(`circulate ${said} (`);
    expect(stepsOf(on).join("\n")).toContain(`Self-circulate ${said} (`);
    expect(
      verdictsFrame([{ ...on, trends: [] } as unknown as JudgedCircuit]).column("circulateMinutes").values[0],
    ).toBe(minutes);
    expect(richOf(verdict).text).toContain(`circulate ${said} (`);
    const { circulation, goBy } = verdict;
    if (circulation === undefined || goBy === undefined) throw new Error("expected a plan");
    expect(drawCleanUpCurve(circulation, cart, { goBy })).toContain(`circulate ${said};`);
  });

  test("the library and the page", () => {
    const stated = statedCirculation(circuit as CirculatingCircuit);
    const answer = answerCirculation({
      circuit: { ...stated.circuit, limits: limitsOfTarget(parseTarget("17/15/12")) },
      start: { counts: samples[index]?.counts as never, assumptions: [] },
      port: one.downstream ? "downstream" : "upstream",
      confidence: { uncertainty: stated.uncertainty },
    });
    expect(minutesOf(answer.goBy)).toBe(minutes);
    const input = {
      cart,
      circuit,
      requirement: limits as typeof requirement,
      samples: [samples[index] as never],
      unread: [],
      on: ON,
    };
    const shown = minutesToGoBy(input);
    expect(shown.kind === "minutes" && shown.goBy.minutes).toBe(minutes);
    const typed = readChanges(circulationFieldsOf(circuit), input);
    if (typed.kind === "refused") throw new Error(typed.problems.join("; "));
    const again = minutesToGoBy(typed.value);
    // The fields are filled in with twelve digits.
    expect(again.kind === "minutes" && again.goBy.minutes).toBeCloseTo(minutes as number, 6);
  });
});
