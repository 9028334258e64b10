import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { describeVerdict, judgeCarts } from "../../src/fitness/index.js";
import { IntakeError, readFleetFiles } from "../../src/intake/index.js";

const at = (name: string) => join(import.meta.dirname, "..", "support", "fleet", name);
const paths = {
  carts: at("carts.json"),
  requirement: at("requirement.json"),
  samples: [at("samples.csv"), at("water.csv")],
};

describe("the files that verdicts rest on", () => {
  test("rows read are samples, repeats and quarantined rows, and nothing else", async () => {
    const fleet = await readFleetFiles(paths);
    expect(fleet.files.map((file) => [file.file, file.rows])).toEqual([
      ["samples.csv", 5],
      ["water.csv", 2],
    ]);
    // S-2 is in both files with different results, so both of its rows are set aside beside the broken row 5.
    expect(fleet.samples.map(({ sample }) => sample)).toEqual(["S-1", "S-3", "S-5", "S-6"]);
    expect(fleet.quarantine.map(({ file, row }) => `${file} ${row}`)).toEqual([
      "samples.csv 5",
      "samples.csv 3",
      "water.csv 3",
    ]);
  });

  test("a quarantined row whose circuit is known keeps an older sample from passing", async () => {
    const fleet = await readFleetFiles({ ...paths, samples: [at("samples.csv")] });
    expect(fleet.unread).toMatchObject([
      { cart: "C-1", circuit: "1", drawnOn: "2026-03-05", where: "samples.csv row 5" },
    ]);
    const [first] = judgeCarts({ ...fleet, on: "2026-03-14" });
    expect(first?.verdict.verdict).toBe("resample");
  });

  test("requirements come with the document they were taken from", async () => {
    const fleet = await readFleetFiles(paths);
    expect(fleet.document).toMatchObject({ document: "example limits", revision: "3" });
    expect(fleet.requirements.map(({ system }) => system)).toEqual(["main system"]);
  });

  test("a sample holds sizes and counts as the file gives them, and nothing of how they were read", async () => {
    const { samples } = await readFleetFiles(paths);
    expect(samples[0]?.counts?.counts).toEqual([
      { sizeUm: 4, count: 1300 },
      { sizeUm: 6, count: 320 },
      { sizeUm: 14, count: 40 },
    ]);
  });

  test("a file that is not there is named with its path", async () => {
    const missing = readFleetFiles({ ...paths, samples: [at("april.csv")] });
    await expect(missing).rejects.toThrow(IntakeError);
    await expect(missing).rejects.toThrow(`${at("april.csv")}: cannot be read: there is no such file`);
  });
});

describe("a verdict in one line", () => {
  const base: Parameters<typeof describeVerdict>[0] = {
    cart: "C-1",
    circuit: "2",
    serves: "main system",
    verdict: "fit",
    reasons: [{ code: "sample-recent", callsFor: "fit", message: "the sample is recent" }],
  };
  const plan = {
    mixing: { kind: "well-mixed" },
    minutesPerPass: 4.185,
    reachable: true,
    passes: 2.877,
    minutes: 12.04,
    governing: "4",
    channels: [],
    assumptions: [],
  } as const;

  test("a fit circuit is fit for the system it serves, and for no other", () => {
    expect(describeVerdict(base)).toBe(
      "C-1, circuit 2: fit to connect to main system, because the sample is recent.",
    );
  });

  test("minutes are rounded up, never down", () => {
    const reasons = [{ code: "particles-outside", callsFor: "circulate", message: "too many" }] as const;
    const goBy = {
      kind: "minutes",
      minutes: 20.04,
      passes: 4.789,
      confidence: 0.95,
      governs: "acceptance",
      leastTimes: [],
      assumptions: [],
    } as const;
    expect(describeVerdict({ ...base, verdict: "circulate", reasons, circulation: plan, goBy })).toBe(
      "C-1, circuit 2: not fit yet; circulate 21 min (4.8 passes), then draw a verifying sample, because too many.",
    );
  });

  test.each([
    ["resample", "not known to be fit; draw a new sample"],
    ["exchange-fluid", "not fit; exchange fluid"],
    ["do-not-connect", "do not connect"],
  ] as const)("%s says what to do and only the reasons that call for it", (verdict, action) => {
    const reasons = [
      { code: "water-outside", callsFor: verdict, message: "first" },
      { code: "acid-outside", callsFor: verdict, message: "second" },
      { code: "sample-recent", callsFor: "fit", message: "third" },
    ] as const;
    expect(describeVerdict({ ...base, verdict, reasons, circulation: plan })).toBe(
      `C-1, circuit 2: ${action}, because first; second.`,
    );
  });
});
