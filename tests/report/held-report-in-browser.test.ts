import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { Book } from "../../src/book/index.js";
import { openBrowser } from "../support/browser.js";
import { DEMO_ARGUMENTS } from "../support/demo.js";
import { A4, checkAccess, sidewaysOverflow } from "../support/look-at-page.js";
import { run, runExplained } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
let browser: Browser;
let page: Page;
let held = 0;

/** Every circuit of the demonstration is held, with a reason of some lines. */
beforeAll(async () => {
  const path = join(folder, "demo.siltbook");
  const files = DEMO_ARGUMENTS.filter((argument) => argument.endsWith(".csv"));
  await run("import", "--book", path, ...DEMO_ARGUMENTS.slice(0, 4), ...files);
  const book = Book.open(path);
  const circuits = book
    .carts()
    .flatMap(({ cart, circuits: own }) => own.map((entry) => [cart, entry.circuit]));
  for (const [cart = "", circuit = ""] of circuits) {
    book.overrideUnjudged(cart, circuit, {
      person: "A. Person of the night shift",
      decision: "do-not-connect",
      reason: "the hose of this circuit lay open beside the drain pan overnight; ".repeat(3),
    });
  }
  held = circuits.length;
  book.close();
  const out = join(folder, "report.html");
  await runExplained("report", "--book", path, "--on", "2026-11-20", "--out", out);
  browser = await openBrowser();
  page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
  await page.goto(`file://${out}`, { waitUntil: "load" });
});

afterAll(() => browser.close());

describe("the report of circuits that are all held, in a browser", () => {
  test("the holds are the first thing in sight below the headline, one for each circuit", async () => {
    const box = await page.locator("#held").boundingBox();
    expect(box?.y).toBeLessThan(300);
    expect(await page.locator("#held li").count()).toBe(held);
    expect(await page.locator("h1").textContent()).toBe(`0 of ${held} circuits are fit to connect`);
  });

  test.each([
    ["a desktop", 1280, "light"],
    ["a desktop", 1280, "dark"],
    ["a phone", 390, "light"],
    ["a phone", 390, "dark"],
  ] as const)(
    "it breaks no rule of WCAG 2.2 AA on %s (%i pixels wide, %s)",
    async (_, width, colorScheme) => {
      await page.setViewportSize({ width, height: 900 });
      await page.emulateMedia({ colorScheme });
      const { broken, kept } = await checkAccess(page);
      expect(broken).toEqual([]);
      expect(kept).toContain("color-contrast");
      expect(await sidewaysOverflow(page)).toBeLessThanOrEqual(0);
    },
  );

  test("each sheet fits on one page of A4 and has the hold directly below its name", async () => {
    await page.setViewportSize(A4);
    await page.emulateMedia({ media: "print", colorScheme: "light" });
    const sheets = await page.locator(".sheet").evaluateAll((sections) =>
      sections.map((section) => ({
        id: section.id,
        height: section.getBoundingClientRect().height,
        below: section.querySelector("h2")?.nextElementSibling?.textContent ?? "",
      })),
    );
    expect(sheets).toHaveLength(held);
    for (const { id, height, below } of sheets) {
      expect(height, id).toBeLessThanOrEqual(A4.height);
      expect(below, id).toMatch(/^HELD by A\. Person of the night shift on /);
    }
  });
});
