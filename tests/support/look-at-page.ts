import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";

/** Everything that WCAG 2.2 asks for at the levels A and AA and that a program can check. */
const WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** What is left of A4 between the margins of the report's style sheet, in CSS pixels. */
export const A4 = {
  width: Math.floor(((210 - 24) / 25.4) * 96),
  height: Math.floor(((297 - 22) / 25.4) * 96),
};

/**
 * Checks a page as it is shown now against WCAG 2.2 AA.
 *
 * @returns the rules that are broken, each with the elements that break it, and the rules that are kept
 */
export async function checkAccess(page: Page): Promise<{ broken: string[]; kept: string[] }> {
  await page.evaluate(AXE);
  return page.evaluate(async (values) => {
    const { axe } = window as unknown as { axe: typeof import("axe-core") };
    const results = await axe.run(document, {
      runOnly: { type: "tag", values },
      resultTypes: ["violations", "passes"],
    });
    return {
      broken: results.violations.map(
        ({ id, nodes }) => `${id}: ${nodes.map((node) => node.html.slice(0, 200)).join()}`,
      ),
      kept: results.passes.map(({ id }) => id),
    };
  }, WCAG);
}

/** How many pixels the page itself can be moved sideways. */
export async function sidewaysOverflow(page: Page): Promise<number> {
  return page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
}

/** Texts in pictures of the page that lie on one another or are cut off at the picture's edge. */
export async function faultyTexts(page: Page): Promise<string[]> {
  return page.locator("svg").evaluateAll((pictures) =>
    pictures.flatMap((picture) => {
      const frame = picture.getBoundingClientRect();
      const texts = [...picture.querySelectorAll("text")].map((text) => ({
        words: text.textContent ?? "",
        box: text.getBoundingClientRect(),
      }));
      const cut = texts
        .filter(
          ({ box }) => box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1,
        )
        .map(({ words }) => `cut off: ${words}`);
      // The box of a line of text is taller than its letters, above and below.
      const touching = texts.flatMap((one, index) =>
        texts
          .slice(index + 1)
          .filter((other) => {
            const slack = 0.35 * Math.min(one.box.height, other.box.height);
            const [a, b] = [one.box, other.box];
            const inColumn = a.left < b.right - 1 && b.left < a.right - 1;
            return inColumn && a.top < b.bottom - slack && b.top < a.bottom - slack;
          })
          .map((other) => `"${one.words}" on "${other.words}"`),
      );
      const name = picture.getAttribute("aria-label");
      return [...cut, ...touching].map((fault) => `${name}: ${fault}`);
    }),
  );
}
