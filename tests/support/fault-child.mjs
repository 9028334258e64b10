// A program that does one thing with a book again and again until it is killed. It runs the built package.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { runCli } from "../../dist/cli/index.js";

const [what, book, folder, fleet] = process.argv.slice(2);
const HEADER = "sample,cart,circuit,drawn on,4 µm(c) per mL,water (mg/kg)";
const csv = (water) =>
  [HEADER, ...Array.from({ length: 300 }, (_, row) => `S-${row},C-1,1,2026-03-04,1300,${water}`)].join("\n");
const files = ["--carts", join(fleet, "carts.json"), "--requirement", join(fleet, "requirement.json")];

const steps = {
  backup: (round) => [
    "backup",
    "--book",
    book,
    "--to",
    join(folder, `copy-${process.pid}-${round}.siltbook`),
  ],
  report: () => [
    "report",
    "--book",
    book,
    ...files,
    "--on",
    "2026-03-05",
    "--out",
    join(folder, "report.html"),
  ],
  export: () => ["export", "--book", book, "--to", join(folder, "samples.csv")],
  quarantine: (round) => {
    const path = join(folder, `damp-${process.pid}-${round}.csv`);
    writeFileSync(path, csv("damp"));
    return ["import", "--book", book, "--quarantine", join(folder, "q"), path];
  },
  amend: (round) => {
    const path = join(folder, `amend-${process.pid}-${round}.csv`);
    writeFileSync(path, csv(100 + ((process.pid + round) % 700)));
    return ["import", "--book", book, path];
  },
  override: (round) => {
    const who = ["--cart", "C-1", "--circuit", "1", "--person", `P-${process.pid}-${round}`];
    return ["override", "--book", book, ...who, "--decision", "resample", "--reason", "bottle found open"];
  },
};

// Whoever started this may be gone before it is killed.
process.stdin.on("end", () => process.exit()).resume();

for (let round = 0; ; round += 1) {
  let err = "";
  const code = await runCli(steps[what](round), {
    out: () => {},
    err: (text) => {
      err += text;
    },
  });
  process.stdout.write(`${round} ${code} ${err}\n`);
}
