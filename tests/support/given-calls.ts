import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll } from "vitest";
import { Book } from "../../src/book/index.js";
import { planCirculation } from "../../src/circulation/index.js";
import { limitsOfTarget, parseTarget } from "../../src/cleanliness/index.js";
import { cumulativeCounts } from "../../src/counts/index.js";
import {
  type CircuitCase,
  type JudgedCircuit,
  judgeCarts,
  traceAircraft,
  traceCart,
  trendReport,
} from "../../src/fitness/index.js";
import { viscosityLine } from "../../src/fluids/index.js";
import { readFleetFiles } from "../../src/intake/index.js";
import { compareLaboratories } from "../../src/laboratories/index.js";
import { Following, followedSample, followingSettings } from "../../src/online/index.js";
import { theilSen } from "../../src/trend/index.js";
import { ELEMENT, logOfElement } from "./online/simulated-element.js";

const DEMO = "datasets/demo";
const CARTS = `${DEMO}/carts.json`;
const REQUIREMENT = `${DEMO}/requirement.json`;
const SAMPLES = ["tidy", "long", "damaged"].map((name) => `${DEMO}/lab-${name}.csv`);

/** What {@link GIVEN_CALLS} are called with: the demonstration data and what comes of them, made new each time. */
export async function newlyGiven() {
  const folder = mkdtempSync(join(tmpdir(), "siltbook-"));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const paths = { carts: CARTS, requirement: REQUIREMENT, samples: SAMPLES };
  const texts = {
    carts: readFileSync(CARTS, "utf8"),
    requirement: readFileSync(REQUIREMENT, "utf8"),
    lab: readFileSync(SAMPLES[2] as string, "utf8"),
  };
  const fleet = await readFleetFiles(paths);
  const on = "2026-11-20";
  const asked = { ...fleet, decisions: [], on };
  const judged = judgeCarts(asked);
  const first = judged[0] as JudgedCircuit;
  const [cart] = fleet.carts;
  const circuitCase = {
    ...{ cart: "QB-01", circuit: first.circuit, requirement: first.requirement, on, unread: [] },
    samples: first.history,
  } as CircuitCase;
  const book = Book.open(join(folder, "demo.siltbook"), { create: true });
  book.keepCarts(CARTS, texts.carts);
  book.keepRequirements(REQUIREMENT, texts.requirement);
  for (const path of SAMPLES) await book.takeIn(path);
  const round = Book.open(join(folder, "round.siltbook"), { create: true });
  await round.takeIn(`${DEMO}/round-robin.csv`);
  const laboratorySamples = round
    .circuits()
    .flatMap((of) => round.history(of.cart, of.circuit))
    .map(({ sample }) => ({ sample }));
  const counts = cumulativeCounts(
    [4, 6, 10, 14, 21, 38, 70].map((sizeUm) => ({ sizeUm, count: Math.round(1.3e6 / sizeUm ** 3) })),
    1,
  );
  const target = parseTarget("17/15/12");
  const stream = {
    ...{ volumeL: 60, flowLpm: 15 },
    betas: [
      { sizeUmC: 4, beta: 20 },
      { sizeUmC: 6, beta: 100 },
      { sizeUmC: 14, beta: 1000 },
    ],
  };
  const circuit = { ...stream, start: counts, limits: limitsOfTarget(target) };
  const following = followingSettings([target], {}, { ...stream, port: "upstream" }).settings;
  const followed = new Following(following);
  const minutes = Array.from({ length: 12 }, (_, minute) =>
    followed.take({
      minute,
      readings: 1,
      temperatureC: 45,
      flowLpm: 15,
      counts: [{ sizeUmC: 4, perMl: 100 + minute }],
    }),
  );
  const observations = [2, 3, 2.5, 5, 4, 6, 7.5].map((y, place) => ({ x: 30 * place, y }));
  const at = (name: string) => join(folder, name);
  return {
    at,
    write: (name: string, bytes: Uint8Array) => {
      writeFileSync(at(name), bytes);
      return at(name);
    },
    ...{ paths, texts, fleet, on, asked, judged, circuitCase, book, laboratorySamples, cart },
    ...{ counts, target, stream, circuit, minutes, plan: planCirculation(circuit), observations },
    slope: theilSen(observations),
    line: viscosityLine({ temperatureC: 40, mm2PerS: 14 }, { temperatureC: 100, mm2PerS: 3.45 }),
    trend: trendReport({
      ...fleet,
      ...{ cart, circuit: cart?.circuits[0], measures: ["water", "acid", "viscosity"], on, unreadRows: 0 },
    } as never),
    cartTrace: traceCart(asked, "QB-01"),
    aircraftTrace: traceAircraft(asked, "L-204"),
    comparison: compareLaboratories(laboratorySamples),
    ...{
      following,
      element: ELEMENT,
      run: followedSample(minutes, following, { cart: "QB-01", circuit: "fore" }),
    },
    drops: logOfElement({ lifeH: 100, fromH: 80, toH: 95, power: 5, everyMin: 1 }),
    minute: {
      minute: 1,
      counts: [4, 6, 14].map((sizeUmC) => ({ sizeUmC, perMl: 100 / sizeUmC })),
      readings: 1,
    },
  };
}

