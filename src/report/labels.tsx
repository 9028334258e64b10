import { renderToString } from "preact-render-to-string";
import { encode } from "uqr";
import type { Cart, Sample } from "../samples/index.js";
import { bottleNumbers } from "./bottle-numbers.js";
import { LABEL_STYLE } from "./label-style.js";

/** What labels are made for. */
export interface LabelInput {
  readonly carts: readonly Cart[];
  /** Bottles for each circuit; 1 when absent. */
  readonly bottles?: number;
  /** Number of the first bottle, such as "26-0401"; when absent there is room to write one. */
  readonly first?: string;
  /** Where the bottles are filled; when absent there is room to write it. */
  readonly point?: NonNullable<Sample["samplePoint"]>;
}

/** What one label says. */
export interface Label {
  readonly cart: string;
  readonly circuit: string;
  readonly fluid: string;
  readonly point?: NonNullable<Sample["samplePoint"]>;
  readonly number?: string;
}

/** More labels than this for one circuit are a slip of the keyboard. */
const MAX_BOTTLES = 50;

/**
 * The labels of the bottles of some carts, in the order of the carts.
 *
 * @throws RangeError for a number of bottles that is not 1 to 50, or a first number that cannot be counted up
 */
export function labelsOf({ carts, bottles = 1, first, point }: LabelInput): Label[] {
  if (!(Number.isInteger(bottles) && bottles >= 1 && bottles <= MAX_BOTTLES)) {
    throw new RangeError(`expected 1 to ${MAX_BOTTLES} bottles for each circuit, found ${bottles}`);
  }
  const labels = carts.flatMap(({ cart, circuits }) =>
    circuits.flatMap(({ circuit, fluid }) =>
      Array.from({ length: bottles }, () => ({
        cart,
        circuit,
        fluid,
        ...(point !== undefined && { point }),
      })),
    ),
  );
  if (first === undefined) return labels;
  const numbers = bottleNumbers(first, labels.length);
  return labels.map((label, index) => ({ ...label, number: numbers[index] as string }));
}

/** What the square of a label holds: its lines as text, which any telephone shows. */
function textOfLabel({ cart, circuit, fluid, point, number }: Label): string {
  return [
    ...(number === undefined ? [] : [`bottle: ${number}`]),
    `cart: ${cart}`,
    `circuit: ${circuit}`,
    `fluid: ${fluid}`,
    ...(point === undefined ? [] : [`point: ${inWords(point)}`]),
  ].join("\n");
}

/**
 * Makes one self-contained HTML page of labels for bottles, ten on a page of A4: cart, circuit, point, fluid and number as
 * words and as a QR code, and room for day, time and temperature.
 *
 * @param input - carts, and what is known of the bottles; see {@link LabelInput}
 * @returns the page; it needs no network and no script
 * @throws RangeError for a number of bottles that is not 1 to 50, a first number that cannot be counted up, or names that
 *   are too long for a QR code
 */
export function renderLabels(input: LabelInput): string {
  const labels = labelsOf(input);
  return `<!doctype html>\n${renderToString(
    <html lang="en">
      <head>
        <meta charSet="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>{`Labels for ${labels.length} bottles`}</title>
        <link rel="icon" href="data:," />
        <style dangerouslySetInnerHTML={{ __html: LABEL_STYLE }} />
      </head>
      <body>
        <h1>{`Labels for ${labels.length} bottles`}</h1>
        <main>
          {labels.map((label, index) => (
            <BottleLabel key={String(index)} label={label} />
          ))}
        </main>
      </body>
    </html>,
  )}\n`;
}

function inWords(point: string): string {
  return point.replaceAll("-", " ");
}

function BottleLabel({ label }: { label: Label }) {
  const { cart, circuit, fluid, point, number } = label;
  return (
    <section>
      <div class="words">
        <p class="whose">
          {cart}, {circuit}
        </p>
        <p>{fluid}</p>
        <p class={point === undefined ? "to-write" : undefined}>point: {point && inWords(point)}</p>
        <p class={number === undefined ? "number to-write" : "number"}>no. {number}</p>
        <p class="to-write">day, time:</p>
        <p class="to-write">fluid temperature:</p>
      </div>
      <Square text={textOfLabel(label)} />
    </section>
  );
}

/** Bytes of a QR code whose modules are still 0.4 mm wide when printed (version 17 at level Q holds 364). */
const MAX_BYTES = 364;

/** A QR code; a quarter of it may be dirty (level Q), and the quiet zone of four modules is part of it (ISO/IEC 18004). */
function Square({ text }: { text: string }) {
  const bytes = new TextEncoder().encode(text).length;
  if (bytes > MAX_BYTES) {
    throw new RangeError(
      `expected at most ${MAX_BYTES} bytes for the QR code of a label, found ${bytes}; a shorter name of cart or circuit is needed: "${text.slice(0, 80)}"`,
    );
  }
  const { data, size } = encode(text, { ecc: "Q", border: 4 });
  const modules = data.flatMap((row, y) => row.flatMap((dark, x) => (dark ? [`M${x} ${y}h1v1h-1z`] : [])));
  return (
    <svg
      viewBox={`0 0 ${size} ${size}`}
      role="img"
      aria-label="QR code of this label"
      shape-rendering="crispEdges"
    >
      <rect width={size} height={size} fill="#ffffff" />
      <path d={modules.join("")} fill="#000000" />
    </svg>
  );
}
