import { spawnSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { type CircuitCase, judgeCircuit } from "../../src/fitness/index.js";
import { readLabFile } from "../../src/intake/index.js";
import type { Sample } from "../../src/samples/index.js";
import { CLEAN, caseOf } from "../support/fitness/bases.js";
import { run, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const FLEET = join(import.meta.dirname, "..", "support", "fleet");
const CLI = join(import.meta.dirname, "..", "..", "dist", "cli", "main.js");

const judge = (change: Partial<CircuitCase>) => judgeCircuit(caseOf(change));

/** Drawn on a day, at a time, with more water than is allowed or without. */
const drawn = (drawnOn: string, drawnTime: string | undefined, wet: boolean): Sample => ({
  ...CLEAN,
  sample: wet ? "S-wet" : "S-dry",
  drawnOn,
  ...(drawnTime !== undefined && { drawnTime }),
  ...(wet && { waterPpm: { value: 900 } }),
});

type Moment = readonly [day: string, time: string | undefined];

describe("the samples of one night are put in order as instants", () => {
  test.each<[string, Moment, Moment]>([
    ["on two local days of one zone", ["2026-03-04", "23:30+02:00"], ["2026-03-05", "00:10+02:00"]],
    ["on one local day of two zones", ["2026-03-04", "22:30+02:00"], ["2026-03-04", "21:00+00:00"]],
    ["in UTC and in a zone", ["2026-03-04", "22:00Z"], ["2026-03-05", "00:10+02:00"]],
    ["the later instant on the earlier local day", ["2026-03-05", "00:10+02:00"], ["2026-03-04", "22:30Z"]],
    ["two hours and two local days apart", ["2026-03-06", "00:30+14:00"], ["2026-03-04", "23:30-12:00"]],
    ["in one minute, with seconds", ["2026-03-04", "09:30:10+02:00"], ["2026-03-04", "09:30:20+02:00"]],
    ["on two days without zones", ["2026-03-04", "23:30"], ["2026-03-05", "00:10"]],
    ["on two days without times", ["2026-03-04", undefined], ["2026-03-05", undefined]],
    [
      "without a time, and the day after with a zone",
      ["2026-03-04", undefined],
      ["2026-03-05", "09:00+02:00"],
    ],
    ["with a zone, and the day after without one", ["2026-03-04", "23:00+02:00"], ["2026-03-05", "00:10"]],
    ["in UTC, and two days later without a zone", ["2026-03-04", "23:00Z"], ["2026-03-06", undefined]],
  ])("%s", (_, earlier, later) => {
    const cleaned = [drawn(...earlier, true), drawn(...later, false)];
    const soiled = [drawn(...earlier, false), drawn(...later, true)];
    for (const samples of [cleaned, [...cleaned].reverse()]) expect(judge({ samples }).verdict).toBe("fit");
    for (const samples of [soiled, [...soiled].reverse()])
      expect(judge({ samples }).verdict).toBe("exchange-fluid");
  });

  test.each<[string, Moment, Moment]>([
    ["one day, one without a zone", ["2026-03-04", "08:00+02:00"], ["2026-03-04", "23:00"]],
    ["one day, one without a time", ["2026-03-04", "08:00+02:00"], ["2026-03-04", undefined]],
    ["UTC, and the day after without a zone", ["2026-03-04", "22:30Z"], ["2026-03-05", "00:10"]],
    ["without a zone, and the day after in UTC", ["2026-03-04", "20:00"], ["2026-03-05", "01:00Z"]],
    ["one instant in two zones", ["2026-03-04", "12:00+02:00"], ["2026-03-04", "10:00Z"]],
    ["one minute, one without seconds", ["2026-03-04", "09:30"], ["2026-03-04", "09:30:40"]],
    ["one minute with zones, one without seconds", ["2026-03-04", "09:30Z"], ["2026-03-04", "09:30:40Z"]],
    ["a zone that is none", ["2026-03-04", "09:30+99:99"], ["2026-03-04", "11:30+02:00"]],
  ])("%s: the order is not known, and the stricter counts whichever it is", (_, one, other) => {
    for (const samples of [
      [drawn(...one, true), drawn(...other, false)],
      [drawn(...one, false), drawn(...other, true)],
    ]) {
      const verdict = judge({ samples });
      expect(verdict.verdict).toBe("exchange-fluid");
      expect(verdict.assumptions.map(({ code }) => code)).toContain("several-samples-that-day");
    }
  });

  test("samples of two days whose order is not known are said with both days", () => {
    const samples = [drawn("2026-03-05", "00:10", true), drawn("2026-03-04", "22:30Z", false)];
    expect(judge({ samples }).assumptions.map(({ message }) => message)).toContain(
      "2 samples were drawn on 2026-03-04 and 2026-03-05 in an order that is not known; the strictest verdict counts",
    );
  });
});

describe("today is the local day of the place where the command runs", () => {
  const dayIn = (zone: string) => new Intl.DateTimeFormat("sv-SE", { timeZone: zone }).format(new Date());

  // 26 hours apart: whatever the moment, at least one of the two has another day than UTC.
  test.each(["Pacific/Kiritimati", "Etc/GMT+12"])("judge and import in %s", (zone) => {
    const env = { ...process.env, TZ: zone };
    const files = ["--carts", join(FLEET, "carts.json"), "--requirement", join(FLEET, "requirement.json")];
    const before = dayIn(zone);
    const judged = spawnSync(process.execPath, [CLI, "judge", ...files, join(FLEET, "clean.csv"), "--json"], {
      encoding: "utf8",
      env,
    });
    expect([before, dayIn(zone)]).toContain(JSON.parse(judged.stdout).on);

    // A day is in the future when it is after tomorrow, because the cart may be a time zone ahead.
    const later = (days: number) =>
      new Date(Date.parse(dayIn(zone)) + days * 86_400_000).toISOString().slice(0, 10);
    const lab = join(folder, `${zone.replace("/", "-")}.csv`);
    const header = "sample,cart,circuit,drawn on,4 µm(c) per mL";
    writeFileSync(lab, `${header}\nS-1,C-1,1,${later(1)},1300\nS-2,C-1,1,${later(3)},1300\n`);
    const imported = spawnSync(
      process.execPath,
      [CLI, "import", "--book", `${lab}.siltbook`, lab, "--json"],
      {
        encoding: "utf8",
        env,
      },
    );
    expect(JSON.parse(imported.stdout).files).toMatchObject([{ taken: 1, quarantined: 1 }]);
  });
});

describe("a drawing day far before the received or reported day is questioned", () => {
  const HEADER = "sample,cart,circuit,drawn on,received on,reported on,4 µm(c) per mL,quarantine accepted";
  const codes = async (days: string, accepted = "") => {
    const bytes = new TextEncoder().encode(`${HEADER}\nS-1,C-1,1,${days},1300,${accepted}`);
    const { quarantine } = await readLabFile("lab.csv", bytes, { today: "2026-12-31" });
    return quarantine.flatMap(({ issues }) => issues.map(({ code, column }) => [code, column]));
  };
  const QUESTIONED = [["drawn-long-before-received", "drawn on"]];

  test.each([
    ["the year of last January", "2025-01-05,2026-01-08,2026-01-12", QUESTIONED],
    ["the year, and only the day of the report is known", "2025-01-05,,2026-01-12", QUESTIONED],
    ["drawn and received in the wrong year", "2025-01-05,2025-01-08,2026-01-12", QUESTIONED],
    ["61 days before it was received", "2026-01-05,2026-03-07,", QUESTIONED],
    ["60 days before it was received", "2026-01-05,2026-03-06,", []],
    ["61 days before the report", "2026-01-05,2026-01-08,2026-03-07", QUESTIONED],
    ["60 days before the report", "2026-01-05,2026-01-08,2026-03-06", []],
    ["over the turn of the year", "2025-12-29,2026-01-05,2026-01-12", []],
    ["no other day is known", "2025-01-05,,", []],
  ])("%s", async (_, days, expected) => {
    expect(await codes(days)).toEqual(expected);
  });

  test("a bottle that was kept back is accepted by a person", async () => {
    expect(await codes("2025-01-05,2026-01-08,2026-01-12", "drawn-long-before-received")).toEqual([]);
  });

  test("a dirty sample with last year's date stands before no fit verdict of an older clean one", async () => {
    mkdirSync(join(folder, "year"));
    const header =
      "sample,cart,circuit,drawn on,received on,fluid,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid number (mg KOH/g)";
    const clean = "S-1,C-1,1,2026-01-02,2026-01-03,MIL-PRF-83282,1300,320,40,150,0.1";
    const dirty = "S-2,C-1,1,2025-01-12,2026-01-13,MIL-PRF-83282,20000,5000,640,150,0.1";
    const files = ["--carts", join(FLEET, "carts.json"), "--requirement", join(FLEET, "requirement.json")];
    const verdict = async (name: string, ...rows: string[]) => {
      const lab = join(folder, "year", `${name}.csv`);
      writeFileSync(lab, [header, ...rows].join("\n"));
      const { json } = await runJson("judge", ...files, "--on", "2026-01-15", lab);
      const book = `${lab}.siltbook`;
      await run("import", "--book", book, ...files, "--on", "2026-01-15", lab);
      const { json: ofBook } = await runJson("judge", "--book", book, "--on", "2026-01-15");
      return [json.circuits[0], ofBook.circuits[0]].map(({ verdict, reasons }) => [verdict, reasons[0].code]);
    };
    expect(await verdict("clean", clean)).toEqual([
      ["fit", expect.any(String)],
      ["fit", expect.any(String)],
    ]);
    expect(await verdict("both", clean, dirty)).toEqual([
      ["resample", "result-in-quarantine"],
      ["resample", "result-in-quarantine"],
    ]);
  });
});
