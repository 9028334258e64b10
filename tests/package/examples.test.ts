import { readdir, readFile } from "node:fs/promises";
import { describe, expect, test } from "vitest";

const paths = (await readdir("src", { recursive: true })).filter((name) => /\.tsx?$/.test(name));
// The program itself would run; everything else may be named by an example.
const modules = await Promise.all(
  paths.filter((path) => path !== "cli/main.ts").map((path) => import(`../../src/${path}`)),
);
const scope: Record<string, unknown> = Object.assign({}, ...modules);

interface Example {
  readonly where: string;
  readonly expression: string;
  readonly expected: string;
}

/** Every statement of every `@example` that says with `// =>` what it gives. */
async function examplesOf(path: string): Promise<Example[]> {
  const text = await readFile(path, "utf8");
  const blocks = [...text.matchAll(/@example\n((?: *\* ?(?!@|\/).*\n)+)/g)];
  return blocks.flatMap((block) => {
    const code = (block[1] ?? "").replace(/^ *\* ?/gm, "");
    return [...code.matchAll(/([\s\S]*?);?[ ]*\/\/ => (.*)\n/g)].map((statement) => ({
      where: path,
      expression: (statement[1] ?? "").trim().replace(/;$/, ""),
      expected: (statement[2] ?? "").trim(),
    }));
  });
}

const examples = (await Promise.all(paths.map((path) => examplesOf(`src/${path}`)))).flat();

/** Runs an expression with everything that any file of the modules exports in sight. */
function run(expression: string): unknown {
  return new Function(...Object.keys(scope), `return (${expression});`)(...Object.values(scope));
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
  test("there are some, and each stands for a statement", () => {
    expect(examples.length).toBeGreaterThan(15);
  });

  test.each(examples)("$where: $expression", ({ expression, expected }) => {
    expectAsPrinted(run(expression), new Function(`return (${expected});`)());
  });
});
