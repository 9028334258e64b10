import { renderToString } from "preact-render-to-string";
import { DARK_PAGE_STYLE } from "../figures/index.js";
import {
  type CircuitDecision,
  compareFleetRows,
  describeAllHolds,
  describeOfNoCart,
  fleetRows,
  type JudgedCircuit,
  standsAs,
  type UnreadResult,
} from "../fitness/index.js";
import type { QuarantinedRow } from "../intake/index.js";
import { type Assumption, CART_CAUTIONS, DEFERENCE } from "../provenance/index.js";
import type { RequirementsFile } from "../samples/index.js";
import type { ReportRecord } from "./background.js";
import { Assumptions, Quarantine, Sources } from "./closing.js";
import { History } from "./history.js";
import { anchorOf, describeKept } from "./names.js";
import { withNumberedIds } from "./numbered-ids.js";
import { Carts, Decided, Held, Overview, Urgent } from "./overview.js";
import { Sheet } from "./sheet.js";
import { STYLE } from "./style.js";

/** What a report shows. */
export interface ReportInput {
  readonly on: string;
  /** The day whose knowledge was judged with; absent where it is all that is known. */
  readonly asOf?: string;
  readonly requirements: RequirementsFile;
  readonly circuits: readonly JudgedCircuit[];
  readonly quarantine: readonly QuarantinedRow[];
  /** Rows that can be given to no cart; every "fit" has to be read with them. */
  readonly rowsOfNoCart?: readonly UnreadResult[];
  /** What the reading of all files together rests on; absent when on nothing. */
  readonly assumptions?: readonly Assumption[];
  /** The verdicts as a sample book keeps them, in the order of the circuits; absent without a book. */
  readonly kept?: readonly ReportRecord[];
  /** Head of the chain of that book; it pins the book on paper. */
  readonly head?: string;
  /** What holds circuits that were not judged. */
  readonly heldElsewhere?: readonly CircuitDecision[];
}

/**
 * Makes one self-contained HTML page: what needs doing first, and the verdicts; then for each circuit why and what to do,
 * on one page of A4 when printed, or on half of one when it is fit; then the history, what could not be read, and what the verdicts rest on.
 *
 * @param input - judged circuits and what they were judged by; see {@link ReportInput}
 * @returns the page; it needs no network and no script, and text from files is shown as text
 */
export function renderReport(input: ReportInput): string {
  return `<!doctype html>\n${withNumberedIds(renderToString(<Page {...input} />))}\n`;
}

function Page(input: ReportInput) {
  const { rowsOfNoCart = [], head } = input;
  const entries = inOrder(input);
  const circuits = entries.map(({ judged }) => judged);
  const fit = circuits.filter((judged) => standsAs(judged) === "fit").length;
  return (
    <html lang="en">
      <head>
        <meta charSet="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>{`${fit} of ${circuits.length} circuits fit to connect, ${input.on}`}</title>
        <link rel="icon" href="data:," />
        <style dangerouslySetInnerHTML={{ __html: STYLE + DARK_PAGE_STYLE }} />
      </head>
      <body>
        <header>
          <h1>
            {fit} of {circuits.length} circuits {fit === 1 ? "is" : "are"} fit to connect
          </h1>
          <p>
            Judged on {input.on}
            {input.asOf === undefined ? "" : ` with what was known on ${input.asOf},`} by “
            {input.requirements.document}”, revision {input.requirements.revision}. {input.requirements.note}
          </p>
          {describeOfNoCart(rowsOfNoCart).map((sentence) => (
            <p key={sentence}>
              <strong>Not settled:</strong> {sentence}.
            </p>
          ))}
          <Parts />
        </header>
        <main>
          <Held
            holds={describeAllHolds(
              circuits.map(({ verdict, standing }) => ({ ...verdict, standing })),
              input.heldElsewhere ?? [],
            )}
          />
          <aside class="caution" aria-label="Who decides">
            {DEFERENCE.message}
          </aside>
          {circuits.length > 1 && <Carts circuits={circuits} />}
          {circuits.length > 1 && <Urgent circuits={circuits} />}
          <Overview circuits={circuits} />
          <Decided circuits={circuits} />
          <Cautions />
          {entries.map(({ judged, record }) => (
            <Sheet
              key={anchorOf(judged.verdict)}
              judged={judged}
              on={input.on}
              rowsOfNoCart={rowsOfNoCart}
              record={describeNumber(record, head)}
            />
          ))}
          <History circuits={circuits} kept={entries.map(({ record }) => record)} />
          <Quarantine rows={input.quarantine} />
          <Assumptions circuits={circuits} ofAll={input.assumptions ?? []} />
          <Sources requirements={input.requirements} />
        </main>
      </body>
    </html>
  );
}

/** The circuits with their records, what needs doing first at the top, as in the table of the fleet. */
function inOrder({ circuits, kept = [] }: ReportInput) {
  return circuits
    .flatMap((judged, index) => fleetRows([judged]).map((row) => ({ judged, record: kept[index], row })))
    .sort((a, b) => compareFleetRows(a.row, b.row));
}

/** The number of a verdict in its book, and the head that the book can be compared with. */
function describeNumber(record: ReportRecord | undefined, head: string | undefined): string | undefined {
  if (record?.verdict === undefined || head === undefined) return undefined;
  return describeKept({ number: record.verdict.id, head });
}

function Parts() {
  return (
    <nav class="on-screen" aria-label="Parts of this page">
      {["verdicts", "history", "quarantine", "assumptions", "sources"].map((part) => (
        <a key={part} href={`#${part}`}>
          {part}
        </a>
      ))}
    </nav>
  );
}

function Cautions() {
  return (
    <aside class="caution" aria-label="Cautions">
      <ul class="small">
        {CART_CAUTIONS.filter((caution) => caution !== DEFERENCE).map((caution) => (
          <li key={caution.topic}>{caution.message}</li>
        ))}
      </ul>
    </aside>
  );
}
