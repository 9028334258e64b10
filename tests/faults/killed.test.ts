import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { parse } from "csv-parse/sync";
import { beforeAll, describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { bytesInMemory } from "../../src/intake/index.js";
import { random } from "../support/random.js";
import { runExplained } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const root = temporaryFolder();
const FLEET = join(import.meta.dirname, "..", "support", "fleet");
const CHILD = join(import.meta.dirname, "..", "support", "fault-child.mjs");
const HEADER = "sample,cart,circuit,drawn on,4 µm(c) per mL,water (mg/kg)";
const SAMPLES = 300;
const KILLS = 5;

/** A book of its own for each thing that is killed, with samples and a verdict in it. */
async function bookFor(what: string): Promise<{ path: string; folder: string }> {
  const folder = join(root, what);
  mkdirSync(folder);
  const path = join(folder, "base.siltbook");
  const book = Book.open(path, { create: true });
  const lines = Array.from({ length: SAMPLES }, (_, row) => `S-${row},C-1,1,2026-03-04,1300,50`);
  const text = new TextEncoder().encode([HEADER, ...lines].join("\n"));
  await book.takeIn(bytesInMemory("first.csv", text), { today: "2026-12-31" });
  book.close();
  const files = ["--carts", join(FLEET, "carts.json"), "--requirement", join(FLEET, "requirement.json")];
  await runExplained("judge", "--book", path, ...files, "--on", "2026-03-05");
  return { path, folder };
}

/** Starts the thing and kills it in the middle, again and again; looks at what is left after every kill. */
async function killing(
  what: string,
  look: (place: { path: string; folder: string }) => void,
): Promise<number> {
  const place = await bookFor(what);
  const next = random(what.length);
  let done = 0;
  const failed: string[] = [];
  for (let round = 0; round < KILLS; round += 1) {
    const child = spawn(process.execPath, [CHILD, what, place.path, place.folder, FLEET]);
    child.stdout.on("data", (data: Buffer) => {
      for (const line of data.toString().trim().split("\n")) {
        if (/^\d+ [01]\s*$/.test(line)) done += 1;
        else failed.push(line);
      }
    });
    await once(child.stdout, "data");
    await wait(next() * 120);
    child.kill("SIGKILL");
    await once(child, "exit");
    const book = Book.open(place.path);
    expect(book.check()).toEqual([]);
    expect(book.sampleCount).toBe(SAMPLES);
    book.close();
    look(place);
  }
  expect(failed).toEqual([]);
  return done;
}

const seen: Record<string, number> = {};

describe(`a program killed ${KILLS} times in the middle of each: what was there is whole, and so is what is new`, () => {
  beforeAll(async () => {
    // Three at a time, which is as many as a small machine has room for.
    const all = [
      ["backup", lookAtBackups],
      ["report", lookAtReport],
      ["export", lookAtExport],
      ["quarantine", lookAtQuarantine],
      ["amend", lookAtAmendments],
      ["override", lookAtOverrides],
    ] as const;
    for (let at = 0; at < all.length; at += 3) {
      await Promise.all(
        all.slice(at, at + 3).map(async ([what, look]) => {
          seen[what] = await killing(what, look);
        }),
      );
    }
  });

  test.each([
    ["backup", "every file of a backup's name is a whole book"],
    ["report", "the report is a whole page"],
    ["export", "the export has every sample"],
    ["quarantine", "the quarantine file has every row, and its column map can be read"],
    ["amend", "a correction is in the book for all samples of its file or for none"],
    ["override", "every override is whole, and the verdict is as it was"],
  ])("%s: %s", (what) => {
    // Some rounds must have ended, or nothing was there to be broken.
    expect(seen[what]).toBeGreaterThanOrEqual(KILLS);
  });
});

type Place = { path: string; folder: string };

function lookAtBackups({ folder }: Place): void {
  for (const name of readdirSync(folder).filter((file) => /^copy-\d+-\d+\.siltbook$/.test(file))) {
    const copy = Book.open(join(folder, name));
    expect(copy.check()).toEqual([]);
    expect(copy.sampleCount).toBe(SAMPLES);
    copy.close();
  }
}

function lookAtReport({ folder }: Place): void {
  expect(readFileSync(join(folder, "report.html"), "utf8").trimEnd()).toMatch(
    /^<!doctype html>.*<\/html>$/is,
  );
}

function lookAtExport({ folder }: Place): void {
  expect(parse(readFileSync(join(folder, "samples.csv"), "utf8"))).toHaveLength(SAMPLES + 1);
}

function lookAtQuarantine({ folder }: Place): void {
  const into = join(folder, "q");
  for (const name of readdirSync(into)) {
    const text = readFileSync(join(into, name), "utf8");
    if (name.endsWith(".csv")) expect(parse(text, { bom: true })).toHaveLength(SAMPLES + 1);
    else if (name.endsWith(".json")) expect(JSON.parse(text)).toHaveProperty("siltbookColumnMap", 1);
  }
}

function lookAtAmendments({ path }: Place): void {
  const book = Book.open(path);
  expect(new Set([...book.samples()].map(({ waterPpm }) => waterPpm?.value)).size).toBe(1);
  book.close();
}

function lookAtOverrides({ path }: Place): void {
  const book = Book.open(path);
  for (const { overrides, id } of book.verdicts({ cart: "C-1", circuit: "1" })) {
    for (const override of overrides) {
      expect(override).toMatchObject({ decision: "resample", reason: "bottle found open" });
    }
    expect(book.recompute(id).kind).toBe("same");
  }
  book.close();
}

test("an import stopped at the keyboard: what was in the book stays, nothing of the file is in it, and it can be done again", async () => {
  const { path, folder } = await bookFor("stopped");
  const file = join(folder, "long.csv");
  const rows = Array.from({ length: 60_000 }, (_, row) => `L-${row},C-1,1,2026-03-04,1300,50`);
  writeFileSync(file, [HEADER, ...rows].join("\n"));
  // The command as a terminal runs it, but that its progress goes to where the test reads it.
  const program = `
    import { runCli } from "./dist/cli/index.js";
    const say = (text) => process.stdout.write(text);
    await runCli(["import", "--book", ${JSON.stringify(path)}, ${JSON.stringify(file)}], { out: say, err: say, progress: say });`;
  const child = spawn(process.execPath, ["--input-type=module", "--eval", program]);
  const ended = once(child, "exit");
  const [shown] = await once(child.stdout, "data");
  child.kill("SIGINT");
  expect(String(shown)).toMatch(/^long\.csv \[#+\.+\] \d+ %/);
  expect(await ended).toEqual([null, "SIGINT"]);

  const book = Book.open(path);
  expect(book.check()).toEqual([]);
  expect(book.files().map((known) => known.file)).toEqual(["first.csv"]);
  expect(book.sampleCount).toBe(SAMPLES);
  expect(book.openRowCount).toBe(0);
  const again = await book.takeIn(file, { today: "2026-12-31" });
  expect([again.taken, again.known]).toEqual([60_000, 0]);
  book.close();
});
