import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { runCli } from "../../src/cli/index.js";
import { logOfElement } from "../support/online/simulated-element.js";
import { run } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const START = 1_773_500_000;
/** Lines of a counter whose counts fall by 11 % a minute from a share of 17/15/12. */
function linesOf(minutes: number, share: (minute: number) => number, from = 0): string[] {
  return Array.from({ length: minutes }, (_, index) => index + from).flatMap((minute) =>
    [
      [4, 1300],
      [6, 320],
      [14, 40],
    ].map(([size, limit]) =>
      JSON.stringify({
        n: `particles > ${size} µm(c)`,
        u: "1/mL",
        // Counts of a counter are never the same twice.
        v: Math.round(10 * (limit as number) * share(minute) * (1 + 0.02 * Math.sin(7 * minute))) / 10,
        t: START + 60 * minute,
      }),
    ),
  );
}

async function follow(lines: readonly string[], ...words: string[]) {
  let [out, err] = ["", ""];
  const code = await runCli(["follow", "--target", "17/15/12", ...words], {
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
    input: async function* () {
      yield* lines;
    },
  });
  return { code, out, err };
}

const cleaning = (minute: number) => 15 * Math.exp(-0.12 * minute);

/** What a file has kept, without the moments. */
const linesIn = (path: string) =>
  readFileSync(path, "utf8")
    .trim()
    .split("\n")
    .map((one) => one.split("\t")[1]);
const sizeOf = (line: string) => Number(/> (\d+)/.exec(line)?.[1]);

