// At the cart: the minutes of a circuit by its book, with single values typed in their place.
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { inOneLine, run } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const FILES = ["--carts", "datasets/demo/carts.json", "--requirement", "datasets/demo/requirement.json"];
const LABS = ["datasets/demo/lab-tidy.csv", "datasets/demo/lab-long.csv"];
const ON = ["--on", "2026-11-20"];
const OF = (cart: string, circuit: string) => ["--cart", cart, "--circuit", circuit];
const said = ({ out }: { out: string }) => out.replace(/\s+/g, " ");

test("every circuit of the demo has the minutes that judge gives it, and no others", async () => {
  const judged = JSON.parse((await run("judge", ...FILES, ...ON, "--json", ...LABS)).out);
  const minutes = new Map<string, number | null>();
  for (const { cart, circuit } of judged.circuits) {
    const { out } = await run("circulate", ...FILES, ...LABS, ...ON, ...OF(cart, circuit), "--json");
    minutes.set(`${cart} ${circuit}`, JSON.parse(out).quoted?.minutes ?? null);
  }
  const expected = new Map<string, number | null>(
    judged.circuits.map(
      (one: {
        cart: string;
        circuit: string;
        circulation: { quoted: { minutes: number } | null } | null;
      }) => [`${one.cart} ${one.circuit}`, one.circulation?.quoted?.minutes ?? null],
    ),
  );
  expect(minutes).toEqual(expected);
  expect([...minutes.values()].filter((value) => value !== null).length).toBeGreaterThan(0);
});

describe("from a book", () => {
  const folder = temporaryFolder();
  const book = `${folder}/base.siltbook`;
  const asked = async (...args: string[]) => {
    await run("import", "--book", book, ...FILES, ...LABS);
    return run("circulate", "--book", book, ...ON, ...args);
  };

  test("the cart is found without regard to case, and the answer is short", async () => {
    const { out, code } = await asked(...OF("qb-02", "FORE"));
    const lines = out.trimEnd().split("\n");
    expect(lines[0]).toMatch(/^QB-02 fore on 2026-11-20, by sample \S+ of \d{4}-\d\d-\d\d\.$/);
    expect(lines[1]).toMatch(/^Circulate 21 min \(8\.1 passes\)/);
    expect(lines.length).toBeLessThanOrEqual(9);
    expect(lines.filter((line) => line.length > 80)).toEqual([]);
    expect(code).toBe(0);
  });

  test("a typed value takes the place of the book's, and the answer says which", async () => {
    const { out } = await asked(...OF("QB-02", "fore"), "--flow", "30 L/min", "--explain");
    expect(out).toContain("flow: 30 L/min was typed and takes the place of 75 L/min");
    expect(out).not.toMatch(/volume: .* takes the place/);
  });

  test("fluid that is clean enough gets no minutes, and what else is wrong is said", async () => {
    const answer = await asked(...OF("QB-02", "aft"));
    expect(said(answer)).toContain("Circulating does not settle: water is outside");
    expect(said(answer)).toContain("No minutes are given: the counts are within the target already");
    expect(answer.code).toBe(1);
  });

  test("the sheet is the one of the report, and never shows what was only typed", async () => {
    const sheet = `${folder}/sheet.html`;
    await asked(...OF("QB-02", "fore"), "--sheet", sheet);
    const html = readFileSync(sheet, "utf8");
    await run("report", "--book", book, ...ON, "--out", `${folder}/report.html`);
    const [, steps] = /<h3>What to do<\/h3>(.*?)<\/ol>/.exec(html) ?? [];
    expect(readFileSync(`${folder}/report.html`, "utf8")).toContain(steps);
    expect(html).not.toContain('href="#');
    const typed = await asked(...OF("QB-02", "fore"), "--sheet", sheet, "--start", "15/13/10");
    expect(typed).toMatchObject({ code: 2 });
    expect(typed.err).toContain("--sheet: the sheet shows the verdict by the book");
  });

  // Each of them changes the minutes that are printed, or speaks against them, and the sheet would not show it.
  test.for([
    ["--side-stream", "10 L/min: 4=75"],
    ["--mixing", "well-mixed"],
    ["--confidence", "80 %"],
    ["--interim", "10 min: 19/16/13"],
    ["--heat", "drop=200 bar start=20 °C limit=70 °C"],
  ] as const)("no sheet goes with %s", async ([option, text]) => {
    const sheet = `${folder}/not-written.html`;
    const { code, err } = await asked(...OF("QB-02", "fore"), "--sheet", sheet, option, text);
    expect([code, err]).toEqual([2, expect.stringContaining(`leave --sheet or ${option} out`)]);
    expect(existsSync(sheet)).toBe(false);
  });

  test("the sheet is in the units that were asked for", async () => {
    const sheet = `${folder}/us.html`;
    await asked(...OF("QB-02", "fore"), "--sheet", sheet, "--units", "us");
    const html = readFileSync(sheet, "utf8");
    expect(html).toMatch(/[\d.]+ US gal, [\d.]+ US gpm, for/);
    expect(html).not.toMatch(/\d L[ ,/]/);
  });

  test("the name of a sheet says what its sign says where no time is long enough", async () => {
    const sheet = `${folder}/stuck.html`;
    await asked(...OF("QB-06", "aft"), "--sheet", sheet);
    expect(readFileSync(sheet, "utf8")).toContain(
      "<title>QB-06, circuit aft: do not connect, 2026-11-20</title>",
    );
  });

  test.for([
    [["--cart", "QB-02"], "--circuit: this cart has several; expected one of fore, aft"],
    [["--circuit", "fore"], "--cart: needed with --book or --carts"],
    [OF("QB-02", "left"), '--circuit: there is no circuit "left"; known are fore, aft'],
    [[...OF("QB-02", "fore"), "--units", "imperial"], '--units: expected metric or us, found "imperial"'],
    [[...OF("QB-02", "fore"), "--fluid", "MIL-PRF-83282"], "--fluid: the circuit holds"],
  ] as const)("%j is refused", async ([args, message]) => {
    expect((await asked(...args)).err).toContain(message);
  });
});

