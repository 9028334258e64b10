import {
  cpSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import {
  evidenceFromBook,
  type PackFile,
  packAsZip,
  readEvidenceFiles,
  verifyEvidence,
} from "../../src/evidence/index.js";
import { edited, sha256, textIn, withManifest } from "../support/edited-packs.js";
import { run, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const ON = "2026-11-20";
const folder = temporaryFolder();
const book = join(folder, "demo.siltbook");
const demo = (name: string) => join("datasets/demo", name);

let files: readonly PackFile[];
let others: readonly PackFile[];
let head: string;

async function makeBook(path: string, requirement: string): Promise<void> {
  const labs = ["lab-tidy.csv", "lab-semicolon.csv", "lab-long.csv"].map(demo);
  const inputs = ["--carts", demo("carts.json"), "--requirement", requirement];
  await run("import", "--book", path, ...inputs, "--on", ON, ...labs);
  await run("judge", "--book", path, "--on", ON);
}

beforeAll(async () => {
  await makeBook(book, demo("requirement.json"));
  const opened = Book.open(book);
  head = opened.head().hash;
  opened.close();
  const meant = { cart: "QB-02", circuit: "fore" };
  files = (await evidenceFromBook(book, meant, { roCrate: true })).files;
  others = (await evidenceFromBook(book, { cart: "QB-01", circuit: "fore" }, { roCrate: true })).files;
});

const hashesOf = (pack: readonly PackFile[]) => pack.map(({ path, bytes }) => [path, sha256(bytes)]);
const first = async (pack: readonly PackFile[]) => (await verifyEvidence(pack)).misfits[0];

describe("a pack that was left as it is", () => {
  test("every verdict of the demo has evidence that fits, with its samples read again as they were delivered", async () => {
    const opened = Book.open(book);
    const verdicts = opened.verdicts();
    opened.close();
    expect(verdicts).toHaveLength(14);
    for (const { id, cart, circuit, verdict } of verdicts) {
      const found = await verifyEvidence((await evidenceFromBook(book, { number: id })).files);
      expect(found.misfits, `verdict ${id}`).toEqual([]);
      expect(found.fits).toBe(true);
      expect(found.verdict).toMatchObject({ number: id, cart, circuit, verdict });
      expect(found.head?.hash).toBe(head);
      for (const sample of found.samples)
        expect(sample).toMatchObject({ result: "same", isAsDelivered: true });
    }
  });

  test("the same book gives the same bytes", async () => {
    const again = await evidenceFromBook(book, { cart: "qb-02", circuit: "Fore" }, { roCrate: true });
    expect(hashesOf(again.files)).toEqual(hashesOf(files));
  });

  test("the laboratory's rows, the sample, the requirement, the verdict and the sheet are in it", () => {
    // The rows of sample 26-0319 as they are in datasets/demo/lab-long.csv.
    expect(textIn(files, "rows.csv")).toContain('"26-0319,QB-02,fore,');
    expect(textIn(files, "samples.csv")).toContain("26-0319");
    expect(textIn(files, "inputs/003-requirement.json")).toContain('"system":"fleet L main"');
    expect(JSON.parse(textIn(files, "verdict.json"))).toMatchObject({ verdict: "circulate", cart: "QB-02" });
    expect(textIn(files, "sheet.html")).toContain(`head ${head.slice(0, 12)}`);
    expect(textIn(files, "README.txt")).toContain(head);
  });
});

describe("a pack that was changed", () => {
  test("one byte of any file is found, and the file is named", async () => {
    for (const { path, bytes } of files) {
      for (const place of [0, Math.floor(bytes.length / 2), bytes.length - 1]) {
        const changed = Uint8Array.from(bytes);
        changed[place] = (changed[place] as number) ^ 1;
        const pack = files.map((file) => (file.path === path ? { path, bytes: changed } : file));
        const found = await verifyEvidence(pack);
        expect(found.fits).toBe(false);
        // A changed line of the manifest can only be told by the file that it lists.
        if (path !== "manifest-sha256.txt") {
          expect(found.misfits, `byte ${place} of ${path}`).toEqual([
            { file: path, message: "it was changed after it was packed" },
          ]);
        }
      }
    }
  });

  test("a file that is gone or was put in is found, also where the manifest was written again", async () => {
    for (const { path } of files) {
      const without = files.filter((file) => file.path !== path);
      expect(await first(without), path).toEqual({ file: path, message: "it is missing" });
      if (path === "manifest-sha256.txt") continue;
      expect((await verifyEvidence(withManifest(without))).fits, path).toBe(false);
    }
    const more = [...files, { path: "more.txt", bytes: Buffer.from("more") }];
    expect(await first(more)).toEqual({ file: "more.txt", message: "it is not in the manifest" });
    expect(await first(withManifest(more))).toMatchObject({ file: "more.txt" });
  });

  const lines = "chain/rows.jsonl";
  const raise = (text: string) => text.replace(/"waterPpmMax":\d+/, '"waterPpmMax":99999');
  /** [what was forged, how, the file that is named, what is said of it]; the manifest is written again each time. */
  const FORGERIES: readonly [string, () => PackFile[], string, RegExp][] = [
    [
      "the limit of the requirement",
      () => edited(files, "inputs/003-requirement.json", raise),
      "inputs/003-requirement.json",
      /not what verdict 3 was computed from/,
    ],
    [
      "the limit, and its hash in the verdict",
      () => {
        const path = "inputs/003-requirement.json";
        const raised = edited(files, path, raise);
        return edited(raised, lines, (text) =>
          text.replaceAll(sha256(textIn(files, path)), sha256(textIn(raised, path))),
        );
      },
      lines,
      /rows of table verdict are not as entry 7 wrote them/,
    ],
    [
      "rows that are said to be too many to compare",
      () => edited(files, lines, (text) => text.replace('"isWhole":true', '"isWhole":false')),
      lines,
      /cannot be compared/,
    ],
    [
      "the verdict of another circuit",
      () =>
        files.map((file) => others.find(({ path }) => path === "verdict.json" && path === file.path) ?? file),
      "verdict.json",
      /not what siltbook makes of the rest/,
    ],
    [
      "the number of another verdict of the same entry",
      () => edited(files, "record.json", (text) => text.replace('"verdict": 3', '"verdict": 1')),
      "inputs/001-case.json",
      /not what verdict 1 was computed from/,
    ],
    [
      "a verdict that the entry did not write",
      () => edited(files, "record.json", (text) => text.replace('"verdict": 3', '"verdict": 15')),
      lines,
      /row 15 of table verdict is not among the rows/,
    ],
    [
      "the sheet",
      () => edited(files, "sheet.html", (text) => text.replaceAll("circulate", "fit")),
      "sheet.html",
      /not what siltbook makes of the rest/,
    ],
    [
      "a number in the laboratory's file",
      () =>
        edited(files, "laboratory/3-lab-long.csv", (text) => text.replace("26-0319,QB-02", "26-0319,QB-01")),
      "laboratory/3-lab-long.csv",
      /neither lab-long\.csv as delivered nor the rows that the book kept of it/,
    ],
    [
      "the text of the kept rows",
      () =>
        edited(files, lines, (text) =>
          text.replace(/(lab-long\.csv[\s\S]*\[3,\\"\\",1,\\")[0-9A-F]{20}/, "$1"),
        ),
      lines,
      /./,
    ],
    [
      "the rows shown",
      () => edited(files, "rows.csv", (text) => text.replace("26-0319", "26-0320")),
      "rows.csv",
      /not what siltbook makes of the rest/,
    ],
    [
      "the file that the sample came from is left out",
      () =>
        edited(files, "record.json", (text) => text.replace(/"files": \[[^\]]*\]/, '"files": []')).filter(
          ({ path }) => !path.startsWith("laboratory/"),
        ),
      lines,
      /the rows of lab-long\.csv, from which sample 26-0319 came, are not here/,
    ],
    [
      "a decision that nobody made",
      () =>
        edited(files, "decisions.json", () =>
          JSON.stringify([
            {
              cart: "QB-02",
              circuit: "fore",
              number: 1,
              at: "2026-11-20",
              person: "A",
              decision: "fit",
              reason: "x",
            },
          ]),
        ),
      "decisions.json",
      /not what siltbook makes of the rest/,
    ],
    [
      "the date of an entry",
      () => edited(files, "chain/entries.jsonl", (text) => text.replace(/"at":"20\d\d/, '"at":"2019')),
      "chain/entries.jsonl",
      /entry 1 .*date, name, subject or hash was changed/,
    ],
    [
      "an entry that is gone",
      () => edited(files, "chain/entries.jsonl", (text) => text.replace(/^.*"number":4.*\n/m, "")),
      "chain/entries.jsonl",
      /entry 4 is gone/,
    ],
    [
      "what an entry wrote",
      () => edited(files, "chain/bodies.jsonl", (text) => text.replace('"rows":14', '"rows":13')),
      "chain/entries.jsonl",
      /its list of what it wrote was changed/,
    ],
    [
      "the description as a Data Package",
      () => edited(files, "datapackage.json", (text) => text.replace("circulate", "fit")),
      "datapackage.json",
      /not what siltbook makes of the rest/,
    ],
    [
      "no JSON in the record",
      () => edited(files, "record.json", () => "[]"),
      "record.json",
      /not what siltbook writes/,
    ],
  ];

  test.each(FORGERIES)("%s: found, with the manifest written again", async (_, forge, file, message) => {
    const found = await verifyEvidence(withManifest(forge()));
    expect(found.fits).toBe(false);
    expect(found.misfits[0]).toEqual({ file, message: expect.stringMatching(message) });
  });

  test("a file that was put in is found also where it is empty", async () => {
    const more = withManifest([...files, { path: "approved.txt", bytes: new Uint8Array() }]);
    expect(await first(more)).toMatchObject({ file: "approved.txt" });
  });

  const ofOther = (pack: readonly PackFile[]) =>
    withManifest(edited(pack, "record.json", (text) => text.replace('"0.1.0"', '"0.0.9"')));
  /** [what was forged in a pack that is said to be of another version, how, the file that is named as not fitting] */
  const OF_OTHER: readonly [string, () => PackFile[], string | undefined][] = [
    ["nothing", () => [...files], undefined],
    [
      "the sheet",
      () => edited(files, "sheet.html", (text) => text.replaceAll("circulate", "fit")),
      undefined,
    ],
    [
      "the verdict shown",
      () => edited(files, "verdict.json", (text) => text.replaceAll("circulate", "fit")),
      "verdict.json",
    ],
    ["a chain with blanks", () => edited(files, lines, (text) => `${text}\n`), lines],
  ];
  test.each(OF_OTHER)("of another version, %s forged: it never fits", async (_, forge, file) => {
    const forged = forge();
    const found = await verifyEvidence(ofOther(forged));
    expect(found.fits).toBe(false);
    expect(found.misfits[0]?.file).toBe(file);
    // What this version makes alike was compared; the description names the version, so it always differs.
    const shown = forged.filter((one, index) => one !== files[index]).map(({ path }) => path);
    if (file === undefined) {
      const descriptions = ["datapackage.json", "ro-crate-metadata.json"];
      expect([...found.notMadeAgain].sort()).toEqual([...descriptions, ...shown].sort());
    }
  });
});

describe("on another machine, by the command", () => {
  test("without the book the pack fits, and with it the book contains its head", async () => {
    const out = join(folder, "pack.zip");
    const made = await runJson(
      "evidence",
      "--book",
      book,
      "--cart",
      "QB-02",
      "--circuit",
      "fore",
      "--out",
      out,
    );
    expect(made.code).toBe(0);
    expect(made.json).toMatchObject({ out, head, verdict: { number: 3, verdict: "circulate" }, misfits: [] });
    renameSync(book, `${book}.away`);
    const alone = await run("verify", "--evidence", out);
    renameSync(`${book}.away`, book);
    expect(alone).toMatchObject({ code: 0, err: "" });
    expect(alone.out).toMatch(/^The evidence fits\.\nVerdict 3: circulate\n/);
    for (const line of alone.out.split("\n")) expect(line.length, line).toBeLessThanOrEqual(80);
    const both = await runJson("verify", "--evidence", out, "--book", book, "--against", head.slice(0, 12));
    expect(both.code).toBe(0);
    expect(both.json).toMatchObject({
      fits: true,
      first: null,
      book: { containsHead: true },
      against: { isInPack: true },
    });
  });

  test("a pack of another version: the answer says first what cannot be compared, with exit code 1", async () => {
    const out = join(folder, "other-version.zip");
    const sheet = edited(files, "sheet.html", (text) => text.replaceAll("circulate", "fit"));
    const older = edited(sheet, "record.json", (text) => text.replace('"0.1.0"', '"0.0.9"'));
    writeFileSync(out, packAsZip(withManifest(older)));
    const found = await run("verify", "--evidence", out);
    expect(found.code).toBe(1);
    expect(found.out).toMatch(/^The verdict fits its evidence, but not all files can be compared/);
    expect(found.out.replace(/\s+/g, " ")).toMatch(/Go by the verdict below, not by [^:]*sheet\.html/);
    expect(found.out).toContain("Verdict 3: circulate");
  });

  test("a whole book that was made again with a milder limit fits itself, and not the printed head", async () => {
    const milder = join(folder, "milder.json");
    const forged = join(folder, "forged.siltbook");
    writeFileSync(
      milder,
      readFileSync(demo("requirement.json"), "utf8").replace(/"NAS 1638 \d+"/g, '"NAS 1638 12"'),
    );
    await makeBook(forged, milder);
    const out = join(folder, "forged.zip");
    await run("evidence", "--book", forged, "--cart", "QB-02", "--circuit", "fore", "--out", out);
    const alone = await runJson("verify", "--evidence", out);
    expect(alone.json).toMatchObject({ fits: true, verdict: { verdict: "fit" } });
    const paper = await run("verify", "--evidence", out, "--against", head.slice(0, 12));
    expect(paper.code).toBe(1);
    expect(paper.out).toContain(`The pack does not contain ${head.slice(0, 12)}`);
    expect((await run("verify", "--evidence", out, "--book", book)).code).toBe(1);
  });

  test("a folder is read as its files are, and a link in it is refused", async () => {
    const out = join(folder, "as-folder");
    await run("evidence", "--book", book, "--record", "3", "--ro-crate", "--out", out);
    expect(hashesOf(readEvidenceFiles(out))).toEqual(hashesOf(files));
    expect(readdirSync(folder).filter((name) => /\.part|-shm|-wal/.test(name))).toEqual([]);
    const linked = join(folder, "linked");
    cpSync(out, linked, { recursive: true });
    rmSync(join(linked, "README.txt"));
    symlinkSync("/etc/hostname", join(linked, "README.txt"));
    const refused = await run("verify", "--evidence", linked);
    expect(refused).toMatchObject({ code: 2, out: "" });
    expect(refused.err).toContain("README.txt is neither a file nor a folder");
  });

  const at = (name: string) => join(folder, name);
  /** [what is called, what is said] */
  const REFUSED: readonly [string[], RegExp][] = [
    [[], /expected --cart, or the number of a verdict/],
    [["--cart", "QB-02"], /several circuits; name one: fore, aft/],
    [["--cart", "QB-99"], /the book has no cart "QB-99"/],
    [["--cart", "QB-02", "--circuit", "mid"], /no verdict on cart QB-02, circuit "mid".*fore, aft/],
    [
      ["--cart", "QB-02", "--circuit", "fore", "--on", "2026-11-19"],
      /for 2026-11-19; the last were for 2026-11-20/,
    ],
    [["--record", "15"], /no verdict number 15/],
    [["--record", "x"], /--record: expected the number of a verdict, found "x"/],
    [["--record", "3", "--cart", "QB-02"], /expected no --cart/],
    [
      ["--record", "3", "--original", demo("lab-tidy.csv")],
      /expected a file that the verdict rests on, .*: lab-long\.csv .*; found lab-tidy\.csv \(SHA-256 [0-9a-f]{12}\)/,
    ],
    [["--record", "3", "--original", "none.csv"], /--original: none\.csv cannot be read/],
  ];
  test.each(REFUSED)("evidence %j: %s", async (args, message) => {
    const { code, out, err } = await run("evidence", "--book", book, ...args, "--out", at("refused"));
    expect({ code, out }).toEqual({ code: 2, out: "" });
    expect(err).toMatch(message);
    expect(readdirSync(folder)).not.toContain("refused");
  });

  test("nothing is overwritten", async () => {
    mkdirSync(at("there"));
    writeFileSync(at("there.zip"), "mine");
    for (const name of ["there", "there.zip"]) {
      const { code, err } = await run("evidence", "--book", book, "--record", "3", "--out", at(name));
      expect(code).toBe(2);
      expect(err).toContain("exists already");
    }
  });
});
