import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { openBrowser } from "../support/browser.js";
import { DEMO_ARGUMENTS } from "../support/demo.js";
import { A4, checkAccess, faultyTexts, sidewaysOverflow } from "../support/look-at-page.js";
import { runJson } from "../support/run-cli.js";

let browser: Browser;
let report: string;
let page: Page;
let judged: { cart: string; circuit: string; verdict: string }[];
const faults: string[] = [];
const requests: string[] = [];

beforeAll(async () => {
  report = join(await mkdtemp(join(tmpdir(), "siltbook-")), "report.html");
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
    for (const link of await page.locator("#verdicts a").all()) {
      await link.click();
      const section = page.locator("section:target");
      await expect(section.locator("h2").textContent()).resolves.toContain(await link.textContent());
      await expect(section.locator("ol li").count()).resolves.toBeGreaterThanOrEqual(3);
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

  test("no text of a picture is cut off at its edge or lies on another", async () => {
    expect(await faultyTexts(page)).toEqual([]);
  });

  test("after the verdicts comes what needs doing first, then the plans, history, quarantine, assumptions, sources", async () => {
    const ids = await page
      .locator("main > section")
      .evaluateAll((sections) =>
        sections.map((section) => (section.className === "sheet" ? "sheet" : section.id)),
      );
    expect(ids.filter((id, index) => id !== "" && id !== ids[index - 1])).toEqual([
      "first",
      "sheet",
      "history",
      "quarantine",
      "assumptions",
      "sources",
    ]);
  });

  test("every table and picture that is wider than a phone can be reached and moved with the keyboard", async () => {
    await page.setViewportSize({ width: 390, height: 800 });
    const wide = await page.locator("main *").evaluateAll((elements) =>
      elements
        .filter((element) => getComputedStyle(element).overflowX === "auto")
        .filter((element) => element.scrollWidth > element.clientWidth)
        .map((element) => (element as HTMLElement).tabIndex),
    );
    expect(wide.length).toBeGreaterThan(judged.length);
    expect(wide.every((index) => index === 0)).toBe(true);
  });

  test("on a phone the page itself does not scroll sideways", async () => {
    await page.setViewportSize({ width: 390, height: 800 });
    expect(await sidewaysOverflow(page)).toBeLessThanOrEqual(0);
  });

  test.each([
    ["a desktop", 1280, "light"],
    ["a desktop", 1280, "dark"],
    ["a phone", 390, "light"],
    ["a phone", 390, "dark"],
  ] as const)("breaks no rule of WCAG 2.2 AA on %s (%i pixels wide, %s)", async (_, width, colorScheme) => {
    await page.setViewportSize({ width, height: 900 });
    await page.emulateMedia({ colorScheme });
    const { broken, kept } = await checkAccess(page);
    expect(broken).toEqual([]);
    expect(kept).toEqual(expect.arrayContaining(["color-contrast", "target-size", "svg-img-alt"]));
  });

  test("what to do with each circuit fits on one page of A4, with the cautions and lines to fill in", async () => {
    await page.setViewportSize(A4);
    await page.emulateMedia({ media: "print", colorScheme: "light" });
    const sheets = await page.locator(".sheet").evaluateAll((sections) =>
      sections.map((section) => ({
        height: section.getBoundingClientRect().height,
        width: section.scrollWidth,
        breaks: getComputedStyle(section).breakBefore,
      })),
    );
    const texts = await page.locator(".sheet").allInnerTexts();
    expect(sheets).toHaveLength(judged.length);
    for (const [index, sheet] of sheets.entries()) {
      const name = `${judged[index]?.cart} ${judged[index]?.circuit}`;
      expect(sheet.height, name).toBeLessThanOrEqual(A4.height);
      expect(sheet.width, name).toBeLessThanOrEqual(A4.width);
      expect(sheet.breaks, name).toBe("page");
      for (const words of ["Siltbook advises; it never releases.", "What to do", "signature"]) {
        expect(texts[index], name).toContain(words);
      }
    }
  });

  test("printed, it has a page for the verdicts and one for each circuit before the history", async () => {
    const short = await browser.newPage();
    await short.goto(`file://${report}`);
    await short.addStyleTag({ content: "#history, #history ~ * { display: none }" });
    const pdf = (await short.pdf({ format: "A4", preferCSSPageSize: true })).toString("latin1");
    expect(pdf.match(/\/Type\s*\/Page\b(?!s)/g)).toHaveLength(1 + judged.length);
  });
});
