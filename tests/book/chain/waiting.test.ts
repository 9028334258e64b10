import { spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync } from "node:fs";
import { join } from "node:path";
import Database from "libsql";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { demoBook } from "../../support/damaged-books.js";
import { run, runJson } from "../../support/run-cli.js";
import { temporaryFolder } from "../../support/temporary-folder.js";

const HOLDER = `
  const Database = require("libsql");
  const db = new Database(process.argv[1]);
  db.exec("BEGIN IMMEDIATE");
  process.stdout.write("held");
  setInterval(() => {}, 1000);`;

let book: string;
let holder: ReturnType<typeof spawn>;

beforeEach(async () => {
  book = await demoBook(join(temporaryFolder(), "a.siltbook"));
  const db = new Database(book);
  db.pragma("journal_mode = WAL");
  holder = spawn(process.execPath, ["-e", HOLDER, book], { stdio: ["ignore", "pipe", "inherit"] });
  await once(holder.stdout as NodeJS.ReadableStream, "data");
  db.close();
  holder.kill("SIGSTOP");
  vi.stubEnv("SILTBOOK_WAIT", "0.2");
});

afterEach(async () => {
  const ended = once(holder, "exit");
  holder.kill("SIGKILL");
  await ended;
  vi.unstubAllEnvs();
});

/** Only Linux says who. */
const who = existsSync("/proc/locks") ? ` \\(process \\d+, \\w+\\)` : "";
const busy = new RegExp(`another program${who} is writing to the book`);

test("while a stopped program holds the book, judging gives its verdicts, and says that they are not kept", async () => {
  const { code, json } = await runJson("judge", "--book", book, "--on", "2026-11-22");
  expect(code).toBe(1);
  expect(json.circuits).toHaveLength(14);
  expect(json).toMatchObject({ head: null, notKept: expect.stringMatching(busy) });
});

test("reading goes on, and a program that has to write ends with the name of the one that holds it", async () => {
  expect((await run("history", "--book", book, "--cart", "QB-01", "--circuit", "fore")).err).toBe("");
  const { code, err } = await run("import", "--book", book, "datasets/demo/lab-tidy.csv");
  expect([code, err]).toEqual([2, expect.stringMatching(busy)]);
});
