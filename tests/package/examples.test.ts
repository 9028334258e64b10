import { readdir, readFile } from "node:fs/promises";
import { describe, expect, test } from "vitest";
import * as root from "../../src/public/index.js";

const paths = (await readdir("src", { recursive: true })).filter((name) => /\.tsx?$/.test(name));
// The program itself would run; everything else may be named by an example.
const places = paths.filter((path) => path !== "cli/main.ts");
const modules = await Promise.all(places.map((path) => import(`../../src/${path}`)));
const everything: Record<string, unknown> = Object.assign({}, ...modules);
const imported: Record<string, unknown> = Object.assign(
  {},
  ...modules.filter((_, place) => places[place]?.startsWith("public/")),
);

interface Example {
  readonly where: string;
  /** What the doc comment stands on. */
  readonly name: string;
  /** The lines before, which may name what the expression uses. */
  readonly before: string;
  readonly expression: string;
  readonly expected: string;
}

/** Every statement of every `@example` that says with `// =>` what it gives. */
async function examplesOf(path: string): Promise<Example[]> {
  const text = await readFile(path, "utf8");
  const blocks = [
    ...text.matchAll(
      /@example\n((?: *\* ?(?!@|\/).*\n)+)(?: *\* ?@.*\n)* *\*\/\n(?:.*?\b(?:function|const|class) (\w+))?/g,
    ),
  ];
  return blocks.flatMap(([, lines = "", name = ""]) => {
    const code = lines.replace(/^ *\* ?/gm, "");
    let before = "";
    return [...code.matchAll(/([\s\S]*?);?[ ]*\/\/ => (.*)\n/g)].map(([, statements = "", expected = ""]) => {
      const parts = statements.trim().split(/;\n(?=\S)/);
      const expression = (parts.pop() ?? "").replace(/;$/, "");
      before += parts.map((part) => `${part};\n`).join("");
      return { where: path, name, before, expression, expected: expected.trim() };
    });
  });
}

const examples = (await Promise.all(paths.map((path) => examplesOf(`src/${path}`)))).flat();

/** Runs an example; that of a public function sees what a user can import, any other what any file exports. */
function run({ name, before, expression }: Example): unknown {
  const scope = Object.hasOwn(imported, name) ? imported : everything;
  return new Function(...Object.keys(scope), `${before}return (${expression});`)(...Object.values(scope));
}

/** Equal at the digits printed: a number may differ by half of its last printed digit. */
function expectAsPrinted(actual: unknown, printed: unknown): void {
  if (typeof printed === "number") {
    const places = String(printed).split(".")[1]?.length ?? 0;
    expect(typeof actual).toBe("number");
    expect(Math.abs((actual as number) - printed)).toBeLessThanOrEqual(0.5 * 10 ** -places * (1 + 1e-9));
  } else if (typeof printed === "object" && printed !== null) {
    expect(Object.keys(actual as object)).toEqual(Object.keys(printed));
    for (const [key, value] of Object.entries(printed))
      expectAsPrinted((actual as Record<string, unknown>)[key], value);
  } else {
    expect(actual).toEqual(printed);
  }
}

describe("examples in doc comments", () => {
  test("every function of the root has one, and they are thirty or more", () => {
    const functions = Object.entries(root).filter(
      ([, value]) => typeof value === "function" && !(value.prototype instanceof Error),
    );
    expect(functions.length).toBeGreaterThanOrEqual(30);
    const shown = new Set(examples.map(({ name }) => name));
    expect(functions.map(([name]) => name).filter((name) => !shown.has(name))).toEqual([]);
  });

  test.each(examples)("$where: $expression", (example) => {
    expectAsPrinted(run(example), new Function(`return (${example.expected});`)());
  });
});
