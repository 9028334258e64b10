import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { inOneLine, run, runExplained, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const ON = ["--on", "2026-03-14"];

function write(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

const circuit = (name: string) => ({
  circuit: name,
  serves: "main system",
  fluid: "MIL-PRF-83282",
  volume: "60 L",
  flow: "45 L/min",
  element: {
    position: "pressure",
    betas: [
      { sizeUmC: 4, beta: 20 },
      { sizeUmC: 6, beta: 100 },
      { sizeUmC: 14, beta: 1000 },
    ],
  },
});
type Carts = readonly (readonly [cart: string, ...circuits: string[]])[];
const cartsText = (carts: Carts) =>
  JSON.stringify({ carts: carts.map(([cart, ...names]) => ({ cart, circuits: names.map(circuit) })) });
const FLEET: Carts = [
  ["QB-01", "fore", "aft"],
  ["QB-02", "fore", "aft"],
  ["KR-7", "1", "2"],
];
const CARTS = write("carts.json", cartsText(FLEET));
const REQUIREMENT = write(
  "requirement.json",
  JSON.stringify({
    document: "example limits",
    revision: "3",
    systems: [
      {
        system: "main system",
        fluids: ["MIL-PRF-83282"],
        cleanliness: ["17/15/12"],
        waterPpmMax: 200,
        acidMgKohPerGMax: 0.2,
        sampleAgeDaysMax: 30,
      },
    ],
  }),
);
const FILES = ["--carts", CARTS, "--requirement", REQUIREMENT];

const HEADER =
  "sample,cart,circuit,drawn on,fluid,4 µm(c) per mL,6 µm(c) per mL,14 µm(c) per mL,water (mg/kg),acid number (mg KOH/g)";
const CLEAN = "2026-03-04,MIL-PRF-83282,1000,300,30,100,0.1";
const DIRTY = "2026-03-10,MIL-PRF-83282,90000,50000,8000,900,0.9";
const ALL = FLEET.flatMap(([cart, ...circuits]) => circuits.map((name) => `${cart} ${name}`));
const SOUND = ALL.map((name, index) => `S-${index},${name.replace(" ", ",")},${CLEAN}`);
const lab = (...rows: string[]) => `${[HEADER, ...SOUND, ...rows].join("\n")}\n`;

interface Answer {
  readonly circuits: readonly {
    readonly cart: string;
    readonly circuit: string;
    readonly verdict: string;
    readonly reasons: readonly { readonly code: string; readonly message: string }[];
  }[];
  readonly rowsOfNoCart: readonly { readonly where: string; readonly cart: string | null }[];
}

/** The circuits that are not fit because of a row in quarantine; every other one is fit. */
function held({ circuits }: Answer): string[] {
  return circuits.flatMap(({ cart, circuit: name, verdict, reasons }) => {
    const inQuarantine = reasons.some(({ code }) => code === "result-in-quarantine");
    expect(verdict, `${cart} ${name}`).toBe(inQuarantine ? "resample" : "fit");
    return inQuarantine ? [`${cart} ${name}`] : [];
  });
}

let files = 0;
async function judge(text: string, ...more: string[]) {
  files += 1;
  const path = write(`lab-${files}.csv`, text);
  return runJson("judge", ...FILES, ...ON, ...more, path);
}

const BOTH = ["QB-01 fore", "QB-01 aft"];
const FORE = ["QB-01 fore"];

describe("a newer row under other names keeps from being fit", () => {
  test.each([
    ["a known cart, an unknown circuit", "QB-01,main", BOTH],
    ["a known cart, a circuit that is nearly one", "QB-01,for", BOTH],
    ["a known cart, no circuit", "QB-01,", BOTH],
    ["a known cart, the circuit in capitals", "QB-01,FORE", FORE],
    ["a known cart, the circuit of a numbered one with a zero", "KR-7,02", ["KR-7 2"]],
    ["an en dash", "QB–01,fore", FORE],
    ["no leading zero", "QB-1,fore", FORE],
    ["a full stop", "QB.01,fore", FORE],
    ["a Cyrillic letter", "КR-7,1", ["KR-7 1"]],
    ["full-width letters", "ＱＢ－０１,fore", FORE],
    ["a space without width, which nobody sees", "QB\u200b-01,fore", FORE],
    ["a word before it", "Cart QB-01,fore", FORE],
    ["a hangar after it", "QB-01 (hangar 2),fore", FORE],
    ["two letters swapped", "BQ-01,fore", FORE],
    ["a letter replaced, an unknown circuit", "QD-01,main", BOTH],
    ["one figure more: of two carts that it may be", "QB-012,fore", ["QB-01 fore", "QB-02 fore"]],
    ["another cart of the fleet", "QB-02,aft", []],
    ["no cart: the circuit of every cart", ",fore", ["QB-01 fore", "QB-02 fore"]],
    ["a cart of another base", "TX-44,fore", []],
    ["a cart of another base with the same number", "TX-01,fore", []],
    ["a word for what it is, and the number", "Cart No. 7,2", ["KR-7 2"]],
    ["cart and circuit in each other's cells", "fore,QB-01", BOTH],
    ["cart and circuit in the cell of the circuit", ",QB-01 fore", BOTH],
    ["a thing that is no cart", "BOX 12,fore", []],
  ])("%s", async (_, names, expected) => {
    // The row cannot be read, so that a name which is known is not simply taken.
    const row = `S-9,${names},${DIRTY.replace("90000", "9OOOO?")}`;
    const { code, json } = await judge(lab(row));
    const other = names === "QB-02,aft" ? ["QB-02 aft"] : [];
    expect(held(json)).toEqual([...expected, ...other]);
    expect(code).toBe(1);
    // A row that can be read and whose names are not those of a circuit is no other matter.
    if (other.length === 0 && names !== "")
      expect(held((await judge(lab(`S-9,${names},${DIRTY}`))).json)).toEqual(expected);
  });

  test.each([
    ["the cart in the cell of the sample", `QB-01,S-9,fore,${DIRTY}`, FORE],
    ["cart and circuit in the cell of the sample", `QB-01 fore,,,${DIRTY}`, FORE],
    ["the names at the end", `,,,${DIRTY.replace("0.9", "QB-01 fore")}`, FORE],
    ["the cart in the cell of the fluid", `S-9,,fore,${DIRTY.replace("MIL-PRF-83282", "QB-01")}`, FORE],
    ["a number that is also the number of a cart", `S-7,TX-44,fore,${DIRTY}`, []],
    ["a row of another base that names its own cart twice", `TX-44-9,TX-44,fore,${DIRTY}`, []],
  ])(
    "names in other cells of the row count where its cell of the cart tells none: %s",
    async (_, row, expected) => {
      expect(held((await judge(lab(row))).json)).toEqual(expected);
    },
  );

  test("an older row of the same names does not", async () => {
    expect(held((await judge(lab(`S-9,QB–01,fore,${DIRTY.replace("03-10", "03-03")}`))).json)).toEqual([]);
    expect(held((await judge(lab(`S-9,QB–01,fore,${DIRTY.replace("03-10", "03-04")}`))).json)).toEqual(FORE);
  });

  test("in a file with a row for each result too", async () => {
    const long = (cart: string) =>
      `sample,cart,circuit,drawn on,measurand,value,unit\nS-9,${cart},fore,2026-03-10,water,900,ppm\n`;
    for (const [cart, expected] of [
      ["QB.01", FORE],
      ["TX-44", []],
    ] as const) {
      files += 1;
      const paths = [write(`lab-${files}.csv`, lab()), write(`long-${files}.csv`, long(cart))];
      expect(held((await runJson("judge", ...FILES, ...ON, ...paths)).json)).toEqual(expected);
    }
  });

  test("the message says the row, what it says, whose it may be and what settles it", async () => {
    const { json } = await judge(lab(`S-9,QB-012,fore,${DIRTY}`, `S-10,QB-012,fore,${DIRTY}`));
    expect(messages(json)).toContain(
      `lab-${files}.csv rows 8, 9 are in quarantine under cart "QB-012", circuit "fore" and may hold a newer result of cart "QB-01", circuit "fore"; correct the names, or add the circuit they name to the carts file (the cart under otherCarts where it is of another base), and judge again`,
    );
  });

  test("--cart judges one cart and knows the others: their rows are not its own", async () => {
    const row = `S-9,QB-02,fore,${DIRTY.replace("90000", "9OOOO?")}`;
    const { json } = await judge(lab(row), "--cart", "QB-01");
    expect(json.circuits.map(({ verdict }: { verdict: string }) => verdict)).toEqual(["fit", "fit"]);
    expect(json.rowsOfNoCart).toEqual([]);
  });
});

function messages({ circuits }: Answer): string[] {
  return circuits.flatMap(({ reasons }) =>
    reasons.flatMap(({ code, message }) => (code === "result-in-quarantine" ? [message] : [])),
  );
}

describe("a row that could not be split keeps from being fit the circuits whose names are in it", () => {
  test.each([
    ["cut short after the day", "S-9,QB-01,fore,2026-03-10", FORE],
    ["cut short before the circuit", "S-9,QB-01", BOTH],
    ["cut short in the circuit", "S-9,QB-01,fo", BOTH],
    ["cut short before the cart", "S-9", []],
    ["cut short, with an en dash", "S-9,QB–1,aft", ["QB-01 aft"]],
    ["cut short, with the letter O", "S-9,QB-O1,aft", ["QB-01 aft"]],
    ["cut short, with a number for a circuit", "S-9,KR-7,2,2026-03-10", ["KR-7 2"]],
    ["too long", `S-9,QB-01,fore,${DIRTY},7,8`, FORE],
    ["another separator", `S-9;QB-01;fore;${DIRTY.replaceAll(",", ";")}`, FORE],
    ["an open quotation mark", `S-9,"QB-01,fore,${DIRTY}`, FORE],
    [
      "an open quotation mark that takes the next rows with it",
      `S-9,"QB-01,fore,${DIRTY}\nS-10,QB-02,aft,${DIRTY}\nS-11",KR-7,1,${DIRTY}`,
      ["QB-01 fore", "QB-02 aft", "KR-7 1"],
    ],
    ["a cart of another base", "S-9,TX-44,fore", []],
    ["a longer name that ends like one", "S-9,AKR-77,fore", []],
  ])("%s", async (_, rows, expected) => {
    expect(held((await judge(lab(rows))).json)).toEqual(expected);
  });

  test("a remark that an open quotation mark has filled with rows", async () => {
    const rows = [
      `S-9,KR-7,1,${CLEAN.replace("03-04", "03-05")},"ok`,
      `S-10,QB-01,fore,${DIRTY},"bad`,
      `S-11,KR-7,2,${CLEAN.replace("03-04", "03-05")},ok`,
    ];
    const text = (more: readonly string[]) =>
      `${[`${HEADER},remarks`, ...SOUND.map((row) => `${row},ok`), ...more].join("\n")}\n`;
    expect(held((await judge(text(rows))).json)).toEqual(["QB-01 fore", "KR-7 1"]);
    const words =
      'S-9,KR-7,1,2026-03-05,MIL-PRF-83282,1000,300,30,100,0.1,"a remark\nof two lines, with a, b, c, d, e, f, g, h, i, j, k"';
    expect(held((await judge(text([words]))).json)).toEqual([]);
  });

  test("what a column map says of every row is known of a broken one", async () => {
    const map = write(
      "map.json",
      JSON.stringify({ siltbookColumnMap: 1, name: "one circuit", fixed: { circuit: "aft" } }),
    );
    const rows = [HEADER, `S-1,QB-01,aft,${CLEAN}`, "S-9,QB-01,aft"].map((row) =>
      row.replace(/,(circuit|aft)/, ""),
    );
    const book = join(folder, "map.siltbook");
    await run("import", "--book", book, ...FILES, write("fore.csv", `${HEADER}\nS-0,QB-01,fore,${CLEAN}\n`));
    const imported = await run(
      "import",
      "--book",
      book,
      "--map",
      map,
      write("aft.csv", `${rows.join("\n")}\n`),
    );
    expect(imported.code).toBe(1);
    expect(held((await runJson("judge", "--book", book, ...ON, "--cart", "QB-01")).json)).toEqual([
      "QB-01 aft",
    ]);
  });
});

describe("a row that can be given to no cart", () => {
  const NAMELESS = "1 row could not be read and names no cart: it may belong to any circuit";
  const STRANGE = `1 row names a cart that is not in the carts file nor like one in it: "TX-44"`;

  test.each([
    ["a row without names", "S-9", NAMELESS, null],
    ["a row of a cart of another base", `S-9,TX-44,fore,${DIRTY}`, STRANGE, "TX-44"],
    ["a circuit that no cart has, and no cart", `S-9,,nose,${DIRTY}`, NAMELESS, null],
  ])("%s heads judge, fleet and report, in words and in JSON", async (_, row, sentence, cart) => {
    const text = lab(row);
    const { code, json } = await judge(text);
    expect([code, held(json)]).toEqual([1, []]);
    const where = `lab-${files}.csv row 8`;
    expect(json.rowsOfNoCart).toMatchObject([{ where, cart }]);
    const { out } = await runExplained("judge", ...FILES, ...ON, join(folder, `lab-${files}.csv`));
    // The second sentence; the first names the requirement and its revision.
    const second = (text: string) => inOneLine(text).replace(/^.*?\brevision 3[^.]*\. /, "");
    expect(second(out)).toSatisfy((text: string) => text.startsWith(`Not settled: ${sentence} (${where}).`));
    expect(out).not.toContain("Every circuit is fit to connect");

    const book = join(folder, `head-${files}.siltbook`);
    await run("import", "--book", book, ...FILES, join(folder, `lab-${files}.csv`));
    const fleet = await runExplained("fleet", "--book", book, ...ON);
    expect(fleet.code).toBe(1);
    expect(second(fleet.out)).toSatisfy((text: string) =>
      text.startsWith(`Not settled: ${sentence} (${where}).`),
    );
    expect((await runJson("fleet", "--book", book, ...ON)).json.rowsOfNoCart).toMatchObject([
      { where, cart },
    ]);

    const page = join(folder, `head-${files}.html`);
    await runExplained("report", ...FILES, ...ON, "--out", page, join(folder, `lab-${files}.csv`));
    const html = readFileSync(page, "utf8");
    expect(html.split("</header>")[0]).toContain(sentence.replaceAll('"', "&quot;"));
    // Beside each of the six fits only what may belong to it.
    expect(html.split(sentence.replaceAll('"', "&quot;")).length - 1).toBe(cart === null ? 7 : 1);
  });

  test("without such a row every circuit is fit to connect, and with a row of a known one older than its sample too", async () => {
    for (const rows of [[], [`S-9,QB-01,main,${DIRTY.replace("03-10", "01-10")}`]]) {
      const path = write("sound.csv", lab(...rows));
      const { out, code } = await runExplained("judge", ...FILES, ...ON, path);
      expect(out).toContain("Every circuit is fit to connect.");
      expect(out).not.toContain("Not settled");
      expect(code).toBe(rows.length);
    }
  });

  test("older than the sample it is not said beside its fit", async () => {
    const path = write("old.csv", lab(`S-9,,nose,${DIRTY.replace("03-10", "01-10")}`));
    const { out } = await runExplained("judge", ...FILES, ...ON, path);
    const times = (text: string) => text.replace(/\s+/g, " ").split(NAMELESS).length - 1;
    expect(times(out)).toBe(1);
    const newer = write("newer.csv", lab(`S-9,,nose,${DIRTY}`));
    expect(times((await runExplained("judge", ...FILES, ...ON, newer)).out)).toBe(7);
  });
});

describe("a book", () => {
  const book = (name: string) => join(folder, `${name}.siltbook`);

  test.each([
    ["a cart in another way of writing", "QB1,fore", FORE],
    ["a known cart and an unknown circuit", "QB-01,main", BOTH],
    ["a cart of another base", "TX-44,fore", []],
  ])(
    "whose samples came before its carts holds them against these when they come: %s",
    async (_, names, expected) => {
      files += 1;
      const path = write(`early-${files}.csv`, lab(`S-9,${names},${DIRTY}`));
      const where = `early-${files}.csv row 8`;
      const name = book(`early-${files}`);
      await run("import", "--book", name, "--requirement", REQUIREMENT, path);
      // By carts that are not the book's own, the sample is looked at where it stands.
      const before = await runJson("judge", "--book", name, "--carts", CARTS, ...ON);
      expect(held(before.json)).toEqual(expected);
      expect(before.code).toBe(1);
      for (const message of messages(before.json))
        expect(message).toContain(`sample "S-9" (${where}) is in the book under`);

      const kept = await runJson("import", "--book", name, "--carts", CARTS);
      expect([kept.code, kept.json.setAside.length, kept.json.setAside[0].row]).toEqual([1, 1, 8]);
      const { out } = await run("rows", "--book", name, `early-${files}.csv`, "--explain");
      expect(out).toMatch(/8\s+in quarantine\s+S-9/);
      const after = await runJson("judge", "--book", name, ...ON);
      expect(held(after.json)).toEqual(expected);
      const fleet = await runJson("fleet", "--book", name, ...ON);
      expect(
        fleet.json.circuits.filter(({ verdict }: { verdict: string }) => verdict === "fit"),
      ).toHaveLength(6 - expected.length);
      // Nothing more is said once it is settled; a second time there is nothing to set aside.
      expect((await runJson("import", "--book", name, "--carts", CARTS)).json.setAside).toEqual([]);
      expect((await run("history", "--book", name, "--cart", "QB-01", "--circuit", "fore")).out).toContain(
        "S-0",
      );
    },
  );

  test("puts every report of an amended sample into quarantine, and is sound", async () => {
    const name = book("amended");
    const report = (day: string, results: string) =>
      `${HEADER},reported on\nS-9,QB1,fore,${results},${day}\n`;
    const first = write("first.csv", report("2026-03-10", DIRTY));
    const second = write("second.csv", report("2026-03-11", DIRTY.replace("900,", "800,")));
    await run("import", "--book", name, first);
    await run("import", "--book", name, second);
    const { json } = await runJson("import", "--book", name, ...FILES, write("sound-2.csv", lab()));
    expect(json.setAside.map(({ file, row }: { file: string; row: number }) => [file, row]).sort()).toEqual([
      ["first.csv", 2],
      ["second.csv", 2],
    ]);
    expect(held((await runJson("judge", "--book", name, ...ON)).json)).toEqual(FORE);
  });

  test("takes no cart that could be taken for one it knows, and names both; the cart itself again it takes", async () => {
    const name = book("alike");
    await run("import", "--book", name, ...FILES);
    const alike = await run(
      "import",
      "--book",
      name,
      "--carts",
      write("alike.json", cartsText([["QB1", "fore"]])),
    );
    expect(alike.code).toBe(2);
    expect(alike.err).toContain('alike.json: the carts "QB-01" and "QB1" could be taken for one another');
    expect((await run("import", "--book", name, "--carts", CARTS)).code).toBe(0);
    expect((await runJson("fleet", "--book", name, ...ON)).json.circuits).toHaveLength(6);
  });

  test("whose circuit gets another way of writing its name does not forget the samples under the former one", async () => {
    const name = book("renamed");
    await run("import", "--book", name, ...FILES, write("sound-3.csv", lab(`S-9,KR-7,1,${DIRTY}`)));
    const renamed = write("renamed.json", cartsText([["KR-7", "01", "2"]]));
    await run(
      "import",
      "--book",
      name,
      "--carts",
      renamed,
      write("later.csv", `${HEADER}\nS-10,KR-7,01,${CLEAN}\n`),
    );
    const { json } = await runJson("judge", "--book", name, "--cart", "KR-7", ...ON);
    expect(held(json)).toEqual(["KR-7 01"]);
  });

  test("whose circuit is taken out of the carts file judges the others without its samples", async () => {
    const name = book("dropped");
    await run("import", "--book", name, ...FILES, write("sound-4.csv", lab(`S-9,KR-7,1,${DIRTY}`)));
    const dropped = write("dropped.json", cartsText([["KR-7", "2"]]));
    expect((await run("import", "--book", name, "--carts", dropped)).code).toBe(0);
    expect(held((await runJson("judge", "--book", name, "--cart", "KR-7", ...ON)).json)).toEqual([]);
  });

  test("judged by the carts of one cart alone holds the rows of its other carts against none", async () => {
    const name = book("one");
    const row = `S-9,QB-02,fore,${DIRTY.replace("90000", "9OOOO?")}`;
    await run("import", "--book", name, ...FILES, write("sound-5.csv", lab(row)));
    const one = write("one.json", cartsText([["QB-01", "fore", "aft"]]));
    const { json } = await runJson("judge", "--book", name, "--carts", one, ...ON);
    expect([held(json), json.rowsOfNoCart]).toEqual([[], []]);
  });
});

test("a carts file with two carts or circuits that could be taken for one another is refused by judge, with both", async () => {
  const path = write("sound-6.csv", lab());
  for (const [carts, both] of [
    [
      [
        ["C-1", "fore"],
        ["C1", "fore"],
      ],
      'the carts "C-1" and "C1"',
    ],
    [[["C-1", "1", "01"]], 'the circuits of cart "C-1", "1" and "01"'],
  ] as const) {
    const args = ["--carts", write("two.json", cartsText(carts)), "--requirement", REQUIREMENT, ...ON];
    const { code, out, err } = await runExplained("judge", ...args, path);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toContain(`${both} could be taken for one another`);
  }
});

describe("rows of carts of other bases that the carts file lists", () => {
  const others = (otherCarts: readonly string[], carts: Carts = FLEET) =>
    JSON.stringify({ ...JSON.parse(cartsText(carts)), otherCarts });
  const FOREIGN = [
    `S-9,QB-03,fore,${DIRTY}`,
    `S-10,QB-03,aft,${DIRTY.replace("90000", "9OOOO?")}`,
    `S-11,QB-04,fore,${DIRTY}`,
  ];
  const LISTED = write("others.json", others(["QB-03", "QB-04"]));
  const judgedBy = (cartsFile: string, text: string) => {
    files += 1;
    const path = write(`lab-${files}.csv`, text);
    return runJson("judge", "--carts", cartsFile, "--requirement", REQUIREMENT, ...ON, path);
  };

  test("hold nobody and are said, where without the list they hold the carts with names near to theirs", async () => {
    const without = await judge(lab(...FOREIGN));
    expect(held(without.json)).toEqual(["QB-01 fore", "QB-01 aft", "QB-02 fore", "QB-02 aft"]);
    const { code, json } = await judgedBy(LISTED, lab(...FOREIGN));
    expect([code, held(json), json.quarantine, json.rowsOfNoCart]).toEqual([0, [], [], []]);
    expect(json.assumptions).toContainEqual({
      code: "rows-of-other-carts",
      message: "3 rows are of carts that the carts file lists under otherCarts, and not used",
    });
  });

  test.each([
    ["another way of writing its name: it waits, and holds nobody", `S-9,QB 3,fore,${DIRTY}`, []],
    [
      "a name that no list has, near to ours and to theirs",
      `S-9,QB-05,fore,${DIRTY}`,
      [...BOTH, "QB-02 fore", "QB-02 aft"].filter((name) => name.endsWith("fore")),
    ],
    ["a row of ours", `S-9,QB-01,fore,${DIRTY.replace("90000", "9OOOO?")}`, FORE],
  ])("are those of the very names: %s", async (_, row, expected) => {
    const { code, json } = await judgedBy(LISTED, lab(row));
    expect([code, held(json)]).toEqual([1, expected]);
  });

  test("stay in a book, wait for nobody, and hold their cart when it becomes one of ours", async () => {
    const book = join(folder, "others.siltbook");
    const rest = ["--requirement", REQUIREMENT];
    const march = write("march-others.csv", lab(...FOREIGN));
    const taken = await runJson("import", "--book", book, "--carts", LISTED, ...rest, march);
    expect(taken.code).toBe(0);
    expect(taken.json.files[0]).toMatchObject({ taken: SOUND.length, quarantined: 0, notSamples: 4 });
    expect((await runJson("judge", "--book", book, ...ON)).code).toBe(0);
    const rows = await run("rows", "--book", book, "march-others.csv", "--explain");
    expect(rows.out).toContain("a cart of another base");
    expect((await run("quarantine", "--book", book, "--all")).out).toContain("of a cart of another base");

    const withThird = others(["QB-04"], [...FLEET, ["QB-03", "fore", "aft"]]);
    const own = write("own.json", withThird);
    // Judged by another carts file, and then with that file in the book.
    const elsewhere = await runJson("judge", "--book", book, "--carts", own, ...ON);
    expect(held(elsewhere.json)).toEqual(["QB-03 fore", "QB-03 aft"]);
    const april = write("april.csv", `${HEADER}\nS-20,QB-03,fore,${CLEAN}\nS-21,QB-03,aft,${CLEAN}\n`);
    const changed = await runJson("import", "--book", book, "--carts", own, april);
    expect(changed.json.changes.map(({ kind }: { kind: string }) => kind)).toContain("other-cart-gone");
    expect(held((await runJson("judge", "--book", book, ...ON)).json)).toEqual(["QB-03 fore", "QB-03 aft"]);
  });

  test("a cart of the book cannot be listed; a file without a list leaves the list as it is", async () => {
    const book = join(folder, "listed.siltbook");
    await run("import", "--book", book, "--carts", LISTED);
    const refused = await run(
      "import",
      "--book",
      book,
      "--carts",
      write("one.json", others(["KR-7"], [["QB-01", "fore"]])),
    );
    expect([refused.code, refused.err]).toEqual([
      2,
      expect.stringContaining('otherCarts: "KR-7" is a cart of the book'),
    ]);
    await run("import", "--book", book, "--carts", CARTS);
    const opened = Book.open(book);
    expect(opened.otherCarts()).toEqual(["QB-03", "QB-04"]);
    opened.close();
  });
});

test("siltbook quarantine --cart lists the rows that may concern the cart, however it is written", async () => {
  const book = join(folder, "whose.siltbook");
  const text = lab(`S-9,QB.01,fore,${DIRTY}`, `S-10,TX-44,fore,${DIRTY}`, `S-11,QB-02,main,${DIRTY}`);
  await run("import", "--book", book, ...FILES, write("whose.csv", text));
  const openOf = async (...query: string[]) =>
    (await runJson("quarantine", "--book", book, ...query)).json.open.map(({ row }: { row: number }) => row);
  expect(await openOf()).toEqual([8, 9, 10]);
  expect(await openOf("--cart", "QB-01")).toEqual([8]);
  expect(await openOf("--cart", "QB-02", "--circuit", "aft")).toEqual([10]);
  expect(await openOf("--cart", "TX-44")).toEqual([9]);
  expect(await openOf("--cart", "KR-7")).toEqual([]);
});
