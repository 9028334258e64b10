import { parseHTML } from "linkedom";

/** What pictures of this room are made of. */
const PARTS = new Set(
  ["svg", "style", "g", "path", "line", "rect", "circle", "text", "tspan", "defs", "clippath"].map((name) =>
    name.toUpperCase(),
  ),
);

/** A tag as the pictures of this room are written: every value stands in double quotes. */
const TAG = /<\/?[a-z]+(?:\s+[\w:-]+="[^"<]*")*\s*\/?>/gi;

/**
 * Whether a text is a picture of the kind that this room draws and nothing else: a cart may be called "<svg onload=…>".
 *
 * @returns false for a picture with an element that is never drawn here, or with an attribute that could do something
 */
export function isPicture(text: string): boolean {
  if (!(text.startsWith("<svg") && text.endsWith("</svg>"))) return false;
  // What begins like a tag and is none would be read in one way here and in another by a browser.
  if (text.replace(TAG, "").includes("<")) return false;
  const { document } = parseHTML(`<!doctype html><html><body>${text}</body></html>`);
  if (document.body.childNodes.length !== 1) return false;
  return Array.from(document.body.querySelectorAll("*")).every(
    (part) =>
      PARTS.has(part.tagName.toUpperCase()) &&
      Array.from(part.attributes).every(({ name }) => !/^on|href$/i.test(name)),
  );
}
