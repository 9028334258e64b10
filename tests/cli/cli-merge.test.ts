import { createHash } from "node:crypto";
import { copyFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { VERSION } from "../../src/provenance/index.js";
import { circuitNamed, HEADER, requirementsWith } from "../support/book/main-system.js";
import { run, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
const at = (name: string) => join(folder, name);
const BOOK = at("base.siltbook");
const ON = ["--on", "2026-03-14"];
const CARTS = Array.from({ length: 6 }, (_, index) => ({
  cart: `C-${index + 1}`,
  circuits: [circuitNamed("main")],
}));

async function shard(book: string, text: string, name: string, ...more: string[]) {
  const ended = await run("fleet", "--book", book, "--shard", text, "--out", at(name), ...ON, ...more);
  expect(ended).toMatchObject({ code: 0, err: "" });
  return at(name);
}

/** A copy of the book, which a test may change. */
function copied(name: string): string {
  copyFileSync(BOOK, at(name));
  return at(name);
}

function verdictsIn(path: string): number {
  const book = Book.open(path);
  try {
    return book.verdicts().length;
  } finally {
    book.close();
  }
}

let shards: string[];
beforeAll(async () => {
  writeFileSync(at("carts.json"), JSON.stringify({ carts: CARTS }));
  writeFileSync(at("requirement.json"), JSON.stringify(requirementsWith()));
  writeFileSync(at("milder.json"), JSON.stringify(requirementsWith({ waterPpmMax: 900 })));
  writeFileSync(at("fewer.json"), JSON.stringify({ carts: CARTS.slice(1) }));
  const rows = CARTS.map(
    ({ cart }, index) =>
      `S-${index},${cart},main,2026-03-04,MIL-PRF-83282,1300,320,40,${index === 5 ? 350 : 150},0.1`,
  );
  writeFileSync(at("lab.csv"), [HEADER, ...rows].join("\n"));
  writeFileSync(at("later.csv"), `${HEADER}\nS-9,C-1,main,2026-03-05,MIL-PRF-83282,1300,320,40,150,0.1\n`);
  const fleet = ["--carts", at("carts.json"), "--requirement", at("requirement.json")];
  await run("import", "--book", BOOK, ...fleet, at("lab.csv"));
  shards = [];
  for (const number of [1, 2, 3]) shards.push(await shard(BOOK, `${number}/3`, `shard-${number}.jsonl`));
});

describe("siltbook fleet --shard", () => {
  test("reads the book and keeps nothing in it; all shards together have every cart once", () => {
    expect(verdictsIn(BOOK)).toBe(0);
    const carts = shards.flatMap((file) =>
      readFileSync(file, "utf8")
        .trim()
        .split("\n")
        .flatMap((line) => JSON.parse(line).cart ?? []),
    );
    expect(carts.sort()).toEqual(CARTS.map(({ cart }) => cart));
  });

  test("a cart stays in its shard when the fleet changes", async () => {
    const smaller = copied("smaller.siltbook");
    const file = await shard(smaller, "2/3", "of-fewer.jsonl", "--carts", at("fewer.json"));
    const cartsOf = (path: string) =>
      readFileSync(path, "utf8")
        .split("\n")
        .filter(Boolean)
        .flatMap((line) => JSON.parse(line).cart ?? []);
    expect(cartsOf(file)).toEqual(cartsOf(shards[1] as string).filter((cart) => cart !== "C-1"));
  });

  test.each([
    [["--shard", "0/3", "--out", "x.jsonl"], "expected a shard such as 2/4"],
    [["--shard", "4/3", "--out", "x.jsonl"], "expected a shard such as 2/4"],
    [["--shard", "2", "--out", "x.jsonl"], "expected a shard such as 2/4"],
    [["--shard", "1/3"], "expected --out"],
    [["--out", "x.jsonl"], "expected --shard"],
    [["--shard", "1/3", "--out", "x.jsonl", "--cart", "C-1"], "does not go with --cart"],
    [["--shard", "1/3", "--out", BOOK], "one of the files that are read"],
  ])("%j ends with 2 and says what was expected", async (options, words) => {
    const { code, out, err } = await run("fleet", "--book", BOOK, ...ON, ...options);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toContain(words);
    expect(existsSync("x.jsonl")).toBe(false);
  });
});

describe("siltbook merge", () => {
  /** Shards with something that keeps them from being one fleet, and what is said of it. */
  const lineOf = (file: string, line: number) => readFileSync(file, "utf8").split("\n")[line] as string;
  const edited = (name: string, from: string, edit: (text: string) => string) => {
    writeFileSync(at(name), edit(readFileSync(from, "utf8")));
    return at(name);
  };
  /** The shard with the cart that is not fit. */
  const withFaulty = () =>
    shards.find((file) => readFileSync(file, "utf8").includes('{"cart":"C-6"')) as string;
  /** The lines of a shard changed one by one, with a last line that fits them. */
  const resummed = (
    text: string,
    edit: (line: { cart?: string; part: { rows: { verdict: string }[] } }) => object,
  ) => {
    const lines = text
      .trim()
      .split("\n")
      .map((line) => JSON.parse(line));
    const end = lines.pop();
    const body = lines.map((line) => `${JSON.stringify(edit(line))}\n`).join("");
    return `${body}${JSON.stringify({ ...end, sha256: createHash("sha256").update(body).digest("hex") })}\n`;
  };
  const FAULTS: readonly (readonly [string, () => Promise<string[]>, readonly RegExp[]])[] = [
    ["a shard is missing", async () => shards.slice(0, 2), [/: missing: shard 3\/3$/m]],
    ["two are missing", async () => [shards[1] as string], [/missing: shard 1\/3, shard 3\/3/]],
    [
      "one is there twice, under another name",
      async () => [...shards, edited("again.jsonl", shards[1] as string, (text) => text)],
      [/shard 2\/3 is there 2 times: \S+shard-2\.jsonl, \S+again\.jsonl/],
    ],
    [
      "one is there twice, under the same name in another folder",
      async () => {
        mkdirSync(at("machine"), { recursive: true });
        return [...shards, edited("machine/shard-2.jsonl", shards[1] as string, (text) => text)];
      },
      [/2 times: \S+shard-2\.jsonl, \S+machine\/shard-2\.jsonl/],
    ],
    [
      "one is of another day",
      async () => [...shards.slice(1), await shard(BOOK, "1/3", "day.jsonl", "--on", "2026-03-15")],
      [/day\.jsonl is of another day of judging \(2026-03-15\) than \S+shard-2\.jsonl \(2026-03-14\)/],
    ],
    [
      "one is compared with another day",
      async () => [...shards.slice(1), await shard(BOOK, "1/3", "since.jsonl", "--since", "2026-03-01")],
      [/since\.jsonl is of another day of --since \(2026-03-01\) than .+ \(none\)/],
    ],
    [
      "one is by another requirement",
      async () => [
        ...shards.slice(1),
        await shard(BOOK, "1/3", "milder.jsonl", "--requirement", at("milder.json")),
      ],
      [/milder\.jsonl is of another requirement \(SHA-256/],
    ],
    [
      "one is of other carts",
      async () => [...shards.slice(1), await shard(BOOK, "1/3", "fewer.jsonl", "--carts", at("fewer.json"))],
      [/fewer\.jsonl is of another list of carts \(SHA-256/],
    ],
    [
      "one is of another number of shards",
      async () => [...shards.slice(1), await shard(BOOK, "1/4", "quarter.jsonl")],
      [/quarter\.jsonl is of another number of shards \(4\) than \S+shard-2\.jsonl \(3\)/],
    ],
    [
      "one is of a book with more in it",
      async () => {
        const more = copied("more.siltbook");
        await run("import", "--book", more, at("later.csv"));
        return [...shards.slice(1), await shard(more, "1/3", "more.jsonl")];
      },
      [/more\.jsonl is of another state of the book \(entry \d+, [0-9a-f]{12}\)/],
    ],
    [
      "one was cut off",
      async () => [
        ...shards.slice(1),
        edited("cut.jsonl", shards[0] as string, (text) => text.split("\n").slice(0, -2).join("\n")),
      ],
      [/cut\.jsonl: was cut off: its last line is missing; judge this shard again/],
    ],
    [
      "one was cut off inside a line",
      async () => [
        ...shards.slice(1),
        edited("torn.jsonl", shards[0] as string, (text) => text.slice(0, -100)),
      ],
      [/torn\.jsonl: has a line that is not JSON/],
    ],
    [
      "a verdict was changed in one",
      async () => [
        ...shards.slice(0, 2),
        edited("better.jsonl", shards[2] as string, (text) =>
          text.replaceAll("exchange-fluid", "fit").replaceAll("MIL-PRF-83282", "MIL-PRF-5606"),
        ),
      ],
      [/better\.jsonl: was changed after it was written/],
    ],
    ...(
      [
        [
          "another verdict than its record",
          (rows) => rows.map((row) => ({ ...row, verdict: "fit", stands: "fit" })),
        ],
        ["a circuit milder than its verdict", (rows) => rows.map((row) => ({ ...row, stands: "fit" }))],
        ["nothing of a circuit that it has a record of", () => []],
      ] satisfies [string, (rows: { readonly verdict: string }[]) => object[]][]
    ).map(
      ([what, edit]) =>
        [
          `one says ${what}, and its sum was made again`,
          async () => [
            ...shards.filter((file) => file !== withFaulty()),
            edited("forged.jsonl", withFaulty(), (text) =>
              resummed(text, (line) =>
                line.cart === "C-6" ? { ...line, part: { ...line.part, rows: edit(line.part.rows) } } : line,
              ),
            ),
          ],
          [/forged\.jsonl: says of cart C-6 what the records of its verdicts do not say/],
        ] as const,
    ),
    [
      "one holds the lines of another file too",
      async () => [
        ...shards.slice(1),
        edited("joined.jsonl", shards[0] as string, (text) => `${text}${lineOf(shards[1] as string, 1)}\n`),
      ],
      [/joined\.jsonl: goes on after its last line/],
    ],
    [
      "one was judged by another version",
      async () => [
        ...shards.slice(1),
        edited("version.jsonl", shards[0] as string, (text) => text.replace(`"${VERSION}"`, '"0.0.9"')),
      ],
      [/version\.jsonl: was judged by siltbook 0\.0\.9, and this is /],
    ],
    ["one is a laboratory file", async () => [...shards, at("lab.csv")], [/lab\.csv: is not a shard/]],
    [
      "one is empty",
      async () => [...shards, edited("empty.jsonl", at("lab.csv"), () => "")],
      [/empty\.jsonl: is not a shard/],
    ],
    ["one is not there", async () => [...shards, at("none.jsonl")], [/none\.jsonl: cannot be read/]],
  ];

  test.each(FAULTS)("%s: nothing is printed or kept, and it is named", async (_what, files, said) => {
    const { code, out, err } = await run("merge", "--book", BOOK, ...(await files()));
    expect([code, out]).toEqual([2, ""]);
    for (const words of said) expect(err).toMatch(words);
    expect(verdictsIn(BOOK)).toBe(0);
  });

  test.each([
    [
      "results",
      (book: string) => run("import", "--book", book, at("later.csv")),
      /has changed since .+ by entry \d+ of .+, reading/,
    ],
    [
      "a decision",
      (book: string) =>
        run(
          ...["override", "--book", book, "--cart", "C-1", "--circuit", "main", "--person", "A. Person"],
          ...["--decision", "do-not-connect", "--reason", "bottle was found open"],
        ),
      /has changed since .+ override by A\. Person/,
    ],
  ])("%s that came into the book after the shards were judged stop it", async (_what, change, words) => {
    const book = copied("changed.siltbook");
    await change(book);
    const { code, out, err } = await run("merge", "--book", book, ...shards);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(words);
  });

  test("another book stops it", async () => {
    const { code, err } = await run("import", "--book", at("other.siltbook"), at("lab.csv"));
    expect([code, err]).toEqual([0, ""]);
    expect((await run("merge", "--book", at("other.siltbook"), ...shards)).err).toContain(
      "is not the book that the shards were judged from",
    );
  });

  test("a verdict that was kept in the meantime does not: the same carts were judged at the cart, too", async () => {
    const book = copied("judged.siltbook");
    await run("judge", "--book", book, "--cart", "C-2", ...ON);
    const { code, json } = await runJson("merge", "--book", book, ...shards);
    expect(code).toBe(1);
    expect(json.circuits).toHaveLength(6);
    expect(verdictsIn(book)).toBe(6);
  });

  test("shards of backups on other machines are merged into the book that the backups were made of", async () => {
    const book = copied("of-backups.siltbook");
    const files: string[] = [];
    for (const number of [1, 2]) {
      const backup = at(`machine-${number}.siltbook`);
      await run("backup", "--book", book, "--to", backup);
      files.push(await shard(backup, `${number}/2`, `machine-${number}.jsonl`));
    }
    const merged = await run("merge", "--book", book, ...files);
    expect(merged).toEqual(await run("fleet", "--book", copied("at-once.siltbook"), ...ON));
    expect(verdictsIn(book)).toBe(6);
  });

  test("a copy in which circuits were judged leaves out what the book lacks: nothing is kept, and it is named", async () => {
    const book = copied("of-judged-copy.siltbook");
    const backup = at("judged-copy.siltbook");
    await run("backup", "--book", book, "--to", backup);
    await run("judge", "--book", backup, "--cart", "C-2", "--on", "2026-03-13");
    const own = [await shard(backup, "1/2", "of-copy-1.jsonl"), await shard(book, "2/2", "of-copy-2.jsonl")];
    const { code, out, err } = await run("merge", "--book", book, ...own);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(
      /lacks inputs that verdicts rest on \(\S+of-copy-1\.jsonl, such as those of cart C-\d\)/,
    );
    expect(verdictsIn(book)).toBe(0);
    // In the copy they are all there.
    expect((await run("merge", "--book", backup, ...own)).code).toBe(1);
    expect((await run("verify", "--book", backup)).code).toBe(0);
  });

  test("merging once more changes nothing, and the book fits its chain", async () => {
    const book = copied("twice.siltbook");
    const first = await run("merge", "--book", book, ...shards);
    expect(await run("merge", "--book", book, ...shards)).toEqual(first);
    expect(verdictsIn(book)).toBe(6);
    expect((await run("verify", "--book", book)).code).toBe(0);
  });

  test("what is judged as of a day is merged and not kept", async () => {
    const book = copied("as-of.siltbook");
    const asOf = ["--as-of", "2026-03-10"];
    const files = [
      await shard(book, "1/2", "of-1.jsonl", ...asOf),
      await shard(book, "2/2", "of-2.jsonl", ...asOf),
    ];
    const expected = await run("fleet", "--book", book, ...ON, ...asOf, "--json");
    expect(await run("merge", "--book", book, ...files, "--json")).toEqual(expected);
    expect(verdictsIn(book)).toBe(0);
  });

  test("more shards than carts: the empty ones are needed, too", async () => {
    const files: string[] = [];
    for (let number = 1; number <= 20; number += 1)
      files.push(await shard(BOOK, `${number}/20`, `of-20-${number}.jsonl`));
    const last = files.pop() as string;
    expect((await run("merge", "--book", BOOK, ...files)).err).toContain("missing: shard 20/20");
    const book = copied("twenty.siltbook");
    expect(await run("merge", "--book", book, ...files, last)).toEqual(
      await run("fleet", "--book", copied("whole.siltbook"), ...ON),
    );
  });
});
