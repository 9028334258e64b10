import { cpSync, mkdirSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { sitePages } from "../../docs/making/site-pages.js";
import { judgeCarts, standsAs, VERDICT_WORDS } from "../../src/fitness/index.js";
import { readFleetFiles } from "../../src/intake/index.js";
import { renderReport } from "../../src/report/index.js";
import { openBrowser } from "../support/browser.js";
import { A4, checkAccess, faultyTexts, sidewaysOverflow } from "../support/look-at-page.js";

/** Pages stay here, to be looked at; with LOOKS=1 pictures of each size too, which take most of the time. */
const LOOK = join("out", "looks");

interface Looked {
  readonly name: string;
  readonly html: string;
  readonly says: readonly string[];
}

const fleet = await readFleetFiles({
  carts: "datasets/demo/carts.json",
  requirement: "datasets/demo/requirement.json",
  samples: ["lab-tidy.csv", "lab-semicolon.csv", "lab-long.csv"].map((name) => `datasets/demo/${name}`),
});
const circuits = judgeCarts({ ...fleet, on: "2026-11-20" });
const pages: readonly Looked[] = [...(await documentation()), ...reports()];

let browser: Browser;
let page: Page;
const faults: string[] = [];

beforeAll(async () => {
  rmSync(LOOK, { recursive: true, force: true });
  for (const { name, html } of pages) {
    mkdirSync(dirname(join(LOOK, name)), { recursive: true });
    writeFileSync(join(LOOK, name), html);
  }
  cpSync("docs/pictures", join(LOOK, "docs", "pictures"), { recursive: true });
  browser = await openBrowser();
  page = await browser.newPage();
  page.on("console", (message) => faults.push(message.text()));
  page.on("pageerror", (error) => faults.push(error.message));
  page.on("requestfailed", (request) => faults.push(`not there: ${request.url()}`));
});

afterAll(() => browser.close());

describe.each(pages)("$name", ({ name, says }) => {
  test("opens without a word on the console and says what it is for", async () => {
    faults.splice(0);
    await page.setViewportSize({ width: 1280, height: 900 });
    await page.emulateMedia({ media: "screen", colorScheme: "light" });
    await page.goto(`file://${join(process.cwd(), LOOK, name)}`, { waitUntil: "load" });
    const text = (await page.locator("body").textContent())?.replace(/\s+/g, " ");
    for (const words of says) expect(text).toContain(words);
    expect(faults).toEqual([]);
  });

  test("on a desktop no text of a picture is cut off or lies on another", async () => {
    await keepPicture(name, "desktop");
    expect(await faultyTexts(page)).toEqual([]);
  });

  test("on a phone it does not scroll sideways and breaks no rule of WCAG 2.2 AA", async () => {
    await page.setViewportSize({ width: 390, height: 844 });
    await keepPicture(name, "phone");
    expect(await sidewaysOverflow(page)).toBeLessThanOrEqual(0);
    const { broken, kept } = await checkAccess(page);
    expect(broken).toEqual([]);
    expect(kept).toContain("color-contrast");
  });

  test("on paper nothing is wider than the page", async () => {
    await page.setViewportSize(A4);
    await page.emulateMedia({ media: "print" });
    await keepPicture(name, "print");
    expect(await sidewaysOverflow(page)).toBeLessThanOrEqual(0);
  });
});

async function keepPicture(name: string, size: string): Promise<void> {
  if (process.env.LOOKS === undefined) return;
  await page.screenshot({ path: join(LOOK, `${name.replaceAll("/", "-")}-${size}.png`), fullPage: true });
}

/** The gallery, the way in, and every notebook with the answer that its first cell gives. */
async function documentation(): Promise<Looked[]> {
  const site = await sitePages();
  return site.flatMap(({ path, html }) => {
    const title = /<title>(.*?)<\/title>/.exec(html)?.[1] ?? "";
    if (path.startsWith("notebooks/0")) {
      const answer = /<strong>([^<]+)<\/strong>/.exec(html)?.[1] ?? "no answer";
      return [{ name: path, html, says: [title, answer, "Siltbook advises; it never releases."] }];
    }
    const shown = ["docs/gallery.html", "docs/start-here.html", "docs/fitness.html"].includes(path);
    return shown ? [{ name: path, html, says: [title] }] : [];
  });
}

/** The report of the fleet, and one for each cart. */
function reports(): Looked[] {
  const { document: requirements, quarantine } = fleet;
  const carts = [...new Set(circuits.map(({ verdict }) => verdict.cart))];
  const of = (name: string, own: typeof circuits) => ({
    name: `report-${name}.html`,
    html: renderReport({ on: "2026-11-20", requirements, circuits: own, quarantine }),
    says: [
      ...own.map(
        (judged) =>
          `${judged.verdict.cart}, circuit ${judged.verdict.circuit}: ${VERDICT_WORDS[standsAs(judged)]}`,
      ),
      "Siltbook advises; it never releases.",
    ],
  });
  return [
    of("fleet", circuits),
    ...carts.map((cart) =>
      of(
        cart,
        circuits.filter(({ verdict }) => verdict.cart === cart),
      ),
    ),
  ];
}
