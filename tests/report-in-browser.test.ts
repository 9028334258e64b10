import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { openBrowser } from "./support/browser.js";
import { DEMO_ARGUMENTS } from "./support/demo.js";
import { runJson } from "./support/run-cli.js";

let browser: Browser;
let page: Page;
let judged: { cart: string; circuit: string; verdict: string }[];
const faults: string[] = [];
const requests: string[] = [];

beforeAll(async () => {
  const report = join(await mkdtemp(join(tmpdir(), "siltbook-")), "report.html");
  judged = (await runJson("report", ...DEMO_ARGUMENTS, "--out", report)).json.circuits;
  browser = await openBrowser();
  page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
  page.on("console", (message) => faults.push(message.text()));
  page.on("pageerror", (error) => faults.push(error.message));
  page.on("request", (request) => requests.push(request.url()));
  await page.goto(`file://${report}`, { waitUntil: "load" });
});

afterAll(() => browser.close());

describe("the report of the demonstration in a browser", () => {
  test("opens without a word on the console and without asking for anything but itself", () => {
    expect(faults).toEqual([]);
    expect(requests.filter((url) => !url.startsWith("data:"))).toHaveLength(1);
  });

  test("shows every circuit with its verdict, verdicts first", async () => {
    const rows = await page.locator("main table").first().locator("tbody tr").allInnerTexts();
    expect(rows).toHaveLength(judged.length);
    judged.forEach(({ cart, circuit, verdict }, index) => {
      const cells = rows[index]?.split("\t") ?? [];
      expect(cells.slice(0, 3).map((cell) => cell.trim())).toEqual([cart, circuit, verdict]);
    });
  });

  test("every link in the table leads to the section of its circuit", async () => {
    for (const link of await page.locator("main table a").all()) {
      await link.click();
      const section = page.locator("section:target");
      await expect(section.locator("h2").textContent()).resolves.toContain(await link.textContent());
    }
  });

  test("has a picture for every circuit, each with a finding as its name", async () => {
    const names = await page
      .locator("figure svg")
      .evaluateAll((pictures) => pictures.map((picture) => picture.getAttribute("aria-label") ?? ""));
    expect(names.length).toBeGreaterThanOrEqual(judged.length);
    for (const { cart, circuit } of judged) {
      expect(
        names.some((name) => name.startsWith(`${cart}, circuit ${circuit}: now `)),
        `${cart} ${circuit}`,
      ).toBe(true);
    }
  });

  test("no text of a picture is cut off at its edge", async () => {
    const cut = await page.locator("figure svg").evaluateAll((pictures) =>
      pictures.flatMap((picture) => {
        const frame = picture.getBoundingClientRect();
        return [...picture.querySelectorAll("text")]
          .filter((text) => {
            const box = text.getBoundingClientRect();
            return box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1;
          })
          .map((text) => text.textContent);
      }),
    );
    expect(cut).toEqual([]);
  });

  test("on a phone the page itself does not scroll sideways", async () => {
    await page.setViewportSize({ width: 390, height: 800 });
    const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(overflow).toBeLessThanOrEqual(0);
  });
});
