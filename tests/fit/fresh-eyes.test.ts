import { describe, expect, test } from "vitest";
import { judgeCircuit } from "../../src/fitness/index.js";
import { collectSamples, readLabFile } from "../../src/intake/index.js";
import type { Circuit, Requirement } from "../../src/samples/index.js";
import { CIRCUIT, caseOf, REQUIREMENT } from "../support/fitness/bases.js";

type Row = Readonly<Record<string, string>>;
type Event = Circuit["events"][number];

/** A bottle that is inside every limit, ten days old on 14 March 2026. */
const BOTTLE: Row = {
  sample: "S-1",
  cart: "C-1",
  circuit: "1",
  "drawn on": "2026-03-04",
  "drawn at": "",
  reported: "2026-03-06",
  fluid: "MIL-PRF-83282",
  "4 µm(c) per mL": "900",
  "6 µm(c) per mL": "250",
  "14 µm(c) per mL": "30",
  "water (mg/kg)": "120",
  "acid number (mg KOH/g)": "0.1",
};
const UNCOUNTED: Row = { "4 µm(c) per mL": "", "6 µm(c) per mL": "", "14 µm(c) per mL": "" };

interface Given {
  readonly rows: readonly Row[];
  readonly asks?: Partial<Requirement>;
  readonly events?: readonly Event[];
}

/** What a file with some rows comes to. Every row gets the columns of all. */
async function judge({ rows, asks = {}, events = [] }: Given) {
  const titles = [...new Set([BOTTLE, ...rows].flatMap((row) => Object.keys(row)))];
  const lines = rows.map((row) => titles.map((title) => `"${row[title] ?? BOTTLE[title] ?? ""}"`).join(","));
  const text = [titles.map((title) => `"${title}"`).join(","), ...lines].join("\n");
  const read = await readLabFile("lab.csv", new TextEncoder().encode(text));
  const circuit = { ...CIRCUIT, events: [...events] };
  const { samples, quarantine } = collectSamples([read], [{ cart: "C-1", circuits: [circuit] }]);
  const unread = quarantine.map(({ row, cart, circuit: of, drawnOn }) => ({
    where: `lab.csv row ${row}`,
    ...(cart !== undefined && { cart }),
    ...(of !== undefined && { circuit: of }),
    ...(drawnOn !== undefined && { drawnOn }),
  }));
  const requirement = { ...REQUIREMENT, ...asks };
  const { verdict, reasons } = judgeCircuit(caseOf({ circuit, requirement, samples, unread }));
  return `${verdict}: ${reasons.flatMap(({ code, callsFor }) => (callsFor === "fit" ? [] : [code])).join(", ")}`;
}

const one = (...cells: Row[]): Given => ({ rows: cells.length === 0 ? [{}] : cells });
const PATCHES: Partial<Requirement> = {
  cleanliness: [],
  patchTest: { standard: "NAVAIR 01-1A-17", classMax: 3, volumeMlMin: 100 },
};
const patch = (cells: Row): Given => ({ rows: [{ ...UNCOUNTED, ...cells }], asks: PATCHES });

