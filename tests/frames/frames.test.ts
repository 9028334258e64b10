import { execFile } from "node:child_process";
import { cp, mkdir, mkdtemp, readdir, readFile, rm, symlink } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { promisify } from "node:util";
import { DataFrame } from "danfojs";
import { beforeAll, describe, expect, test } from "vitest";
import { type JudgedCircuit, judgeCarts } from "../../src/fitness/index.js";
import { renderFrame, samplesFrame, samplesOfFrame, verdictsFrame } from "../../src/frames/index.js";
import { readFleetFiles } from "../../src/intake/index.js";
import type { Sample } from "../../src/samples/index.js";

const runFile = promisify(execFile);
const ROOT = join(import.meta.dirname, "..", "..");
const FLEET = join(import.meta.dirname, "..", "support", "fleet");

let samples: readonly Sample[];
let judged: readonly JudgedCircuit[];

beforeAll(async () => {
  const fleet = await readFleetFiles({
    carts: join(FLEET, "carts.json"),
    requirement: join(FLEET, "requirement.json"),
    samples: [join(FLEET, "samples.csv")],
  });
  samples = fleet.samples;
  judged = judgeCarts({ ...fleet, on: "2026-03-14" });
});

/** The cells of one column, top to bottom. */
const cells = (frame: DataFrame, name: string) => frame.column(name).values;
const typeOf = (frame: DataFrame, name: string) => frame.dtypes[frame.columns.indexOf(name)];

describe("samples as a data frame", () => {
  test("a row for each sample, with counts as reported and a column for each size", () => {
    const frame = samplesFrame(samples);
    expect(cells(frame, "sample")).toEqual(["S-1", "S-2", "S-3", "S-5"]);
    expect(cells(frame, "countVolumeMl")).toEqual([1, 1, 1, 1]);
    expect(cells(frame, "count4UmC")).toEqual([1300, 20000, 20000, 1300.25]);
    expect(cells(frame, "count14UmC")).toEqual([40, 640, 40, 40]);
    expect(cells(frame, "waterPpm")).toEqual([150, 120, 50, 180]);
    expect(cells(frame, "origin")[0]).toBe('[{"file":"samples.csv","rows":[2]}]');
  });

  test("a limit value stands as a number beside its limit, and no other row has one", () => {
    expect(cells(samplesFrame(samples), "waterPpmLimit")).toEqual([null, null, "below", null]);
  });

  test("a number that was not reported is NaN, so that no comparison lets it through", () => {
    const frame = samplesFrame(samples);
    expect(cells(frame, "acidMgKohPerG")).toEqual([0.1, 0.1, 0.1, Number.NaN]);
    const below = frame.query(frame.column("acidMgKohPerG").lt(0.2));
    expect(cells(below, "sample")).toEqual(["S-1", "S-2", "S-3"]);
  });

  test("a text that was not reported is null, which the frame counts as missing", () => {
    const frame = samplesFrame(samples);
    expect(cells(frame, "fluid").at(-1)).toBeNull();
    expect(cells(frame, "drawnTime")).toEqual([null, "09:30", null, null]);
    expect(frame.column("fluid").isNa().values).toEqual([false, false, false, true]);
  });

  test("columns keep their type when all their cells are missing", () => {
    const bare = samplesFrame(samples.map(({ waterPpm: _water, drawnTime: _time, ...sample }) => sample));
    expect(typeOf(bare, "waterPpm")).toBe("float32");
    expect(typeOf(bare, "drawnTime")).toBe("string");
    expect(typeOf(bare, "count4UmC")).toBe("float32");
  });

  test("numbers keep all their digits, although the frame calls them float32", () => {
    const [sample] = samples as [Sample];
    const counts = { ...sample.counts, counts: [{ sizeUm: 4, count: 123456789.25 }] } as Sample["counts"];
    const frame = samplesFrame([{ ...sample, ...(counts && { counts }) }]);
    expect(frame.column("count4UmC").mul(2).values).toEqual([246913578.5]);
  });

  test("there and back gives the same samples", () => {
    expect(samplesOfFrame(samplesFrame(samples))).toEqual(samples);
    expect(samplesOfFrame(samplesFrame([]))).toEqual([]);
  });

  test("counts at sizes that some samples lack, and per 100 mL, come back as they were", () => {
    const [first, second] = samples as [Sample, Sample];
    const mixed: Sample[] = [
      first,
      {
        ...second,
        counts: { scale: "um(c)", form: "cumulative", volumeMl: 100, counts: [{ sizeUm: 38.5, count: 7 }] },
        viscosity40Mm2PerS: { value: 14.1, limit: "above" },
      },
    ];
    expect(samplesOfFrame(samplesFrame(mixed))).toEqual(mixed);
  });

  test("a filtered frame gives the samples of the rows that are left", () => {
    const frame = samplesFrame(samples);
    const dirty = frame.query(frame.column("count4UmC").gt(1300));
    expect(samplesOfFrame(dirty).map(({ sample }) => sample)).toEqual(["S-2", "S-3", "S-5"]);
  });

  test.each([
    ["drawnOn", "March", 'row "1", column "drawnOn": expected a day such as 2026-03-14, found "March"'],
    ["waterPpm", "dry", 'column "waterPpm": expected a number, found "dry"'],
    [
      "waterPpmLimit",
      "about",
      'column "waterPpmLimit": expected one of "below", "at-most", "at-least", "above", found "about"',
    ],
    ["count4UmC", "many", 'column "count4UmC": expected a number, found "many"'],
    ["sample", null, 'row "1", column "sample": expected a text, found nothing'],
    [
      "count6UmC",
      30_000,
      'row "1", cumulative counts cannot rise with size: 30000 at 6 µm is more than 20000',
    ],
    ["countVolumeMl", Number.NaN, 'row "1", column "countVolumeMl": expected a number, found nothing'],
    [
      "waterPpm",
      Number.POSITIVE_INFINITY,
      'column "waterPpm": expected a number between -1.8e308 and 1.8e308, found Infinity',
    ],
    [
      "drawnTime",
      "noon",
      'column "drawnTime": expected a time such as 14:05 or one with its zone such as 14:05+02:00, found "noon"',
    ],
    ["countDilution", 2, 'row "1", column "countedMl": expected a number, found nothing'],
    ["flowing", "perhaps", 'column "flowing": expected true or false, found "perhaps"'],
    ["appearance", '["wet"]', 'column "appearance": expected one of "clear", '],
    ["origin", "somewhere", 'column "origin": expected a list, found "somewhere"'],
  ])("a %s of %j is refused, naming row, column and what was found", (column, value, message) => {
    const frame = samplesFrame(samples);
    const spoilt = new DataFrame(
      (frame.values as unknown[][]).map((row, index) =>
        row.map((cell, place) => (index === 1 && frame.columns[place] === column ? value : cell)),
      ),
      { columns: frame.columns, dtypes: frame.dtypes },
    );
    expect(() => samplesOfFrame(spoilt)).toThrow(RangeError);
    expect(() => samplesOfFrame(spoilt)).toThrow(message);
  });

  test("a column that is gone is an error, never a lost result", () => {
    const frame = samplesFrame(samples).rename({ waterPpm: "water" }, { axis: 1 });
    expect(() => samplesOfFrame(frame)).toThrow("the frame has no column waterPpm");
  });
});

