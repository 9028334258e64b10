import type { KeptVerdict } from "../book/index.js";
import {
  type Assessed,
  type Conformance,
  describeAllDecisions,
  describeClearing,
  describeCrossing,
  type JudgedCircuit,
  type Outlook,
  VERDICT_WORDS,
  type Verdict,
} from "../fitness/index.js";
import { formatMeasured } from "../samples/index.js";
import { formatPercent, inFourDigits } from "../units/index.js";
import { nameOf } from "./names.js";
import { Wide } from "./parts.js";

/** A verdict as the sample book keeps it, absent for a what-if, with the one that it is compared with. */
export interface ReportRecord {
  readonly verdict?: KeptVerdict;
  readonly before?: KeptVerdict;
}

/** What a verdict rests on: every quantity with its limit and how sure it is, what would change it, and its record. */
export function Background({ judged, record }: { judged: JudgedCircuit; record: ReportRecord | undefined }) {
  const { verdict, standing } = judged;
  const { assessed, changes, outlook } = verdict;
  return (
    <>
      {assessed.length > 0 && <Quantities verdict={verdict} />}
      {(["laboratory", "engineer"] as const).map((actor) => (
        <Lines key={actor} title={`For the ${actor}`}>
          {verdict.reasons.flatMap((reason) => (reason.actor === actor ? [reason.message] : []))}
        </Lines>
      ))}
      <Lines title="What would change the verdict">
        {verdict.verdict === "fit"
          ? changes.map(({ verdict: then, when }) => `${VERDICT_WORDS[then]}, ${when}`)
          : changes.map(describeClearing)}
      </Lines>
      <Lines title="What is to come">
        {outlook === undefined ? [] : describeOutlook(outlook, verdict.on)}
      </Lines>
      <Lines title="Decisions of people">{describeAllDecisions(standing)}</Lines>
      <Lines title="Record">{record === undefined ? [] : describeRecord(record)}</Lines>
    </>
  );
}

function Quantities({ verdict }: { verdict: Verdict }) {
  const { assessed, together } = verdict;
  return (
    <>
      <Wide label={`Quantities of ${nameOf(verdict)}`}>
        <table>
          <caption>Every quantity against its limit</caption>
          <thead>
            <tr>
              {["quantity", "found", "limit", "outcome", "sure that it conforms"].map((name) => (
                <th key={name} scope="col">
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {assessed.flatMap(rowsOf).map(([name, ...cells]) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                {cells.map((cell, index) => (
                  <td key={["found", "limit", "outcome", "sure"][index]}>{cell ?? "–"}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </Wide>
      <p>
        {together === undefined
          ? "The confidence in all of it together is not known: the requirement asks for no confidence, or the scatter of a result is not known. Results were taken as measured."
          : `All of it together: ${describeConformance(together)}.`}
      </p>
    </>
  );
}

type Cell = string | undefined;
type Row = readonly [name: string, found: Cell, limit: Cell, outcome: Cell, sure: Cell];

function rowsOf(entry: Assessed): Row[] {
  const sure = entry.conformance && describeConformance(entry.conformance);
  if (!("channels" in entry)) {
    const { quantity, unit, measured, limits, outcome } = entry;
    const limit = [
      limits.min === undefined ? "" : `at least ${inFourDigits(limits.min)}`,
      limits.max === undefined ? "" : `at most ${inFourDigits(limits.max)}`,
    ].filter((words) => words !== "");
    return [[`${quantity}, ${unit}`, measured && formatMeasured(measured), limit.join(", "), outcome, sure]];
  }
  return [
    ...entry.channels.map(({ target, channel, perMl, limitPerMl, outcome, probability }): Row => {
      const found = perMl === undefined ? undefined : inFourDigits(perMl);
      const name = `${target}, channel ${channel}, per mL`;
      return [
        name,
        found,
        inFourDigits(limitPerMl),
        outcome,
        probability === undefined ? undefined : formatPercent(probability),
      ];
    }),
    ...(sure === undefined
      ? []
      : [["all channels together", undefined, undefined, entry.outcome, sure] as const]),
  ];
}

function describeConformance({ probability, required }: Conformance): string {
  return `${formatPercent(probability)}, required ${formatPercent(required)}`;
}

function describeOutlook({ crossings, suggestions }: Outlook, judgedOn: string): string[] {
  return [
    ...crossings.map((crossing) => describeCrossing(crossing, judgedOn)),
    ...suggestions.map(
      ({ reading, because, confirmedBy }) =>
        `a suggestion: ${reading} (${because.join("; ")}). Confirmed by: ${confirmedBy.join("; ")}`,
    ),
  ];
}

function describeRecord({ verdict, before }: ReportRecord): string[] {
  return [
    verdict === undefined ? "not kept in the sample book" : describeKept(verdict),
    ...(before === undefined
      ? []
      : [`the report before, of ${before.on}, said “${VERDICT_WORDS[before.verdict]}”`]),
  ];
}

function describeKept({ id, at, version, inputs, resultSha256 }: KeptVerdict): string {
  return `kept in the sample book as number ${id} at ${at}, by version ${version}, from ${inputs.length} inputs; result SHA-256 ${resultSha256}`;
}

function Lines({ title, children }: { title: string; children: readonly string[] }) {
  if (children.length === 0) return null;
  return (
    <>
      <h4>{title}</h4>
      <ul>
        {children.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </>
  );
}
