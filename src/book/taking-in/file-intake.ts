import { datedCounts } from "../../fitness/index.js";
import type { Fate, Finding, QuarantinedRow, SampleFate } from "../../intake/index.js";
import { type Assumption, describeOrigin, frozen } from "../../provenance/index.js";
import { ofOtherBases } from "../../samples/index.js";
import { CircuitFinder } from "../judging/fleet.js";
import type { Connection } from "../storage/database.js";
import { RowTextKeeper } from "../storage/row-text.js";
import { contradicts, type KeptReport, type ReportDecision } from "./decide-report.js";
import { QuarantineKeeper } from "./quarantine.js";
import { rowsOfReport } from "./quarantine-rows.js";
import { SamplesOfFile } from "./samples-of-file.js";
import { UNCHECKED_NAMES } from "./strays.js";
import { UsualCounts } from "./usual-counts.js";

/** How many rows of a file ended in which way. */
export interface RowCounts {
  readonly taken: number;
  /** Rows whose results are in the book already, or that a person has settled from the quarantine. */
  readonly known: number;
  /** Rows that corrected or completed a sample of an earlier file, or that a later report of it had corrected already. */
  readonly amended: number;
  readonly quarantined: number;
  /** Headers, blank rows, footers and the like, and rows of carts of other bases. */
  readonly notSamples: number;
}

const NAMES_NOT_CHECKED: Assumption = frozen({
  code: UNCHECKED_NAMES,
  message: "the book knows no carts yet, so the names of carts and circuits were taken as they stand",
});

/** What became of the rows of one file. The whole quarantine is in the book. */
export interface TakenRows {
  readonly counts: RowCounts;
  readonly quarantine: readonly QuarantinedRow[];
  readonly assumptions: readonly Assumption[];
}

/**
 * Brings the rows of one file into the book, within a transaction that the caller opens and ends.
 *
 * @param isNew - whether the book has not seen this file, read in this way, before
 */
export function takeRows(db: Connection, fileId: number, isNew: boolean, fates: Iterable<Fate>): TakenRows {
  const into = {
    circuits: new CircuitFinder(db),
    usual: new UsualCounts(db),
    samples: new SamplesOfFile(db, fileId),
    quarantine: new QuarantineKeeper(db, fileId),
    texts: new RowTextKeeper(db, fileId),
  };
  const { circuits, quarantine, texts } = into;
  db.prepare("DELETE FROM other_row WHERE file_id = ?").run(fileId);
  const insertOther = db.prepare("INSERT INTO other_row (file_id, sheet, row, why) VALUES (?, ?, ?, ?)");
  const counts = { taken: 0, known: 0, amended: 0, notSamples: 0 };
  const assumptions = new Map<string, Assumption>();
  const assume = (more: readonly Assumption[]) => {
    for (const assumption of more) assumptions.set(assumption.message, assumption);
  };
  if (!circuits.knowsCarts) assume([NAMES_NOT_CHECKED]);
  for (const fate of fates) {
    if (isNew) keepTexts(texts, fate);
    if (fate.kind === "quarantined") quarantine.setAside([fate.row]);
    else if (fate.kind === "not-a-sample") {
      const { sheet, row, why } = fate.row;
      counts.notSamples += 1;
      if (fate.discards !== undefined)
        quarantine.discard(fate.discards, describeOrigin({ ...fate.row, rows: [row] }));
      insertOther.run(fileId, sheet ?? null, row, why);
    } else {
      const { sample, rows, settles } = fate.fate;
      const outcome = takeSample(into, fate.fate);
      if (outcome.kind === "take-back") {
        texts.flush();
        const [like] = fate.fate.quarantine([outcome.finding]) as [QuarantinedRow];
        const back = outcome.own.flatMap((report) => takenBack(db, report, like));
        counts[outcome.rows] -= back.length;
        quarantine.setAside([...back, ...fate.fate.quarantine([outcome.finding])]);
      } else if (outcome.kind === "set-aside") quarantine.setAside(fate.fate.quarantine(outcome.findings));
      else {
        counts[outcome.rows] += rows.length;
        assume(outcome.assumptions);
        if (outcome.rows !== "known") assume(fate.fate.assumptions);
        for (const place of settles) quarantine.settle(place);
        quarantine.settleReplaced({ sample, texts: rows.map(({ text }) => text), meaning: outcome.meaning });
      }
    }
  }
  texts.flush();
  return {
    counts: {
      taken: counts.taken,
      known: counts.known + quarantine.settledAgain,
      amended: counts.amended,
      quarantined: quarantine.count,
      notSamples: counts.notSamples + quarantine.ofOtherCarts,
    },
    quarantine: quarantine.shown,
    assumptions: [...assumptions.values(), ...ofOtherBases(quarantine.ofOtherCarts)],
  };
}

function keepTexts(texts: RowTextKeeper, fate: Fate): void {
  if (fate.kind !== "sample") texts.keep(fate.row.sheet ?? "", fate.row.row, fate.row.text);
  else {
    const sheet = fate.fate.sample.origin[0]?.sheet ?? "";
    for (const { text, row } of fate.fate.rows) texts.keep(sheet, row, text);
  }
}

/** Puts a sample in its place in the book and says what it meant there, or why it has none. */
function takeSample(
  { circuits, usual, samples }: { circuits: CircuitFinder; usual: UsualCounts; samples: SamplesOfFile },
  fate: SampleFate,
): ReportDecision {
  const { sample, accepted } = fate;
  const { cart, circuit } = sample;
  if (circuits.knowsCarts && !circuits.isKnown(cart, circuit)) return setAside(circuits.whyUnknown(sample));
  const circuitId = circuits.idOf(cart, circuit);
  if (samples.isContradicted(circuitId, sample)) return setAside(contradicts(sample));
  const counted = datedCounts(sample);
  const unusual = accepted.includes("factor-of-100") ? undefined : usual.check(circuitId, counted);
  // A sample that is in the book already was looked at when it came.
  if (unusual !== undefined && !samples.has(circuitId, sample)) return setAside(unusual);
  const decision = samples.put(circuitId, fate);
  if (decision.kind === "take" && decision.meaning === "first") usual.add(circuitId, counted);
  return decision;
}

function setAside(finding: Finding): ReportDecision {
  return { kind: "set-aside", findings: [finding] };
}

/** The rows of a report that is taken back, with the issues of the row that contradicts it. */
function takenBack(db: Connection, report: KeptReport, { issues }: QuarantinedRow): QuarantinedRow[] {
  return rowsOfReport(db, report, []).map((row) => {
    const place = { ...(row.sheet !== undefined && { sheet: row.sheet }), row: row.row };
    return { ...row, issues: issues.map((issue) => ({ ...issue, ...place })) };
  });
}
