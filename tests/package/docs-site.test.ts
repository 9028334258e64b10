import { execFile } from "node:child_process";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { promisify } from "node:util";
import { beforeAll, describe, expect, test } from "vitest";

const run = promisify(execFile);
const SITE = "out/docs";
const TSX = "node_modules/tsx/dist/cli.mjs";

describe("the built documentation", () => {
  beforeAll(() => run(process.execPath, [TSX, "docs/build.ts"]));

  test("every notebook and every page is in it, and its links to pages lead to a page that is there", () => {
    const pages = (readdirSync(SITE, { recursive: true }) as string[]).filter(
      (path) => path.endsWith(".html") && !path.startsWith("api"),
    );
    expect(pages.filter((path) => /notebooks.\d\d-/.test(path))).toHaveLength(
      readdirSync("notebooks").filter((name) => name.endsWith(".ipynb")).length,
    );
    for (const page of pages) {
      const html = readFileSync(join(SITE, page), "utf8");
      for (const [, link = ""] of html.matchAll(/href="(?!https?:|#|data:)([^"#]+\.html)/g)) {
        expect(existsSync(join(SITE, dirname(page), link)), `${page} links to ${link}`).toBe(true);
      }
    }
  });

  test("the API reference has the doc comment of a public function", () => {
    const page = readFileSync(`${SITE}/api/functions/index.planCirculation.html`, "utf8");
    expect(page).toContain("Plans a self-circulation");
  });
});

test("where Jupyter is not installed, one line says how to get it", async () => {
  const failed = await run(process.execPath, [TSX, "notebooks/lab.ts"], { env: { PATH: "" } }).then(
    () => ({ code: 0, stderr: "" }),
    (error: { code: number; stderr: string }) => error,
  );
  expect(failed.code).toBe(2);
  expect(failed.stderr.trim().split("\n")).toHaveLength(1);
  expect(failed.stderr).toContain("python3 -m pip install jupyterlab");
});
