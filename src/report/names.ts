/** What is named by its cart and circuit. */
interface Named {
  readonly cart: string;
  readonly circuit: string;
}

/** Cart and circuit as the page calls them. */
export function nameOf({ cart, circuit }: Named): string {
  return `${cart}, circuit ${circuit}`;
}

/** A longer name takes more than a third of a line of the page. */
const MAX_SHORT_NAME = 40;

/** Whether a cart and its circuit have names that need lines of their own. */
export function hasLongName(named: Named): boolean {
  return nameOf(named).length > MAX_SHORT_NAME;
}

/** An identifier that is the same for the link and its goal, whatever a cart is called. */
export function anchorOf({ cart, circuit }: Named): string {
  return encodeURIComponent(`${cart}-${circuit}`);
}

const HEAD_DIGITS = 12;

/** Where a verdict is in its book, and the head that the book can be compared with. */
export function describeKept({ number, head }: { readonly number: number; readonly head: string }): string {
  return `Verdict ${number} of the sample book, head ${head.slice(0, HEAD_DIGITS)}.`;
}
