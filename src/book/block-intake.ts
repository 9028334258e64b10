import type { Fate, SampleBlock } from "../intake/index.js";
import type { Assumption } from "../provenance/index.js";
import type { Origin, Sample } from "../samples/index.js";
import { BlockRows } from "./block-rows.js";
import type { Connection, Sql } from "./database.js";
import type { CircuitFinder } from "./fleet.js";
import { oneRow, type SampleInserter } from "./sample-inserter.js";
import { holdsSame, type SampleRow, valuesOf } from "./sample-row.js";
import { type CountsPerMl, perMlOf, type UsualCounts } from "./usual-counts.js";

/** So many samples are put into the book together where one of them was not new. */
const SHORT_RUN = 64;
/** A circuit that no carts file of the book describes, where the book has one. */
const STRANGER = -1;
/** More than there are remembered names in a file. */
const MORE_THAN_NAMES = 2 ** 20;

/** What a block needs of the intake of its file. */
export interface FileOfBlock {
  /** Takes a row in the ordinary way. */
  readonly takeFate: (fate: Fate) => void;
  readonly find: (circuitId: number, sample: string) => SampleRow | undefined;
  /** Whether the file has not contradicted itself about a sample. */
  readonly mayTake: (circuitId: number, sample: Sample) => boolean;
  /** Whether it has not contradicted itself at all. */
  readonly mayTakeAll: () => boolean;
  readonly took: (samples: number, assumptions: readonly Assumption[]) => void;
  /** A sample was in the book already, in the very same words. */
  readonly knew: () => void;
}

/** A block that is being taken. */
interface Taking {
  readonly block: SampleBlock;
  /** The circuit of each sample, as far as it has been looked for. */
  readonly ids: Int32Array;
  readonly rows: BlockRows;
  /** The counts of a sample; the next call uses the same numbers. */
  readonly perMlAt: (index: number) => CountsPerMl;
  /** Whether the samples before were new, so that these probably are. */
  readonly wereNew: boolean;
}

/**
 * Brings blocks of samples into the book, many samples at a time.
 *
 * What comes out is what would come out if every row were taken by itself: as soon as something about a sample is not
 * plain, it is taken in the ordinary way.
 */
