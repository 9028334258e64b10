import {
  briefOf,
  describeDecisions,
  describeOtherDecisions,
  isHeld,
  type JudgedCircuit,
  standsAs,
  verdictColumns,
} from "../fitness/index.js";
import { anchorOf, hasLongName, nameOf } from "./names.js";
import { Shape, VerdictMark, Wide } from "./parts.js";

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

/** The verdicts: one row for each circuit, what needs doing first at the top. On a phone a row takes two lines. */
export function Overview({ circuits }: { circuits: readonly JudgedCircuit[] }) {
  return (
    <Wide label="Verdicts">
      <table
        id="verdicts"
        class={circuits.some(({ verdict }) => hasLongName(verdict)) ? "long-names" : undefined}
      >
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
                  {describeOtherDecisions(judged.standing).length > 0 && (
                    <span class="decided-mark">decided otherwise by a person</span>
                  )}
                </td>
                {RESULTS.map(({ title, of }) => {
                  const found = of(judged);
                  return (
                    <td key={title} class={found === undefined ? "none" : undefined} data-title={title}>
                      {found ?? "–"}
                    </td>
                  );
                })}
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

/** What is not fit: what to do, and why; what needs doing first at the top. */
export function Urgent({ circuits }: { circuits: readonly JudgedCircuit[] }) {
  const notFit = circuits.filter((judged) => standsAs(judged) !== "fit");
  if (notFit.length === 0) return null;
  return (
    <section id="first" aria-labelledby="first-name">
      <h2 id="first-name">What needs doing first</h2>
      <ol>
        {notFit.map((judged) => {
          const { action, why } = briefOf(judged);
          const [first, ...then] = action.split("; ");
          return (
            <li key={anchorOf(judged.verdict)}>
              <Shape sign={shapeOf(judged)} />{" "}
              <a href={`#${anchorOf(judged.verdict)}`}>{nameOf(judged.verdict)}</a>: <strong>{first}</strong>
              {then.map((words) => `; ${words}`)}
              {why.length === 0 ? "" : `, because ${why.join("; ")}`}
            </li>
          );
        })}
      </ol>
    </section>
  );
}

/** Every cart with its circuits, to jump to. */
export function Carts({ circuits }: { circuits: readonly JudgedCircuit[] }) {
  const carts = [...new Set(circuits.map(({ verdict }) => verdict.cart))].sort((a, b) =>
    a.localeCompare(b, "en", { numeric: true }),
  );
  return (
    <nav class="carts on-screen" aria-label="Carts">
      {carts.map((cart) => (
        <span key={cart}>
          <b>{cart}</b>
          {circuits
            .filter(({ verdict }) => verdict.cart === cart)
            .map((judged) => (
              <a key={judged.verdict.circuit} href={`#${anchorOf(judged.verdict)}`}>
                <Shape sign={shapeOf(judged)} />
                {judged.verdict.circuit}
              </a>
            ))}
        </span>
      ))}
    </nav>
  );
}

function shapeOf(judged: JudgedCircuit) {
  return isHeld(judged) ? "held" : standsAs(judged);
}