describe("follow", () => {
  test("says minute by minute what to go by, and ends with 0 when it is shown to be clean", async () => {
    const { code, out } = await follow(linesOf(40, cleaning));
    const lines = out.split("\n");
    expect(lines[0]).toBe("Towards ISO 4406 17/15/12; times are UTC.");
    expect(out.replace(/\s+/g, " ")).toContain(
      "Taken, because nothing is stated: 95 % confidence, 10 mL counted in a minute, a scatter of 10 % from minute to minute, a lasting error of 20 %.",
    );
    expect(out).toContain("14:53  21/19/16  not clean yet: too early to say how long");
    expect(lines.filter((line) => line.length > 80)).toEqual([]);
    expect(out.replace(/\s+/g, " ")).toMatch(
      /not clean yet: about [\d.]+ min more \([\d.]+ min to [\d.]+ min\), by channel/,
    );
    expect(out).toContain("clean with 95 % confidence: draw the verifying bottle");
    expect(lines.at(-2)).toMatch(/^Siltbook advises; it never releases\./);
    expect(code).toBe(0);
  });

  test("counts that do not fall are not waited for", async () => {
    const { code, out } = await follow(linesOf(25, () => 5));
    expect(out).toContain("stop and look: the counts do not fall");
    expect(code).toBe(1);
  });

  test("a line that comes again counts once, and one that cannot be read is named", async () => {
    const lines = linesOf(3, cleaning);
    const { code, out } = await follow([
      ...lines,
      lines.at(-1) as string,
      '{"n":"temperature","v":40,"t":1773500000}',
    ]);
    expect(out).toContain("line 11: expected a number with one of the units °C");
    expect(out).toContain("Not used: 1 line that came again.");
    expect(code).toBe(1);
  });

  test("sizes that come one after the other, and late, are no counts of the same minute", async () => {
    const bySize = linesOf(6, cleaning).sort((a, b) => sizeOf(a) - sizeOf(b));
    const { code, out } = await follow(bySize);
    expect(out).toContain("not counted, so never called clean");
    expect(out).toContain("that came after the minute was over.");
    expect(code).toBe(1);
  });

  test("a clock that is set back begins again", async () => {
    const { out } = await follow([...linesOf(3, cleaning, 60), ...linesOf(3, cleaning)]);
    expect(out).toContain("the clock of the instrument was set back by 62 minutes; begins again");
  });

  test("after a restart it goes on where it was", async () => {
    const kept = join(temporaryFolder(), "kept.jsonl");
    const all = linesOf(40, cleaning);
    await follow(all.slice(0, 90), "--keep", kept);
    const { code, out } = await follow(all.slice(90), "--keep", kept);
    expect(code).toBe(0);
    // In its first minute it knows more than one minute could show.
    expect(out).not.toContain("too early");
    expect(linesIn(kept)).toEqual(all);
  });

  test("after a restart, lines that give no moment are of the moment in which they came", async () => {
    const kept = join(temporaryFolder(), "kept.jsonl");
    const line = '{"n":"temperature","u":"Cel","v":40}';
    writeFileSync(kept, `2026-03-14T14:53:20.000Z\t${line}\n2026-03-14T14:54:20.000Z\t${line}\n`);
    const { out } = await follow([], "--keep", kept, "--json");
    // The first of the two minutes is over; the second is the last that came.
    expect(out).toContain(`"minute":${Date.UTC(2026, 2, 14, 14, 54) / 60_000}`);
  });

  test("half a line at the end, of a program that was stopped, is left out", async () => {
    const kept = join(temporaryFolder(), "kept.jsonl");
    const all = linesOf(3, cleaning);
    await follow(all, "--keep", kept);
    writeFileSync(kept, `${readFileSync(kept, "utf8")}2026-03-14T14:5`);
    await follow(all.slice(0, 1), "--keep", kept);
    expect(linesIn(kept)).toEqual([...all, all[0]]);
  });

  test.each(["sample,cart\nS-1,C-1\n", "no line end", `${linesOf(1, cleaning)[0]}\n`])(
    "nothing is added to a file of another kind: %j",
    async (text) => {
      const other = join(temporaryFolder(), "lab.csv");
      writeFileSync(other, text);
      const { code, err } = await follow(linesOf(3, cleaning), "--keep", other);
      expect([code, readFileSync(other, "utf8")]).toEqual([2, text]);
      expect(err).toContain(`${other} line 1: expected a moment and a line`);
    },
  );

  test("clean without a temperature and without a flow says what that takes for granted", async () => {
    const { out } = await follow(linesOf(40, cleaning));
    expect(out.match(/no temperature came: all minutes were taken as warm/g)).toHaveLength(1);
    expect(out.match(/no flow came: the fluid was taken as flowing/g)).toHaveLength(1);
    const warm = linesOf(40, cleaning).concat(`{"n":"temperature","u":"Cel","v":40,"t":${START + 60 * 39}}`);
    expect(
      (
        await follow([
          warm.at(-1)?.replace(String(START + 60 * 39), String(START)) as string,
          ...warm.slice(0, -1),
        ])
      ).out,
    ).not.toContain("no temperature");
  });

  test("each line of --json is a document; the first says what was taken, the last what was not used", async () => {
    const { out } = await follow(linesOf(3, cleaning), "--json", "--bias", "10 %");
    const documents = out
      .trim()
      .split("\n")
      .map((line) => JSON.parse(line));
    expect(documents[0]).toMatchObject({
      kind: "settings",
      target: "ISO 4406 17/15/12",
      bias: 0.1,
      countedMlPerMin: 10,
    });
    expect(documents[0].assumptions[0].message).not.toContain("lasting error");
    expect(documents.at(-1)).toMatchObject({ kind: "end", unused: { repeated: 0, late: 0, notRead: 0 } });
  });

  test("a log is read like the standard input", async () => {
    const log = join(temporaryFolder(), "log.jsonl");
    writeFileSync(log, linesOf(40, cleaning).join("\n"));
    expect((await follow([], "--log", log)).code).toBe(0);
    const none = join(temporaryFolder(), "none.jsonl");
    expect((await follow([], "--log", none)).err).toContain("--log");
    expect(existsSync(none)).toBe(false);
  });

  test.each([
    [["--confidence", "20 %"], "confidence"],
    [["--bias", "300 %"], "bias"],
    [["--counted", "900 L"], "countedMlPerMin"],
  ])("%j is refused", async (words, named) => {
    const { code, err } = await follow([], ...words);
    expect(code).toBe(2);
    expect(err).toContain(named);
  });
});