describe("codes as interim samples", () => {
  const CIRCUIT = ["--volume", "60 L", "--flow", "45 L/min", "--beta", "4=20 6=100 14=1000"];
  const START = ["--start", "21/19/16", "--target", "17/15/12"];
  const interim = async (...texts: string[]) => {
    const args = texts.flatMap((text) => ["--interim", text]);
    const answer = await run("circulate", ...CIRCUIT, ...START, ...args, "--json");
    return answer.code === 2 ? answer.err : JSON.parse(answer.out).interim;
  };

  // Within a code the counts may be anywhere: one code says less than the counts at its upper edge.
  test("a code gives wider intervals than the counts at its upper edge", async () => {
    const [code, counts] = [
      await interim("4 min: 19/17/14", "8 min: 17/15/12"),
      await interim("4 min: 4=5000 6=1300 14=160", "8 min: 4=1300 6=320 14=40"),
    ];
    const width = ({ ratePerMin: { low, high } }: { ratePerMin: { low: number; high: number } }) =>
      (high ?? Number.POSITIVE_INFINITY) - low;
    expect(width(code.channels[0])).toBeGreaterThan(width(counts.channels[0]));
  });

  test("a place with an open end has no upper edge, so no end of the minutes is printed", async () => {
    const open = await interim("4 min: 19/17/≥14");
    expect(open.channels[2].remaining.kind).not.toBe("minutes");
  });

  test("a place that was not counted is asked for", async () => {
    expect(await interim("4 min: 19/17/-")).toContain("has no count at 14 µm(c)");
  });
});

describe("an element without β", () => {
  const cart = (element: object, more: object = {}) => ({
    carts: [
      {
        cart: "C-1",
        ...more,
        circuits: [
          {
            ...{ circuit: "main", serves: "main system", fluid: "MIL-PRF-83282" },
            ...{ volume: "16 US gal", flow: "12 gpm", element: { position: "pressure", ...element } },
          },
        ],
      },
    ],
  });
  const requirement = {
    document: "Test",
    revision: "1",
    systems: [
      {
        ...{ system: "main system", fluids: ["MIL-PRF-83282"], cleanliness: ["17/15/12"] },
        ...{ waterPpmMax: 200, acidMgKohPerGMax: 0.2, sampleAgeDaysMax: 30 },
      },
    ],
  };
  const lab =
    "Sample,Cart,Circuit,Drawn on,Fluid,>4 µm(c) per mL,>6 µm(c) per mL,>14 µm(c) per mL,Water (mg/kg),TAN (mg KOH/g)\n" +
    "S-1,C-1,main,2026-11-18,MIL-PRF-83282,20000,5000,640,90,0.05\n";
  const answer = async (element: object, more: object = {}, ...args: string[]) => {
    const folder = temporaryFolder();
    writeFileSync(`${folder}/carts.json`, JSON.stringify(cart(element, more)));
    writeFileSync(`${folder}/requirement.json`, JSON.stringify(requirement));
    writeFileSync(`${folder}/lab.csv`, lab);
    const files = ["--carts", `${folder}/carts.json`, "--requirement", `${folder}/requirement.json`];
    return run("circulate", ...files, `${folder}/lab.csv`, ...ON, "--cart", "C-1", ...args, "--explain");
  };
  const minutes = async (element: object) =>
    JSON.parse((await answer(element, {}, "--json")).out).quoted.minutes as number;

  test("is planned by its rating, and by the least of working elements without one; each is said", async () => {
    expect(inOneLine((await answer({ rating: "3 µm absolute" })).out)).toContain(
      'the pressure element is rated "3 µm absolute" and no β was stated: β1.2(c) = 2 and β5.1(c) = 75 were taken',
    );
    expect(inOneLine((await answer({})).out)).toContain(
      "nothing was stated of the pressure element: β4(c) = 2 was taken",
    );
    const [stated, rated, unknown] = [
      await minutes({ betas: [{ sizeUmC: 4, beta: 200 }] }),
      await minutes({ rating: "3 µm absolute" }),
      await minutes({}),
    ];
    expect(rated).toBeGreaterThanOrEqual(stated);
    expect(unknown).toBeGreaterThan(rated);
  });

  test("a cart whose volume and flow were typed in US units is answered in them", async () => {
    const { out } = await answer({}, {}, "--within", "6 min");
    expect(out).toMatch(/a flow of [\d.]+ US gpm/);
    expect(out).not.toContain("L/min.");
    expect(inOneLine(out)).toContain("gpm was read as US gallons per minute (3.785 L/min)");
  });

  test.for<[string, object, string[]]>([
    ["the cart says metric", { units: "metric" }, []],
    ["the option says metric", {}, ["--units", "metric"]],
  ])("unless %s", async ([, more, args]) => {
    const { out } = await answer({}, more, "--within", "6 min", ...args);
    expect(out).toMatch(/a flow of [\d.]+ L\/min/);
    expect(out).not.toContain("US gpm.");
  });
});
