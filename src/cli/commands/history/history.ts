import { Book, type KeptQuarantinedRow, type SampleHistory, type Withdrawal } from "../../../book/index.js";
import { classify, formatIso4406 } from "../../../cleanliness/index.js";
import {
  type CircuitDecision,
  describeDecision,
  describeHeldCircuit,
  isHold,
  plainCircuit,
} from "../../../fitness/index.js";
import { describeIssue, describeStatement, nameOfStatement, statementsOf } from "../../../intake/index.js";
import { describePlaces } from "../../../provenance/index.js";
import { type CircuitEvent, formatMeasured, type Sample } from "../../../samples/index.js";
import { answerOf } from "../../answer.js";
import { type ExitCode, type Io, printJson, UsageError } from "../../io.js";
import { asInBook } from "../../named-circuit.js";
import { drawLines, drawTable, formatHowMany } from "../../text.js";
import { describeKinds, describeWaiting } from "../../waiting-rows.js";
import { circuitDecisionAsJson, describeHeld } from "../judge/decisions.js";
import { describeWithdrawn } from "../rows/rows.js";

/** Options of `siltbook history`. */
export interface HistoryOptions {
  readonly book: string;
  readonly cart: string;
  readonly circuit: string;
  readonly json?: boolean;
}

interface CircuitHistory {
  readonly cart: string;
  readonly circuit: string;
  readonly samples: readonly SampleHistory[];
  readonly events: readonly CircuitEvent[];
  readonly quarantine: readonly KeptQuarantinedRow[];
  readonly decisions: readonly CircuitDecision[];
  /** Samples of files that were taken back. */
  readonly withdrawn: readonly WithdrawnSample[];
}

interface WithdrawnSample extends Omit<Withdrawal, "sha256" | "reports"> {
  readonly sample: Sample;
}

/** Prints all samples of a circuit, where each came from, and what was corrected. */
export function runHistory(options: HistoryOptions, io: Io): ExitCode {
  const history = readHistory(options);
  if (options.json) printJson(io, answerOf("history", historyAsJson(history)));
  else io.out(describeHistory(history));
  return history.quarantine.length === 0 && !history.decisions.some(isHold) ? 0 : 1;
}

function readHistory({ book: path, ...asked }: HistoryOptions): CircuitHistory {
  const book = Book.open(path);
  try {
    const { cart, circuit } = asInBook(book, asked);
    const described = book.carts().find((entry) => entry.cart === cart);
    const events = described?.circuits.find((entry) => entry.circuit === circuit)?.events;
    const samples = book.history(cart, circuit);
    const withdrawn = book
      .withdrawals()
      .flatMap(({ reports, sha256: _, ...by }) =>
        reports.flatMap(({ sample }) => (isOf(sample, cart, circuit) ? [{ ...by, sample }] : [])),
      );
    if (samples.length + withdrawn.length === 0 && events === undefined) {
      const known = book.circuits().map((entry) => `${entry.cart} / ${entry.circuit}`);
      throw new UsageError(
        `--cart, --circuit: the book has no circuit "${circuit}" of cart "${cart}"; it has ${known.join(", ") || "none"}`,
      );
    }
    const quarantine = book.quarantine().filter((row) => row.cart === cart && row.circuit === circuit);
    const decisions = book
      .decisions()
      .filter((decision) => plainCircuit(decision) === plainCircuit({ cart, circuit }));
    return { cart, circuit, samples, events: events ?? [], quarantine, decisions, withdrawn };
  } finally {
    book.close();
  }
}

function isOf(sample: Sample, cart: string, circuit: string): boolean {
  return sample.cart === cart && sample.circuit === circuit;
}

function historyAsJson({ samples, quarantine, decisions, ...history }: CircuitHistory) {
  return {
    ...history,
    held: decisions.some(isHold),
    decisions: decisions.map(circuitDecisionAsJson),
    samples: samples.map(({ sample, source, amendments }) => ({
      ...sample,
      iso4406: codeOf(sample) || null,
      source,
      amendments,
    })),
    quarantine: quarantine.flatMap((row) =>
      row.issues.map((issue) => ({ ...issue, message: describeIssue(issue), text: row.text })),
    ),
  };
}

function codeOf({ counts }: Sample): string {
  const code = counts && classify(counts).iso4406;
  return code === undefined ? "" : formatIso4406(code);
}

function describeHistory(history: CircuitHistory): string {
  const { cart, circuit, samples, events, quarantine, decisions, withdrawn } = history;
  const head = ["sample", "drawn", "fluid", "ISO 4406", "water (ppm)", "acid (mg KOH/g)", "from"];
  const rows = samples.map(({ sample, source }) => [
    sample.sample,
    [sample.drawnOn, sample.drawnTime].filter(Boolean).join(" "),
    sample.fluid ?? "",
    codeOf(sample),
    sample.waterPpm === undefined ? "" : formatMeasured(sample.waterPpm),
    sample.acidMgKohPerG === undefined ? "" : formatMeasured(sample.acidMgKohPerG),
    `${source.file}${source.sheet === undefined ? "" : ` "${source.sheet}"`} ${describePlaces(source.rows)}`,
  ]);
  return [
    describeHeld(decisions.filter(isHold).map(describeHeldCircuit)),
    `${cart}, circuit ${circuit}: ${formatHowMany(samples.length, "sample")}\n`,
    drawTable(head, rows),
    describeAmendments(samples),
    ...withdrawn.map(({ sample, file, ...by }) =>
      describeWithdrawn(`${sample.sample}, drawn ${sample.drawnOn}, from ${file}`, by),
    ),
    ...events.map(
      ({ on, at, kind, aircraft, minutes, note }) =>
        `${on}${at === undefined ? "" : ` ${at}`}: ${kind.replace("-", " ")}` +
        `${aircraft === undefined ? "" : ` to ${aircraft}`}${minutes === undefined ? "" : `, ${minutes} min`}` +
        `${note === undefined ? "" : ` (${note})`}\n`,
    ),
    ...decisions.map((decision) => `${describeDecision(decision)}\n`),
    quarantine.length === 0 ? "" : `${describeWaiting(quarantine.length)}:\n${describeKinds(quarantine)}`,
  ].join("");
}

/** What was corrected: a table for each report that did it. */
function describeAmendments(samples: readonly SampleHistory[]): string {
  return samples
    .flatMap(({ sample, amendments }) =>
      amendments.map(({ at, by, earlier }, index) => {
        const after = amendments[index + 1]?.earlier ?? sample;
        const head = `${sample.sample}, amended on ${at.slice(0, 10)} by ${by.file} ${describePlaces(by.rows)}:`;
        return drawLines([head]) + drawTable(["what", "was", "is"], changesOf(earlier, after));
      }),
    )
    .join("");
}

/** What two versions of a sample say otherwise: what it is about, what it was and what it is. */
function changesOf(before: Sample, after: Sample): [string, string, string][] {
  const [earlier, later] = [statementsOf(before), statementsOf(after)];
  return [...new Set([...earlier.keys(), ...later.keys()])].flatMap((key): [string, string, string][] => {
    const [was, is] = [earlier, later].map((said) =>
      said.has(key) ? describeStatement(said.get(key)) : "not reported",
    ) as [string, string];
    return was === is ? [] : [[nameOfStatement(key), was, is]];
  });
}
