import type { Fate, SampleBlock } from "../intake/index.js";
import type { Assumption } from "../provenance/index.js";
import { BlockRows, levelsIn } from "./block-rows.js";
import type { Connection, Sql } from "./database.js";
import type { CircuitFinder } from "./fleet.js";
import type { SampleInserter } from "./sample-inserter.js";
import { holdsSame, type SampleRow } from "./sample-row.js";
import type { Levels, UsualCounts } from "./usual-counts.js";

/** So many samples are put into the book together. */
const RUN = 64;

/** What a block needs of the intake of its file. */
export interface FileOfBlock {
  /** Takes a row in the ordinary way. */
  readonly takeFate: (fate: Fate) => void;
  readonly find: (circuitId: number, sample: string) => SampleRow | undefined;
  /** Whether the file has not contradicted itself about a sample. */
  readonly mayTake: (circuitId: number, sample: string) => boolean;
  /** Whether it has not contradicted itself at all. */
  readonly mayTakeAll: () => boolean;
  readonly took: (assumptions: readonly Assumption[]) => void;
  /** A sample was in the book already, in the very same words. */
  readonly knew: () => void;
}

/** The block that is being taken, and ways to ask it. */
interface Source {
  readonly block: SampleBlock;
  readonly valuesOf: (index: number) => Sql[];
  readonly levelsOf: (index: number) => Levels | undefined;
}

/**
 * Brings blocks of samples into the book, many samples at a time.
 *
 * What comes out is what would come out if every row were taken by itself: as soon as something about a sample is not
 * plain, it is taken in the ordinary way.
 */
export class BlockIntake {
  readonly #delete;
  readonly #rows: BlockRows;

  constructor(
    db: Connection,
    fileId: number,
    circuits: CircuitFinder,
    private readonly usual: UsualCounts,
    private readonly samples: SampleInserter,
    private readonly file: FileOfBlock,
  ) {
    this.#delete = db.prepare("DELETE FROM sample WHERE circuit_id = ? AND sample = ?");
    this.#rows = new BlockRows(circuits, fileId);
  }

  /** Takes the rows of a block in the order of the file. */
  take(block: SampleBlock): void {
    const source = { block, valuesOf: this.#rows.valuesIn(block), levelsOf: levelsIn(block) };
    const { row, others } = block.columns;
    let from = 0;
    for (const other of others) {
      const to = firstBehind(row, rowOf(other), from);
      this.#takeRows(source, from, to);
      this.file.takeFate(other);
      from = to;
    }
    this.#takeRows(source, from, block.size);
  }

  #takeRows(source: Source, from: number, to: number): void {
    for (let start = from; start < to; start += RUN) {
      const end = Math.min(start + RUN, to);
      if (this.#takeTogether(source, start, end)) continue;
      for (let index = start; index < end; index += 1) this.#takeOne(source, index);
    }
  }

  /** Takes samples together when all of them are new; otherwise takes none. */
  #takeTogether(source: Source, start: number, end: number): boolean {
    const { block, valuesOf } = source;
    if (!this.file.mayTakeAll()) return false;
    for (let index = start; index < end; index += 1)
      if (this.#rows.circuitOf(block, index).isStranger) return false;
    const rows: Sql[][] = [];
    for (let index = start; index < end; index += 1) {
      const id = this.#rows.circuitOf(block, index).id();
      // What is usual is looked up before these very samples are in the book.
      this.usual.lookUp(id);
      rows.push([id, block.sampleNumber(index), ...valuesOf(index)]);
    }
    if (!this.samples.insert(rows)) return false;
    for (let index = start; index < end; index += 1) {
      const [id, number] = rows[index - start] as [number, string];
      if (this.usual.check(id, source.levelsOf(index)) === undefined) this.#took(source, index, id);
      else {
        this.#delete.run(id, number);
        this.file.takeFate(block.fate(index));
      }
    }
    return true;
  }

  /** Takes one sample: quickly when it is new or the book holds the very same, otherwise as any other. */
  #takeOne(source: Source, index: number): void {
    const { block } = source;
    const circuit = this.#rows.circuitOf(block, index);
    if (circuit.isStranger || !this.#takeQuickly(source, index, circuit.id())) {
      this.file.takeFate(block.fate(index));
    }
  }

  #takeQuickly(source: Source, index: number, id: number): boolean {
    const number = source.block.sampleNumber(index);
    if (!this.file.mayTake(id, number)) return false;
    const values = source.valuesOf(index);
    const isUsual = this.usual.check(id, source.levelsOf(index)) === undefined;
    if (isUsual && this.samples.insert([[id, number, ...values]])) {
      this.#took(source, index, id);
      return true;
    }
    const row = this.file.find(id, number);
    const isKnown = row !== undefined && holdsSame(row, values);
    if (isKnown) this.file.knew();
    return isKnown;
  }

  #took({ block, levelsOf }: Source, index: number, circuitId: number): void {
    this.usual.add(circuitId, levelsOf(index));
    this.file.took(block.columns.assumptions);
  }
}

function rowOf(fate: Fate): number {
  return fate.kind === "sample" ? (fate.fate.rows[0]?.row ?? 0) : fate.row.row;
}

/** The first of some samples, from a place on, that stands behind a row of the file. */
function firstBehind(rows: Int32Array, row: number, from: number): number {
  let index = from;
  while (index < rows.length && (rows[index] as number) < row) index += 1;
  return index;
}
