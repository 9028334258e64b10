import type { JudgedCircuit } from "../fitness/index.js";
import { describeIssue, type QuarantinedRow } from "../intake/index.js";
import { type Assumption, describeSource } from "../provenance/index.js";
import type { RequirementsFile } from "../samples/index.js";
import { nameOf } from "./names.js";
import { Wide } from "./parts.js";

/** Rows that could not be read, each with what is wrong and its text. */
export function Quarantine({ rows }: { rows: readonly QuarantinedRow[] }) {
  return (
    <section id="quarantine" class="new-page">
      <h2>Rows in quarantine: {rows.length}</h2>
      {rows.length === 0 ? (
        <p>Every row of every file was read.</p>
      ) : (
        <Wide label="Rows in quarantine">
          <table>
            <thead>
              <tr>
                <th scope="col">what is wrong</th>
                <th scope="col">the row as in the file</th>
              </tr>
            </thead>
            <tbody>
              {rows.map((row) => (
                <tr key={`${row.file} ${row.row}`}>
                  <td class="words">{row.issues.map(describeIssue).join("; ")}</td>
                  <td class="words">
                    <code>{row.text}</code>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </Wide>
      )}
    </section>
  );
}

/** What the verdicts rest on and the files did not say, each sentence once with the circuits it holds for. */
export function Assumptions({
  circuits,
  ofAll,
}: {
  circuits: readonly JudgedCircuit[];
  ofAll: readonly Assumption[];
}) {
  const holders = new Map<string, string[]>();
  for (const { verdict, trends } of circuits) {
    for (const { message } of [...verdict.assumptions, ...trends.assumptions]) {
      const names = holders.get(message) ?? [];
      if (!names.includes(nameOf(verdict))) holders.set(message, [...names, nameOf(verdict)]);
    }
  }
  return (
    <section id="assumptions">
      <h2>Assumptions: {holders.size + ofAll.length}</h2>
      {holders.size + ofAll.length === 0 ? (
        <p>The verdicts rest on nothing but the files.</p>
      ) : (
        <ul>
          {ofAll.map(({ message }) => (
            <li key={message}>{message}</li>
          ))}
          {[...holders].map(([message, names]) => (
            <li key={message}>
              {message} (
              {names.length === circuits.length && names.length > 1 ? "every circuit" : names.join("; ")})
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

/** Where limits and models come from. */
export function Sources({ requirements }: { requirements: RequirementsFile }) {
  const keys = ["ISO-4406", "AS4059-CUMULATIVE", "AS4059-DIFFERENTIAL", "NAS-1638", "MASS-BALANCE"] as const;
  return (
    <section id="sources">
      <h2>Sources</h2>
      <ul>
        {[...new Set([...keys, ...requirements.sources])].map((key) => (
          <li key={key}>{describeSource(key)}</li>
        ))}
      </ul>
    </section>
  );
}
