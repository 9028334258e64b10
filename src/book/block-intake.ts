import type { Fate, SampleBlock } from "../intake/index.js";
import type { Assumption } from "../provenance/index.js";
import type { Origin, Sample } from "../samples/index.js";
import type { Connection, Sql } from "./database.js";
import type { CircuitFinder } from "./fleet.js";
import type { SampleInserter } from "./sample-inserter.js";
import { holdsSame, type SampleRow, valuesOf } from "./sample-row.js";
import type { UsualCounts } from "./usual-counts.js";

/** So many samples are put into the book together. */
const RUN = 64;

/** What a block needs of the intake of its file. */
export interface FileOfBlock {
  /** Takes a row in the ordinary way. */
  readonly takeFate: (fate: Fate) => void;
  readonly find: (circuitId: number, sample: string) => SampleRow | undefined;
  /** Whether the file has not contradicted itself about a sample. */
  readonly mayTake: (circuitId: number, sample: Sample) => boolean;
  /** Whether it has not contradicted itself at all. */
  readonly mayTakeAll: () => boolean;
  readonly took: (assumptions: readonly Assumption[]) => void;
  /** A sample was in the book already, in the very same words. */
  readonly knew: () => void;
}

/** A sample of a block with what it becomes in the book. */
interface Placed {
  readonly block: SampleBlock;
  readonly index: number;
  readonly sample: Sample;
  readonly values: readonly Sql[];
}

/**
 * Brings blocks of samples into the book, many samples at a time.
 *
 * What comes out is what would come out if every row were taken by itself: as soon as something about a sample is not
 * plain, it is taken in the ordinary way.
 */
export class BlockIntake {
  readonly #delete;

  constructor(
    db: Connection,
    private readonly fileId: number,
    private readonly circuits: CircuitFinder,
    private readonly usual: UsualCounts,
    private readonly samples: SampleInserter,
    private readonly file: FileOfBlock,
  ) {
    this.#delete = db.prepare("DELETE FROM sample WHERE circuit_id = ? AND sample = ?");
  }

  /** Takes the rows of a block in the order of the file. */
  take(block: SampleBlock): void {
    const { row, others } = block.columns;
    let from = 0;
    for (const other of others) {
      const to = firstBehind(row, rowOf(other), from);
      this.#takeRows(block, from, to);
      this.file.takeFate(other);
      from = to;
    }
    this.#takeRows(block, from, block.size);
  }

  #takeRows(block: SampleBlock, from: number, to: number): void {
    for (let start = from; start < to; start += RUN) {
      const run: Placed[] = [];
      for (let index = start; index < Math.min(start + RUN, to); index += 1) {
        const sample = block.sample(index);
        run.push({ block, index, sample, values: valuesOf(sample, this.fileId, sample.origin[0] as Origin) });
      }
      if (!this.#takeTogether(run)) for (const placed of run) this.#takeOne(placed);
    }
  }

  /** Takes samples together when all of them are new; otherwise takes none. */
  #takeTogether(run: readonly Placed[]): boolean {
    if (!this.file.mayTakeAll() || run.some((placed) => this.#isStranger(placed))) return false;
    const ids = run.map(({ sample: { cart, circuit } }) => this.circuits.idOf(cart, circuit));
    // What is usual is looked up before these very samples are in the book.
    for (const id of ids) this.usual.lookUp(id);
    const rows = run.map(({ sample: { sample }, values }, place) => {
      return { circuitId: ids[place] as number, sample, values };
    });
    if (!this.samples.insert(rows)) return false;
    run.forEach((placed, place) => {
      const id = ids[place] as number;
      if (this.usual.check(id, placed.sample) === undefined) this.#took(placed, id);
      else {
        this.#delete.run(id, placed.sample.sample);
        this.file.takeFate(placed.block.fate(placed.index));
      }
    });
    return true;
  }

  /** Takes one sample: quickly when it is new or the book holds the very same, otherwise as any other. */
  #takeOne(placed: Placed): void {
    if (this.#isStranger(placed) || !this.#takeQuickly(placed)) {
      this.file.takeFate(placed.block.fate(placed.index));
    }
  }

  #takeQuickly(placed: Placed): boolean {
    const { sample, values } = placed;
    const id = this.circuits.idOf(sample.cart, sample.circuit);
    if (!this.file.mayTake(id, sample)) return false;
    const isUsual = this.usual.check(id, sample) === undefined;
    if (isUsual && this.samples.insert([{ circuitId: id, sample: sample.sample, values }])) {
      this.#took(placed, id);
      return true;
    }
    const row = this.file.find(id, sample.sample);
    const isKnown = row !== undefined && holdsSame(row, values);
    if (isKnown) this.file.knew();
    return isKnown;
  }

  #isStranger({ sample: { cart, circuit } }: Placed): boolean {
    return this.circuits.knowsCarts && !this.circuits.isKnown(cart, circuit);
  }

  #took({ block, sample }: Placed, circuitId: number): void {
    this.usual.add(circuitId, sample);
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