describe("verdicts as a data frame", () => {
  test("a row for each circuit, with the verdict and the reasons that call for it", () => {
    const frame = verdictsFrame(judged);
    expect(cells(frame, "cart")).toEqual(["C-1", "C-1", "C-2 <spare>"]);
    expect(cells(frame, "verdict")).toEqual(["resample", "do-not-connect", "resample"]);
    expect(cells(frame, "decidedBy")).toEqual([
      "result-in-quarantine",
      "particles-out-of-reach",
      "acid-not-measured",
    ]);
    expect(cells(frame, "why")[0]).toContain("samples.csv row 5 is in quarantine");
    expect(cells(frame, "sampleAgeDays")).toEqual([10, 10, 10]);
    expect(cells(frame, "iso4406")).toEqual(["21/19/16", "21/19/12", "18/15/12"]);
    expect(cells(frame, "waterPpm")).toEqual([120, 50, 180]);
    expect(cells(frame, "waterPpmLimit")).toEqual([null, "below", null]);
  });

  test("passes and minutes stand only where circulating gets there", () => {
    const frame = verdictsFrame(judged);
    expect(cells(frame, "circulation")).toEqual(["reachable", "out-of-reach", "reachable"]);
    const [first, second] = cells(frame, "circulateMinutesStated") as number[];
    // By hand, see tests/fitness/fitness.test.ts: 2.8795 passes of 60 L at 45 L/min.
    expect(first).toBeCloseTo((2.8795 * 60) / 45, 2);
    expect(second).toBeNaN();
    const [goBy] = judged.map(({ verdict }) => verdict.goBy);
    if (goBy?.kind !== "minutes") throw new Error("expected minutes to go by");
    expect(cells(frame, "circulateMinutes").slice(0, 2)).toEqual([goBy.minutes, Number.NaN]);
    expect(cells(frame, "circulatePasses")[0]).toBeCloseTo(goBy.minutes / (60 / 45), 9);
    // The second has β14(c) = 1000 alone: half of what is above 5.6 µm(c) is retained, and nothing of channel 4 below it.
    expect(cells(frame, "circulateGoverning")).toEqual(["4", "4", "4"]);
  });

  test("a circuit without a sample has its verdict, and nothing else is made up", () => {
    const [first] = judged as [JudgedCircuit];
    const { sample: _s, classification: _c, circulation: _p, goBy: _g, ...verdict } = first.verdict;
    const frame = verdictsFrame([{ ...first, verdict }]);
    expect(frame.loc({ columns: ["sample", "iso4406", "nas1638", "circulation"] }).values).toEqual([
      [null, null, null, null],
    ]);
    expect(
      frame.loc({ columns: ["sampleAgeDays", "waterPpm", "circulatePasses", "circulateMinutes"] }).values,
    ).toEqual([[Number.NaN, Number.NaN, Number.NaN, Number.NaN]]);
  });
});

