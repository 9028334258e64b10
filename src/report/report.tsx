import type { ComponentChildren } from "preact";
import { renderToString } from "preact-render-to-string";
import { sayMinutes } from "../circulation/index.js";
import { formatIso4406, sayTarget } from "../cleanliness/index.js";
import { drawClassHistory, drawCleanUpCurve } from "../figures/index.js";
import type { JudgedCircuit, Verdict } from "../fitness/index.js";
import { type QuarantinedRow, sayIssue } from "../intake/index.js";
import { CART_CAUTIONS, DEFERENCE, saySource } from "../provenance/index.js";
import { type RequirementsFile, sayMeasured } from "../samples/index.js";
import type { RobustSlope } from "../trend/index.js";
import { STYLE } from "./style.js";

/** What a report shows. */
export interface ReportInput {
  readonly on: string;
  readonly requirements: RequirementsFile;
  readonly circuits: readonly JudgedCircuit[];
  readonly quarantine: readonly QuarantinedRow[];
}

/**
 * Makes one self-contained HTML page: verdicts first, then each circuit with reasons, plan and pictures, then what could
 * not be read.
 *
 * @param input - judged circuits and what they were judged by; see {@link ReportInput}
 * @returns the page; it needs no network and no script, and text from files is shown as text
 */
export function renderReport(input: ReportInput): string {
  return `<!doctype html>\n${renderToString(<Page {...input} />)}\n`;
}

function Page(input: ReportInput) {
  const fit = input.circuits.filter(({ verdict }) => verdict.verdict === "fit").length;
  return (
    <html lang="en">
      <head>
        <meta charSet="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>
          Fluid of {input.circuits.length} circuits, {input.on}
        </title>
        <link rel="icon" href="data:," />
        <style dangerouslySetInnerHTML={{ __html: STYLE }} />
      </head>
      <body>
        <header>
          <h1>
            {fit} of {input.circuits.length} circuits are fit to connect
          </h1>
          <p>
            Judged on {input.on} by “{input.requirements.document}”, revision {input.requirements.revision}.{" "}
            {input.requirements.note}
          </p>
        </header>
        <main>
          <aside class="caution" aria-label="Who decides">
            {DEFERENCE.message}
          </aside>
          <Overview circuits={input.circuits} />
          <Cautions />
          {input.circuits.map((judged) => (
            <CircuitSection key={anchorOf(judged.verdict)} judged={judged} />
          ))}
          <Quarantine rows={input.quarantine} />
          <Sources requirements={input.requirements} />
        </main>
      </body>
    </html>
  );
}

