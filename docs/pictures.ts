// Makes the pictures in docs/pictures from the demonstration data: `npm run pictures`. Look at them before committing.
import { spawnSync } from "node:child_process";
import { mkdirSync } from "node:fs";
import { resolve } from "node:path";
import { openBrowser } from "../tests/support/browser.js";

mkdirSync("docs/pictures", { recursive: true });
const demo = spawnSync("npm", ["run", "demo"], { stdio: "ignore", shell: true });
if (demo.status !== 0) throw new Error("npm run demo did not end well; run it by itself to see why");

const browser = await openBrowser();
const page = await browser.newPage({ viewport: { width: 1200, height: 900 }, colorScheme: "light" });
await page.goto(`file://${resolve("out/report.html")}`);
await page.screenshot({ path: "docs/pictures/report.png" });
await browser.close();
