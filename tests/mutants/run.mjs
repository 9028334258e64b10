import { spawnSync } from "node:child_process";
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import modules from "./modules.json" with { type: "json" };

/**
 * Breaks a module a few files at a time and counts: `npm run mutants circulation`, or some files of it by name.
 * A few at a time, because the marks that the tool sets into the code slow down whatever runs through them.
 */
const [module, ...some] = process.argv.slice(2);
if (!(module in modules)) throw new Error(`name one of ${Object.keys(modules).join(", ")}`);
const AT_ONCE = 3;
const folder = `out/mutants/${module.replaceAll("/", "-")}`;
// A folder with tests of its own is measured by itself.
const isElsewhere = (name) =>
  Object.keys(modules).some(
    (other) => other.length > module.length && `${module}/${name}`.startsWith(`${other}/`),
  );
const isCode = (name) => /\.tsx?$/.test(name) && name !== "index.ts" && !isElsewhere(name);
const files = some.length > 0 ? some : readdirSync(`src/${module}`, { recursive: true }).filter(isCode);
if (some.length === 0) rmSync(folder, { force: true, recursive: true });
mkdirSync(folder, { recursive: true });

for (let start = 0; start < files.length; start += AT_ONCE) {
  const together = files.slice(start, start + AT_ONCE);
  const report = `${folder}-part.json`;
  rmSync(report, { force: true });
  spawnSync(
    "npx",
    ["stryker", "run", "--mutate", together.map((name) => `src/${module}/${name}`).join(",")],
    {
      env: { ...process.env, MODULE: module, REPORT: report },
      stdio: "inherit",
    },
  );
  for (const [file, result] of Object.entries(JSON.parse(readFileSync(report, "utf8")).files)) {
    const name = file.slice(`src/${module}/`.length, -".ts".length).replaceAll("/", "-");
    writeFileSync(`${folder}/${name}.json`, JSON.stringify({ files: { [file]: result } }));
  }
}

const rows = readdirSync(folder).flatMap((name) =>
  Object.entries(JSON.parse(readFileSync(`${folder}/${name}`, "utf8")).files).map(([file, { mutants }]) => {
    const count = (...kinds) => mutants.filter(({ status }) => kinds.includes(status)).length;
    const killed = count("Killed", "Timeout");
    return { file, tried: killed + count("Survived", "NoCoverage"), killed, endless: count("Timeout") };
  }),
);
const sum = (name) => rows.reduce((total, row) => total + row[name], 0);
const total = { file: "all", tried: sum("tried"), killed: sum("killed"), endless: sum("endless") };
console.table(
  [...rows.filter(({ tried }) => tried > 0), total].map((row) => ({
    ...row,
    score: ((100 * row.killed) / row.tried).toFixed(1),
  })),
);
if (total.killed < 0.85 * total.tried) process.exitCode = 1;
