import { expect, test } from "vitest";
import { answerCirculation } from "../../src/circulation/index.js";
import { describeCirculationInBrief } from "../../src/cli/commands/circulate/circulate-text.js";
import { runCli } from "../../src/cli/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import { inOneLine } from "../support/run-cli.js";

async function run(...args: string[]): Promise<{ code: number; out: string; err: string }> {
  let [out, err] = ["", ""];
  const code = await runCli(args, {
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
  });
  return { code, out, err };
}

const CIRCUIT = [
  "circulate",
  "--volume",
  "60 L",
  "--flow",
  "15 L/min",
  "--beta",
  "4=20 6=100 14=1000",
  "--target",
  "17/15/12",
  "--explain",
] as const;

async function json(...args: string[]) {
  const { code, out, err } = await run(...args, "--json");
  return { code, err, document: JSON.parse(out || "null") };
}

test("circulate keeps its contract: passes, minutes, governing, channels and assumptions", async () => {
  const { code, document } = await json(...CIRCUIT, "--start", "21/19/16");
  expect(code).toBe(0);
  expect(document).toMatchObject({
    reachable: true,
    passes: expect.closeTo(2.8795, 4),
    minutes: expect.closeTo(11.518, 4),
    governing: "4",
    mixing: "well-mixed",
    quoted: { confidence: 0.95, governs: "acceptance" },
  });
  expect(document.quoted.minutes).toBeGreaterThan(document.minutes);
  expect(document.channels.map((channel: { sizeUmC: number }) => channel.sizeUmC)).toEqual([4, 6, 14]);
  expect(Object.keys(document.channels[0])).toEqual(
    expect.arrayContaining(["sizeUmC", "start", "limit", "floor", "passes", "minutes"]),
  );
  expect(document.assumptions.map((entry: { code: string }) => entry.code)).toContain("start-at-upper-end");
});

test("uncertainties do not move the time by the stated values; the time to go by is the first line", async () => {
  const plain = (await json(...CIRCUIT, "--start", "21/19/16")).document;
  const { document } = await json(
    ...CIRCUIT,
    "--start",
    "21/19/16",
    "--uncertainty",
    "volume=10% flow=5% lab=20% counted=20 mL",
  );
  expect(document.minutes).toBe(plain.minutes);
  expect(document.quoted).toMatchObject({ confidence: 0.95 });
  expect(document.quoted.minutes).toBeGreaterThan(1.1 * plain.minutes);
  expect(document.quoted.basis).toContain("95 %");
  const again = (
    await json(...CIRCUIT, "--start", "21/19/16", "--uncertainty", "volume=10% flow=5% lab=20% counted=20 mL")
  ).document;
  expect(again).toEqual(document);
  const text = await run(...CIRCUIT, "--start", "21/19/16", "--confidence", "90 %");
  expect(text.out).toMatch(
    /^Circulate \d+ min \(\d\.\d passes\); channel 4 decides\.\nA verifying bottle drawn then is accepted in 90 % of the cases\.\nBy the stated values alone 12 min/,
  );
  expect(text.out).toContain("uncertainties that were not stated; usual values were taken");
});

test("gallons, gpm, psi and °F are read as people write them", async () => {
  const litres = await json(
    ...[
      "circulate",
      "--volume",
      "60.566588544 L",
      "--flow",
      "45.424941408 L/min",
      "--beta",
      "4=20",
      "--start",
      "4=20000",
      "--target",
      "17/-/-",
    ],
    ...["--heat", "drop=68.9475729 bar start=20 °C limit=70 °C fluid=MIL-PRF-83282"],
  );
  const gallons = await json(
    ...[
      "circulate",
      "--volume",
      "16 US gal",
      "--flow",
      "12 gpm",
      "--beta",
      "4=20",
      "--start",
      "4=20000",
      "--target",
      "17/-/-",
    ],
    ...["--heat", "drop=1000 psi start=68 °F limit=158 °F fluid=MIL-PRF-83282"],
  );
  expect(gallons.document.minutes).toBeCloseTo(litres.document.minutes, 9);
  expect(gallons.document.heat.endC).toBeCloseTo(litres.document.heat.endC, 6);
  expect(gallons.document.assumptions.map((entry: { code: string }) => entry.code)).toContain("unit-meaning");
});

