import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { betasOfRating } from "../../src/cleanliness/index.js";
import { judgeCarts, VERDICT_WORDS, VERDICTS, type VerdictName } from "../../src/fitness/index.js";
import { readFleetFiles } from "../../src/intake/index.js";
import { renderReport } from "../../src/report/index.js";
import { openBrowser } from "../support/browser.js";
import { DEMO_ARGUMENTS } from "../support/demo.js";
import { A4, checkAccess, faultyTexts, sidewaysOverflow } from "../support/look-at-page.js";
import { runJson } from "../support/run-cli.js";

let browser: Browser;
let report: string;
let page: Page;
let judged: { cart: string; circuit: string; verdict: VerdictName }[];
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

/** No time of circulating is long enough for one circuit, and its sign says so. */
const signFor = ({ cart, circuit, verdict }: { cart: string; circuit: string; verdict: VerdictName }) =>
  cart === "QB-06" && circuit === "aft" ? "do-not-connect" : verdict;

describe("the report of the demonstration in a browser", () => {
  test("opens without a word on the console and without asking for anything but itself", () => {
    expect(faults).toEqual([]);
    expect(requests.filter((url) => !url.startsWith("data:"))).toHaveLength(1);
  });

  test("shows every circuit with its verdict, the strictest first", async () => {
    const rows = await page.locator("main table").first().locator("tbody tr").allInnerTexts();
    const shown = rows.map((row) =>
      row
        .split("\t")
        .slice(0, 3)
        .map((cell) => cell.trim()),
    );
    const expected = judged.map((one) => [one.cart, one.circuit, VERDICT_WORDS[signFor(one)]]);
    expect([...shown].sort()).toEqual([...expected].sort());
    const ranks = shown.map(([cart, circuit]) => {
      const found = judged.find((one) => one.cart === cart && one.circuit === circuit);
      return VERDICTS.indexOf((found && signFor(found)) as VerdictName);
    });
    expect(ranks).toEqual([...ranks].sort((a, b) => b - a));
  });

  test("lists every cart to jump to, with a shape for each verdict that no other verdict has", async () => {
    const links = await page.locator(".carts a").evaluateAll((all) =>
      all.map((link) => ({
        leads: document.getElementById((link.getAttribute("href") ?? "").slice(1))?.className ?? "nowhere",
        verdict: document
          .getElementById((link.getAttribute("href") ?? "").slice(1))
          ?.querySelector(".verdict")?.textContent,
        shape: link.querySelector("svg")?.innerHTML ?? "",
      })),
    );
    expect(links).toHaveLength(judged.length);
    for (const { leads } of links) expect(leads).toContain("sheet");
    const kinds = new Set(judged.map(({ verdict }) => verdict));
    expect(new Set(links.map(({ verdict, shape }) => `${verdict} ${shape}`)).size).toBe(kinds.size);
    expect(new Set(links.map(({ shape }) => shape)).size).toBe(kinds.size);
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
        sections.map((section) => (section.classList.contains("sheet") ? "sheet" : section.id)),
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
    expect(wide.length).toBeGreaterThan(0);
    expect(wide.every((index) => index === 0)).toBe(true);
  });

  test.each([360, 320])(
    "on a phone of %i pixels pictures fit, and their letters can be read",
    async (width) => {
      await page.setViewportSize({ width, height: 740 });
      const pictures = await page.locator("figure svg:visible").evaluateAll((all) =>
        all.map((picture) => {
          const { left, right, width: shown } = picture.getBoundingClientRect();
          const scale = shown / Number(picture.getAttribute("viewBox")?.split(" ")[2]);
          const sizes = [...picture.querySelectorAll("text")].map((text) =>
            Number.parseFloat(getComputedStyle(text).fontSize),
          );
          return { left, right, smallest: scale * Math.min(...sizes) };
        }),
      );
      expect(pictures.length).toBeGreaterThanOrEqual(judged.length);
      for (const { left, right, smallest } of pictures) {
        expect(left).toBeGreaterThanOrEqual(0);
        expect(right).toBeLessThanOrEqual(width);
        expect(smallest).toBeGreaterThan(width === 360 ? 9.5 : 8);
      }
      expect(await faultyTexts(page)).toEqual([]);
    },
  );

  test.each([360, 320])(
    "on a phone of %i pixels every verdict is in sight, in rows of two lines",
    async (width) => {
      await page.setViewportSize({ width, height: 740 });
      const rows = await page.locator("#verdicts tbody tr").evaluateAll((all) =>
        all.map((row) => {
          const verdict = row.querySelector(".verdict")?.getBoundingClientRect();
          const tops = [...row.children]
            .map((cell) => cell.getBoundingClientRect())
            .filter(({ height }) => height > 0)
            .map(({ top, height }) => Math.round(top + height / 2));
          return { left: verdict?.left, right: verdict?.right, lines: new Set(tops).size };
        }),
      );
      expect(rows).toHaveLength(judged.length);
      for (const { left, right, lines } of rows) {
        expect(left).toBeGreaterThanOrEqual(0);
        expect(right).toBeLessThanOrEqual(width);
        if (width === 360) expect(lines).toBe(2);
      }
    },
  );

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
    const fit = judged.filter(({ verdict }) => verdict === "fit").length;
    expect(sheets).toHaveLength(judged.length);
    for (const [index, sheet] of sheets.entries()) {
      const name = texts[index]?.split("\n")[0];
      const isHalf = index >= judged.length - fit;
      expect(sheet.height, name).toBeLessThanOrEqual(A4.height / (isHalf ? 2 : 1));
      expect(sheet.width, name).toBeLessThanOrEqual(A4.width);
      expect(sheet.breaks, name).toBe(index > judged.length - fit ? "auto" : "page");
      for (const words of ["Siltbook advises; it never releases.", "What to do", "signature"]) {
        expect(texts[index], name).toContain(words);
      }
    }
  });

  test("on paper a verdict can be read from three metres, valid-until is the next largest, and boxes take a gloved hand", async () => {
    await page.setViewportSize(A4);
    await page.emulateMedia({ media: "print", colorScheme: "light" });
    const MM = 96 / 25.4;
    const sheets = await page.locator(".sheet").evaluateAll((sections) =>
      sections.map((section) => {
        const sizeOf = (wanted: string) =>
          [...section.querySelectorAll(wanted)].map((part) =>
            Number.parseFloat(getComputedStyle(part).fontSize),
          );
        const boxes = [...section.querySelectorAll(".by-hand td")].map((box) => box.getBoundingClientRect());
        return {
          id: section.id,
          verdict: Math.max(...sizeOf(".verdict")),
          validUntil: sizeOf(".valid-until"),
          others: Math.max(...sizeOf("p:not(.valid-until), li, td, th, h3, .whose")),
          box: {
            width: Math.min(...boxes.map((b) => b.width)),
            height: Math.min(...boxes.map((b) => b.height)),
          },
        };
      }),
    );
    for (const { id, verdict, validUntil, others, box } of sheets) {
      // Capital letters are about 0.7 of the size: 15 mm of size are letters of 10 mm, one for each 300 mm of distance.
      expect(verdict, id).toBeGreaterThan(15 * MM);
      for (const size of validUntil) {
        expect(size, id).toBeLessThan(verdict);
        expect(size, id).toBeGreaterThan(others);
      }
      expect(box.width, id).toBeGreaterThan(40 * MM);
      expect(box.height, id).toBeGreaterThan(10 * MM);
    }
    const fit = judged.filter(({ verdict }) => verdict === "fit").length;
    expect(sheets.filter(({ validUntil }) => validUntil.length === 1)).toHaveLength(fit);
  });

  test("on paper the letters of a class history have 8 points or more", async () => {
    await page.setViewportSize(A4);
    await page.emulateMedia({ media: "print", colorScheme: "light" });
    const points = await page.locator(".class-history .for-page svg").evaluateAll((all) =>
      all.map((picture) => {
        const scale =
          picture.getBoundingClientRect().width / Number(picture.getAttribute("viewBox")?.split(" ")[2]);
        const sizes = [...picture.querySelectorAll("text")].map((text) =>
          Number.parseFloat(getComputedStyle(text).fontSize),
        );
        return scale * Math.min(...sizes) * 0.75;
      }),
    );
    expect(points.length).toBeGreaterThanOrEqual(judged.length);
    for (const size of points) expect(size).toBeGreaterThanOrEqual(8);
  });

  test("a sheet to circulate has what is expected, and next to it a box for what is counted", async () => {
    await page.setViewportSize(A4);
    await page.emulateMedia({ media: "print", colorScheme: "light" });
    const tables = page.locator(".sheet table.counts");
    expect(await tables.count()).toBeGreaterThan(0);
    const heads = await tables.first().locator("th[scope=col]").allInnerTexts();
    expect(heads.slice(-2)).toEqual([expect.stringMatching(/^expected after \d+ min$/), "counted"]);
    for (const cells of await tables.first().locator("tbody tr").all()) {
      const [limit, expected, counted] = await Promise.all(
        [4, 7, 8].map((place) => cells.locator(`:nth-child(${place})`).textContent()),
      );
      expect(Number(expected)).toBeLessThan(Number(limit));
      expect(counted).toBe("");
    }
  });

  test("names of a hundred letters are printed whole, leave what needs doing first on page 1, and each sheet on its page", async () => {
    const [cartsFile, requirement, day, samples] = [
      DEMO_ARGUMENTS[1],
      DEMO_ARGUMENTS[3],
      DEMO_ARGUMENTS[5],
      DEMO_ARGUMENTS.slice(6),
    ];
    const fleet = await readFleetFiles({
      carts: cartsFile as string,
      requirement: requirement as string,
      samples,
    });
    const longer = (name: string, more: string) => `${name} ${more}`.padEnd(100, "x");
    // Sheets of every kind, with the tallest ones.
    const carts = fleet.carts.filter(({ cart }) => ["QB-02", "QB-04", "QB-06"].includes(cart));
    const circuits = judgeCarts({ ...fleet, carts, on: day as string }).map((one) => ({
      ...one,
      circuit: {
        ...one.circuit,
        serves: longer(one.circuit.serves, "of all aircraft of the northern field"),
      },
      verdict: {
        ...one.verdict,
        cart: longer(one.verdict.cart, "hydraulic power cart of the northern flight line, hangar 4, bay 12"),
        circuit: longer(one.verdict.circuit, "pressure circuit with hose reel and panel, left side"),
      },
    }));
    const { document: requirements, quarantine } = fleet;
    const printed = await browser.newPage({ viewport: A4 });
    await printed.emulateMedia({ media: "print", colorScheme: "light" });
    await printed.setContent(renderReport({ on: day as string, requirements, circuits, quarantine }));
    expect(await sidewaysOverflow(printed)).toBe(0);
    const [table = ""] = await printed.locator("#verdicts").allInnerTexts();
    for (const { verdict } of circuits)
      expect(table.replace(/\s+/g, " ")).toContain(`${verdict.cart} ${verdict.circuit}`);
    const [first, ...sheets] = await printed
      .locator("#first, .sheet")
      .evaluateAll((all) => all.map((one) => [one.getBoundingClientRect(), one.scrollWidth] as const));
    expect(first?.[0].bottom).toBeLessThanOrEqual(A4.height);
    expect(sheets).toHaveLength(circuits.length);
    for (const [box, width] of sheets) {
      expect(box.height).toBeLessThanOrEqual(A4.height);
      expect(width).toBeLessThanOrEqual(A4.width);
    }
    // The table is on one page where it fits on one, because a further page does not repeat its titles.
    const around = printed.locator(".scroll:has(> #verdicts)");
    expect(await around.evaluate((one) => getComputedStyle(one).breakInside)).toBe("avoid");
    // On page 1 and 2 a row has a line for its names and one for its results, at most two for each.
    const rows = await printed
      .locator("#verdicts tbody tr")
      .evaluateAll((all) => all.map((one) => one.clientHeight));
    expect(Math.max(...rows)).toBeLessThan(90);
  });

  test("a sheet with the five channels of a class of ranges, an element without β and the laboratory's remarks is one page", async () => {
    const fleet = await readFleetFiles({
      carts: DEMO_ARGUMENTS[1] as string,
      requirement: DEMO_ARGUMENTS[3] as string,
      samples: DEMO_ARGUMENTS.slice(6),
    });
    const carts = fleet.carts.map((cart) => ({
      ...cart,
      circuits: cart.circuits.map((circuit) => ({
        ...circuit,
        element: { ...circuit.element, ...betasOfRating(circuit.element.position, "3 µm absolute") },
      })),
    }));
    const laboratorySays = [
      {
        column: "Remarks",
        text: "retested on request of the customer: the first result stands, and so does the second one, of 12 November",
      },
    ];
    const samples = fleet.samples.map((sample) => ({ ...sample, laboratorySays }));
    const circuits = judgeCarts({ ...fleet, carts, samples, on: DEMO_ARGUMENTS[5] as string }).filter(
      ({ verdict }) => verdict.cart === "QB-02" && verdict.circuit === "fore",
    );
    const { document: requirements, quarantine } = fleet;
    const printed = await browser.newPage({ viewport: A4 });
    await printed.emulateMedia({ media: "print", colorScheme: "light" });
    await printed.setContent(
      renderReport({ on: DEMO_ARGUMENTS[5] as string, requirements, circuits, quarantine }),
    );
    const sheet = printed.locator(".sheet");
    expect(await sheet.locator(".counts tbody tr").count()).toBe(5);
    expect(await sheet.textContent()).toContain("no β was stated");
    expect(await sheet.evaluate((one) => one.getBoundingClientRect().height)).toBeLessThanOrEqual(A4.height);
  });

  test("printed, it has a page for what needs doing first, one for each circuit that is not fit and half a one for each that is, before the history", async () => {
    const fit = judged.filter(({ verdict }) => verdict === "fit").length;
    const short = await browser.newPage();
    await short.goto(`file://${report}`);
    await short.addStyleTag({ content: "#history, #history ~ * { display: none }" });
    const pdf = (await short.pdf({ format: "A4", preferCSSPageSize: true })).toString("latin1");
    expect(pdf.match(/\/Type\s*\/Page\b(?!s)/g)).toHaveLength(1 + judged.length - fit + Math.ceil(fit / 2));
  });
});
