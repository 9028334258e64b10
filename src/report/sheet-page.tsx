import { renderToString } from "preact-render-to-string";
import { DARK_PAGE_STYLE } from "../figures/index.js";
import { describeStands, isHeld, type JudgedCircuit, standsAs, type UnreadResult } from "../fitness/index.js";
import { describeKept, nameOf } from "./names.js";
import { withNumberedIds } from "./numbered-ids.js";
import { Sheet } from "./sheet.js";
import { STYLE } from "./style.js";

/** What a sheet shows. */
export interface SheetInput {
  readonly judged: JudgedCircuit;
  readonly on: string;
  /** Rows that can be given to no cart; a "fit" has to be read with them. */
  readonly rowsOfNoCart?: readonly UnreadResult[];
  /** The number of the verdict in its book, and the head of the book's chain. */
  readonly kept?: { readonly number: number; readonly head: string };
}

/**
 * Makes the sheet of one circuit, as the report has it: one page of A4, to be taken to the cart.
 *
 * @returns a self-contained HTML page
 */
export function renderSheet({ judged, on, rowsOfNoCart = [], kept }: SheetInput): string {
  const title = `${nameOf(judged.verdict)}: ${describeStands(standsAs(judged), isHeld(judged))}, ${on}`;
  const page = renderToString(
    <html lang="en">
      <head>
        <meta charSet="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>{title}</title>
        <link rel="icon" href="data:," />
        <style dangerouslySetInnerHTML={{ __html: STYLE + DARK_PAGE_STYLE }} />
      </head>
      <body>
        <main>
          <Sheet
            judged={judged}
            on={on}
            rowsOfNoCart={rowsOfNoCart}
            record={kept && describeKept(kept)}
            alone
          />
        </main>
      </body>
    </html>,
  );
  return `<!doctype html>\n${withNumberedIds(page)}\n`;
}