test("two interim samples sharpen the answer: as rated, with the minutes that are left", async () => {
  const { code, document } = await json(
    ...CIRCUIT,
    ...[
      "--start",
      "4=20000 6=5000 14=640",
      "--interim",
      "4 min: 4=7800 6=1900 14=240",
      "--interim",
      "8 min: 4=3000 6=700 14=88",
      "--uncertainty",
      "lab=2 %",
    ],
  );
  expect(code).toBe(0);
  expect(document.interim).toMatchObject({ diagnosis: "as-rated" });
  // 3.56 min to the limit, and 1.645 times the 2 % of the laboratory, at 0.236 a minute, to where its bottle is accepted.
  expect(document.interim.channels[0].remaining.estimate).toBeCloseTo(3.556 + 0.0329 / 0.236, 1);
});

test("counts that do not fall end with 1 and without steps to go on", async () => {
  const stuck = [
    "--start",
    "4=20000 6=5000 14=640",
    "--interim",
    "4 min: 4=19900 6=5010 14=645",
    "--interim",
    "8 min: 4=20100 6=4980 14=<650",
    "--uncertainty",
    "lab=5 %",
  ];
  const { code, document } = await json(...CIRCUIT, ...stuck);
  expect(code).toBe(1);
  expect(document.interim.diagnosis).toBe("not-falling");
  expect(document.steps).toBeNull();
  expect((await run(...CIRCUIT, ...stuck)).out).toContain("Stop and look");
});

test("a target that ingress keeps out of reach ends with 1 and says what would help", async () => {
  const { code, out } = await run(...CIRCUIT, "--start", "21/19/16", "--ingress", "4=1e8 6=1e6 14=1e5");
  expect(code).toBe(1);
  expect(out).toContain("Circulating cannot get there");
  // By the stated values the edge is 82.08 L/min, where the time has no end.
  expect(out).toMatch(/a flow of at least \d+ L\/min\s\(\d+\smin\)/);
});

test("the text that goes to the cart has numbered steps with cautions, and the samples with the counts to expect", async () => {
  const { out } = await run(...CIRCUIT, "--start", "21/19/16", "--slow-zone", "20 % exchange 30 %");
  const steps = inOneLine(out.slice(out.indexOf("Steps"), out.indexOf("Assumptions:")));
  for (const words of [
    "1. Take the cart's instructions",
    "CAUTION",
    "draw the interim sample",
    "draw the verifying sample",
    "Expected at the port",
    "Expect the counts to rise",
  ]) {
    expect(steps).toContain(words);
  }
  expect(out).toContain("Siltbook advises; it never releases.");
});

test("beside samples that were drawn, what is expected is said to go by the ratings", async () => {
  const required = [...CIRCUIT, "--start", "4=20000 6=5000 14=640", "--after", "10 min"];
  const drawn = await run(...required, "--interim", "6 min: 4=9000 6=2200 14=280");
  const words = drawn.out.replace(/\s+/g, " ");
  for (const expected of [
    /At the end, .* it is expected at .* if the circuit works as rated\./,
    /After 10 minutes the circuit is expected at .* if the circuit works as rated\./,
    /Expected at the port if the circuit works as rated, per mL: 4:/,
  ]) {
    expect(words).toMatch(expected);
  }
  expect((await run(...required)).out).not.toContain("works as rated");
});

test("a plan that would overheat the fluid is split into runs with pauses, or refused", async () => {
  const heat = (settings: string) => json(...CIRCUIT, "--start", "21/19/16", "--heat", settings);
  const split = await heat(
    "drop=350 bar efficiency=80 % start=20 °C limit=60 °C restart=45 °C cooling=3 kW fluid=MIL-PRF-83282",
  );
  expect(split.document.heat).toMatchObject({ kind: "runs-with-pauses" });
  expect(split.code).toBe(0);
  // The pump runs for as long as the steps say, and not for the planned fraction of a minute less.
  const { totalMin, pauses, pauseMin } = split.document.heat;
  const last = split.document.steps.findLast(({ step }: { step: string }) => step.startsWith("After"));
  expect(last.step).toContain(`After ${Number((totalMin - pauses * pauseMin).toPrecision(12))} minutes`);
  const refused = await heat("drop=350 bar efficiency=80 % start=20 °C limit=60 °C fluid=MIL-PRF-83282");
  expect(refused.document.heat).toMatchObject({ kind: "refused" });
  expect(refused.code).toBe(1);
});

test("element loading and a cold indicator are answered beside the plan", async () => {
  const { document } = await json(
    ...CIRCUIT,
    ...["--start", "21/19/16", "--element", "capacity=80 g held=79.5 g"],
    ...["--indicator", "drop=1 bar viscosity=14 mm2/s trips=3 bar at=41 °F fluid=MIL-PRF-83282"],
  );
  expect(document.loading.circulationsLeft).toEqual({ kind: "times", value: 0 });
  expect(document.indicator).toMatchObject({
    meaning: "cold-fluid-alone-explains-it",
    lookAgainAt: { kind: "temperature" },
  });
});