test("on a terminal the chart is drawn over itself and stays at the end; elsewhere there is none", async () => {
  let out = "";
  const blocks: string[] = [];
  const io = {
    out: (text: string) => {
      out += text;
    },
    err: () => {},
    input: async function* () {
      yield* linesOf(3, cleaning);
    },
  };
  await runCli(["follow", "--target", "17/15/12"], { ...io, redraw: (block) => blocks.push(block) });
  expect(blocks).toHaveLength(3);
  expect(blocks.at(-1)).toMatch(/ limit \|-+\n/);
  expect(out).toContain(blocks.at(-1));
  out = "";
  await runCli(["follow", "--target", "17/15/12"], io);
  expect(out).not.toContain("limit |");
  await runCli(["follow", "--target", "17/15/12", "--json"], {
    ...io,
    redraw: (block) => blocks.push(block),
  });
  expect(blocks).toHaveLength(3);
});

describe("follow in a circuit", () => {
  const folder = temporaryFolder();
  const none = join(folder, "none.jsonl");
  const clean = join(folder, "clean.jsonl");
  writeFileSync(none, "");
  writeFileSync(clean, linesOf(12, () => 0.2).join("\n"));
  const FILES = ["--carts", "datasets/demo/carts.json", "--requirement", "datasets/demo/requirement.json"];
  const LABS = ["datasets/demo/lab-tidy.csv", "datasets/demo/lab-long.csv"];
  const OF = (cart: string, circuit: string) => ["--cart", cart, "--circuit", circuit, "--on", "2026-11-20"];

  test("says the minutes of circulate before the counter has said anything, and the target of the requirement", async () => {
    const words = [...FILES, ...LABS, ...OF("QB-02", "fore"), "--json"];
    const { out } = await run("follow", ...words, "--log", none);
    const [settings] = out.split("\n").map((line) => line && JSON.parse(line));
    const circulated = JSON.parse((await run("circulate", ...words)).out);
    expect(settings).toMatchObject({
      kind: "settings",
      target: "NAS 1638 7",
      port: "upstream",
      ofCart: { cart: "QB-02", circuit: "fore", minutes: circulated.quoted.minutes, from: circulated.from },
    });
    const text = (await run("follow", ...words.slice(0, -1), "--log", none)).out;
    expect(text).toMatch(/^QB-02 fore on 2026-11-20, by sample \S+ of \d{4}-\d\d-\d\d\.\nCirculate 21 min/);
  });

  test("what circulating does not settle is said, and no counter makes it well", async () => {
    const { out, code } = await run("follow", ...FILES, ...LABS, ...OF("QB-02", "aft"), "--log", clean);
    expect(out.replace(/\s+/g, " ")).toContain("Circulating does not settle: water is outside");
    expect(out).toContain("clean with 95 % confidence");
    expect(code).toBe(1);
  });

  test("a counter downstream of the element never ends it", async () => {
    const words = [...FILES, ...LABS, ...OF("QB-03", "aft"), "--target", "17/15/12"];
    expect((await run("follow", ...words, "--log", clean)).code).toBe(0);
    const { out, code } = await run("follow", ...words, "--log", clean, "--port", "downstream");
    expect(out).not.toContain("clean with 95 % confidence");
    expect(out.replace(/\s+/g, " ")).toContain("The counter sits downstream of the elements");
    expect(code).toBe(1);
  });

  test.each([
    [["--cart", "C-1"], "--cart: it goes with --book or --carts only"],
    [["--port", "downstream", "--target", "17/15/12"], "--port downstream: the element has to be known"],
    [["--port", "aside", "--target", "17/15/12"], "--port: expected upstream or downstream"],
    [[], "--target: needed where no cart is named"],
    [[...FILES, ...LABS, ...OF("QB-99", "fore")], "there is no cart"],
  ])("%j is refused", async (words, named) => {
    const { code, err } = await run("follow", ...words, "--log", none);
    expect(code).toBe(2);
    expect(err).toContain(named);
  });
});

