import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { beforeEach, describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import {
  bytesInMemory,
  parseCartsFile,
  parseColumnMap,
  parseRequirementsFile,
  readLabFile,
} from "../../src/intake/index.js";
import { run } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const root = temporaryFolder();
const FLEET = join(import.meta.dirname, "..", "support", "fleet");
const TITLES = "sample,cart,circuit,drawn on,4 µm(c) per mL,water (mg/kg)";
const encode = (text: string) => new TextEncoder().encode(text);
const KEYS = ["__proto__", "constructor", "prototype", "toString", "hasOwnProperty", "valueOf"];
const nothingPolluted = () => {
  for (const name of ["holds", "polluted", "cart", "value"]) expect({}).not.toHaveProperty(name);
};

let folder: string;
let made = 0;
beforeEach(() => {
  made += 1;
  folder = join(root, String(made));
  mkdirSync(folder);
});

describe("names that reach into the language", () => {
  test.each(KEYS)("%s as sample, cart, circuit and fluid is a name like any other", async (key) => {
    const text = `${TITLES},fluid\n${key},${key},${key},2026-03-04,1300,120,${key}`;
    const book = Book.open(":memory:", { create: true });
    await book.takeIn(bytesInMemory("lab.csv", encode(text)), { today: "2026-12-31" });
    expect([...book.samples()]).toMatchObject([{ sample: key, cart: key, circuit: key, fluid: key }]);
    expect(book.history(key, key)).toHaveLength(1);
    book.close();
    nothingPolluted();
  });

  test.each(KEYS)("%s as a title, and as a measurand, is not known and not used", async (key) => {
    const wide = await readLabFile("w.csv", encode(`${TITLES},${key}\nS-1,C-1,fore,2026-03-04,1300,120,5`));
    expect(wide.unusedColumns).toEqual([key]);
    const long = await readLabFile(
      "l.csv",
      encode(`sample,cart,circuit,drawn on,measurand,value,unit\nS-1,C-1,fore,2026-03-04,${key},5,ppm`),
    );
    expect(long.quarantine[0]?.issues[0]).toMatchObject({ code: "measurand-not-known", value: key });
    nothingPolluted();
  });

  test.each(KEYS)(
    "%s as a name in JSON and JSON Lines, at the top and inside, changes nothing else",
    async (key) => {
      const entry = `{"sample":"S-1","cart":"C-1","circuit":"fore","drawn on":"2026-03-04","water (mg/kg)":120,"${key}":{"polluted":1,"cart":"C-9"},"more":{"${key}":{"polluted":1}}}`;
      for (const [file, text] of [
        ["lab.json", `[${entry}]`],
        ["lab.jsonl", `${entry}\n${entry.replace("S-1", "S-2")}`],
      ] as const) {
        const { samples, unusedColumns } = await readLabFile(file, encode(text));
        expect(samples[0]).toMatchObject({ sample: "S-1", cart: "C-1" });
        expect(unusedColumns).toContain(`${key} polluted`);
      }
      nothingPolluted();
    },
  );

  test("__proto__ in a carts file, a requirements file and a column map is refused with its place", () => {
    const carts = readFileSync(join(FLEET, "carts.json"), "utf8");
    const requirement = readFileSync(join(FLEET, "requirement.json"), "utf8");
    const inside = (text: string) => text.replace("{", '{"__proto__":{"polluted":1},');
    expect(() => parseCartsFile("carts.json", inside(carts))).toThrow(
      'carts.json: (file): "__proto__" is not a name that can be used',
    );
    expect(() => parseRequirementsFile("r.json", inside(requirement))).toThrow('r.json: (file): "__proto__"');
    expect(() =>
      parseColumnMap(
        "m.json",
        '{"siltbookColumnMap":1,"name":"x","columns":{"\\u005f_proto__":{"holds":"cart"}}}',
      ),
    ).toThrow('m.json: columns: "__proto__" is not a name that can be used');
    nothingPolluted();
  });

  test.each(KEYS.slice(1))("%s is no field of a requirement that a source can be named for", (key) => {
    const document = JSON.parse(readFileSync(join(FLEET, "requirement.json"), "utf8"));
    document.systems[0].from = { [key]: "ISO-4406" };
    expect(() => parseRequirementsFile("r.json", JSON.stringify(document))).toThrow(
      `r.json: systems.0.from.${key}: is no field of a requirement`,
    );
  });
});

/** Characters that a terminal acts on, or that are not seen. */
const UNSEEN: [string, string][] = [
  ["an escape sequence", "\u001b[2J\u001b[31m"],
  ["a title for the window", "\u001b]0;evil\u0007"],
  ["a control sequence of one character", "\u009b31m"],
  ["a backspace", "\b\b\b"],
  ["a null", "\u0000"],
  ["a delete", "\u007f"],
  ["a mark that turns the direction", "\u202e"],
  ["an isolate", "\u2067"],
  ["half of a character", "\ud800"],
  ["a sign for lost bytes", "\ufffd"],
  ["a space without width", "\u200b"],
];

/** Whether anything but plain text would go to the terminal. */
function actsOnTerminal(text: string): boolean {
  return /[^\P{Cc}\n\t]|[\p{Cs}\u202a-\u202e\u2066-\u2069]/u.test(text);
}

describe("names that are not what they seem", () => {
  test.each(UNSEEN)(
    "%s in a name sets the row aside, and the terminal shows it in plain text",
    async (_what, mark) => {
      const path = join(folder, "lab.jsonl");
      const row = {
        sample: `S-1${mark}`,
        cart: `C-1${mark}`,
        circuit: "fore",
        "drawn on": "2026-03-04",
        "water (mg/kg)": 5,
      };
      writeFileSync(
        path,
        `${JSON.stringify(row)}\n${JSON.stringify({ ...row, sample: "S-2", cart: "C-1" })}\n`,
      );
      const book = join(folder, "base.siltbook");
      const text = await run("import", "--book", book, path);
      expect(text.code).toBe(1);
      expect(text.out).toContain("expected the sample in readable characters");
      expect(actsOnTerminal(text.out + text.err)).toBe(false);
      const rows = await run("rows", "--book", book, "lab.jsonl");
      expect(actsOnTerminal(rows.out)).toBe(false);
      const { out } = await run("rows", "--book", book, "lab.jsonl", "--json");
      expect(actsOnTerminal(out)).toBe(false);
      // The text is kept to the character, and the JSON document says the same as before.
      expect(JSON.parse(out).rows[0].text).toBe(JSON.stringify(row));
    },
  );

  test.each(UNSEEN.filter(([, mark]) => mark !== "\ufffd"))(
    "%s in the name of a cart in a carts file is refused",
    (_what, mark) => {
      const carts = JSON.parse(readFileSync(join(FLEET, "carts.json"), "utf8"));
      carts.carts[0].cart += mark;
      expect(() => parseCartsFile("carts.json", JSON.stringify(carts))).toThrow(
        "carts.json: carts.0.cart: expected readable characters",
      );
    },
  );

  test("escape sequences in titles, sheets, file names and messages never reach the terminal", async () => {
    const name = "lab\u001b[31m.csv";
    writeFileSync(
      join(folder, name),
      `sample\u001b[2J,cart\u009b1m,circuit,water \u202e(mg/kg)\nS-1,C-1,fore,5`,
    );
    for (const args of [
      ["import", "--book", join(folder, "b.siltbook"), join(folder, name)],
      ["columns", join(folder, name)],
      ["columns", join(folder, name), "--json"],
      ["judge", "--carts", join(folder, name), "--requirement", join(folder, name), join(folder, name)],
      ["classify", "--counts", "4=\u001b[31m"],
      ["\u001b[31mevil"],
    ]) {
      const { code, out, err } = await run(...args);
      expect(code).toBe(2);
      expect(out + err).not.toBe("");
      expect(actsOnTerminal(out + err)).toBe(false);
    }
  });

  test("a byte order mark in the middle, where two files were put together, loses no row", async () => {
    const one = `\ufeff${TITLES}\nS-1,C-1,fore,2026-03-04,1300,120\n`;
    const two = `\ufeffS-2,C-1,fore,2026-03-04,1300,120\n`;
    const { samples, rows } = await readLabFile("lab.csv", encode(one + two));
    expect(samples.map(({ sample }) => sample)).toEqual(["S-1", "S-2"]);
    expect(rows).toBe(2);
  });

  test("a row with null bytes is set aside, and its text is kept whole in the book", async () => {
    const book = Book.open(":memory:", { create: true });
    const row = "S-1\u0000x,C-1,fore,2026-03-04,13\u000000,120\u0000";
    const report = await book.takeIn(bytesInMemory("lab.csv", encode(`${TITLES}\n${row}`)), {
      today: "2026-12-31",
    });
    expect(report.quarantined).toBe(1);
    expect(book.quarantine()[0]?.text).toBe(row);
    expect(book.rowText(report.sha256, 2)).toBe(row);
    book.close();
  });

  test("two carts whose names differ by a line break do not become one", async () => {
    const text = `${TITLES}\nS-1,"A\nB",C,2026-03-04,1300,120\nS-1,A,"B\nC",2026-03-04,90,50`;
    const book = Book.open(":memory:", { create: true });
    const report = await book.takeIn(bytesInMemory("lab.csv", encode(text)), { today: "2026-12-31" });
    expect(report.taken).toBe(2);
    expect(book.circuits()).toEqual([
      { cart: "A", circuit: "B C" },
      { cart: "A B", circuit: "C" },
    ]);
    book.close();
  });
});

describe("names of files", () => {
  test.each([
    ["con.csv", "_con.csv.quarantine.csv"],
    ["..csv", "_csv.quarantine.csv"],
    ["a:b|c?.csv", "a_b_c_.csv.quarantine.csv"],
    ["..\\..\\evil.csv", "__.._evil.csv.quarantine.csv"],
    [`${"x".repeat(240)}.csv`, `${"x".repeat(200)}.quarantine.csv`],
    ["$(touch evil).csv", "$(touch evil).csv.quarantine.csv"],
    ["=1+1.csv", "=1+1.csv.quarantine.csv"],
  ])("quarantine of %s goes into the folder as %s", async (name, expected) => {
    writeFileSync(join(folder, name), `${TITLES}\nS-1,C-1,fore,2026-03-04,1300,damp`);
    const into = join(folder, "quarantine");
    const { code, out } = await run(
      "import",
      "--book",
      join(folder, "b"),
      "--quarantine",
      into,
      join(folder, name),
    );
    expect(code).toBe(1);
    const written = readdirSync(into).filter((file) => file.endsWith(".csv"));
    expect(written).toEqual([expected]);
    expect(readdirSync(folder).sort()).toEqual([basename(name), "b", "quarantine"].sort());
    // The command to type is safe to type.
    if (name.startsWith("$")) expect(out).toContain(`'${join(into, expected)}'`);
  });

  test("a file that a person has begun to correct is not overwritten", async () => {
    writeFileSync(join(folder, "lab.csv"), `${TITLES}\nS-1,C-1,fore,2026-03-04,1300,damp`);
    const into = join(folder, "q");
    const importing = () =>
      run("import", "--book", join(folder, "b"), "--quarantine", into, join(folder, "lab.csv"));
    await importing();
    await importing();
    expect(readdirSync(into)).toEqual(["lab.csv.quarantine.csv", "lab.csv.quarantine.map.json"]);
    writeFileSync(join(into, "lab.csv.quarantine.csv"), "my work");
    const { out } = await importing();
    expect(readFileSync(join(into, "lab.csv.quarantine.csv"), "utf8")).toBe("my work");
    expect(out).toContain("lab.csv.quarantine-2.csv");
  });
});