test.each([
  [["--mixing", "stirred"], '--mixing: expected well-mixed, two-zone or plug, found "stirred"'],
  [["--mixing", "two-zone"], "--slow-zone: expected the slow part of the volume"],
  [["--side-stream", "10 L/min"], '--side-stream: expected FLOW: PAIRS such as "10 L/min: 4=75 6=200"'],
  [["--uncertainty", "volum=10%"], '--uncertainty: "volum" is not known; known are volume'],
  [["--confidence", "100 %"], "--confidence: expected above 0 and below 100 %"],
  [["--interim", "soon: 4=1"], "--interim: expected a number with one of the units"],
  [["--interim", "10 min: 4=<9.000 6=800 14=30"], '--interim: "4=<9.000" may be 9 or 9000'],
  [["--volume", "1.200 L"], '"1.200 L" may be 1.2 or 1200'],
  [["--flow", "1.200L/min"], '"1.200L/min" may be 1.2 or 1200'],
  [["--ingress", "4=1.200"], '--ingress: "4=1.200" may be 1.2 or 1200'],
  [
    ["--interim", "10 min: 4=9000 6=800 14=30", "--interim", "600 s: 4=8000 6=700 14=20"],
    '--interim: "10 min: 4=9000 6=800 14=30" and "600 s: 4=8000 6=700 14=20" are both of 10 minutes; give one sample for each moment',
  ],
  [
    ["5 min: 4=15000", "10 min: 4=9000", "10 min: 4=8000"].flatMap((text) => ["--interim", text]),
    '--interim: "10 min: 4=9000" and "10 min: 4=8000" are both of 10 minutes; give one sample for each moment',
  ],
  [
    ["--interim", "0 min: 4=9000 6=800 14=30"],
    '--interim: expected a time after 0 minutes, which --start stands for, found "0 min: 4=9000 6=800 14=30"',
  ],
  [
    ["--interim", "-5 min: 4=9000"],
    '--interim: expected a time after 0 minutes, which --start stands for, found "-5 min',
  ],
  [
    ["--interim", "10 min: 4=9000 6=9500 14=30"],
    "the sample drawn after 10 min, in particles per mL: cumulative counts cannot rise with size: 9500 at 6 µm is more than 9000 at 4 µm",
  ],
  [["--counted", "10 mL"], "--counted: it goes with --interim or --uncertainty only"],
  [
    ["--confidence", "95"],
    '--confidence: expected above 0 and below 100 %, such as "95 %" or "0.95", found "95"',
  ],
  [["--volume", "0 L"], '--volume: expected more than 0 L, found "0 L"'],
  [["--flow", "-1 gpm"], '--flow: expected more than 0 L/min, found "-1 gpm"'],
  [["--volume", "60,5 L"], 'imp gal, gal, US qt, with a decimal point and no comma, found "60,5 L"'],
  [["--heat", "drop=200 bar"], '--heat: "fluid" is needed, or "density" and "specific-heat"'],
  [["--bypass", "a little"], '--bypass: expected a fraction such as "5 %" or "0.05", found "a little"'],
  [
    ["--confidence", "90 %", "--seed", "x"],
    '--seed: expected a whole number of at most 15 figures, found "x"',
  ],
])("%s is refused in one line", async (extra, message) => {
  const { code, out, err } = await run(...CIRCUIT, "--start", "21/19/16", ...extra);
  expect({ code, out }).toEqual({ code: 2, out: "" });
  expect(err).toContain(message);
  expect(err.trim().split("\n")).toHaveLength(1);
});

test("one interim sample that falls slowly cannot tell yet, and no time is promised", async () => {
  const { out } = await run(...CIRCUIT, "--start", "21/19/16", "--interim", "4 min: 4=14000 6=3600 14=450");
  expect(out).toMatch(/^Circulate on until minute \d+, .* more(, (and )?draw another sample|: )/);
  expect(out).not.toContain("cannot-tell-yet. ");
  expect(out).toMatch(/at least [\d.]+ min more; these samples give no upper end/);
});