function Overview({ circuits }: { circuits: readonly JudgedCircuit[] }) {
  const head = [
    "cart",
    "circuit",
    "verdict",
    "circulate",
    "ISO 4406",
    "AS4059",
    "NAS 1638",
    "water, ppm",
    "acid, mg KOH/g",
    "sample",
    "drawn",
  ];
  return (
    <section class="scroll" aria-label="Verdicts">
      <table>
        <caption>Latest sample and verdict of every circuit</caption>
        <thead>
          <tr>
            {head.map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {circuits.map(({ verdict }) => (
            <tr key={anchorOf(verdict)}>
              <th scope="row">
                <a href={`#${anchorOf(verdict)}`}>{verdict.cart}</a>
              </th>
              <td>{verdict.circuit}</td>
              <td>
                <VerdictMark verdict={verdict} />
              </td>
              <td>{sayCirculation(verdict)}</td>
              <td>{verdict.classification?.iso4406 && formatIso4406(verdict.classification.iso4406)}</td>
              <td>{verdict.classification?.as4059Cumulative?.class}</td>
              <td>{verdict.classification?.nas1638?.class}</td>
              <td>{verdict.sample?.waterPpm && sayMeasured(verdict.sample.waterPpm)}</td>
              <td>{verdict.sample?.acidMgKohPerG && sayMeasured(verdict.sample.acidMgKohPerG)}</td>
              <td>{verdict.sample?.sample ?? "none"}</td>
              <td>{verdict.sample?.drawnOn}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function VerdictMark({ verdict }: { verdict: Verdict }) {
  return <span class={`verdict ${verdict.verdict}`}>{verdict.verdict}</span>;
}

function sayCirculation({ circulation }: Verdict): string {
  if (circulation === undefined) return "";
  return circulation.reachable ? sayMinutes(circulation.minutes) : "out of reach";
}

function CircuitSection({ judged }: { judged: JudgedCircuit }) {
  const { verdict, circuit, requirement, trends } = judged;
  return (
    <section id={anchorOf(verdict)}>
      <h2>
        {verdict.cart}, circuit {verdict.circuit}: <VerdictMark verdict={verdict} />
      </h2>
      <p>
        {circuit.fluid}, {circuit.volumeL} L, {circuit.flowLpm} L/min, for {circuit.serves}.{" "}
        {requirement && <>Target {requirement.cleanliness.map(sayTarget).join(" and ")}.</>}
      </p>
      <h3>Why</h3>
      <ul>
        {verdict.reasons.map((reason) => (
          <li key={reason.message}>
            {reason.callsFor === "fit" ? "" : <strong>{reason.callsFor}: </strong>}
            {reason.message}
          </li>
        ))}
      </ul>
      <CirculationPart judged={judged} />
      <h3>History</h3>
      <Picture svg={drawClassHistory(judged)} />
      <p>
        Since the last recorded fluid change, or since the first sample where there is none: water{" "}
        {saySlope(trends.waterPpmPerYear, "ppm")}; acid number:{" "}
        {saySlope(trends.acidMgKohPerGPerYear, "mg KOH/g")}.
      </p>
      <Assumed>
        {[...verdict.assumptions, ...trends.assumptions].map((entry) => (
          <li key={entry.message}>{entry.message}</li>
        ))}
      </Assumed>
    </section>
  );
}

function CirculationPart({ judged: { verdict, circuit } }: { judged: JudgedCircuit }) {
  const { circulation } = verdict;
  if (circulation === undefined) return null;
  const answer = circulation.reachable
    ? `Circulate ${circulation.passes.toFixed(1)} passes, ${sayMinutes(circulation.minutes)}, through the ${circuit.element.position} element, then draw a verifying sample while the fluid is flowing. Channel ${circulation.governing} decides.`
    : "Circulating cannot get there; the reason stands above.";
  return (
    <>
      <h3>Circulation</h3>
      <p>{answer}</p>
      <Picture svg={drawCleanUpCurve(circulation, `${verdict.cart}, circuit ${verdict.circuit}`)} />
    </>
  );
}

/** A picture made by the figures room; its text was escaped when it was drawn. */
function Picture({ svg }: { svg: string }) {
  return <figure dangerouslySetInnerHTML={{ __html: svg }} />;
}

function Assumed({ children }: { children: ComponentChildren[] }) {
  if (children.length === 0) return null;
  return (
    <details>
      <summary>This rests on {children.length} assumptions</summary>
      <ul>{children}</ul>
    </details>
  );
}

function saySlope(slope: RobustSlope, unit: string): string {
  if (slope.kind === "cannot-tell")
    return `cannot tell from ${slope.n} results (needs ${slope.needed} different days)`;
  const sign = slope.slope < 0 ? "−" : "+";
  return `${sign}${Number(Math.abs(slope.slope).toPrecision(2))} ${unit} per year over ${slope.n} results`;
}

function Cautions() {
  return (
    <aside class="caution" aria-label="Cautions">
      <ul>
        {CART_CAUTIONS.filter((caution) => caution !== DEFERENCE).map((caution) => (
          <li key={caution.topic}>{caution.message}</li>
        ))}
      </ul>
    </aside>
  );
}

function Quarantine({ rows }: { rows: readonly QuarantinedRow[] }) {
  return (
    <section id="quarantine">
      <h2>Rows in quarantine: {rows.length}</h2>
      {rows.length === 0 ? (
        <p>Every row of every file was read.</p>
      ) : (
        <div class="scroll">
          <table>
            <thead>
              <tr>
                <th scope="col">what is wrong</th>
                <th scope="col">the row as it stands</th>
              </tr>
            </thead>
            <tbody>
              {rows.map((row) => (
                <tr key={`${row.file} ${row.row}`}>
                  <td class="words">{row.issues.map(sayIssue).join("; ")}</td>
                  <td class="words">
                    <code>{row.text}</code>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </section>
  );
}

function Sources({ requirements }: { requirements: RequirementsFile }) {
  const keys = ["ISO-4406", "AS4059-CUMULATIVE", "AS4059-DIFFERENTIAL", "NAS-1638", "MASS-BALANCE"] as const;
  return (
    <section>
      <h2>Sources</h2>
      <ul>
        {[...new Set([...keys, ...requirements.sources])].map((key) => (
          <li key={key}>{saySource(key)}</li>
        ))}
      </ul>
    </section>
  );
}

/** An identifier that is the same for the link and its goal, whatever a cart is called. */
function anchorOf({ cart, circuit }: Verdict): string {
  return encodeURIComponent(`${cart}-${circuit}`);
}