export class BlockIntake {
  readonly #delete;
  /** The ids of circuits by the places of their two names in the list of names of the file. */
  readonly #circuitIds = new Map<number, number>();
  /** Whether all samples of the last block were new. */
  #areNew = true;
  #knewLast = false;

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
    const ids = new Int32Array(block.size);
    const taking: Taking = {
      block,
      ids,
      rows: new BlockRows(block, ids, this.fileId),
      perMlAt: perMlIn(block),
      wereNew: this.#areNew,
    };
    this.#areNew = true;
    let from = 0;
    for (const other of others) {
      const to = firstBehind(row, rowOf(other), from);
      this.#takeRows(taking, from, to);
      this.file.takeFate(other);
      from = to;
    }
    this.#takeRows(taking, from, block.size);
  }

  #takeRows(taking: Taking, from: number, to: number): void {
    this.#findCircuits(taking, from, to);
    if (taking.wereNew && this.#takeTogether(taking, from, to)) return;
    for (let start = from; start < to; start += SHORT_RUN) {
      const end = Math.min(start + SHORT_RUN, to);
      if (this.#takeTogether(taking, start, end)) continue;
      this.#areNew = false;
      for (let index = start; index < end; index += 1) this.#takeOne(taking, index);
    }
  }

  #findCircuits({ block: { columns }, ids }: Taking, from: number, to: number): void {
    const { cart, circuit, names } = columns;
    for (let index = from; index < to; index += 1) {
      const pair = (cart[index] as number) * MORE_THAN_NAMES + (circuit[index] as number);
      let id = this.#circuitIds.get(pair);
      if (id === undefined) {
        id = this.#idOf(names[cart[index] as number] as string, names[circuit[index] as number] as string);
        this.#circuitIds.set(pair, id);
      }
      ids[index] = id;
    }
  }

  #idOf(cart: string, circuit: string): number {
    const isStranger = this.circuits.knowsCarts && !this.circuits.isKnown(cart, circuit);
    return isStranger ? STRANGER : this.circuits.idOf(cart, circuit);
  }

  /** Takes samples together when all of them are new; otherwise takes none. */
  #takeTogether({ block, ids, rows, perMlAt }: Taking, from: number, to: number): boolean {
    if (!this.file.mayTakeAll() || ids.subarray(from, to).includes(STRANGER)) return false;
    // What is usual is looked up before these very samples are in the book.
    for (let index = from; index < to; index += 1) this.usual.lookUp(ids[index] as number);
    if (!this.samples.insert(rows.at(byCircuit(ids, from, to)))) return false;
    let taken = 0;
    for (let index = from; index < to; index += 1) {
      const id = ids[index] as number;
      const perMl = perMlAt(index);
      if (this.usual.check(id, perMl) === undefined) {
        this.usual.add(id, perMl);
        taken += 1;
      } else {
        this.#delete.run(id, block.sampleNumber(index));
        this.file.takeFate(block.fate(index));
      }
    }
    if (taken > 0) this.file.took(taken, block.columns.assumptions);
    return true;
  }

  /** Takes one sample: quickly when it is new or the book holds the very same, otherwise as any other. */
  #takeOne({ block, ids }: Taking, index: number): void {
    const id = ids[index] as number;
    if (id === STRANGER || !this.#takeQuickly(block.sample(index), id, block.columns.assumptions)) {
      this.file.takeFate(block.fate(index));
    }
  }

  #takeQuickly(sample: Sample, id: number, assumptions: readonly Assumption[]): boolean {
    if (!this.file.mayTake(id, sample)) return false;
    const values = valuesOf(sample, this.fileId, sample.origin[0] as Origin);
    // A file that grows from one delivery to the next begins with rows that the book has.
    if (this.#knewLast && this.#knows(id, sample, values)) return true;
    const perMl = perMlOf(sample);
    const isUsual = this.usual.check(id, perMl) === undefined;
    if (!isUsual || !this.samples.insert(oneRow(id, sample.sample, values)))
      return this.#knows(id, sample, values);
    this.#knewLast = false;
    this.usual.add(id, perMl);
    this.file.took(1, assumptions);
    return true;
  }

  /** Whether the book holds a sample in the very same words. */
  #knows(id: number, { sample }: Sample, values: readonly Sql[]): boolean {
    const row = this.file.find(id, sample);
    this.#knewLast = row !== undefined && holdsSame(row, values);
    if (this.#knewLast) this.file.knew();
    return this.#knewLast;
  }
}

/** Places of samples, circuit by circuit: those of one circuit stand beside each other in the book's index. */
function byCircuit(ids: Int32Array, from: number, to: number): Float64Array {
  const keys = new Float64Array(to - from);
  for (let index = from; index < to; index += 1)
    keys[index - from] = (ids[index] as number) * ids.length + index;
  return keys.sort().map((key) => key % ids.length);
}

/** Gives the counts of a sample of a block, the numbers in the same place each time. */
function perMlIn({ columns: { counts } }: SampleBlock): (index: number) => CountsPerMl {
  if (counts === undefined) return () => NOT_COUNTED;
  const perMl = new Float64Array(counts.sizesUm.length);
  const all: CountsPerMl = { sizesUm: counts.sizesUm, perMl };
  const [smallest] = counts.counts as [Float64Array];
  return (index) => {
    if (Number.isNaN(smallest[index])) return NOT_COUNTED;
    for (let place = 0; place < perMl.length; place += 1)
      perMl[place] = ((counts.counts[place] as Float64Array)[index] as number) / counts.volumeMl;
    return all;
  };
}

const NOT_COUNTED: CountsPerMl = { sizesUm: [], perMl: [] };

function rowOf(fate: Fate): number {
  return fate.kind === "sample" ? (fate.fate.rows[0]?.row ?? 0) : fate.row.row;
}

/** The first of some samples, from a place on, that stands behind a row of the file. */
function firstBehind(rows: Int32Array, row: number, from: number): number {
  let index = from;
  while (index < rows.length && (rows[index] as number) < row) index += 1;
  return index;
}