describe("a data frame as HTML", () => {
  test("missing cells are dashes, decimals are rounded for reading and whole numbers are not", () => {
    const frame = new DataFrame(
      [
        ["a", 1234567, 1234.5678],
        [null, Number.NaN, 0.000123456],
      ],
      { columns: ["text", "whole", "decimal"], dtypes: ["string", "float32", "float32"] },
    );
    const shown = [...renderFrame(frame, "numbers").matchAll(/<td[^>]*>(.*?)<\/td>/g)].map(
      ([, cell]) => cell,
    );
    expect(shown).toEqual(["a", "1234567", "1235", "–", "–", "0.0001235"]);
  });

  test("text from a file is shown as text and never as markup", () => {
    const html = renderFrame(verdictsFrame(judged), 'verdicts of "C-2 <spare>"');
    expect(html).toContain("C-2 &lt;spare>");
    expect(html).not.toContain("<spare");
  });

  test("an empty frame has no rows", () => {
    expect(renderFrame(samplesFrame([]), "nothing")).not.toContain("<td");
  });
});

describe("the package that makes data frames is optional", () => {
  test("no other module loads it, and frames loads it only when a frame is made", async () => {
    const script = `
      for (const module of ["public/index", "public/intake", "public/figures", "public/report", "cli/index", "public/frames"]) {
        await import(${JSON.stringify(pathToFileURL(`${ROOT}/dist/`).href)} + module + ".js");
      }
      const { createRequire } = await import("node:module");
      const loaded = () => Object.keys(createRequire("file:///x.js").cache).some((file) => file.includes("danfojs"));
      console.log(loaded());
      const { samplesFrame } = await import(${JSON.stringify(pathToFileURL(`${ROOT}/dist/frames/index.js`).href)});
      samplesFrame([]);
      console.log(loaded());`;
    const { stdout } = await runFile(process.execPath, ["--input-type=module", "-e", script], { cwd: ROOT });
    expect(stdout.trim().split("\n")).toEqual(["false", "true"]);
  });

  test("without it, making a frame is one clear error that says what to install", async () => {
    const folder = await mkdtemp(join(tmpdir(), "siltbook-frames-"));
    try {
      await cp(join(ROOT, "dist"), join(folder, "dist"), { recursive: true });
      await cp(join(ROOT, "package.json"), join(folder, "package.json"));
      await mkdir(join(folder, "node_modules"));
      for (const name of await readdir(join(ROOT, "node_modules"))) {
        if (["danfojs", "siltbook"].includes(name)) continue;
        await symlink(join(ROOT, "node_modules", name), join(folder, "node_modules", name));
      }
      const script = `
        const { samplesFrame } = await import(${JSON.stringify(pathToFileURL(`${folder}/dist/frames/index.js`).href)});
        try { samplesFrame([]); } catch (error) { console.log(error.name + ": " + error.message); }`;
      const { stdout } = await runFile(process.execPath, ["--input-type=module", "-e", script]);
      expect(stdout.trim()).toMatch(
        /^FramesError: data frames need the package danfojs 1\.1\.2, which siltbook does not bring along: npm install danfojs@1\.1\.2;/,
      );
      // The lines to copy are those that this project itself installs with.
      const { overrides } = JSON.parse(await readFile(join(ROOT, "package.json"), "utf8"));
      const toCopy = /put "overrides": (\{.*\}) into/.exec(stdout)?.[1] ?? "";
      expect(JSON.parse(toCopy)).toEqual(overrides);
    } finally {
      await rm(folder, { recursive: true });
    }
  });
});
