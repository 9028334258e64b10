// Bundles the program of the hangar page into dist/page/app.js, with the licence of every package that is in it: npm run build
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { build } from "esbuild";
import { licencesIn } from "./licences.mjs";

const root = join(import.meta.dirname, "../..");
const outfile = join(root, "dist/page/app.js");

const { outputFiles, metafile } = await build({
  stdin: { contents: 'import { start } from "./start.js"; start();', resolveDir: join(root, "src/page/app") },
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
writeFileSync(
  outfile,
  `/*! This program holds:\n\n${licencesIn(root, metafile)}\n*/\n${outputFiles[0].text}`,
);