describe("follow in a circuit whose requirement takes a counter in the line", () => {
  const folder = temporaryFolder();
  const write = (name: string, text: string) => {
    writeFileSync(join(folder, name), text);
    return join(folder, name);
  };
  const element = { position: "pressure", betas: [{ sizeUmC: 4, beta: 50 }] };
  const circuit = {
    circuit: "main",
    serves: "x",
    fluid: "MIL-PRF-83282",
    volume: "60 L",
    flow: "45 L/min",
    element,
  };
  const carts = write("carts.json", JSON.stringify({ carts: [{ cart: "C-1", circuits: [circuit] }] }));
  const requirementOf = (name: string, more: object) => {
    const system = { system: "x", fluids: ["MIL-PRF-83282"], cleanliness: ["17/15/12"], waterPpmMax: 200 };
    const systems = [{ ...system, acidMgKohPerGMax: 0.2, sampleAgeDaysMax: 45, ...more }];
    return write(name, JSON.stringify({ document: "invented", revision: "1", systems }));
  };
  const counterInLine = { repeatability: 0.1, bias: 0.2, minutesMin: 10, ageDaysMax: 2 };
  const [takes, plain] = [requirementOf("takes.json", { counterInLine }), requirementOf("plain.json", {})];
  const lab = write(
    "lab.csv",
    [
      "Sample no.,Cart,Circuit,Drawn on,Fluid,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,Water (mg/kg),Acid number (mg KOH/g)",
      "S-1,C-1,main,2026-03-01,MIL-PRF-83282,4000,1000,120,90,0.1",
    ].join("\n"),
  );
  const flowing = ["temperature", "flow"].map((n, index) =>
    JSON.stringify({ n, u: ["Cel", "L/min"][index], v: [42, 45][index], t: START }),
  );
  const run60 = linesOf(60, (minute) => Math.max(0.2, cleaning(minute)));
  const warm = write("warm.jsonl", [...flowing, ...run60].join("\n"));
  const bare = write("bare.jsonl", run60.join("\n"));
  const lastOf = async (requirement: string, log: string) => {
    const words = ["--carts", carts, "--requirement", requirement, "--cart", "C-1", "--on", "2026-03-15"];
    const { out } = await run("follow", lab, ...words, "--log", log, "--json");
    return JSON.parse(out.trim().split("\n").at(-1) as string);
  };

  test("the run ends with the verdict that bottle and counter lead to together", async () => {
    expect(await lastOf(takes, warm)).toMatchObject({ withRun: { verdict: "fit", taken: true } });
    const words = ["--carts", carts, "--requirement", takes, "--cart", "C-1", "--on", "2026-03-15"];
    const { out } = await run("follow", lab, ...words, "--log", warm);
    expect(out).toContain("Verdict with this run: fit.");
  });

  test("a log without temperature and flow shows nothing, and the verdict is that of the bottle", async () => {
    expect(await lastOf(takes, bare)).toMatchObject({
      withRun: { verdict: "circulate", taken: false, why: expect.stringContaining("no temperature") },
    });
  });

  test("where the requirement does not take it, no verdict is spoken of", async () => {
    expect(await lastOf(plain, warm)).not.toHaveProperty("withRun");
  });
});

