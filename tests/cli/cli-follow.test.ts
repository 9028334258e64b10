import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { runCli } from "../../src/cli/index.js";
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

const sizeOf = (line: string) => Number(/> (\d+)/.exec(line)?.[1]);

describe("follow", () => {
  test("says minute by minute what to go by, and ends with 0 when it is shown to be clean", async () => {
    const { code, out } = await follow(linesOf(40, cleaning));
    const lines = out.split("\n");
    expect(lines[0]).toBe("14:53  21/19/16  not clean yet: too early to say how long");
    expect(out).toMatch(/not clean yet: about [\d.]+ min more \([\d.]+ min to [\d.]+ min\), by channel/);
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
    expect(out).toContain("line 11: expected a number with one of the units °c");
    expect(out).toContain("Not used: 1 lines that came again, 0 that came late.");
    expect(code).toBe(1);
  });

  test("sizes that come one after the other, and late, are no counts of the same minute", async () => {
    const bySize = linesOf(6, cleaning).sort((a, b) => sizeOf(a) - sizeOf(b));
    const { code, out } = await follow(bySize);
    expect(out).toContain("not counted, so never called clean");
    expect(out).toContain("that came late.");
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
    // By its first line it knows more than its first minute could show.
    expect(out.split("\n")[0]).not.toContain("too early");
    expect(readFileSync(kept, "utf8").trim().split("\n")).toEqual(all);
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