describe("a base that does everything right is not sent away", () => {
  test.each<[string, Given]>([
    ["a plain bottle", one({})],
    ["a crackle test that heard nothing", one({ Crackle: "N" })],
    ["a crackle test, nil", one({ "Crackle test": "nil" })],
    ["a crackle test below its threshold", one({ "Crackle test": "<500 ppm" })],
    ["a crackle test that was not done", one({ "Crackle test": "not tested" })],
    ["a smell as usual", one({ Smell: "OK" })],
    ["no smell", one({ Odour: "no odour" })],
    ["a smell that nobody wrote down", one({ Odour: "" })],
    ["clear and bright in letters", one({ "Clear & bright": "C&B" })],
    ["clear and bright with a tick", one({ "Clear and bright": "✓" })],
    ["no fibres", one({ Fibres: "nil" })],
    ["a number of fibres", one({ Fibres: "2" })],
    ["a number of fibres in a volume", one({ Fibres: "< 5 / 100 mL" })],
    ["a patch test as a remark", one({ "Patch test": "Class 2, no free water" })],
    ["a patch that is light grey", one({ "Patch colour": "light grey" })],
    ["a patch in a file for a requirement of counts", one({ "Patch class": "2", "Patch stain": "none" })],
    ["pores of another test", one({ "Pore size": "0.45, 47 mm" })],
    ["a bottle that was not diluted", one({ "Dilution factor": "N/A" })],
    ["a dilution that is in the counts", one({ "Dilution (applied)": "1:5" })],
    [
      "a dilution that is not yet in the counts",
      {
        rows: [
          {
            "Dilution (not applied)": "10",
            "4 µm(c) per mL": "90",
            "6 µm(c) per mL": "25",
            "14 µm(c) per mL": "3",
          },
        ],
      },
    ],
    ["a run of its own", one({ Run: "1/1" })],
    ["a representative", one({ Rep: "A. Person" })],
    ["two runs that agree", one({ Run: "1" }, { Run: "2", "4 µm(c) per mL": "910" })],
    ["three runs and their mean", one({ Run: "1" }, { Run: "2" }, { Run: "3" }, { Run: "Mean" })],
    [
      "a class with its volume",
      {
        rows: [{ ...UNCOUNTED, "ISO 4406": "17/15/12", "Counted volume (mL)": "10" }],
        asks: { sampling: { countedMlMin: 10 } },
      },
    ],
    [
      "a class with the AS4059 sizes of the same fluid",
      {
        rows: [{ ...UNCOUNTED, "ISO 4406": "17/15/12", AS4059: "8A/7B/7C" }],
      },
    ],
    [
      "counts and water in two bottles of one day",
      one({ "water (mg/kg)": "", "acid number (mg KOH/g)": "" }, { sample: "S-2", ...UNCOUNTED }),
    ],
    [
      "water measured again two days later",
      one(
        {},
        {
          sample: "S-2",
          "drawn on": "2026-03-06",
          reported: "2026-03-08",
          ...UNCOUNTED,
          "acid number (mg KOH/g)": "",
        },
      ),
    ],
    [
      "element changed, circulated and sampled on one day",
      {
        rows: [{ "drawn at": "11:30" }],
        events: [
          { on: "2026-03-04", at: "09:00", kind: "element-change" },
          { on: "2026-03-04", at: "09:30", kind: "circulation", minutes: 45 },
        ],
      },
    ],
    [
      "hookups every day",
      {
        rows: [{}],
        events: ["05", "06", "09", "13"].map(
          (day): Event => ({ on: `2026-03-${day}`, kind: "hookup", minutes: 40, aircraft: "XX-ABC" }),
        ),
      },
    ],
    ["a little topped up", { rows: [{}], events: [{ on: "2026-03-08", kind: "top-up", addedL: 3 }] }],
    [
      "acid that nobody limits",
      { rows: [{ "acid number (mg KOH/g)": "" }], asks: { acidMgKohPerGMax: "not-limited" } },
    ],
    ["a label with spaces and a batch", one({ fluid: "MIL PRF 83282 batch 7" })],
    ["a label with the letters of a batch", one({ fluid: "MIL-PRF-83282D Lot A-17" })],
    ["a label with its revision in words", one({ fluid: "MIL-PRF-83282 rev D" })],
    ["a label that says nothing", one({ fluid: "n/a" })],
    ["a dash in place of a label", one({ fluid: "-" })],
    ["the mildest grade of a severity", one({ Severity: "1" })],
    ["no alarms", one({ Alarms: "0" })],
    ["a patch as a remark that is cleaner than the counts", one({ "Patch test": "NAS 5" })],
    [
      "a patch as a remark in a later bottle",
      one({}, { sample: "S-2", "drawn on": "2026-03-06", ...UNCOUNTED, "Patch test": "ISO 17/15/12" }),
    ],
    [
      "a patch in an ISO 4406 code",
      {
        rows: [{ ...UNCOUNTED, "Patch test result (ISO 4406)": "17/15/12" }],
        asks: { cleanliness: [], patchTest: { standard: "ISO 4406", classMax: "18/16/13" } },
      },
    ],
    [
      "a counter whose calibration is written short",
      { rows: [{ "Cal. due": "2026-12-31" }], asks: { sampling: { calibrated: true } } },
    ],
    ["a clean blank of a larger size alone", one({ "Blank > 14 µm(c) per mL": "0.3" })],
    [
      "a patch inside, with its volume",
      patch({ "Patch class (NAVAIR 01-1A-17)": "3", "Volume filtered (mL)": "100" }),
    ],
    [
      "a patch by the navy, said in its cell",
      patch({ "Patch class": "Navy class 2", "Patch volume": "100 mL" }),
    ],
    [
      "a patch and water in two bottles",
      {
        rows: [
          {
            ...UNCOUNTED,
            "Patch class (navy)": "1",
            "Patch volume (mL)": "100",
            "water (mg/kg)": "",
            "acid number (mg KOH/g)": "",
          },
          { ...UNCOUNTED, sample: "S-2" },
        ],
        asks: PATCHES,
      },
    ],
  ])("%s", async (_, given) => {
    expect(await judge(given)).toBe("fit: ");
  });
});

