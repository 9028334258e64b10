// Makes the pictures in docs/pictures and the page that shows them: `npm run pictures`. Look at them before committing.
import { spawnSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { onPaper, renderPng } from "../src/figures/index.js";
import { openBrowser } from "../tests/support/browser.js";
import { CIRCULATION_FIGURES } from "./making/circulation-figures.js";
import { galleryFigures } from "./making/figures.js";
import { galleryPage } from "./making/gallery-page.js";
import { drawIntake } from "./making/intake-picture.js";
import { TREND_FIGURES } from "./making/trend-figures.js";

/** For looking at only; what the documentation shows is SVG. */
const LOOK = "out/pictures";

mkdirSync("docs/pictures", { recursive: true });
mkdirSync(LOOK, { recursive: true });
const figures = await galleryFigures();
const pictures = new Map([
  ...CIRCULATION_FIGURES,
  ...TREND_FIGURES,
  ...figures.map(({ file, svg }) => [file, svg] as const),
]);
for (const [file, svg] of pictures) {
  writeFileSync(`docs/pictures/${file}.svg`, `${onPaper(svg)}\n`);
  writeFileSync(`docs/pictures/${file}-dark.svg`, `${onPaper(svg, "dark")}\n`);
  writeFileSync(`${LOOK}/${file}.png`, renderPng(svg));
  writeFileSync(`${LOOK}/${file}-dark.png`, renderPng(svg, { paper: "dark" }));
}
writeFileSync("docs/pictures/intake-rows.svg", await drawIntake());
writeFileSync("docs/gallery.md", galleryPage(figures));

const demo = spawnSync("npm", ["run", "demo"], { stdio: "ignore", shell: true });
if (demo.status !== 0) throw new Error("npm run demo did not end well; run it by itself to see why");

const browser = await openBrowser();
const page = await browser.newPage({ viewport: { width: 1200, height: 900 }, colorScheme: "light" });
await page.goto(`file://${resolve("out/report.html")}`);
await page.screenshot({ path: "docs/pictures/report.png" });
await browser.close();
console.log(`${pictures.size} figures in docs/pictures; as PNG, to be looked at, in ${LOOK}`);
