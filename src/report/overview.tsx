import {
  describeDecisions,
  describeStands,
  fleetRows,
  type JudgedCircuit,
  verdictColumns,
} from "../fitness/index.js";
import { anchorOf, nameOf } from "./names.js";
import { VerdictMark, Wide } from "./parts.js";

/** What follows cart, circuit and verdict, which are shown with links and a mark. */
const RESULTS = verdictColumns([
  "circulate",
  "iso4406",
  "as4059",
  "nas1638",
  "water",
  "acid",
  "sample",
  "drawn",
  "nextSampleBy",
]);

const TITLES = [...verdictColumns(["cart", "circuit", "verdict"]), ...RESULTS].map(({ title }) => title);

/** The verdicts: one row for each circuit. */
export function Overview({ circuits }: { circuits: readonly JudgedCircuit[] }) {
  return (
    <Wide label="Verdicts">
      <table id="verdicts">
        <caption>Latest sample and verdict of every circuit</caption>
        <thead>
          <tr>
            {TITLES.map((title) => (
              <th key={title} scope="col">
                {title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {circuits.map((judged) => {
            const { verdict } = judged;
            return (
              <tr key={anchorOf(verdict)}>
                <th scope="row">
                  <a href={`#${anchorOf(verdict)}`} aria-label={nameOf(verdict)}>
                    {verdict.cart}
                  </a>
                </th>
                <td>{verdict.circuit}</td>
                <td>
                  <VerdictMark judged={judged} />
                </td>
                {RESULTS.map(({ title, of }) => (
                  <td key={title}>{of(judged) ?? "–"}</td>
                ))}
              </tr>
            );
          })}
        </tbody>
      </table>
    </Wide>
  );
}

/** Which circuits a person holds: it heads the page. */
export function Held({ holds }: { holds: readonly string[] }) {
  if (holds.length === 0) return null;
  return (
    <section id="held" class="held-by" aria-label="Held by a person">
      Held by a person, not fit to connect:
      <ul>
        {holds.map((hold) => (
          <li key={hold}>{hold}</li>
        ))}
      </ul>
    </section>
  );
}

/** What people decided about the circuits of the table. */
export function Decided({ circuits }: { circuits: readonly JudgedCircuit[] }) {
  const lines = circuits.flatMap(({ verdict, standing }) =>
    describeDecisions(standing).map((decision) => `${nameOf(verdict)}: ${decision}`),
  );
  if (lines.length === 0) return null;
  return (
    <section id="decided" aria-label="Decided by people">
      <p>Decided by people:</p>
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </section>
  );
}

/** What is not fit, what needs doing first at the top. */
export function Urgent({ circuits }: { circuits: readonly JudgedCircuit[] }) {
  const rows = fleetRows(circuits).filter(({ stands }) => stands !== "fit");
  if (rows.length === 0) return null;
  return (
    <section id="first" class="on-screen" aria-labelledby="first-name">
      <h2 id="first-name">What needs doing first</h2>
      <ol>
        {rows.map((row) => (
          <li key={anchorOf(row)}>
            <a href={`#${anchorOf(row)}`}>{nameOf(row)}</a>:{" "}
            <strong>{describeStands(row.stands, row.held)}</strong>, because {row.because.join("; ")}
          </li>
        ))}
      </ol>
    </section>
  );
}