test("exchange answers water and acid with litres, times and hours", async () => {
  const { code, document } = await json(
    ...[
      "exchange",
      "--volume",
      "60 L",
      "--water",
      "900 ppm",
      "--water-limit",
      "500 ppm",
      "--fresh-water",
      "150 ppm",
    ],
    ...[
      "--acid",
      "1.8 mg KOH/g",
      "--acid-limit",
      "1.5 mg KOH/g",
      "--fresh-acid",
      "0.05 mg KOH/g",
      "--drain",
      "40 %",
      "--dry",
      "30 % per hour",
    ],
  );
  expect(code).toBe(0);
  const [water, acid] = document.contaminants;
  expect(water.once).toMatchObject({ kind: "out-of-reach" });
  // A fifth below the limit: 400 of 500 ppm, 1.2 of 1.5 mg KOH/g, so that the next drop does not end it.
  expect(water.aim).toBe(400);
  expect(acid.aim).toBeCloseTo(1.2, 12);
  expect(water.repeated).toMatchObject({ kind: "litres", times: 3 });
  expect(water.repeated.litres).toBeCloseTo(72, 9);
  expect(water.feedAndBleed.litres).toBeCloseTo(60 * Math.log(750 / 250), 9);
  expect(water.drying.hours).toBeCloseTo(Math.log(900 / 400) / 0.3, 9);
  expect(acid.once.litres).toBeCloseTo(60 * (1 - 1.15 / 1.75), 9);
  expect(acid.drying).toBeNull();
});

test("nobody is told to drain a circuit that is inside, or where fresh fluid does not get there", async () => {
  const words = async (water: string, limit: string) => {
    const more = ["--water", water, "--water-limit", limit, "--fresh-water", "150 ppm"];
    return (await run("exchange", "--volume", "60 L", ...more, "--explain")).out;
  };
  expect(await words("900 ppm", "500 ppm")).toContain("drain with the unit off");
  expect(await words("400 ppm", "500 ppm")).not.toContain("drain with the unit off");
  expect(await words("900 ppm", "100 ppm")).not.toContain("drain with the unit off");
});

test("exchange reads a drain in litres, and ends with 1 where the fresh fluid is no better than the limit", async () => {
  const args = ["exchange", "--volume", "60 L", "--water", "900 ppm", "--water-limit", "500 ppm"];
  const drained = await json(...args, "--fresh-water", "100 ppm", "--drain", "30 L");
  expect(drained.document).toMatchObject({ drainFraction: 0.5 });
  const wet = await run(...args, "--fresh-water", "500 ppm");
  expect(wet.code).toBe(1);
  expect(wet.out).toContain("the fresh fluid is at 500, not below the limit of 500");
  expect((await run("exchange", "--volume", "60 L")).err).toContain(
    "--water or --acid: at least one is needed",
  );
  expect((await run("exchange", "--volume", "60 L", "--water", "900 ppm")).err).toContain(
    "--water: it needs --water-limit and --fresh-water",
  );
});

// By hand: β of 1.2 takes out a sixth of the 100 per mL that are smaller than 14 µm(c), and 9,000,000 of these come in a minute. Those
// above 14 go at once, so the level falls below 800 per mL, and then rises to 9,000,000 / 45,000 mL / (1/6) = 1,200.
const WINDOW = {
  ...{ volumeL: 60, flowLpm: 45 },
  betas: [
    { sizeUmC: 4, beta: 1.2 },
    { sizeUmC: 14, beta: 1000 },
  ],
  limits: [{ channel: "4", fromUm: 4, limit: 800, volumeMl: 1 }],
  ingress: [
    { sizeUmC: 4, particlesPerMin: 9e6 },
    { sizeUmC: 14, particlesPerMin: 0 },
  ],
};

test.each([
  [undefined, /Stop before [\d.]+ minutes: ingress then lifts/],
  [1000, /By the stated values ingress has already lifted a channel above its limit again\./],
])("circulate says when ingress lifts a channel again, or that it has (%s min run)", (minutes, words) => {
  const counts = cumulativeCounts(
    [
      { sizeUm: 4, count: 2000 },
      { sizeUm: 14, count: 1900 },
    ],
    1,
  );
  const answer = answerCirculation({
    ...{ circuit: WINDOW, start: { counts, assumptions: [] }, confidence: { draws: 100 } },
    ...(minutes !== undefined && { done: { minutes } }),
  });
  expect(describeCirculationInBrief(answer).replace(/\s+/g, " ")).toMatch(words);
});

test("both commands explain themselves with examples", async () => {
  for (const command of ["circulate", "exchange"]) {
    const { code, out } = await run(command, "--help");
    expect(code).toBe(0);
    expect(out).toContain(`siltbook ${command} --volume`);
    expect(out).toContain("Siltbook advises; it never releases.");
  }
});
