// Runs every command on damaged books and prints what was found, line by line: for tests, in a process of its own. Each
// command gets the book as it was damaged.
import { copyFileSync, existsSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { runCli } from "../../dist/cli/index.js";

const [folder, on, ...books] = process.argv.slice(2);
const copy = join(folder, "copy.siltbook");
const written = join(folder, "written.");

const circuit = ["--cart", "QB-03", "--circuit", "fore"];
const person = ["--person", "A. Person", "--reason", "bottle was found open"];
const file = (name) => join(folder, name);
/** Each command with what of its answer has to be the same as that of the sound book, unless it refuses. */
const COMMANDS = [
  [["verify", "--json"]],
  [["judge", "--on", on, "--json"], (text) => verdictsIn(JSON.parse(text).circuits)],
  [["fleet", "--on", on, "--json"], (text) => verdictsIn(JSON.parse(text).circuits)],
  [["report", "--on", on, "--out", `${written}html`]],
  [["page", "--on", on, "--out", `${written}html`]],
  [["trace", "--cart", "QB-02", "--on", on, "--json"], (text) => text],
  [["trend", ...circuit, "--on", on, "--json"], (text) => text],
  [["history", ...circuit, "--json"], (text) => text],
  [["rows", "lab-tidy.csv", "--json"], (text) => text],
  [["export", "--to", `${written}jsonl`], () => readFileSync(`${written}jsonl`, "utf8")],
  [["quarantine", "--all", "--json"], (text) => text],
  [["override", ...circuit, ...person, "--decision", "do-not-connect", "--json"]],
  [["withdraw", "lab-tidy.csv", "--by", "A. Person", "--reason", "of another base", "--json"]],
  [["import", "--json", file("lab-long.csv"), file("lab-tidy.csv")]],
  [["import", "--json", "--carts", file("carts.json"), "--requirement", file("requirement.json")]],
  [["backup", "--to", `${written}siltbook`]],
];

function verdictsIn(circuits) {
  return circuits.map((one) => [one.cart, one.circuit, one.verdict, one.reasons]);
}

async function said(args) {
  let out = "";
  let err = "";
  const io = { out: (text) => (out += text), err: (text) => (err += text) };
  try {
    return { code: await runCli(args, io), out, err };
  } catch (error) {
    return { code: 3, out, err: error.stack };
  }
}

for (const book of books) {
  for (const [[name, ...args], essence] of COMMANDS) {
    for (const end of ["", "-wal", "-shm", "-journal"]) rmSync(copy + end, { force: true });
    for (const end of ["html", "jsonl", "siltbook"]) rmSync(written + end, { force: true });
    copyFileSync(book, copy);
    // The last line names the command that did not come to its end.
    process.stdout.write(`${JSON.stringify({ book, name })}\n`);
    const { code, out, err } = await said([name, ...args, "--book", copy]);
    const isAnswer = code < 2 && essence !== undefined;
    process.stdout.write(
      `${JSON.stringify({ book, name, code, err, answer: isAnswer ? essence(out) : null })}\n`,
    );
    if (name === "backup" && existsSync(`${written}siltbook`) && code > 1) throw new Error("half a backup");
  }
}
process.stdout.write("end\n");
