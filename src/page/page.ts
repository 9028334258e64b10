import { createHash } from "node:crypto";
import type { PageData } from "./model/page-data.js";
import { STYLE } from "./style.js";

/**
 * Makes one self-contained HTML file for a phone in a hangar: the data and the program, and no need of a network.
 *
 * The page may run the program and use the style sheet that are in it, and nothing else: it asks nobody for anything, and
 * sends nothing.
 *
 * @param data - what the page knows; see {@link PageData}
 * @param program - the bundled program, which draws the page from the data
 * @throws RangeError for a program that would end its own element in the page
 */
export function renderPage(data: PageData, program: string): string {
  // The browser reads every end of a line as one line feed, and hashes what it has read.
  const script = program.replace(/\r\n?/g, "\n");
  if (/<\/script|<!--/i.test(script)) {
    throw new RangeError('the program must not hold "</script" or "<!--", which end a program in a page');
  }
  const policy = [
    "default-src 'none'",
    `script-src '${hashOf(script)}'`,
    `style-src '${hashOf(STYLE)}'`,
    "img-src data:",
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<title>Carts, data of ${data.on}</title>
<link rel="icon" href="data:,">
<style>${STYLE}</style>
</head>
<body>
<div id="page"><noscript>This page needs JavaScript, which is in the file itself.</noscript></div>
<script type="application/json" id="data">${inertJson(data)}</script>
<script>${script}</script>
</body>
</html>
`;
}

/** JSON that no text in it can end: the data of a laboratory may say anything. */
function inertJson(data: PageData): string {
  return JSON.stringify(data).replaceAll("<", "\\u003c");
}

function hashOf(text: string): string {
  return `sha256-${createHash("sha256").update(text, "utf8").digest("base64")}`;
}
