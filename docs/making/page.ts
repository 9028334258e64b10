import { DARK_PAGE_STYLE } from "../../src/figures/index.js";
import { STYLE } from "./page-style.js";

/**
 * Writes one page of the built documentation.
 *
 * @param title - name of the page
 * @param body - HTML of its content
 * @param toTop - path from the page's folder to the top of the site, "" or "../"
 */
export function pageOf(title: string, body: string, toTop: string): string {
  const links = [
    ["README.html", "siltbook"],
    ["docs/README.html", "start here"],
    ["docs/gallery.html", "gallery"],
    ["notebooks/README.html", "notebooks"],
    ["api/index.html", "API"],
  ].map(([path, name]) => `<a href="${toTop}${path}">${name}</a>`);
  return [
    "<!doctype html>",
    '<html lang="en">',
    `<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">`,
    `<title>${escapeHtml(title)}</title><link rel="icon" href="data:,"><style>${STYLE}${DARK_PAGE_STYLE}</style></head>`,
    `<body><nav aria-label="Documentation">${links.join(" ")}</nav><main>`,
    withReach(body),
    "</main></body></html>\n",
  ].join("\n");
}

/** What may be wider than a phone scrolls by itself, and the keyboard can reach and move it. */
function withReach(body: string): string {
  const scrolls = 'tabindex="0" role="group"';
  return body
    .replaceAll("<pre>", '<pre tabindex="0">')
    .replaceAll("<picture>", `<picture ${scrolls} aria-label="Picture">`)
    .replaceAll('<div style="overflow-x:auto">', `<div class="wide" ${scrolls} aria-label="Table">`)
    .replace(/<table>[\s\S]*?<\/table>/g, `<div class="wide" ${scrolls} aria-label="Table">$&</div>`)
    .replace(/<svg role="img"[\s\S]*?<\/svg>/g, `<div class="wide" ${scrolls} aria-label="Picture">$&</div>`);
}

/** Shows text as text. */
export function escapeHtml(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");
}