describe("a dirty, wet or spoiled cart is not called fit", () => {
  test.each<[string, Given, string]>([
    [
      "it crackles although little water was measured",
      one({ Crackle: "positive" }),
      "exchange-fluid: free-water-seen",
    ],
    ["a crackle test with a plus", one({ Crackle: "+" }), "resample: words-not-understood"],
    ["it smells burnt", one({ Smell: "slightly burnt" }), "resample: smell-unusual"],
    ["it smells of another fluid", one({ Odour: "petrol-like" }), "resample: smell-unusual"],
    ["not clear and bright", one({ "Clear and bright": "N" }), "resample: cloudy-seen"],
    ["many fibres", one({ Fibres: "many" }), "resample: particles-seen"],
    ["free water on the patch", one({ "Patch free water": "trace" }), "exchange-fluid: free-water-seen"],
    ["a stained patch", one({ "Patch stain": "light" }), "resample: patch-stained"],
    ["a black patch", one({ "Patch colour": "black" }), "resample: laboratory-doubts"],
    ["a grade of a severity that is not normal", one({ Severity: "3" }), "resample: laboratory-doubts"],
    ["a level of an alarm", one({ "Alarm level": "level 2" }), "resample: laboratory-doubts"],
    ["a fluid that is unknown", one({ fluid: "unknown" }), "resample: fluid-label-not-recognised"],
    [
      "a label that says nothing where it is required",
      { rows: [{ fluid: "n/a" }], asks: { sampling: { labelled: true } } },
      "resample: fluid-not-stated",
    ],
    [
      "a dirty blank that was counted at a larger size alone",
      one({ "Blank > 14 µm(c) per mL": "500" }),
      "resample: blank-too-high",
    ],
    [
      "a blank of the middle size where one is required",
      { rows: [{ "Blank > 6 µm(c) per mL": "100" }], asks: { sampling: { blank: true } } },
      "resample: blank-not-counted, blank-too-high",
    ],
    [
      "a patch as a remark that is dirtier than a target of its standard",
      one({ "Patch test": "ISO 20/18/15" }),
      "resample: stated-class-outside",
    ],
    [
      "a patch in an ISO 4406 code beyond its limit",
      {
        rows: [{ ...UNCOUNTED, "Patch code (ISO 4406)": "17/17/12" }],
        asks: { cleanliness: [], patchTest: { standard: "ISO 4406", classMax: "18/16/13" } },
      },
      "circulate: patch-outside",
    ],
    [
      "a range of classes of a patch, the dirtier first",
      patch({ "Patch class": "4-3", "Patch volume (mL)": "100" }),
      "resample: words-not-understood, patch-not-measured",
    ],
    [
      "a diluted bottle of which nobody says whether its counts are multiplied",
      one({ Dilution: "1:10" }),
      "resample: result-in-quarantine, no-sample",
    ],
    [
      "counts that have to be multiplied",
      one({ "Dilution (not applied)": "10" }),
      "circulate: particles-outside",
    ],
    [
      "a second run too dirty to count",
      one({ Run: "1" }, { Run: "2", "4 µm(c) per mL": "TNTC" }),
      "resample: result-in-quarantine, no-sample",
    ],
    [
      "a mean that is cleaner than its runs",
      one({ Run: "1", "4 µm(c) per mL": "1400" }, { Run: "2", "4 µm(c) per mL": "1380" }, { Run: "mean" }),
      "circulate: particles-outside",
    ],
    [
      "a class whose volume is too small",
      {
        rows: [{ ...UNCOUNTED, "ISO 4406": "17/15/12", "Counted volume (mL)": "1" }],
        asks: { sampling: { countedMlMin: 10 } },
      },
      "resample: counted-volume-too-small",
    ],
    [
      "a class that another class contradicts",
      { rows: [{ ...UNCOUNTED, "ISO 4406": "17/15/12", AS4059: "12A" }] },
      "resample: stated-class-unexplained",
    ],
    [
      "a patch for a requirement of counts",
      one({ ...UNCOUNTED, "Patch class (NAVAIR 01-1A-17)": "0" }),
      "resample: particles-not-measured",
    ],
    ["counts for a requirement of patches", { rows: [{}], asks: PATCHES }, "resample: patch-not-measured"],
    [
      "a patch of a little fluid",
      patch({ "Patch class (NAVAIR 01-1A-17)": "1", "Patch volume (mL)": "25" }),
      "resample: patch-unsuited",
    ],
    [
      "a patch of a volume that nobody states",
      patch({ "Patch class (NAVAIR 01-1A-17)": "1" }),
      "resample: patch-unsuited",
    ],
    [
      "a patch of a volume without its unit",
      patch({ "Patch class (NAVAIR 01-1A-17)": "1", "Patch volume": "100" }),
      "resample: patch-unsuited",
    ],
    [
      "a patch of an unknown standard",
      patch({ "Patch class": "1", "Patch volume (mL)": "100" }),
      "resample: patch-unsuited",
    ],
    [
      "a patch between two classes",
      patch({ "Patch class (navy)": "3-4", "Patch volume (mL)": "100" }),
      "resample: words-not-understood, patch-not-measured",
    ],
    [
      "a patch beyond its limit",
      patch({ "Patch class (navy)": "4", "Patch volume (mL)": "100" }),
      "circulate: patch-outside",
    ],
    [
      "an old patch after an element change",
      {
        ...patch({ "Patch class (navy)": "2", "Patch volume (mL)": "100" }),
        events: [{ on: "2026-03-08", kind: "element-change" }],
      },
      "resample: drawn-before-event",
    ],
    [
      "worse water in a later bottle",
      one(
        {},
        {
          sample: "S-2",
          "drawn on": "2026-03-08",
          reported: "2026-03-09",
          ...UNCOUNTED,
          "water (mg/kg)": "240",
        },
      ),
      "exchange-fluid: water-outside",
    ],
    [
      "a hookup to a dirty aircraft",
      { rows: [{}], events: [{ on: "2026-03-08", kind: "hookup", aircraftFound: "dirty" }] },
      "resample: drawn-before-event",
    ],
    ["a preservative fluid", one({ fluid: "MIL-PRF-6083" }), "do-not-connect: fluid-contradicts-label"],
  ])("%s", async (_, given, expected) => {
    expect(await judge(given)).toBe(expected);
  });
});
