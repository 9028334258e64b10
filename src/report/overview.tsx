import { formatMinutes } from "../circulation/index.js";
import { formatIso4406 } from "../cleanliness/index.js";
import {
  describeDecisions,
  describeStands,
  fleetRows,
  type JudgedCircuit,
  standsAs,
  type Verdict,
} from "../fitness/index.js";
import { formatMeasured } from "../samples/index.js";
import { anchorOf, nameOf } from "./names.js";
import { VerdictMark, Wide } from "./parts.js";

interface Column {
  readonly name: string;
  readonly of: (verdict: Verdict) => string | undefined;
}

const RESULTS: readonly Column[] = [
  { name: "circulate", of: describeCirculation },
  {
    name: "ISO 4406",
    of: ({ classification }) => classification?.iso4406 && formatIso4406(classification.iso4406),
  },
  { name: "AS4059 cumulative", of: ({ classification }) => classification?.as4059Cumulative?.class },
  { name: "NAS 1638", of: ({ classification }) => classification?.nas1638?.class },
  { name: "water, ppm", of: ({ sample }) => sample?.waterPpm && formatMeasured(sample.waterPpm) },
  {
    name: "acid, mg KOH/g",
    of: ({ sample }) => sample?.acidMgKohPerG && formatMeasured(sample.acidMgKohPerG),
  },
  { name: "sample", of: ({ sample }) => sample?.sample ?? "none" },
  { name: "drawn", of: ({ sample }) => sample?.drawnOn },
];

/** The verdicts: one row for each circuit. */
export function Overview({ circuits }: { circuits: readonly JudgedCircuit[] }) {
  return (
    <Wide label="Verdicts">
      <table id="verdicts">
        <caption>Latest sample and verdict of every circuit</caption>
        <thead>
          <tr>
            {["cart", "circuit", "verdict", ...RESULTS.map((column) => column.name), "next sample by"].map(
              (name) => (
                <th key={name} scope="col">
                  {name}
                </th>
              ),
            )}
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
                {RESULTS.map(({ name, of }) => (
                  <td key={name}>{of(verdict) ?? "–"}</td>
                ))}
                <td>{describeDue(judged)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </Wide>
  );
}

function describeCirculation({ circulation }: Verdict): string | undefined {
  if (circulation === undefined) return undefined;
  return circulation.reachable ? formatMinutes(circulation.minutes) : "out of reach";
}

/** A circuit that is not fit has its next sample after what stands on its sheet. */
function describeDue(judged: JudgedCircuit): string {
  const { outlook, on } = judged.verdict;
  const stands = standsAs(judged);
  if (stands === "resample" || outlook === undefined) return "now";
  if (stands !== "fit") return "after the work";
  return outlook.nextSampleBy < on ? `${outlook.nextSampleBy}, overdue` : outlook.nextSampleBy;
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