describe("follow with a log that is a table", () => {
  const folder = temporaryFolder();
  const log = join(folder, "counter.csv");
  const rows = linesOf(40, cleaning).map((line) => JSON.parse(line));
  const table = Array.from({ length: 40 }, (_, minute) => {
    const at = new Date(1000 * (START + 60 * minute)).toISOString().slice(0, 19);
    return [at, ...rows.slice(3 * minute, 3 * minute + 3).map(({ v }) => v), 41.5].join(";");
  });
  const titles = "stamp;> 4 µm(c)/mL;> 6 µm(c)/mL;> 14 µm(c)/mL;fluid temp (°C)";
  const map = join(folder, "map.json");
  writeFileSync(
    map,
    JSON.stringify({ siltbookColumnMap: 1, name: "x", columns: { stamp: { holds: "time" } } }),
  );

  test("it says minute by minute what the same lines say", async () => {
    writeFileSync(log, [titles, ...table].join("\n"));
    const { code, out } = await follow([], "--log", log, "--map", map);
    const minutes = (text: string) => text.split("\n").filter((line) => /^\d\d:\d\d/.test(line));
    expect(minutes(out)).toEqual(minutes((await follow(linesOf(40, cleaning))).out));
    expect(out).toContain("counter.csv: read as text, UTF-8, semicolon between cells.");
    expect(code).toBe(0);
  });

  describe("with the clean element stated", () => {
    const STATED =
      "drop=0.5 bar flow=50 L/min viscosity=15 mm2/s trips=3 bar points=15 mm2/s @ 40 °C / 4 mm2/s @ 100 °C";
    const loading = join(folder, "loading.csv");
    const minutes = logOfElement({ lifeH: 100, fromH: 80, toH: 95, power: 5, everyMin: 5 });
    writeFileSync(
      loading,
      [
        "time;> 4 µm(c)/mL;fluid temp (°C);flow (L/min);dP (bar)",
        ...minutes.map(({ minute, pressureDropBar }) => {
          const at = new Date(60_000 * minute).toISOString().slice(0, 19).replace("T", " ");
          return [at, 300 + (minute % 7), 40, 50, pressureDropBar?.toFixed(2)].join(";");
        }),
      ].join("\n"),
    );

    test("a log of drops ends with the life that is left, its band and what was taken", async () => {
      const { out } = await follow([], "--log", loading, "--indicator", STATED);
      expect(out).toMatch(/The element lasts about 5\.\d running hours more \(\d\.\d h to \d\.\d h\)\./);
      expect(out).toContain("Taken: the rise of the drop was taken to grow");
    });

    test("--json gives it in the last document; without drops it says why not; without the option it is not spoken of", async () => {
      const lastOf = async (...words: string[]) => {
        const { out } = await follow([], ...words, "--json");
        return JSON.parse(out.trim().split("\n").at(-1) as string);
      };
      expect(await lastOf("--log", loading, "--indicator", STATED)).toMatchObject({
        element: { kind: "hours", hours: expect.closeTo(5, 0) },
      });
      expect(await lastOf("--log", log, "--map", map, "--indicator", STATED)).toMatchObject({
        element: { kind: "cannot-tell", code: "no-drop" },
      });
      expect(await lastOf("--log", loading)).not.toHaveProperty("element");
    });

    test("a drop whose flow nobody states is refused by name", async () => {
      const { code, err } = await follow(
        [],
        "--log",
        loading,
        "--indicator",
        STATED.replace("flow=50 L/min ", ""),
      );
      expect(err).toContain('--indicator: "flow" is needed');
      expect(code).toBe(2);
    });
  });

  test("a row that cannot be read is named, and one that comes again counts once", async () => {
    writeFileSync(log, [titles, ...table, table.at(-1), "2026-03-14 15:40;12;N/A?;3;40"].join("\n"));
    const { code, out } = await follow([], "--log", log, "--map", map);
    expect(out.replace(/\s+/g, " ")).toContain(
      'counter.csv row 43, column "> 6 µm(c)/mL": expected a number',
    );
    expect(out).toContain("Not used: 1 line that came again.");
    expect(out).toContain("Set aside: 1 row that could not be read.");
    expect(out).toContain("clean with 95 % confidence");
    expect(code).toBe(1);
  });

  test("--json prints how it was read, and each row that was set aside", async () => {
    writeFileSync(log, [titles, table[0], "2026-03-14 15:40;12;N/A?;3;40"].join("\n"));
    const documents = (await follow([], "--log", log, "--map", map, "--json")).out.trim().split("\n");
    const read = documents.map((line) => JSON.parse(line));
    expect(read.map(({ kind }) => kind)).toEqual(["settings", "log", "row-set-aside", "answer", "end"]);
    expect(read.at(-1)).toMatchObject({ unused: { setAside: 1 } });
  });

  test.each([
    [["--map", map], "--map: it goes with --log only"],
    [["--log", log, "--map", map, "--keep", join(folder, "kept")], "--keep: it goes with lines"],
    [["--log", join(folder, "lines.jsonl"), "--map", map], "--map: it goes with a log that is a table"],
  ])("%j is refused", async (words, named) => {
    writeFileSync(log, [titles, table[0]].join("\n"));
    writeFileSync(join(folder, "lines.jsonl"), linesOf(1, cleaning).join("\n"));
    const { code, err } = await follow([], ...words);
    expect(code).toBe(2);
    expect(err).toContain(named);
  });
});
