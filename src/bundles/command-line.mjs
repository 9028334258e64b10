// Bundles the command line into dist/cli: one file for each command and for what several share, so that a command opens few
// files and only those it needs. npm run build
import { rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { build } from "esbuild";
import { licencesIn } from "./licences.mjs";

const root = join(import.meta.dirname, "../..");
const outdir = join(root, "dist/cli");

rmSync(outdir, { recursive: true, force: true });
const { metafile } = await build({
  absWorkingDir: root,
  entryPoints: ["src/cli/main.ts", "src/cli/index.ts", "src/book/judging/judging-thread.ts"],
  outdir,
  // All in one folder, so that a thread is found next to what starts it.
  entryNames: "[name]",
  chunkNames: "[name]-[hash]",
  bundle: true,
  splitting: true,
  platform: "node",
  format: "esm",
  target: "node20",
  legalComments: "none",
  alias: {
    "jsonc-parser": join(import.meta.dirname, "jsonc-parser.mjs"),
    "string-width": join(import.meta.dirname, "string-width.cjs"),
  },
  // The database is native. What draws is large, and no command but report waits for it.
  external: ["libsql", "@observablehq/plot", "linkedom", "read-excel-file"],
  banner: {
    js: 'import { createRequire as requireFrom } from "node:module";\nconst require = requireFrom(import.meta.url);',
  },
  metafile: true,
  logLevel: "warning",
});
writeFileSync(join(outdir, "licences.txt"), `These files hold:\n\n${licencesIn(root, metafile)}\n`);
