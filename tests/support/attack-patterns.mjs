// Tries every regular expression of the library on texts that are made to keep it busy, and prints those that take long.
// Texts grow with what the pattern itself is made of, and are as long as the text that the pattern can see in a file.
import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { pathToFileURL } from "node:url";
import ts from "typescript";

const [root, longestText] = process.argv.slice(2);
const longest = JSON.parse(longestText);
/** Short texts first: a pattern that grows with a power above two would never come back from a long one. */
const STAGES = [
  { length: 300, longMs: 3 },
  { length: 4000, longMs: 10 },
];

const patterns = new Map();
const keep = (where, source, flags) => patterns.set(`${source}/${flags}`, { where, source, flags });

function filesIn(folder, ends) {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => ends.some((end) => name.endsWith(end)))
    .map((name) => join(folder, name));
}

for (const file of filesIn(join(root, "src"), [".ts", ".tsx"])) {
  const visit = (node) => {
    if (ts.isRegularExpressionLiteral(node)) {
      const end = node.text.lastIndexOf("/");
      keep(relative(root, file), node.text.slice(1, end), node.text.slice(end + 1));
    }
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile(file, readFileSync(file, "utf8"), ts.ScriptTarget.ESNext, true));
}

// Patterns that are put together when a module is loaded.
const Original = RegExp;
let loading = true;
const record = (made) => {
  const [caller = ""] = new Error().stack?.split("\n").slice(3) ?? [];
  const [, file] = /\/dist\/(.+)\.js:\d+:\d+/.exec(caller.includes(root) ? caller : "") ?? [];
  if (loading && file !== undefined) keep(`src/${file}.ts`, made.source, made.flags);
  return made;
};
globalThis.RegExp = new Proxy(Original, {
  construct: (target, args) => record(Reflect.construct(target, args)),
});
for (const file of filesIn(join(root, "dist"), [".js"]).filter((name) =>
  /intake|cleanliness|units|samples/.test(name),
)) {
  await import(pathToFileURL(file).href);
}
loading = false;
globalThis.RegExp = Original;

/** The longest text that the patterns of a module see. */
function longestAt(where) {
  return longest.find(([start]) => where.startsWith(start))?.[1] ?? Number.POSITIVE_INFINITY;
}

/** What a text against a pattern can be made of. */
function tokensOf(source) {
  const words = source.match(/\p{L}{2,}/gu) ?? [];
  const signs = source.replace(/\\./g, "").match(/[^\p{L}\p{N}\\()[\]{}*+?|^$]/gu) ?? [];
  const classes = ["1", "0", "a", " ", "\t", "\n", "-", ".", ",", "(", '"', "+"];
  return [...new Set([...signs.slice(0, 5), ...words.slice(0, 3), ...classes])];
}

const BREAKS = "\u0001";

function* attacksOn(source, length) {
  const tokens = tokensOf(source);
  const pumps = [...tokens, ...tokens.flatMap((a) => tokens.slice(0, 8).map((b) => a + b))];
  for (const pump of pumps) {
    const body = pump.repeat(Math.ceil(length / pump.length));
    yield body + BREAKS;
    yield `1${body}${BREAKS}1`;
  }
  for (const word of tokens) yield word + " ".repeat(length) + BREAKS;
}

/** The shortest of some tries: a busy machine can make any of them slow, but not all. */
function shortestMs(source, flags, attack, longMs) {
  let best = Number.POSITIVE_INFINITY;
  for (let go = 0; go < 20 && best > longMs; go += 1) {
    const pattern = new RegExp(source, flags);
    const start = performance.now();
    pattern.exec(attack);
    best = Math.min(best, performance.now() - start);
  }
  return best;
}

let tries = 0;
function attackThat({ where, source, flags }) {
  for (const { length, longMs } of STAGES) {
    for (const attack of attacksOn(source, Math.min(length, longestAt(where)))) {
      tries += 1;
      const ms = shortestMs(source, flags, attack, longMs);
      if (ms > longMs) return { where, source, flags, ms: Math.round(ms), attack: attack.slice(0, 30) };
    }
  }
  return undefined;
}

const slow = [...patterns.values()].flatMap((pattern) => {
  process.stderr.write(`${pattern.where} /${pattern.source}/${pattern.flags}\n`);
  return attackThat(pattern) ?? [];
});
process.stdout.write(JSON.stringify({ patterns: patterns.size, tries, slow }));
