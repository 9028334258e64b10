// Bundles the program of the hangar page into dist/page/app.js, with the licence of every package that is in it: npm run build
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { build } from "esbuild";

const root = join(import.meta.dirname, "../../..");
const outfile = join(root, "dist/page/app.js");

const { outputFiles, metafile } = await build({
  stdin: { contents: 'import { start } from "./start.js"; start();', resolveDir: import.meta.dirname },
  absWorkingDir: root,
  outfile,
  bundle: true,
  minify: true,
  platform: "browser",
  format: "iife",
  // Phones of some years ago.
  target: "es2020",
  charset: "utf8",
  legalComments: "none",
  metafile: true,
  write: false,
  logLevel: "warning",
});
const [output] = Object.values(metafile.outputs);
const packages = Object.entries(output.inputs).flatMap(([path, { bytesInOutput }]) => {
  const name = /^node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(path)?.[1];
  return name === undefined || bytesInOutput === 0 ? [] : [name];
});
const notices = [...new Set(packages)].sort().map((name) => `${name}\n\n${licenceOf(name)}`);
writeFileSync(outfile, `/*! This program holds:\n\n${notices.join("\n\n")}\n*/\n${outputFiles[0].text}`);

function licenceOf(name) {
  const folder = join(root, "node_modules", name);
  const file = readdirSync(folder).find((entry) => /^licen[cs]e/i.test(entry));
  if (file === undefined) throw new Error(`${name} has no licence file, which a copy of it must carry`);
  return readFileSync(join(folder, file), "utf8").trim();
}
