import type { Verdict } from "../fitness/index.js";

/** Cart and circuit as the page calls them. */
export function nameOf({ cart, circuit }: Verdict): string {
  return `${cart}, circuit ${circuit}`;
}

/** An identifier that is the same for the link and its goal, whatever a cart is called. */
export function anchorOf({ cart, circuit }: Verdict): string {
  return encodeURIComponent(`${cart}-${circuit}`);
}
