import { type NamedCircuit, plainCircuit, type RecordedInput, type Verdict } from "../../fitness/index.js";
import type { Sample } from "../../samples/index.js";
import { entriesIn } from "../chain/entry.js";
import { recordedVerdict } from "../judging/verdicts.js";
import { type Connection, firstOf, rowsOf } from "../storage/database.js";
import { type SampleRow, SELECT_SAMPLES } from "../storage/sample-row.js";
import { reportsOf } from "../taking-in/reports-of-sample.js";
import { type ChainPart, chainPartOf, type WantedRow } from "./written-lines.js";

/** What a book holds for one verdict. */
export interface EvidenceOfVerdict {
  /** The number of the verdict. */
  readonly number: number;
  readonly inputs: readonly RecordedInput[];
  /** The files that brought in the samples that the verdict rests on, by their numbers in the book. */
  readonly files: readonly number[];
  /**
   * The entries, and what they wrote of the verdict, the files, their column maps, the texts of their rows, and of all
   * decisions.
   */
  readonly chain: ChainPart;
}

/**
 * Takes from a book what one verdict rests on, and the entries of the chain that cover it.
 *
 * @throws BookError when there is no such verdict, or what it rests on was damaged
 */
export function evidenceOfVerdict(db: Connection, number: number): EvidenceOfVerdict {
  const { inputs, recorded } = recordedVerdict(db, number);
  const verdict = JSON.parse(recorded) as Verdict;
  const { sample, otherSamples = [] } = verdict;
  const files = filesOf(db, [...(sample === undefined ? [] : [sample]), ...otherSamples]);
  return {
    number,
    inputs,
    files,
    chain: chainPartOf(db, entriesIn(db, "TRUE ORDER BY number"), [
      ...wantedRows(db, number, files),
      ...verdictsOfDecisions(db, verdict),
    ]),
  };
}

function wantedRows(db: Connection, verdict: number, files: readonly number[]): WantedRow[] {
  const maps = files.flatMap((id) => {
    const row = firstOf<{ map: number | null }>(db, "SELECT column_map_id AS map FROM file WHERE id = ?", id);
    return row?.map ?? [];
  });
  return [
    { table: "verdict", key: verdict },
    ...files.map((key) => ({ table: "file" as const, key })),
    ...[...new Set(maps)].map((key) => ({ table: "column_map" as const, key })),
    ...files.map((key) => ({ table: "row_text" as const, key })),
  ];
}

/** The verdicts that decisions about a circuit were made on. */
function verdictsOfDecisions(db: Connection, about: NamedCircuit): WantedRow[] {
  return rowsOf<NamedCircuit & { key: number }>(
    db,
    "SELECT DISTINCT cart, circuit, verdict_id AS key FROM override WHERE verdict_id IS NOT NULL",
  )
    .filter((row) => plainCircuit(row) === plainCircuit(about))
    .map(({ key }) => ({ table: "verdict", key }));
}

/** The files that some samples came from. A sample names its files; of several of one name the book knows which reported it. */
function filesOf(db: Connection, samples: readonly Sample[]): number[] {
  const ids = samples.flatMap((sample) => {
    const names = [...new Set(sample.origin.map(({ file }) => file))];
    const reporting = new Set(filesThatReport(db, sample));
    return names.flatMap((name) => {
      const all = rowsOf<{ id: number }>(db, "SELECT id FROM file WHERE name = ? ORDER BY id", name);
      const own = all.filter(({ id }) => reporting.has(id));
      return (own.length > 0 ? own : all).map(({ id }) => id);
    });
  });
  return [...new Set(ids)].sort((a, b) => a - b);
}

function filesThatReport(db: Connection, { cart, circuit, sample }: Sample): number[] {
  const [row] = rowsOf<SampleRow>(
    db,
    `${SELECT_SAMPLES} WHERE cart.cart = ? AND circuit.circuit = ? AND sample.sample = ?`,
    ...[cart, circuit, sample],
  );
  return row === undefined ? [] : reportsOf(db, row).map(({ fileId }) => fileId);
}
