import { parseHTML } from "linkedom";

/** What pictures of this module are made of. */
const PARTS = new Set(
  ["svg", "style", "g", "path", "line", "rect", "circle", "text", "tspan", "defs", "clippath"].map((name) =>
    name.toUpperCase(),
  ),
);

/** A tag as the pictures of this module are written: every value is in double quotes. */
const TAG = /<\/?[a-z]+(?:\s+[\w:-]+="[^"<]*")*\s*\/?>/gi;

/**
 * Whether a text is a picture of the kind that this module draws and nothing else: a cart may be called "<svg onload=…>".
 *
 * @returns false for a picture with an element that is never drawn here, or with an attribute that could do something
 */
export function isPicture(text: string): boolean {
  if (!(text.startsWith("<svg") && text.endsWith("</svg>"))) return false;
  // A text that begins like a tag and is not one would be read differently by a browser.
  if (text.replace(TAG, "").includes("<")) return false;
  const { document } = parseHTML(`<!doctype html><html><body>${text}</body></html>`);
  if (document.body.childNodes.length !== 1) return false;
  return Array.from(document.body.querySelectorAll("*")).every(
    (part) =>
      PARTS.has(part.tagName.toUpperCase()) &&
      Array.from(part.attributes).every(({ name }) => !/^on|href$/i.test(name)),
  );
}