export type Given = Awaited<ReturnType<typeof newlyGiven>>;

const UNCERTAINTY = "{ volume: 0.1, flow: 0.1, beta: 0.2 }";
const HEAT =
  "{ volumeL: 60, flowLpm: 15, dropBar: 200, pumpEfficiency: 0.85, coolingKw: 2, startC: 20, limitC: 70, restartC: 50, densityKgPerM3: 850, specificHeatKjPerKgK: 2 }";
const INDICATOR =
  "{ rated: { elementBar: 1, housingBar: 0.3, mm2PerS: 14, flowLpm: 60 }, viscosity: given.line, flowLpm: 50, temperatureC: 5, indicatorBar: 4 }";
const REMOVED = "cumulativeCounts([{ sizeUm: 4, count: 1000 }, { sizeUm: 16, count: 100 }], 1)";
const DUST = '{ kind: "particles", densityGPerCm3: 2.65, shapeFactor: 0.5 }';
const BY = '{ person: "A. Person", reason: "bottle was found open" }';

/** Calls of the public functions that take more than an example has room for, by entry point; `given` is what they are called with. */
export const GIVEN_CALLS: Readonly<Record<string, string>> = {
  // siltbook/circulation
  assessIndicator: `assessIndicator(${INDICATOR})`,
  bracketOf: "bracketOf({ ...given.circuit, volumeL: 60, flowLpm: 15 })",
  channelLevel: "channelLevel(given.plan, given.plan.channels[0], 2)",
  circulationFloor:
    "circulationFloor({ ...given.circuit, ingress: [{ sizeUmC: 4, particlesPerMin: 1000000 }] })",
  describeGoBy: "describeGoBy(timeToGoBy({ circuit: given.circuit, plan: given.plan }).goBy)",
  dustMass: `dustMass(${REMOVED}, ${DUST})`,
  elementLoading: `elementLoading({ volumeL: 60, capacityG: 80, retainedBeforeG: 50, removed: ${REMOVED}, removedPerPassAtEnd: ${REMOVED}, dust: ${DUST} })`,
  expectAfter: "expectAfter({ ...given.circuit, settled: 0.1, startDrawn: given.counts }, 5)",
  flowNeeded: "flowNeeded(given.circuit, 6)",
  flowRegime:
    "flowRegime({ flowLpm: 40, coldestC: 5, viscosity: given.line, hoses: [{ boreMm: 25 }, { boreMm: 19 }] })",
  levelBands: `levelBands(given.circuit, ${UNCERTAINTY}, seededRandom(7), [0, 2, 4], 40)`,
  mostInformativeMinutes:
    "mostInformativeMinutes({ plan: given.plan, countedMl: 25, laboratory: 0.1, untilMinutes: 12, notBeforeMinutes: 2, drawnMinutes: [1] })",
  planHeat: `planHeat(${HEAT}, 15)`,
  portLevel: "portLevel(given.plan, given.plan.channels[0], 2)",
  remediesFor: "remediesFor({ circuit: given.circuit, confidence: { draws: 50 } }, 3)",
  retainedAfter: "retainedAfter(given.plan, given.plan.channels[0], 2)",
  rulesOfThumb: "rulesOfThumb(given.plan)",
  timeToGoBy:
    "timeToGoBy({ circuit: given.circuit, plan: given.plan, dueMin: 3, confidence: { draws: 50, confidence: 0.9, seed: 3 } })",
  // siltbook/cleanliness
  acceptedCounts: "acceptedCounts(given.circuit.limits, { probability: 0.95, countedMl: 20 })",
  classConfidence: "classConfidence(ISO_4406, given.counts)",
  classifyAs4059Differential: "classifyAs4059Differential(given.counts)",
  classifyGost17216: "classifyGost17216(given.counts)",
  classifyIso4406: "classifyIso4406(given.counts)",
  classifyNas1638: "classifyNas1638(given.counts)",
  classifyNavy: "classifyNavy(given.counts)",
  codeConfidence: 'codeConfidence(parseIso4406("14/12/9"), given.counts)',
  compareIso4406: 'compareIso4406(parseIso4406("14/12/9"), parseIso4406("17/15/12"))',
  compareWithNewFluid: "compareWithNewFluid(given.counts)",
  formatAs4059: 'formatAs4059(parseAs4059("7B/6C/5D", "F").code)',
  iso4406Channels: "iso4406Channels(given.counts)",
  levelOf1246: "levelOf1246(given.counts)",
  // siltbook/fluids
  saturationCurve:
    'saturationCurve("MIL-PRF-83282", [{ temperatureC: 20, waterPpm: 150 }, { temperatureC: 60, waterPpm: 600 }])',
  signsOfMixing: 'signsOfMixing("AS1241 Type IV", "MIL-PRF-83282")',
  // siltbook/trend
  chanceBeyond: 'chanceBeyond(levelLine(given.observations, given.slope), 9, "above", 300)',
  findOutliers: "findOutliers(given.observations, 0.02)",
  forecastCrossing:
    'forecastCrossing({ observations: given.observations, limit: 12, towards: "above", horizon: 900, alpha: 0.1, level: 0.9 })',
  levelAt: "levelAt(levelLine(given.observations, given.slope), 300)",
  levelLine: "levelLine(given.observations, given.slope)",
  undoDilution: "undoDilution(given.observations, [{ x: 45, share: 0.2 }], 1)",
  // siltbook/laboratories
  compareLaboratories: "compareLaboratories(given.laboratorySamples, { confidence: 0.95 })",
  describeLaboratories: "describeLaboratories(given.comparison)",
  measuredBy: "measuredBy(given.laboratorySamples[0].sample)",
  // siltbook/online
  codeOfMinute: "codeOfMinute(given.minute)",
  describeOnline: "describeOnline(new Following(given.following).take(given.minute), undefined, 0.95)",
  describeRemark: 'describeRemark({ code: "cold", temperatureC: 5 })',
  drawOnlineChart: "drawOnlineChart([new Following(given.following).take(given.minute)])",
  describeElementLife: "describeElementLife(elementLife(given.drops, given.element))",
  elementLife: "elementLife(given.drops, given.element)",
  followedSample: 'followedSample(given.minutes, given.following, { cart: "QB-01", circuit: "fore" })',
  followingSettings:
    'followingSettings([given.target], { bias: 0.1, countedMlPerMin: 20 }, { ...given.stream, port: "upstream" })',
  meanOfMinute:
    "meanOfMinute([{ at: 60, counts: [{ sizeUmC: 4, perMl: 900 }], temperatureC: 40 }, { at: 70, counts: [{ sizeUmC: 4, perMl: 800 }] }])",
  minuteOf: "minuteOf(120)",
  "Following.take": "new Following(given.following).take(given.minute)",
  "Following.outlook": "new Following(given.following).outlook()",
  "OnlineStream.take":
    'new OnlineStream(given.following).take(JSON.stringify([{ n: "particles > 4 µm(c)", u: "1/mL", v: 900, t: 1773500000 }]), 1773500100)',
  "OnlineStream.takeReadings":
    "new OnlineStream(given.following).takeReadings([{ at: 60, counts: [{ sizeUmC: 4, perMl: 900 }] }])",
  "OnlineStream.end": "new OnlineStream(given.following).end()",
  "SensorLines.read":
    'new SensorLines().read(JSON.stringify([{ n: "particles > 4 µm(c)", u: "1/mL", v: 900, t: 1773500000 }]), 1773500100)',
  // siltbook/figures
  drawClassHistory: "given.judged.map((one) => drawClassHistory(one, given.target))",
  drawClassProbabilities:
    'drawClassProbabilities(classConfidence(ISO_4406, given.counts), given.target, "A")',
  drawClassTable: 'drawClassTable(ISO_4406, "A", { counts: given.counts, words: "S" })',
  drawCleanUpCurve: 'drawCleanUpCurve(given.plan, "A")',
  drawCountSpectrum: 'drawCountSpectrum(given.counts, given.target, "A")',
  drawFleetOverview: "drawFleetOverview(given.judged)",
  drawLaboratories: "drawLaboratories(given.comparison)",
  drawTrace: 'drawTrace(given.cartTrace.circuits[0], "particles")',
  drawTrend: 'drawTrend(given.trend.trends[0], "A")',
  drawWaterOfCircuit: "given.judged.map((one) => drawWaterOfCircuit(one))",
  drawWaterSaturation:
    'drawWaterSaturation(saturationCurve("MIL-PRF-83282", [{ temperatureC: 20, waterPpm: 150 }, { temperatureC: 60, waterPpm: 600 }]).curve, [], "A")',
  onPaper: "onPaper(drawFleetOverview(given.judged))",
  renderPng: "renderPng(drawFleetOverview(given.judged), { scale: 1 })",
  // siltbook/fitness
  verdictWithRun:
    "verdictWithRun({ ...given.circuitCase, requirement: { ...given.circuitCase.requirement, counterInLine: { repeatability: 0.1, bias: 0.2, minutesMin: 5, ageDaysMax: 1 } } }, given.run)",
  boundsOf: 'boundsOf("water", given.judged[0].requirement)',
  briefOf: "given.judged.map((one) => briefOf(one))",
  describeAircraftHookups: "describeAircraftHookups(given.aircraftTrace)",
  describeAircraftTrace: "describeAircraftTrace(given.aircraftTrace)",
  describeCircuitTrace: "given.cartTrace.circuits.map((one) => describeCircuitTrace(one))",
  describeForecast: "describeForecast(given.trend.trends[0].forecast)",
  describeOverHours:
    'describeOverHours({ kind: "cannot-tell", n: 0, why: "no hour-meter reading is known" })',
  describeNextSample: "describeNextSample(given.trend.trends[0])",
  describeSettlement: 'describeSettlement({ kind: "count-more", countedMl: 50, bottles: 1, replicates: 2 })',
  describeStands: 'describeStands("resample", false)',
  fleetLevels: 'fleetLevels("water", "MIL-PRF-83282", given.fleet)',
  followingOfCircuit: 'followingOfCircuit(given.judged[0], { bias: 0.1 }, "upstream", given.target)',
  isHeld: "given.judged.map((one) => isHeld(one))",
  recompute:
    "recompute(recordOf(given.circuitCase, judgeCircuit(given.circuitCase), given.fleet.document).inputs)",
  recordOf: "recordOf(given.circuitCase, judgeCircuit(given.circuitCase), given.fleet.document)",
  standingOf: `standingOf(given.judged[0].verdict, [{ number: 1, kind: "override", decision: "do-not-connect", on: "2026-11-20", at: "2026-11-20T08:00:00.000Z", ...${BY} }])`,
  suggestFrom: "suggestFrom({ circuit: given.cart.circuits[0], trends: given.trend.trends })",
  validUntilOf: "given.judged.map((one) => validUntilOf(one))",
  withMeasuredSpread: "withMeasuredSpread(given.fleet, given.comparison)",
  // siltbook/intake
  bytesInMemory: 'bytesInMemory("a.csv", new TextEncoder().encode("sample"))',
  bytesOnDisk: "bytesOnDisk(given.paths.samples[0])",
  checkSample: 'given.fleet.samples.map((sample) => checkSample(sample, "2026-11-20"))',
  collectSamples:
    'readLabFile("a.csv", new TextEncoder().encode(given.texts.lab)).then((file) => collectSamples([file], given.fleet.carts))',
  columnMapJsonSchema: "columnMapJsonSchema()",
  cartsJsonSchema: "cartsJsonSchema()",
  requirementsJsonSchema: "requirementsJsonSchema()",
  parseCartsFile: 'parseCartsFile("carts.json", given.texts.carts)',
  parseColumnMap: 'parseColumnMap("map.json", JSON.stringify({ siltbookColumnMap: 1, name: "lab" }))',
  parseLogMap: 'parseLogMap("map.json", JSON.stringify({ siltbookColumnMap: 1, name: "counter" }))',
  parseRequirementsFile: 'parseRequirementsFile("requirement.json", given.texts.requirement)',
  readCounterLogFile:
    'readCounterLogFile(bytesInMemory("log.csv", new TextEncoder().encode("Time,> 4 µm(c) /mL\\n2026-11-20 08:00,150\\n")))',
  readFleetFiles: "readFleetFiles(given.paths)",
  readLabFile: 'readLabFile("a.csv", new TextEncoder().encode(given.texts.lab))',
  readRequirementsFile: "readRequirementsFile(given.paths.requirement)",
  readSampleFiles: "readSampleFiles(given.paths)",
  unreadResults:
    'readLabFile("a.csv", new TextEncoder().encode(given.texts.lab)).then((file) => unreadResults(file.quarantine))',
  // siltbook/book: what is kept first, then what is read
  "Book.keepCarts": 'given.book.keepCarts("carts.json", given.texts.carts)',
  "Book.keepRequirements": 'given.book.keepRequirements("requirement.json", given.texts.requirement)',
  "Book.takeIn": "given.book.takeIn(given.paths.samples[0])",
  "Book.keepVerdicts":
    "given.book.keepVerdicts([recordOf(given.circuitCase, judgeCircuit(given.circuitCase), given.fleet.document)])",
  "Book.override": `given.book.override(1, { decision: "do-not-connect", ...${BY} })`,
  "Book.lift": `given.book.lift("QB-01", "fore", ${BY})`,
  "Book.overrideUnjudged": `given.book.overrideUnjudged("QB-01", "aft", { decision: "do-not-connect", ...${BY} })`,
  "Book.decideRows": `given.book.decideRows([given.book.quarantine()[0].id], { decision: "discarded", ...${BY} })`,
  "Book.carts": "given.book.carts()",
  "Book.check": "given.book.check()",
  "Book.circuits": "given.book.circuits()",
  "Book.csv": "[...given.book.csv()]",
  "Book.decisions": "given.book.decisions()",
  "Book.entryWithHash": "given.book.entryWithHash(given.book.head().hash)",
  "Book.files": "given.book.files()",
  "Book.head": "given.book.head()",
  "Book.history": "given.book.circuits().map((of) => given.book.history(of.cart, of.circuit))",
  "Book.jsonLines": "[...given.book.jsonLines()]",
  "Book.namedSamples": "given.book.namedSamples(given.book.quarantine())",
  "Book.otherCarts": "given.book.otherCarts()",
  "Book.quarantine": "given.book.quarantine()",
  "Book.recompute": "given.book.recompute(1)",
  "Book.requirements": "given.book.requirements()",
  "Book.rows": "given.book.files().map(({ sha256 }) => [...given.book.rows(sha256)])",
  "Book.rowText": "given.book.rowText(given.book.files()[0].sha256, 2)",
  "Book.samples": "[...given.book.samples()]",
  "Book.samplesOfNoCircuit":
    'given.book.samplesOfNoCircuit(given.fleet.carts.filter(({ cart }) => cart !== "QB-01"))',
  "Book.settledRows": "given.book.settledRows()",
  "Book.verdictBefore":
    'given.book.verdictBefore({ cart: "QB-01", circuit: "fore", on: "2026-12-01", inputs: [] })',
  "Book.verdicts": "given.book.verdicts()",
  "Book.verify": "given.book.verify()",
  readFleetOfBook: "readFleetOfBook(given.book.path)",
  readFleetOutline: "readFleetOutline(given.book.path)",
  judgeBook: `(async () => {
    const all = [];
    for await (const some of judgeBook(given.book.path, readFleetOutline(given.book.path), given.on)) all.push(...some);
    return all;
  })()`,
  laboratorySamplesOf: "laboratorySamplesOf(given.book)",
  newKeyPair: "newKeyPair()",
  signHead: "signHead(given.book.head(), newKeyPair().privateKey, given.on)",
  parseSignedHead:
    "parseSignedHead(JSON.stringify(signHead(given.book.head(), newKeyPair().privateKey, given.on)))",
  isSignedBy:
    "(({ privateKey, publicKey }) => isSignedBy(signHead(given.book.head(), privateKey, given.on), publicKey))(newKeyPair())",
  // siltbook/evidence
  evidenceFromBook: "evidenceFromBook(given.book.path, { number: 1 })",
  packAsZip: "evidenceFromBook(given.book.path, { number: 1 }).then(({ files }) => packAsZip(files))",
  packFromZip:
    "evidenceFromBook(given.book.path, { number: 1 }).then(({ files }) => packFromZip(packAsZip(files)))",
  verifyEvidence:
    "evidenceFromBook(given.book.path, { number: 1 }).then(({ files }) => verifyEvidence(files))",
  readEvidenceFiles:
    'evidenceFromBook(given.book.path, { number: 1 }).then(({ files }) => readEvidenceFiles(given.write("pack.zip", packAsZip(files))))',
  // What ends a book comes last.
  "Book.withdraw": `given.book.withdraw(given.book.files()[0], ${BY})`,
  "Book.withdrawals": "given.book.withdrawals()",
  "Book.backup": 'given.book.backup(given.at("copy.siltbook"))',
  // A copy of the book itself has nothing new.
  "Book.bringIn": 'given.book.bringIn(given.at("copy.siltbook"))',
  salvageBook: 'salvageBook(given.at("copy.siltbook"), given.at("saved.siltbook"))',
  "Book.open": 'Book.open(given.at("saved.siltbook")).close()',
  "Book.close": "given.book.close()",
  // siltbook/frames, siltbook/duckdb, siltbook/notebook, siltbook/report
  registerDuckdbFunctions: "registerDuckdbFunctions({ registerScalarFunction() {} })",
  samplesFrame: "samplesFrame(given.fleet.samples)",
  samplesOfFrame: "samplesOfFrame(samplesFrame(given.fleet.samples))",
  verdictsFrame: "verdictsFrame(given.judged)",
  renderFrame: 'renderFrame(verdictsFrame(given.judged), "verdicts")',
  richOf: 'richOf(verdictsFrame(given.judged), "verdicts")',
  renderLabels: 'renderLabels({ carts: given.fleet.carts, bottles: 2, first: "99-0001" })',
  renderReport:
    "renderReport({ circuits: given.judged, on: given.on, requirements: given.fleet.document, quarantine: given.fleet.quarantine })",
};
