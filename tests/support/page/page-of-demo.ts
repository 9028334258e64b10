import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { PageData } from "../../../src/page/index.js";
import { DEMO_ARGUMENTS } from "../demo.js";
import { run } from "../run-cli.js";

/** Writes the page of the demonstration, with the day of the data that the demonstration was made for. */
export async function writePageOfDemo(folder: string): Promise<string> {
  const path = join(folder, "cart.html");
  const { err } = await run("page", ...DEMO_ARGUMENTS, "--out", path);
  if (err !== "") throw new Error(err);
  return path;
}

/** The data as the page itself reads them. */
export function dataOfPage(path: string): PageData {
  const html = readFileSync(path, "utf8");
  const json = /<script type="application\/json" id="data">(.*?)<\/script>/s.exec(html)?.[1];
  if (json === undefined) throw new Error(`${path} holds no data`);
  return JSON.parse(json);
}
