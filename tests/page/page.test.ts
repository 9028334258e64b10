import { createHash } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { beforeAll, describe, expect, test } from "vitest";
import { type PageData, renderPage } from "../../src/page/index.js";
import { DEMO_ARGUMENTS } from "../support/demo.js";
import { dataOfPage, writePageOfDemo } from "../support/page/page-of-demo.js";
import { run, runJson } from "../support/run-cli.js";
import { temporaryFolder } from "../support/temporary-folder.js";

const folder = temporaryFolder();
let html: string;
let path: string;

beforeAll(async () => {
  path = await writePageOfDemo(folder);
  html = readFileSync(path, "utf8");
});

const EMPTY: PageData = {
  ...{ on: "2026-11-20", document: { document: "example limits", revision: "3" } },
  ...{ carts: [], requirements: [], samples: [], unread: [], decisions: [] },
};

function policyOf(page: string): Map<string, string> {
  const content = /http-equiv="Content-Security-Policy" content="([^"]+)"/.exec(page)?.[1] ?? "";
  return new Map(
    content.split("; ").map((rule) => {
      const [name = "", ...sources] = rule.split(" ");
      return [name, sources.join(" ")];
    }),
  );
}

function sha256(text: string | undefined): string {
  return `'sha256-${createHash("sha256")
    .update(text ?? "")
    .digest("base64")}'`;
}

describe("what the page may do", () => {
  test("its policy allows its own program and style sheet by their hashes, and nothing else", () => {
    const policy = policyOf(html);
    expect(policy.get("default-src")).toBe("'none'");
    expect(policy.get("script-src")).toBe(sha256(/<script>(.*)<\/script>/s.exec(html)?.[1]));
    expect(policy.get("style-src")).toBe(sha256(/<style>(.*)<\/style>/s.exec(html)?.[1]));
    expect([...policy.keys()].sort()).toEqual(
      ["base-uri", "default-src", "form-action", "img-src", "script-src", "style-src"].sort(),
    );
    expect([policy.get("base-uri"), policy.get("form-action"), policy.get("img-src")]).toEqual([
      "'none'",
      "'none'",
      "data:",
    ]);
  });

  test("the policy stands before everything that it is about", () => {
    expect(html.indexOf("Content-Security-Policy")).toBeLessThan(html.indexOf("<style"));
    expect(html.indexOf("Content-Security-Policy")).toBeLessThan(html.indexOf("<script"));
  });

  test("no element asks for anything outside the file", () => {
    const markup = html.replace(/<(script|style)[^>]*>.*?<\/\1>/gs, "");
    expect(markup.match(/\b(src|href|action|srcset|data|poster)=/g)).toEqual(["href="]);
    expect(markup).toContain('<link rel="icon" href="data:,">');
  });

  test("the program neither stores nor sends", () => {
    const program = /<script>(.*)<\/script>/s.exec(html)?.[1] ?? "";
    for (const word of [
      "localStorage",
      "sessionStorage",
      "indexedDB",
      "XMLHttpRequest",
      "sendBeacon",
      "WebSocket",
      "serviceWorker",
      "document.cookie",
    ]) {
      expect(program.includes(word), word).toBe(false);
    }
    expect(program).not.toMatch(/\bfetch\(/);
  });

  test("has a language, a title with the day of the data, and the width of the device", () => {
    expect(html).toContain('<html lang="en">');
    expect(html).toContain("<title>Carts, data of 2026-11-20</title>");
    expect(html).toContain('<meta name="viewport" content="width=device-width, initial-scale=1">');
  });

  test("the program is at most 546 kB, 193 kB packed", () => {
    const program = /<script>(.*)<\/script>/s.exec(html)?.[1] ?? "";
    expect(program.length).toBeLessThan(546_000);
    expect(gzipSync(program).length).toBeLessThan(193_000);
  });
});

describe("hostile texts", () => {
  const NAMES = [
    "</script><script>alert(1)</script>",
    "<!--<script>",
    "&lt;b&gt;",
    "\u2028",
    '"><img src=x>',
    "]]>",
  ];

  test.each(NAMES)("%j ends nothing, and is read back as it was", (name) => {
    const data = {
      ...EMPTY,
      document: { document: name, revision: name },
      unread: [{ where: name, text: name }],
    };
    const page = renderPage(data, "0;");
    expect(page.match(/<\/script/g)).toHaveLength(2);
    expect(page).not.toContain("<img");
    const file = join(folder, "hostile.html");
    writeFileSync(file, page);
    expect(dataOfPage(file)).toEqual(data);
  });

  test.each(["let a = '</script>'", "let a = '</SCRIPT >'", "<!-- a", "if (a<!--b) c()"])(
    "a program with %j is refused: it would end itself",
    (program) => {
      expect(() => renderPage(EMPTY, program)).toThrow(RangeError);
    },
  );

  test("the hash is that of what the browser reads, where lines end in carriage returns", () => {
    const page = renderPage(EMPTY, "let a = 1;\r\nlet b = 2;\r");
    expect(policyOf(page).get("script-src")).toBe(sha256("let a = 1;\nlet b = 2;\n"));
  });
});

describe("siltbook page", () => {
  test("says what was written, and until when it counts", async () => {
    const out = join(folder, "said.html");
    const { json, code } = await runJson("page", ...DEMO_ARGUMENTS, "--out", out);
    const { circuits } = (await runJson("judge", ...DEMO_ARGUMENTS)).json;
    expect(json).toMatchObject({ out, on: "2026-11-20", goodUntil: "2026-11-27", circuits: circuits.length });
    expect(json.bytes).toBe(readFileSync(out).length);
    // Two rows of the demonstration cannot be read.
    expect([json.unread, code]).toEqual([2, 1]);
    const { out: said } = await run("page", ...DEMO_ARGUMENTS, "--out", out);
    expect(said).toContain("calls nothing fit after 2026-11-27");
    expect(said.split("\n").length).toBeLessThan(9);
  });

  test("from a book it is the same page as from the files that the book was made of", async () => {
    const book = join(folder, "page.siltbook");
    const files = DEMO_ARGUMENTS.filter((text) => text !== "--on" && text !== "2026-11-20");
    await run("import", "--book", book, ...files);
    const out = join(folder, "book.html");
    await run("page", "--book", book, "--on", "2026-11-20", "--out", out);
    const ofBook = dataOfPage(out);
    const ofFiles = dataOfPage(path);
    expect(ofBook.carts).toEqual(ofFiles.carts);
    expect(ofBook.requirements).toEqual(ofFiles.requirements);
    expect(ofBook.samples.length).toBe(ofFiles.samples.length);
  });

  test("holds one cart alone when one is named, and still knows the others' names", async () => {
    const out = join(folder, "one.html");
    await run("page", ...DEMO_ARGUMENTS, "--cart", "QB-02", "--out", out);
    const data = dataOfPage(out);
    expect(data.carts.map(({ cart }) => cart)).toEqual(["QB-02"]);
    expect(new Set(data.samples.map(({ cart }) => cart))).toEqual(new Set(["QB-02"]));
    expect(data.knownCarts).toContain("QB-01");
  });

  test("needs files or a book", async () => {
    const { code, err } = await run("page", "--out", join(folder, "none.html"));
    expect([code, err]).toEqual([
      2,
      expect.stringContaining("expected --carts, --requirement and laboratory files, or --book"),
    ]);
  });
});
